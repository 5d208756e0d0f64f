//! Degrees outside, radians inside, and nothing else.

use loamline::math::range::{OutOfRange, finite, within};

/// Radians of an angle given in degrees; an error names `field` where it is not a number.
pub fn radians(field: &'static str, degrees: f64) -> Result<f64, OutOfRange> {
    finite(field, degrees).map(f64::to_radians)
}

/// Radians of an angle that lies from `low` to `high` degrees.
pub fn radians_within(
    field: &'static str,
    degrees: f64,
    low: f64,
    high: f64,
) -> Result<f64, OutOfRange> {
    within(field, degrees, low, high).map(f64::to_radians)
}

/// Degrees of an angle in radians, to 1e-12 degree, so that a user reads back what he typed.
///
/// The nearest radian of 30 degrees turns back into 29.999999999999996; rounding returns the 30.
pub fn degrees(radians: f64) -> f64 {
    const DIGITS: f64 = 1e12;
    let plain = radians.to_degrees();
    let rounded = (plain * DIGITS).round() / DIGITS;
    if rounded.is_finite() { rounded } else { plain }
}
