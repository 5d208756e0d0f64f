//! What a launch warns of.

use crate::ride;
use serde::{Deserialize, Serialize};
use std::fmt;

/// A shift of the centre of mass above this is warned of; metres.
pub(super) const SHIFT_WARNED: f64 = 0.05;

/// What is not wrong with a launch but should be known.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
#[non_exhaustive]
pub enum Warning {
    /// What came up on the ride.
    Ride(ride::Warning),
    /// A rider who keeps still on the bike would not fly as the launch says: with the front wheel off, the edge
    /// carries less of him.
    Shift {
        /// How far off the centre of mass is 3 m out, metres.
        shift: f64,
        /// How much higher it is there, metres.
        higher: f64,
    },
}

impl fmt::Display for Warning {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Self::Ride(warning) => warning.fmt(f),
            Self::Shift { shift, higher } => {
                let word = if *higher < 0.0 { "lower" } else { "higher" };
                write!(
                    f,
                    "the front wheel leaves first: a rider who keeps still would fly {shift:.2} m off this launch 3 m \
                     out, {:.2} m {word}",
                    higher.abs()
                )
            }
        }
    }
}
