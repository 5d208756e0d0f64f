//! From a lowest to a highest value.

use crate::math::range::{OutOfRange, finite};
use serde::{Deserialize, Serialize};

/// All values from a lowest to a highest, both included; the two may be the same.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize)]
pub struct Interval {
    /// The lowest value.
    pub low: f64,
    /// The highest value.
    pub high: f64,
}

impl Interval {
    /// From `low` to `high`.
    pub const fn new(low: f64, high: f64) -> Self {
        Self { low, high }
    }

    /// Whether a value lies in it.
    pub fn contains(&self, value: f64) -> bool {
        (self.low..=self.high).contains(&value)
    }

    /// The value of it that is nearest to `value`.
    pub fn nearest(&self, value: f64) -> f64 {
        value.max(self.low).min(self.high)
    }

    /// Nothing where `low <= high` and both are finite and `allowed`; otherwise what is wrong, `field`
    /// being its name.
    pub fn check(
        &self,
        field: &'static str,
        allowed: &str,
        holds: impl Fn(f64) -> bool,
    ) -> Result<(), OutOfRange> {
        for (end, value) in [("low", self.low), ("high", self.high)] {
            let named =
                |error: OutOfRange| OutOfRange::new(format!("{field}.{end}"), value, error.allowed);
            finite(field, value).map_err(named)?;
            if !holds(value) {
                return Err(OutOfRange::new(format!("{field}.{end}"), value, allowed.to_owned()));
            }
        }
        if self.low > self.high {
            let allowed = format!("at least low {}", self.low);
            return Err(OutOfRange::new(format!("{field}.high"), self.high, allowed));
        }
        Ok(())
    }
}
