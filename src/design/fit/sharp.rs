//! The sharp end of a search: as the score counts, a touch is soft or not.

use super::{
    FitOptions,
    job::{CLOSE, Job, Look, Tried},
};
use crate::{
    design::error::FitError,
    math::{
        sampling::Sequence,
        search::{Minimum, evolve},
    },
};

/// All but a step.
const SHARP: Look = Look { blur: 0.15, ..CLOSE };
/// Starts lie so far to either side of a polished landing in each number, in its range.
const AROUND: f64 = 0.05;
/// Polished landings that cost so much more than the best are left.
const BEHIND: f64 = 0.03;
/// So many riders are asked in all at most.
const ASKED: usize = 1 << 20;

impl Job<'_> {
    /// The neighbourhoods of the best polished landings, bred on by the sharp look, best first, and how many were looked at.
    ///
    /// A blur prefers the middle of many good landings; where exactly riders are lost or caught it does not see, and of few
    /// riders the count among its equals differs by some in a hundred.
    pub(super) fn sharpen(
        &self,
        polished: &[Tried],
        options: &FitOptions,
    ) -> Result<(Vec<Tried>, usize), FitError> {
        let Some((_, best)) = polished.first() else { return Ok((vec![], 0)) };
        let starts: Vec<&Vec<f64>> = polished
            .iter()
            .filter(|(_, told)| told.cost < best.cost + BEHIND)
            .map(|(at, _)| at)
            .collect();
        let (names, seed) = (self.search.range.form.names(), options.seed.wrapping_add(3));
        let sequence = Sequence::new(seed, names);
        let cost = |at: &[f64]| self.appraise(at, SHARP).cost;
        let near = |index: usize| {
            let wide = if index < starts.len() { 0.0 } else { AROUND };
            let moved = |(x, name): (&f64, &&str)| {
                (x + wide * (2.0 * sequence.uniform(index as u64, name) - 1.0)).clamp(0.0, 1.0)
            };
            let at: Vec<f64> = starts[index % starts.len()].iter().zip(names).map(moved).collect();
            Minimum { cost: cost(&at), at }
        };
        let start = self.crew.map(options.population, 1, near)?;
        let asked = self.search.riders(SHARP.riders).most * options.population;
        let generations = (ASKED / asked.max(1)).min(options.generations);
        let found = evolve(cost, start, generations, seed, self.crew)?;
        let again = |found: Minimum| {
            let appraisal = self.appraise(&found.at, SHARP);
            (found.at, appraisal)
        };
        let looks = options.population * (generations + 1);
        Ok((found.into_iter().map(again).collect(), looks))
    }
}
