//! The most likely place under one lean: maximum a posteriori by Levenberg's and Marquardt's method, and the normal
//! distribution about it (Laplace).
//!
//! Scores have standard normal priors. A flag is good with a probability of 0.95, and then off by its standard deviations; or it
//! is bad, and off by ten times as much: so one bad flag among good ones loses its say instead of pulling all. The method is
//! our own because a step here may end where a ride does not come down at all, and because rides are dear: derivatives are
//! only taken again where the place has moved; general crates offer neither.

use super::cases::{Cases, Linear};
use super::error::FlagsError;
use super::miss::Miss;
use super::unknown::Unknown;
use crate::ride::Lean;
use nalgebra::{DMatrix, DVector};

/// How often a flag is bad: mixed up, misread, another rider's. An assumption.
pub(super) const BAD_SHARE: f64 = 0.05;
/// How much farther a bad flag is off.
const BAD_SCALE: f64 = 10.0;
/// A flag with less say than this is bad.
pub(super) const LEAST_SAY: f64 = 0.5;
/// Steps before a fit is given up.
pub(super) const MOST_STEPS: usize = 80;
/// Derivatives are taken again after so long a way, in prior standard deviations; and at the end, if it has moved by more than
/// so many times what is close.
const FAR: f64 = 0.3;
const FRESH: f64 = 100.0;
/// A flag that misses by more than this, in squares of standard deviations, may have misled a fit.
const SUSPECT: f64 = 9.0;

/// The most likely place under one lean, and the normal distribution about it.
#[derive(Debug, Clone, PartialEq)]
pub(super) struct Mode {
    pub(super) lean: Lean,
    pub(super) place: DVector<f64>,
    /// The inverse of the covariance of the scores.
    pub(super) precision: DMatrix<f64>,
    /// The logarithm of how likely the flags are under this lean, up to a constant.
    pub(super) log_evidence: f64,
    /// How far each flag lies from the model, and the same in standard deviations.
    pub(super) missed: Vec<DVector<f64>>,
    pub(super) linear: Vec<Linear>,
    /// How much each flag has to say: 1 for a good one, near 0 for a bad one.
    pub(super) says: Vec<f64>,
    /// The size of the last step, where it did not come to rest.
    pub(super) unsettled: Option<f64>,
}

/// A place under way.
struct Here {
    place: DVector<f64>,
    missed: Vec<DVector<f64>>,
    linear: Vec<Linear>,
    cost: f64,
    /// How far it has come since derivatives were taken.
    since: f64,
}

/// The search under one lean.
pub(super) struct Climb<'a> {
    pub(super) cases: &'a Cases<'a>,
    pub(super) lean: Lean,
    /// A step shorter than this, in prior standard deviations, is the last.
    pub(super) closely: f64,
}

