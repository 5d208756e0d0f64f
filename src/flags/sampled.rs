//! A sampler beside the normal approximation: importance sampling, in full rides.

use super::cases::{Case, Cases};
use super::error::FlagsError;
use super::forecast::normal_score;
use super::found::Found;
use super::miss::Miss;
use super::mode::{Climb, inverse};
use super::unknown::Unknown;
use crate::math::parallel::Crew;
use crate::math::range::OutOfRange;
use crate::math::sampling::Sequence;
use crate::ride::Lean;
use nalgebra::{DMatrix, DVector};
use serde::{Deserialize, Serialize};

/// The draws' normal distribution is so much wider than the one that is checked: its tails must not be missed.
const WIDER: f64 = 1.25;
/// The first so-manieth part of the draws is of the prior: another top, far from the one that was found, must not be missed.
const OF_PRIOR: usize = 4;
/// How many draws are allowed.
const LEAST: usize = 32;
const MOST: usize = 1 << 14;

/// The normal approximation under one lean against a sampler.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[non_exhaustive]
pub struct Sampled {
    /// The lean.
    pub lean: Lean,
    /// How many of the draws count, as a share: near three quarters where the two agree everywhere, for a quarter are drawn
    /// all over the prior.
    pub effective: f64,
    /// For each free unknown: how far the sampler's mean lies from the approximation's, in its standard deviations.
    pub shift: Vec<(Unknown, f64)>,
    /// And the ratio of the standard deviations.
    pub ratio: Vec<(Unknown, f64)>,
}

impl Sampled {
    /// Whether the approximation does: no mean farther off than a quarter of a standard deviation, and none of these off by more
    /// than a quarter of itself.
    pub fn is_near(&self) -> bool {
        let near = |(_, shift): &(Unknown, f64)| shift.abs() < 0.25;
        self.shift.iter().all(near) && self.ratio.iter().all(|(_, r)| (r - 1.0).abs() < 0.25)
    }
}

/// What draws come from: a normal distribution about a place, and the prior's, which is the standard one.
struct Spread {
    middle: DVector<f64>,
    /// Its covariance's root; none where that has none, and draws are of the prior alone.
    root: Option<DMatrix<f64>>,
}

impl Spread {
    fn of(middle: &DVector<f64>, covariance: &DMatrix<f64>) -> Self {
        let root = covariance.clone().cholesky().map(|root| root.l() * WIDER);
        Self { middle: middle.clone(), root }
    }

    fn drawn(&self, score: &DVector<f64>) -> DVector<f64> {
        self.root.as_ref().map_or_else(|| score.clone(), |root| &self.middle + root * score)
    }

    /// The logarithm of the draws' density at a place, but for what is the same everywhere.
    fn log_drawn(&self, place: &DVector<f64>) -> f64 {
        let prior = -0.5 * place.norm_squared();
        let score = |root: &DMatrix<f64>| root.solve_lower_triangular(&(place - &self.middle));
        let Some((root, score)) = self.root.as_ref().and_then(|root| Some((root, score(root)?)))
        else {
            return prior;
        };
        let normal = -0.5 * score.norm_squared() - root.diagonal().map(f64::ln).sum();
        let share = 1.0 / OF_PRIOR as f64;
        let most = prior.max(normal);
        most + (share * (prior - most).exp() + (1.0 - share) * (normal - most).exp()).ln()
    }
}

impl Found {
    /// The normal approximation under each notable lean against `draws` (32 to 16384) full evaluations of the flags.
    ///
    /// Importance sampling at low-discrepancy points of `seed`: three quarters of them from a normal distribution a quarter
    /// wider, and one from the prior. Slow: a ride for each draw, flag and lean.
    pub fn sampled(
        &self,
        draws: usize,
        seed: u64,
        crew: &Crew,
    ) -> Result<Vec<Sampled>, FlagsError> {
        if !(LEAST..=MOST).contains(&draws) {
            let allowed = format!("from {LEAST} to {MOST}");
            return Err(OutOfRange::new("draws", draws as f64, allowed).into());
        }
        let own = super::course::Course::new(&self.site, &self.who, self.site.ground()?)?;
        let all = self.flags.iter().map(|flag| Case::new(&self.site, &own, flag));
        let all = all.collect::<Result<Vec<_>, _>>()?;
        let (priors, free, bad_share) = (self.priors, self.free.clone(), self.bad_share);
        let still = Crew { threads: Some(1), watch: None };
        let cases = Cases { all, priors, free, bad_share, crew: still };
        let mut told = Vec::new();
        for (lean, _) in self.notable() {
            let climb = Climb { cases: &cases, lean: lean.lean, closely: 1e-4 };
            let linear = cases.linear(&lean.place, lean.lean).map_err(Miss::error)?;
            let spread = Spread::of(&lean.place, &inverse(&lean.precision));
            let sequence = Sequence::new(seed, &["crr", "cda", "brake", "pop", "leave", "speed"]);
            let tried = crew.map(draws, 4, |i| {
                let names =
                    self.free.iter().map(|unknown| normal_score(&sequence, i, unknown.name()));
                let score = DVector::from_iterator(self.free.len(), names);
                let place = if i < draws / OF_PRIOR { score } else { spread.drawn(&score) };
                let (off, log_drawn) = (&place - &lean.place, spread.log_drawn(&place));
                match cases.missed(&place, lean.lean) {
                    Ok(missed) => {
                        Ok((off, -climb.cost(&place, &missed, &linear, None) - log_drawn))
                    }
                    Err(Miss::Stop(_)) => Ok((off, f64::NEG_INFINITY)),
                    Err(miss) => Err(miss.error()),
                }
            })?;
            let tried = tried.into_iter().collect::<Result<Vec<_>, FlagsError>>()?;
            told.push(self.compared(lean.lean, &inverse(&lean.precision), &tried));
        }
        Ok(told)
    }

    fn compared(
        &self,
        lean: Lean,
        spread: &DMatrix<f64>,
        tried: &[(DVector<f64>, f64)],
    ) -> Sampled {
        let most = tried.iter().map(|(_, log)| *log).fold(f64::NEG_INFINITY, f64::max);
        let weights: Vec<f64> = tried.iter().map(|(_, log)| (log - most).exp()).collect();
        let total: f64 = weights.iter().sum();
        let squares: f64 = weights.iter().map(|w| w * w).sum();
        let mean = |of: &dyn Fn(&DVector<f64>) -> f64| -> f64 {
            tried.iter().zip(&weights).map(|((off, _), w)| w * of(off)).sum::<f64>() / total
        };
        let (mut shift, mut ratio) = (Vec::new(), Vec::new());
        for (i, unknown) in self.free.iter().enumerate() {
            let sd = spread[(i, i)].sqrt();
            let middle = mean(&|off| off[i]);
            shift.push((*unknown, middle / sd));
            ratio.push((*unknown, mean(&|off| (off[i] - middle).powi(2)).sqrt() / sd));
        }
        let effective = total * total / (squares * tried.len() as f64);
        Sampled { lean, effective, shift, ratio }
    }
}
