//! The lowest place of a function of several numbers: near a place that is known to be low, and all over a unit cube.

mod evolve;
mod golden;

pub use evolve::evolve;
pub use golden::lowest;

use super::range::OutOfRange;
use argmin::core::{CostFunction, Executor, State};
use argmin::solver::neldermead::NelderMead;

/// The lowest place that was found, and the cost there.
#[derive(Debug, Clone, PartialEq)]
pub struct Minimum {
    /// The place.
    pub at: Vec<f64>,
    /// The cost there.
    pub cost: f64,
}

/// A local minimum of `cost` found by a Nelder-Mead simplex that starts at `start` with sides `steps`.
///
/// Needs no derivative, and is the same at every call. It ends when the costs of the simplex differ
/// by less than 1e-9 or after `iterations` steps, whichever is first; a cost that is not a number
/// counts as infinitely high. The result is never worse than the start. What is lower elsewhere is
/// not seen: start from several places. Of the crate `argmin`; J. Nelder and R. Mead, *Computer
/// Journal* 7 (1965).
pub fn polish(
    cost: impl Fn(&[f64]) -> f64,
    start: &[f64],
    steps: &[f64],
    iterations: usize,
) -> Result<Minimum, OutOfRange> {
    if start.is_empty() || start.len() != steps.len() {
        let allowed = format!("as many steps as numbers, {}, and not none", start.len());
        return Err(OutOfRange::new("steps", steps.len() as f64, allowed));
    }
    let problem = Problem { cost };
    let given = Minimum { at: start.to_vec(), cost: problem.finite(start) };
    let Ok(solver) = NelderMead::new(simplex(start, steps)).with_sd_tolerance(1e-9) else {
        return Ok(given);
    };
    let run = Executor::new(problem, solver)
        .configure(|state| state.max_iters(iterations as u64))
        .timer(false)
        .run();
    let Ok(result) = run else { return Ok(given) };
    let state = result.state();
    match state.get_best_param() {
        Some(at) if state.get_best_cost() < given.cost => {
            Ok(Minimum { at: at.clone(), cost: state.get_best_cost() })
        }
        _ => Ok(given),
    }
}

fn simplex(start: &[f64], steps: &[f64]) -> Vec<Vec<f64>> {
    let moved = |which: usize| {
        let add = |(number, (x, step)): (usize, (&f64, &f64))| {
            if number == which { x + step } else { *x }
        };
        start.iter().zip(steps).enumerate().map(add).collect()
    };
    (0..=start.len()).map(|which| moved(which.wrapping_sub(1))).collect()
}

struct Problem<F> {
    cost: F,
}

impl<F: Fn(&[f64]) -> f64> Problem<F> {
    fn finite(&self, at: &[f64]) -> f64 {
        let cost = (self.cost)(at);
        if cost.is_nan() { f64::MAX } else { cost.min(f64::MAX) }
    }
}

impl<F: Fn(&[f64]) -> f64> CostFunction for Problem<F> {
    type Param = Vec<f64>;
    type Output = f64;

    fn cost(&self, at: &Self::Param) -> Result<f64, argmin::core::Error> {
        Ok(self.finite(at))
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn valley_is_followed_to_its_end() {
        let banana = |p: &[f64]| (1.0 - p[0]).powi(2) + 100.0 * (p[1] - p[0] * p[0]).powi(2);
        let found = polish(banana, &[-1.2, 1.0], &[0.5, 0.5], 500).expect("a minimum");
        assert!(found.cost < 1e-6 && (found.at[0] - 1.0).abs() < 1e-2, "{found:?}");
    }

    #[test]
    fn never_worse_than_the_start_and_no_nan() {
        let pit = |p: &[f64]| if (p[0] - 0.25).abs() < 1e-9 { 0.0 } else { f64::NAN };
        let found = polish(pit, &[0.25], &[0.1], 50).expect("a minimum");
        assert_eq!(found, Minimum { at: vec![0.25], cost: 0.0 });
        assert!(polish(pit, &[0.0, 1.0], &[0.1], 5).is_err());
    }
}
