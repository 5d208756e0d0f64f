//! How each flag fits what the other flags say.

use super::cases::Cases;
use super::found::Modes;
use super::mode::{LEAST_SAY, Mode, inverse};
use nalgebra::DMatrix;
use serde::{Deserialize, Serialize};
use statrs::function::gamma::gamma_ur;

/// A flag lies outside its region where this share of the forecast lies farther out.
const OUTSIDE: f64 = 0.1;

/// How one flag fits.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[non_exhaustive]
pub struct FlagCheck {
    /// The flag's name.
    pub flag: String,
    /// How far its mark lies from where the fit has it, along x and y, m; none without a mark.
    pub missed: Option<[f64; 2]>,
    /// How much it has to say in the fit: 1 for a good one, near 0 for a bad one.
    pub say: f64,
    /// The share of what the other flags forecast for it that lies farther out than it does.
    pub tail: f64,
    /// Whether it lies outside the 90 % region of what the others forecast.
    pub is_outside: bool,
    /// Whether it lost its say: mixed up, misread, or another ride than was written down.
    pub is_bad: bool,
}

impl FlagCheck {
    pub(super) fn of(cases: &Cases, modes: &Modes) -> Vec<Self> {
        let modes: Vec<&Mode> = modes.iter().filter_map(|(_, mode)| mode.as_ref().ok()).collect();
        let most = modes.iter().map(|mode| mode.log_evidence).fold(f64::NEG_INFINITY, f64::max);
        let weights: Vec<f64> = modes.iter().map(|mode| (mode.log_evidence - most).exp()).collect();
        let total: f64 = weights.iter().sum();
        let mean = |of: &dyn Fn(&Mode) -> f64| -> f64 {
            modes.iter().zip(&weights).map(|(mode, weight)| weight * of(mode)).sum::<f64>() / total
        };
        let each = cases.all.iter().enumerate().map(|(i, case)| {
            let missed =
                case.look.has_mark.then(|| [0, 1].map(|axis| mean(&|mode| mode.missed[i][axis])));
            let (say, tail) = (mean(&|mode| mode.says[i]), mean(&|mode| mode.tail(i)));
            Self {
                flag: case.name.clone(),
                missed,
                say,
                tail,
                is_outside: tail < OUTSIDE,
                is_bad: say < LEAST_SAY,
            }
        });
        each.collect()
    }
}

impl Mode {
    /// The share of the forecast for a flag, made from the others, that lies farther out than the flag does.
    ///
    /// To first order about the mode: without the flag the precision is `P - w J'J`, the flag's miss `r + J P' w J' r` and its
    /// covariance `1 + J P' J'`, in standard deviations of the flag.
    fn tail(&self, flag: usize) -> f64 {
        let (answers, say) = (&self.linear[flag].answers, self.says[flag]);
        let missed = self.white_missed(flag);
        let others = inverse(&(&self.precision - answers.transpose() * answers * say));
        let moved = &others * (answers.transpose() * &missed * say);
        let miss = &missed + answers * moved;
        let size = missed.len();
        let spread = DMatrix::identity(size, size) + answers * others * answers.transpose();
        let square = spread.cholesky().map_or(0.0, |root| miss.dot(&root.solve(&miss)));
        // The chi-square distribution with as many degrees of freedom as the flag has numbers.
        if square > 0.0 { gamma_ur(0.5 * size as f64, 0.5 * square) } else { 1.0 }
    }
}
