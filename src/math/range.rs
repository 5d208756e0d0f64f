//! Checks of single numbers that say what was wrong, with which value, and what would be right.

use serde::{Deserialize, Serialize};
use std::borrow::Cow;

/// A number outside its allowed range: which one, what it was, and what is allowed.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, thiserror::Error)]
#[error("{field} = {value} is out of range: {allowed}")]
pub struct OutOfRange {
    /// The name of the number, as its user knows it.
    pub field: Cow<'static, str>,
    /// The value given.
    pub value: f64,
    /// The allowed range, in words.
    pub allowed: Cow<'static, str>,
}

impl OutOfRange {
    /// An error about `field`, which had `value` where `allowed` says what may stand.
    pub fn new(
        field: impl Into<Cow<'static, str>>,
        value: f64,
        allowed: impl Into<Cow<'static, str>>,
    ) -> Self {
        Self { field: field.into(), value, allowed: allowed.into() }
    }
}

/// `value` where it is a finite number.
pub fn finite(field: &'static str, value: f64) -> Result<f64, OutOfRange> {
    check(value.is_finite(), field, value, "a finite number")
}

/// `value` where it is finite and above zero.
pub fn positive(field: &'static str, value: f64) -> Result<f64, OutOfRange> {
    check(value.is_finite() && value > 0.0, field, value, "a finite number above 0")
}

/// `value` where it is finite and not below zero.
pub fn non_negative(field: &'static str, value: f64) -> Result<f64, OutOfRange> {
    check(value.is_finite() && value >= 0.0, field, value, "a finite number of at least 0")
}

/// `value` where it lies from `low` to `high`, both included.
pub fn within(field: &'static str, value: f64, low: f64, high: f64) -> Result<f64, OutOfRange> {
    if (low..=high).contains(&value) {
        return Ok(value);
    }
    Err(OutOfRange::new(field, value, format!("from {low} to {high}")))
}

/// How far from a site's zero anything may stand, metres: beyond any map's coordinates, and near enough that squares and
/// products of it are numbers.
pub const FARTHEST: f64 = 1e8;

/// `value` where it is a finite coordinate, metres, no farther than [`FARTHEST`] from zero.
pub fn coordinate(field: &'static str, value: f64) -> Result<f64, OutOfRange> {
    within(field, finite(field, value)?, -FARTHEST, FARTHEST)
}

fn check(
    holds: bool,
    field: &'static str,
    value: f64,
    allowed: &'static str,
) -> Result<f64, OutOfRange> {
    if holds { Ok(value) } else { Err(OutOfRange::new(field, value, allowed)) }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn nan_and_infinity_pass_no_check() {
        for bad in [f64::NAN, f64::INFINITY, f64::NEG_INFINITY] {
            assert!(finite("x", bad).is_err());
            assert!(positive("x", bad).is_err());
            assert!(non_negative("x", bad).is_err());
            assert!(within("x", bad, 0.0, 1.0).is_err());
            assert!(coordinate("x", bad).is_err());
        }
    }

    #[test]
    fn borders_belong_to_a_closed_range() {
        assert_eq!(within("x", 0.0, 0.0, 1.0), Ok(0.0));
        assert_eq!(within("x", 1.0, 0.0, 1.0), Ok(1.0));
        assert_eq!(non_negative("x", -0.0), Ok(-0.0));
        assert!(positive("x", 0.0).is_err());
    }

    #[test]
    fn a_coordinate_lies_on_the_earth() {
        assert_eq!(coordinate("x", -5e6), Ok(-5e6));
        assert!(coordinate("x", 1e9).is_err());
    }

    #[test]
    fn message_names_field_value_and_range() {
        let message = within("bank_deg", 95.0, 0.0, 90.0).map_err(|e| e.to_string());
        assert_eq!(message, Err("bank_deg = 95 is out of range: from 0 to 90".into()));
    }
}
