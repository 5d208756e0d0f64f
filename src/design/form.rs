//! What kind of landing is looked for.

use crate::{
    math::range::{OutOfRange, non_negative, within},
    site::Interval,
};
use serde::{Deserialize, Serialize};

/// The largest foot radius that is tried, metres: a face of 10 m at 30 degrees is hollow all along with it.
const LARGEST: f64 = 60.0;

/// What kind of landing a search looks for.
#[derive(Debug, Clone, Copy, PartialEq, Default, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
#[non_exhaustive]
pub enum Form {
    /// One straight face.
    #[default]
    Straight,
    /// One face with its foot rounded by a radius within a range, metres: it rides out softer and takes more earth.
    RoundedFoot {
        /// From which radius to which, at least 0 and at most 60 m.
        radius: Interval,
    },
    /// Two straight faces side by side, the second turned and placed as it serves: a line for the slow and one for the
    /// fast.
    TwoFaces,
}

/// The numbers of one face, as the sequence names them: only ever append.
const FACE: &[&str] = &["along", "across", "heading", "slope", "width", "share"];
const ROUNDED: &[&str] = &["along", "across", "heading", "slope", "width", "share", "foot"];
const TWO: &[&str] = &[
    "along",
    "across",
    "heading",
    "slope",
    "width",
    "share",
    "along 2",
    "across 2",
    "heading 2",
    "slope 2",
    "width 2",
    "part",
];

impl Form {
    /// Nothing where the form is one that can be looked for.
    pub fn check(&self) -> Result<(), OutOfRange> {
        let Self::RoundedFoot { radius } = self else { return Ok(()) };
        non_negative("foot_radius", radius.low)?;
        within("foot_radius", radius.high, radius.low, LARGEST)?;
        Ok(())
    }

    /// The names of the numbers that are searched, each from 0 to 1.
    pub(super) const fn names(&self) -> &'static [&'static str] {
        match self {
            Self::Straight => FACE,
            Self::RoundedFoot { .. } => ROUNDED,
            Self::TwoFaces => TWO,
        }
    }

    /// How many faces it has.
    pub const fn faces(&self) -> usize {
        match self {
            Self::Straight | Self::RoundedFoot { .. } => 1,
            Self::TwoFaces => 2,
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn radii_out_of_range_are_named() {
        let told = |low, high| Form::RoundedFoot { radius: Interval::new(low, high) }.check();
        assert!(told(0.0, 6.0).is_ok() && Form::TwoFaces.check().is_ok());
        for (low, high) in [(-1.0, 2.0), (3.0, 2.0), (1.0, 61.0), (f64::NAN, 2.0)] {
            assert_eq!(told(low, high).expect_err("no such radius").field, "foot_radius");
        }
    }
}
