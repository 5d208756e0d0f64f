//! How a landing holds up where everybody may be a little faster, push more, or have another wind than was thought.

use super::score::{Score, member};
use crate::{ground::Landing, passes::Passes};

/// The mean of the lower half of some shares, at least one: what is left where it turns out rather badly. Sorts them;
/// 0 of none.
pub(super) fn worse_half(shares: &mut [f64]) -> f64 {
    shares.sort_by(f64::total_cmp);
    let half = shares.len().div_ceil(2);
    shares[..half].iter().sum::<f64>() / half.max(1) as f64
}

/// How landings take each scenario of passes on the ground with them, in the scenarios' order; see
/// [`Passes::scenarios`]. Weights are those within the scenario.
pub fn by_scenario(passes: &Passes, landings: &[Landing], fall_limit: f64) -> Vec<Score> {
    let score = |scenario: usize| {
        let of = passes.members().iter().filter(|pass| pass.drawn.scenario == scenario);
        let all: f64 = of.clone().map(|pass| pass.drawn.weight).sum();
        let leaving = of.clone().filter(|pass| pass.leaves()).map(|pass| pass.drawn.weight);
        let leaving = leaving.sum::<f64>() / all.max(f64::MIN_POSITIVE);
        let members: Vec<_> = of.filter_map(|pass| member(pass, landings)).collect();
        Score::of(&members, leaving, fall_limit)
    };
    (0..passes.scenarios()).map(score).collect()
}

#[cfg(test)]
mod tests {
    use super::worse_half;

    #[test]
    fn the_lower_half_counts() {
        assert!((worse_half(&mut [0.9, 0.5, 0.7, 0.8]) - 0.6).abs() < 1e-15);
        assert!((worse_half(&mut [0.9, 0.5, 0.7]) - 0.6).abs() < 1e-15);
        assert!((worse_half(&mut [0.4]) - 0.4).abs() < 1e-15);
        assert!(worse_half(&mut []).abs() < 1e-15);
    }
}
