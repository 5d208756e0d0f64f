//! What is known of each unknown, and what cannot be told apart.

use super::found::Found;
use super::mode::inverse;
use super::unknown::Unknown;
use serde::{Deserialize, Serialize};
use statrs::function::erf::erfc;
use std::f64::consts::FRAC_1_SQRT_2;

/// Correlations above this are told.
const CONFUSED: f64 = 0.7;

/// What is known of one unknown.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize)]
#[non_exhaustive]
pub struct Estimate {
    /// Which.
    pub unknown: Unknown,
    /// Its middle: half of what is believed of it lies below.
    pub median: f64,
    /// 5 % lie below.
    pub low: f64,
    /// 5 % lie above.
    pub high: f64,
    /// The middle of what was believed before.
    pub prior_median: f64,
    /// The 5 % and 95 % of it.
    pub prior_low: f64,
    /// The upper one.
    pub prior_high: f64,
    /// How much narrower the flags made it: 0 not at all, 1 wholly (by standard deviations).
    pub learnt: f64,
    /// Whether it was fitted.
    pub is_free: bool,
}

/// Two unknowns that the flags cannot tell apart.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize)]
#[non_exhaustive]
pub struct Pair {
    /// One.
    pub a: Unknown,
    /// The other.
    pub b: Unknown,
    /// Their correlation: near 1 or -1 only their difference or sum is known.
    pub correlation: f64,
}

/// The normal distributions of the scores under each lean, together.
pub(super) struct Mixture {
    /// Weight, and mean and standard deviation of each free score.
    parts: Vec<(f64, Vec<(f64, f64)>)>,
}

impl Mixture {
    pub(super) fn of(found: &Found) -> Self {
        let parts = found.leans.iter().filter(|lean| lean.weight > 0.0).map(|lean| {
            let spread = inverse(&lean.precision);
            let each =
                lean.place.iter().enumerate().map(|(i, mean)| (*mean, spread[(i, i)].sqrt()));
            (lean.weight, each.collect())
        });
        Self { parts: parts.collect() }
    }

    /// The score below which a share of the mixture lies.
    fn quantile(&self, free: usize, share: f64) -> f64 {
        let below = |score: f64| -> f64 {
            let part = |(weight, each): &(f64, Vec<(f64, f64)>)| {
                let (mean, sd) = each[free];
                weight * 0.5 * erfc(-(score - mean) / sd.max(1e-300) * FRAC_1_SQRT_2)
            };
            self.parts.iter().map(part).sum()
        };
        let (mut low, mut high) = (-40.0, 40.0);
        for _ in 0..80 {
            let middle = 0.5 * (low + high);
            if below(middle) < share { low = middle } else { high = middle }
        }
        0.5 * (low + high)
    }

    /// The standard deviation of a score, all leans together.
    fn spread(&self, free: usize) -> f64 {
        let mean: f64 = self.parts.iter().map(|(weight, each)| weight * each[free].0).sum();
        let square = |(mean_here, sd): (f64, f64)| sd * sd + (mean_here - mean).powi(2);
        self.parts.iter().map(|(weight, each)| weight * square(each[free])).sum::<f64>().sqrt()
    }

    pub(super) fn estimates(&self, found: &Found) -> Vec<Estimate> {
        let each = Unknown::ALL.into_iter().map(|unknown| {
            let free = found.free.iter().position(|free| *free == unknown);
            let before = |share: f64| found.priors.get(unknown).quantile(share);
            let prior = [0.05, 0.5, 0.95].map(before);
            let now = match free {
                Some(i) => [0.05, 0.5, 0.95]
                    .map(|share| found.priors.value(unknown, self.quantile(i, share)).0),
                None if found.held.contains(&unknown) => prior,
                None => [prior[1]; 3],
            };
            Estimate {
                unknown,
                median: now[1],
                low: now[0],
                high: now[2],
                prior_median: prior[1],
                prior_low: prior[0],
                prior_high: prior[2],
                learnt: free.map_or(0.0, |i| (1.0 - self.spread(i)).max(0.0)),
                is_free: free.is_some(),
            }
        });
        each.collect()
    }
}

/// Pairs of unknowns that cannot be told apart, by the likeliest lean.
pub(super) fn confused(found: &Found) -> Vec<Pair> {
    let Some(best) = found.leans.first().filter(|best| best.weight > 0.0) else {
        return Vec::new();
    };
    let spread = inverse(&best.precision);
    let mut pairs = Vec::new();
    for (i, a) in found.free.iter().enumerate() {
        for (j, b) in found.free.iter().enumerate().skip(i + 1) {
            let correlation = spread[(i, j)] / (spread[(i, i)] * spread[(j, j)]).sqrt();
            if correlation.abs() > CONFUSED {
                pairs.push(Pair { a: *a, b: *b, correlation });
            }
        }
    }
    pairs.sort_by(|a, b| b.correlation.abs().total_cmp(&a.correlation.abs()));
    pairs
}