impl Climb<'_> {
    /// The mode found from the middle of the priors.
    pub(super) fn first(&self) -> Result<Mode, Miss> {
        self.climb(self.start()?, None)
    }

    /// The better of a mode and what is found without the flag that misses it most, where one misses by much.
    pub(super) fn second(&self, first: Mode) -> Result<Mode, Miss> {
        let size = |i: &usize| first.white_missed(*i).norm_squared();
        let worst = (0..first.missed.len()).max_by(|a, b| size(a).total_cmp(&size(b)));
        let Some(worst) = worst.filter(|i| size(i) > SUSPECT) else { return Ok(first) };
        match self.climb(self.start()?, Some(worst)) {
            Ok(second) if second.log_evidence > first.log_evidence => Ok(second),
            Err(Miss::Failed(error)) if matches!(*error, FlagsError::Crew(_)) => Err(error.into()),
            _ => Ok(first),
        }
    }

    /// A place at which every flag's ride comes down: the middle of the priors, or one near it.
    fn start(&self) -> Result<DVector<f64>, Miss> {
        let middle = DVector::zeros(self.cases.free.len());
        let mut first = None;
        for score in [0.0, 1.0, -1.0, 2.0, -2.0] {
            for by in [Unknown::Speed, Unknown::Brake, Unknown::Leave] {
                let mut place = middle.clone();
                if let Some(at) = self.cases.free.iter().position(|free| *free == by) {
                    place[at] = score;
                }
                match self.cases.missed(&place, self.lean) {
                    Ok(_) => return Ok(place),
                    Err(miss @ Miss::Failed(_)) => return Err(miss),
                    Err(stop) => first = first.or(Some(stop)),
                }
            }
        }
        Err(first.unwrap_or_else(|| FlagsError::NoFlags.into()))
    }

    fn climb(&self, start: DVector<f64>, without: Option<usize>) -> Result<Mode, Miss> {
        let linear = self.cases.linear(&start, self.lean)?;
        let missed = self.cases.missed(&start, self.lean)?;
        let cost = self.cost(&start, &missed, &linear, without);
        let mut here = Here { place: start, missed, linear, cost, since: 0.0 };
        let mut without = without;
        let (mut damping, mut size) = (0.0, f64::INFINITY);
        for _ in 0..MOST_STEPS {
            let step = self.step(&here, damping, without);
            size = step.norm();
            if size <= self.closely {
                if without.take().is_some() {
                    here.cost = self.cost(&here.place, &here.missed, &here.linear, None);
                } else if here.since <= FRESH * self.closely {
                    return Ok(self.mode(here));
                } else {
                    self.freshen(&mut here, without)?;
                }
            } else if let Some(next) = self.there(&here, &step, without)? {
                here = next;
                damping = if damping > 1e-3 { damping * 0.1 } else { 0.0 };
                if here.since > FAR {
                    self.freshen(&mut here, without)?;
                }
            } else if here.since > 0.0 {
                self.freshen(&mut here, without)?;
            } else {
                // Where the ground has an edge no parabola fits: steps shrink until they are close.
                damping = (damping * 10.0).max(0.1);
            }
        }
        Ok(Mode { unsettled: Some(size), ..self.mode(here) })
    }

    fn freshen(&self, here: &mut Here, without: Option<usize>) -> Result<(), Miss> {
        here.linear = self.cases.linear(&here.place, self.lean)?;
        here.cost = self.cost(&here.place, &here.missed, &here.linear, without);
        here.since = 0.0;
        Ok(())
    }

    /// The place a step away, where it is better.
    fn there(
        &self,
        here: &Here,
        step: &DVector<f64>,
        without: Option<usize>,
    ) -> Result<Option<Here>, Miss> {
        let place = &here.place + step;
        let missed = match self.cases.missed(&place, self.lean) {
            Ok(missed) => missed,
            Err(Miss::Stop(_)) => return Ok(None),
            Err(failed) => return Err(failed),
        };
        let cost = self.cost(&place, &missed, &here.linear, without);
        // Within rounding of the rides.
        let is_better = cost <= here.cost + 1e-9 * (1.0 + here.cost.abs());
        let since = here.since + step.norm();
        let linear = here.linear.clone();
        Ok(is_better.then_some(Here { place, missed, linear, cost, since }))
    }

    fn mode(&self, here: Here) -> Mode {
        let Here { place, missed, linear, cost, .. } = here;
        let says: Vec<f64> =
            missed.iter().zip(&linear).map(|(missed, linear)| self.say(missed, linear)).collect();
        let precision = precision(&linear, &says);
        let log_root = precision
            .clone()
            .cholesky()
            .map_or(0.0, |root| root.l().diagonal().iter().map(|x| x.ln()).sum::<f64>());
        let log_evidence = -cost - log_root;
        let (lean, unsettled) = (self.lean, None);
        Mode { lean, place, precision, log_evidence, missed, linear, says, unsettled }
    }

    /// The step to the minimum of the parabola that the cost looks like here.
    fn step(&self, here: &Here, damping: f64, without: Option<usize>) -> DVector<f64> {
        let says = self.says(here, without);
        let mut matrix = precision(&here.linear, &says);
        let mut pull = -here.place.clone();
        for ((missed, linear), say) in here.missed.iter().zip(&here.linear).zip(&says) {
            pull += linear.answers.transpose() * (&linear.white * missed) * *say;
        }
        for i in 0..matrix.nrows() {
            matrix[(i, i)] *= 1.0 + damping;
        }
        matrix.cholesky().map_or_else(|| pull.clone(), |root| root.solve(&pull))
    }

    fn says(&self, here: &Here, without: Option<usize>) -> Vec<f64> {
        let pairs = here.missed.iter().zip(&here.linear).enumerate();
        pairs.map(|(i, (m, l))| if without == Some(i) { least() } else { self.say(m, l) }).collect()
    }

    /// Half the square of a score's size and of each flag's miss: less the logarithm of prior and likelihood.
    pub(super) fn cost(
        &self,
        place: &DVector<f64>,
        missed: &[DVector<f64>],
        linear: &[Linear],
        without: Option<usize>,
    ) -> f64 {
        let each = missed.iter().zip(linear).enumerate().map(|(i, (missed, linear))| {
            let square = (&linear.white * missed).norm_squared();
            if without == Some(i) {
                return 0.5 * least() * square;
            }
            let (good, bad) = self.log_odds(square, missed.len());
            let most = good.max(bad);
            linear.log_size - most - ((good - most).exp() + (bad - most).exp()).ln()
        });
        0.5 * place.norm_squared() + each.sum::<f64>()
    }

    /// The logarithms of how likely a flag is as a good one and as a bad one.
    fn log_odds(&self, square: f64, count: usize) -> (f64, f64) {
        let wide = BAD_SCALE * BAD_SCALE;
        let good = (1.0 - self.cases.bad_share).ln() - 0.5 * square;
        (good, self.cases.bad_share.ln() - count as f64 * BAD_SCALE.ln() - 0.5 * square / wide)
    }

    /// How much a flag has to say: the derivative of its cost by half its square.
    fn say(&self, missed: &DVector<f64>, linear: &Linear) -> f64 {
        let square = (&linear.white * missed).norm_squared();
        let (good, bad) = self.log_odds(square, missed.len());
        let share = 1.0 / (1.0 + (bad - good).exp());
        share + (1.0 - share) * least()
    }
}

