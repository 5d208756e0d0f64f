//! How a number spreads over riders.

use crate::math::range::{OutOfRange, finite};
use crate::math::sampling::SMALLEST;
use serde::{Deserialize, Serialize};
use statrs::function::erf::{erfc, erfc_inv};
use std::f64::consts::SQRT_2;

/// The least share of a normal distribution that its limits must leave.
const LEAST_SHARE: f64 = 1e-9;

/// A distribution of one number, drawn through its inverse.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
#[non_exhaustive]
pub enum Dist {
    /// Always the same.
    Fixed(f64),
    /// Anything between two values alike.
    Uniform {
        /// The lowest value.
        low: f64,
        /// The highest value, above the lowest.
        high: f64,
    },
    /// Most often at the mode, falling evenly to nothing at both ends.
    Triangular {
        /// The lowest value.
        low: f64,
        /// The most frequent value, between the ends or at one.
        mode: f64,
        /// The highest value, above the lowest.
        high: f64,
    },
    /// Normal, cut off at limits where there are some (what lies outside is drawn inside instead).
    Normal {
        /// The mean before the limits.
        mean: f64,
        /// The standard deviation before the limits, above 0.
        sd: f64,
        /// The lowest value, if limited.
        low: Option<f64>,
        /// The highest value, if limited.
        high: Option<f64>,
    },
}

impl Dist {
    /// The value below which the share `u` of all lies, `u` between 0 and 1.
    ///
    /// Exact but for rounding; a normal's tail is exact to about 1e-9 of its standard deviation.
    pub fn quantile(&self, u: f64) -> f64 {
        match *self {
            Self::Fixed(value) => value,
            Self::Uniform { low, high } => low + u * (high - low),
            Self::Triangular { low, mode, high } => {
                let span = high - low;
                if u * span < mode - low {
                    low + (u * span * (mode - low)).sqrt()
                } else {
                    high - ((1.0 - u) * span * (high - mode)).sqrt()
                }
            }
            Self::Normal { mean, sd, .. } => {
                let (low, high) = self.limits();
                let (below, above) = (below((low - mean) / sd), below((high - mean) / sd));
                let share = below + u * (above - below);
                (mean - sd * SQRT_2 * erfc_inv(2.0 * share)).clamp(low, high)
            }
        }
    }

    /// The middle value: half of all lie below.
    pub fn median(&self) -> f64 {
        self.quantile(0.5)
    }

    /// The lowest and the highest value that can be drawn: the limits, or for a normal without
    /// limits about 5.3 standard deviations to either side.
    pub fn drawn(&self) -> (f64, f64) {
        (self.quantile(SMALLEST), self.quantile(1.0 - SMALLEST))
    }

    /// The limits: infinite for a normal without.
    fn limits(&self) -> (f64, f64) {
        match *self {
            Self::Fixed(value) => (value, value),
            Self::Uniform { low, high } | Self::Triangular { low, high, .. } => (low, high),
            Self::Normal { low, high, .. } => {
                (low.unwrap_or(f64::NEG_INFINITY), high.unwrap_or(f64::INFINITY))
            }
        }
    }

    /// Nothing where this is a distribution and every value that can be drawn is `allowed`;
    /// otherwise what is wrong, `field` being its name.
    pub fn check(
        &self,
        field: &'static str,
        allowed: &str,
        holds: impl Fn(f64) -> bool,
    ) -> Result<(), OutOfRange> {
        self.check_shape(field)?;
        let (lowest, highest) = self.drawn();
        for value in [lowest, highest] {
            if !holds(value) {
                return Err(OutOfRange::new(field, value, allowed.to_owned()));
            }
        }
        Ok(())
    }

    fn check_shape(&self, field: &'static str) -> Result<(), OutOfRange> {
        match *self {
            Self::Fixed(value) => finite(field, value).map(drop),
            Self::Uniform { low, high } => check_span(field, low, high),
            Self::Triangular { low, mode, high } => {
                check_span(field, low, high)?;
                if (low..=high).contains(&mode) {
                    return Ok(());
                }
                Err(at(field, "mode", mode, format!("from low {low} to high {high}")))
            }
            Self::Normal { mean, sd, low, high } => {
                finite(field, mean)?;
                if !(sd.is_finite() && sd > 0.0) {
                    return Err(at(field, "sd", sd, "a finite number above 0".into()));
                }
                self.check_limits(field, mean, sd, low, high)
            }
        }
    }

