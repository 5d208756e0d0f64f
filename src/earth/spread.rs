//! A printed value with the span that sources and states of a thing give it.

use crate::math::range::{OutOfRange, finite, within};
use serde::{Deserialize, Serialize};

/// A value to reckon with, and the ends between which it may lie.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize)]
#[serde(try_from = "Ends", into = "Ends")]
pub struct Spread {
    value: f64,
    low: f64,
    high: f64,
}

#[derive(Clone, Copy, Serialize, Deserialize)]
struct Ends {
    value: f64,
    low: f64,
    high: f64,
}

impl Spread {
    /// A value from `low` to `high`; all finite, and in that order.
    pub fn new(value: f64, low: f64, high: f64) -> Result<Self, OutOfRange> {
        let (low, high) = (finite("low", low)?, finite("high", high)?);
        Ok(Self { value: within("value", value, low, high)?, low, high })
    }

    /// A value that is known exactly.
    pub fn exactly(value: f64) -> Result<Self, OutOfRange> {
        Self::new(value, value, value)
    }

    /// Numbers of a table, known to be in order.
    pub(super) const fn printed(value: f64, low: f64, high: f64) -> Self {
        Self { value, low, high }
    }

    /// The value to reckon with.
    pub fn value(&self) -> f64 {
        self.value
    }

    /// The low end.
    pub fn low(&self) -> f64 {
        self.low
    }

    /// The high end.
    pub fn high(&self) -> f64 {
        self.high
    }

    /// The same times a factor that is not negative.
    pub(super) fn times(&self, factor: f64) -> Self {
        Self { value: self.value * factor, low: self.low * factor, high: self.high * factor }
    }

    /// The sum: as wide as both together, since what makes one slow makes the other slow.
    pub(super) fn plus(&self, other: &Self) -> Self {
        Self {
            value: self.value + other.value,
            low: self.low + other.low,
            high: self.high + other.high,
        }
    }

    /// The spread where all of it lies from `low` to `high`; else the number of it that does not.
    pub(super) fn between(
        self,
        field: &'static str,
        low: f64,
        high: f64,
    ) -> Result<Self, OutOfRange> {
        for number in [self.value, self.low, self.high] {
            within(field, number, low, high)?;
        }
        Ok(self)
    }
}

impl TryFrom<Ends> for Spread {
    type Error = OutOfRange;
    fn try_from(ends: Ends) -> Result<Self, OutOfRange> {
        Self::new(ends.value, ends.low, ends.high)
    }
}

impl From<Spread> for Ends {
    fn from(spread: Spread) -> Self {
        let Spread { value, low, high } = spread;
        Self { value, low, high }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn ends_in_disorder_are_refused() {
        assert!(Spread::new(0.2, 0.1, 0.3).is_ok() && Spread::exactly(-1.0).is_ok());
        assert!(Spread::new(0.4, 0.1, 0.3).is_err_and(|e| e.to_string().contains("0.1 to 0.3")));
        assert!(Spread::new(f64::NAN, 0.1, 0.3).is_err());
        assert!(Spread::new(0.2, f64::NEG_INFINITY, 0.3).is_err());
    }

    #[test]
    fn sums_and_multiples_keep_their_order() {
        let [a, b] = [(2.0, 1.0, 4.0), (0.5, 0.5, 1.0)].map(|(v, l, h)| Spread::printed(v, l, h));
        assert_eq!(a.times(0.5).plus(&b), Spread::printed(1.5, 1.0, 3.0));
        assert!(a.between("x", 1.0, 4.0).is_ok() && a.between("x", 1.5, 4.0).is_err());
    }
}