impl Mode {
    /// How far a flag lies from the model, in standard deviations.
    pub(super) fn white_missed(&self, flag: usize) -> DVector<f64> {
        &self.linear[flag].white * &self.missed[flag]
    }

    /// Whether some flag misses by so much that it may have misled the fit.
    pub(super) fn has_suspect(&self) -> bool {
        (0..self.missed.len()).any(|flag| self.white_missed(flag).norm_squared() > SUSPECT)
    }

    /// The covariance of the scores.
    pub(super) fn covariance(&self) -> DMatrix<f64> {
        inverse(&self.precision)
    }
}

/// The inverse of a positive definite matrix.
pub(super) fn inverse(matrix: &DMatrix<f64>) -> DMatrix<f64> {
    let size = matrix.nrows();
    let root = matrix.clone().cholesky();
    root.map_or_else(|| DMatrix::identity(size, size), |root| root.inverse())
}

fn precision(linear: &[Linear], says: &[f64]) -> DMatrix<f64> {
    let size = linear.first().map_or(0, |linear| linear.answers.ncols());
    let mut matrix = DMatrix::identity(size, size);
    for (linear, say) in linear.iter().zip(says) {
        matrix += linear.answers.transpose() * &linear.answers * *say;
    }
    matrix
}

const fn least() -> f64 {
    1.0 / (BAD_SCALE * BAD_SCALE)
}