    fn check_limits(
        &self,
        field: &'static str,
        mean: f64,
        sd: f64,
        low: Option<f64>,
        high: Option<f64>,
    ) -> Result<(), OutOfRange> {
        for (end, value) in [("low", low), ("high", high)] {
            if let Some(value) = value.filter(|value| !value.is_finite()) {
                return Err(at(field, end, value, "a finite number, or none at all".into()));
            }
        }
        let (low, high) = self.limits();
        if low >= high {
            return Err(at(field, "high", high, format!("above low {low}")));
        }
        let share = below((high - mean) / sd) - below((low - mean) / sd);
        if share < LEAST_SHARE {
            let allowed = format!("so that some of mean {mean} and sd {sd} is left");
            return Err(at(field, "low to high", low, allowed));
        }
        Ok(())
    }
}

impl From<f64> for Dist {
    fn from(value: f64) -> Self {
        Self::Fixed(value)
    }
}

/// The share of a standard normal distribution below `z`.
fn below(z: f64) -> f64 {
    0.5 * erfc(-z / SQRT_2)
}

fn check_span(field: &'static str, low: f64, high: f64) -> Result<(), OutOfRange> {
    finite(field, low)?;
    finite(field, high)?;
    if low < high {
        return Ok(());
    }
    Err(at(field, "high", high, format!("above low {low}")))
}

fn at(field: &str, part: &str, value: f64, allowed: String) -> OutOfRange {
    OutOfRange::new(format!("{field}.{part}"), value, allowed)
}

#[cfg(test)]
mod tests {
    use super::*;
    use approx::assert_abs_diff_eq;
    use statrs::distribution::{ContinuousCDF, Normal, Triangular};

    #[test]
    fn quantiles_of_a_triangle_undo_its_distribution() -> Result<(), Box<dyn std::error::Error>> {
        let oracle = Triangular::new(2.0, 7.0, 3.0)?;
        let dist = Dist::Triangular { low: 2.0, mode: 3.0, high: 7.0 };
        for step in 1..1000 {
            let u = f64::from(step) / 1000.0;
            assert_abs_diff_eq!(oracle.cdf(dist.quantile(u)), u, epsilon = 1e-12);
        }
        Ok(())
    }

    #[test]
    fn quantiles_of_a_cut_normal_undo_its_distribution() -> Result<(), Box<dyn std::error::Error>> {
        let oracle = Normal::new(1.2, 0.3)?;
        let dist = Dist::Normal { mean: 1.2, sd: 0.3, low: Some(0.9), high: Some(2.0) };
        let (from, to) = (oracle.cdf(0.9), oracle.cdf(2.0));
        for step in 1..1000 {
            let u = f64::from(step) / 1000.0;
            let share = (oracle.cdf(dist.quantile(u)) - from) / (to - from);
            assert_abs_diff_eq!(share, u, epsilon = 1e-9);
        }
        let (lowest, highest) = dist.drawn();
        assert!(lowest >= 0.9 && highest <= 2.0);
        Ok(())
    }

    /// Quantiles of the standard normal distribution as printed in any table: 1.6449, 1.9600,
    /// 2.3263 (Abramowitz and Stegun 1964, Table 26.1, from memory).
    #[test]
    fn printed_quantiles_of_the_normal() {
        let dist = Dist::Normal { mean: 0.0, sd: 1.0, low: None, high: None };
        for (share, z) in [(0.95, 1.644854), (0.975, 1.959964), (0.99, 2.326348)] {
            assert_abs_diff_eq!(dist.quantile(share), z, epsilon = 1e-6);
        }
        assert_abs_diff_eq!(dist.drawn().0, -5.29, epsilon = 0.1);
    }

    #[test]
    fn what_is_no_distribution_is_named() {
        let any = |_| true;
        let named = |dist: Dist| match dist.check("start", "anything", any) {
            Err(error) => error.field.into_owned(),
            Ok(()) => "none".to_owned(),
        };
        assert_eq!(named(Dist::Fixed(f64::NAN)), "start");
        assert_eq!(named(Dist::Uniform { low: 2.0, high: 1.0 }), "start.high");
        assert_eq!(named(Dist::Triangular { low: 0.0, mode: 3.0, high: 1.0 }), "start.mode");
        let normal = |sd, low, high| Dist::Normal { mean: 0.0, sd, low, high };
        assert_eq!(named(normal(0.0, None, None)), "start.sd");
        assert_eq!(named(normal(1.0, Some(2.0), Some(1.0))), "start.high");
        assert_eq!(named(normal(1.0, Some(30.0), None)), "start.low to high");
        assert_eq!(named(normal(1.0, Some(-2.0), None)), "none");
        let below_zero = normal(1.0, None, None).check("mass", "above 0", |mass| mass > 0.0);
        assert!(below_zero.is_err());
    }
}
