//! A population that is bred towards the lowest places of a function over the unit cube.

use super::Minimum;
use crate::math::count::whole;
use crate::math::parallel::{Crew, CrewError};
use crate::math::sampling::uniform;
use std::ops::ControlFlow;

/// The share of a child's numbers that is not its parent's, and between what its steps lie.
const CROSSED: f64 = 0.9;
const STEPS: [f64; 2] = [0.4, 0.9];
/// With fewer there are no two others to take a difference of.
const LEAST: usize = 4;

/// A population bred towards the lowest places of `cost` over the unit cube from places to start with (of fewer than
/// four nothing is bred): the lowest first, each with its cost.
///
/// Differential evolution: a child is its parent moved towards one of the best fifth and by the difference of two others,
/// number by number, and takes the parent's place where it is not worse. It needs no derivative and is not stopped by
/// walls where the cost jumps, nor by other valleys as a simplex is; what is lowest it does not prove. A child depends on
/// its generation, place and seed alone: the same on any number of threads. R. Storn and K. Price, *Journal of Global
/// Optimization* 11 (1997); towards the best as J. Zhang and A. Sanderson, *IEEE Transactions on Evolutionary
/// Computation* 13 (2009). Our own for want of a kept crate whose draws do not depend on the thread.
///
/// Errors: stopped by the crew's watch.
pub fn evolve(
    cost: impl Fn(&[f64]) -> f64 + Sync + Send,
    start: Vec<Minimum>,
    generations: usize,
    seed: u64,
    crew: &Crew,
) -> Result<Vec<Minimum>, CrewError> {
    let mut all = start;
    let sort = |all: &mut Vec<Minimum>| all.sort_by(|a, b| a.cost.total_cmp(&b.cost));
    sort(&mut all);
    let generations = if all.len() < LEAST { 0 } else { generations };
    for generation in 0..generations {
        let (bred, total) = (generation * all.len(), generations * all.len());
        let told =
            |done, _| crew.watch.map_or(ControlFlow::Continue(()), |tell| tell(bred + done, total));
        let crew = Crew { watch: Some(&told), ..*crew };
        let brood = Brood { parents: &all, seed, first: bred as u64 };
        all = crew.map(all.len(), 1, |place| {
            let at = brood.child(place);
            let child = Minimum { cost: cost(&at), at };
            if child.cost <= all[place].cost { child } else { all[place].clone() }
        })?;
        sort(&mut all);
    }
    Ok(all)
}

/// One generation, the lowest first.
struct Brood<'a> {
    parents: &'a [Minimum],
    seed: u64,
    first: u64,
}

impl Brood<'_> {
    fn draw(&self, place: usize, name: &str) -> f64 {
        uniform(self.seed, self.first + place as u64, name)
    }

    fn some(&self, place: usize, name: &str, of: usize) -> &[f64] {
        &self.parents[whole(self.draw(place, name) * of as f64)].at
    }

    fn child(&self, place: usize) -> Vec<f64> {
        let (own, count) = (&self.parents[place].at, self.parents.len());
        let best = self.some(place, "best", count.div_ceil(5));
        let (one, other) = (self.some(place, "one", count), self.some(place, "other", count));
        let step = STEPS[0] + self.draw(place, "step") * (STEPS[1] - STEPS[0]);
        let sure = whole(self.draw(place, "sure") * own.len() as f64);
        let kept =
            |number: usize| number != sure && self.draw(place, &number.to_string()) > CROSSED;
        let moved = |(number, x): (usize, &f64)| {
            let to = x + step * (best[number] - x) + step * (one[number] - other[number]);
            if kept(number) { *x } else { inside(*x, to) }
        };
        own.iter().enumerate().map(moved).collect()
    }
}

/// A step that does not leave the cube: half way to the wall rather than onto it, where many would be alike.
fn inside(from: f64, to: f64) -> f64 {
    if to < 0.0 {
        0.5 * from
    } else if to > 1.0 {
        0.5 * (from + 1.0)
    } else {
        to
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    /// A curved valley (Rosenbrock's, in four numbers) with its lowest place at 0.75, and a wall across.
    fn valley(at: &[f64]) -> f64 {
        let x: Vec<f64> = at.iter().map(|x| 4.0 * x - 2.0).collect();
        let pair = |i: usize| (1.0 - x[i]).powi(2) + 100.0 * (x[i + 1] - x[i] * x[i]).powi(2);
        let wall = if (at[0] - 0.5).abs() < 0.02 { 1e4 } else { 0.0 };
        (0..3).map(pair).sum::<f64>() + wall
    }

    #[test]
    fn a_curved_valley_is_followed_past_a_wall() {
        let at = |index| ["a", "b", "c", "d"].map(|name| uniform(5, index, name)).to_vec();
        let start: Vec<Minimum> =
            (0..40).map(|index| Minimum { cost: valley(&at(index)), at: at(index) }).collect();
        let bred = |threads, count: usize| {
            let crew = Crew { threads: Some(threads), watch: None };
            evolve(valley, start[..count].to_vec(), 300, 1, &crew).expect("a population")
        };
        let found = bred(1, 40);
        assert!(found[0].cost < 1e-6, "{:?}", found[0]);
        assert_eq!(found, bred(2, 40));
        assert_eq!(bred(1, 3).len(), 3);
    }
}
