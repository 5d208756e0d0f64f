//! Why there is no even landing, or no more of it.

use crate::ground::GroundError;
use crate::math::range::OutOfRange;
use serde::{Deserialize, Serialize};
use std::fmt;

/// A fall height above this gets a caution; metres. The same as for a touchdown.
const HIGH_FALL: f64 = 1.5;

/// What ended an even landing on its way from the far end to the near one.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
#[non_exhaustive]
pub enum StoppedBy {
    /// The near end that was asked for.
    NearEnd,
    /// The surface gets steeper than earth is let stand.
    TooSteep,
    /// No flight of the family gets there.
    NoFlight,
    /// Who gets there comes slower than the fall height asks for: even square to the path the ground would be too soft.
    TooSlow,
    /// The surface bends down more tightly than the rider's height over his tyres: no ground touches him there first.
    TooTight,
    /// Flights cross: the place of a touch does not tell the flight any more.
    FlightsCross,
}

impl StoppedBy {
    /// The reason as one word, as tables have it.
    pub const fn word(self) -> &'static str {
        match self {
            Self::NearEnd => "near_end",
            Self::TooSteep => "too_steep",
            Self::NoFlight => "no_flight",
            Self::TooSlow => "too_slow",
            Self::TooTight => "too_tight",
            Self::FlightsCross => "flights_cross",
        }
    }
}

impl fmt::Display for StoppedBy {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(match self {
            Self::NearEnd => "it reaches the near end",
            Self::TooSteep => "it gets steeper than earth is let stand",
            Self::NoFlight => "no flight gets there",
            Self::TooSlow => "flights get there slower than the fall height asks for",
            Self::TooTight => "it bends down more tightly than the rider's height over his tyres",
            Self::FlightsCross => "flights cross there",
        })
    }
}

/// Why there is no even landing.
#[derive(Debug, Clone, PartialEq, thiserror::Error)]
#[non_exhaustive]
pub enum EvenError {
    /// A number out of its range.
    #[error(transparent)]
    OutOfRange(#[from] OutOfRange),
    /// A line of flights that does not head along the landing.
    #[error(
        "line {line} heads a right angle or more off the landing: turn the landing, or leave it out"
    )]
    LineTurnsBack {
        /// Which line, from 1.
        line: usize,
    },
    /// The surface makes no ground.
    #[error(transparent)]
    Ground(#[from] GroundError),
    /// There is nothing to begin with at the far end.
    #[error("no even landing begins at the far end, {x} m out and {z} m up: {reason}")]
    FarEnd {
        /// How far out it is, metres.
        x: f64,
        /// How far up, metres.
        z: f64,
        /// Why not.
        reason: StoppedBy,
    },
    /// A fall height of zero follows a single flight: there is no other launch speed to go by.
    #[error("a fall height of 0 follows one flight: it has no form by launch speed")]
    OneFlight,
}

/// What is not wrong but unwise about an even landing.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
#[non_exhaustive]
pub enum EvenWarning {
    /// Every flight lands hard.
    HighFall {
        /// The equivalent fall height, metres.
        fall_height: f64,
    },
    /// The face is steeper than common earth should be built at.
    Steep {
        /// Its steepest angle to the level, radians.
        angle: f64,
        /// What common earth stands at, radians.
        stands: f64,
    },
    /// It ends before the near end that was asked for.
    EndsEarly {
        /// Where, metres out.
        at: f64,
        /// Why.
        reason: StoppedBy,
    },
}

impl EvenWarning {
    /// A caution about the fall height, where there is one.
    pub(super) fn about_fall(fall_height: f64) -> Option<Self> {
        (fall_height > HIGH_FALL).then_some(Self::HighFall { fall_height })
    }
}

impl fmt::Display for EvenWarning {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Self::HighFall { fall_height } => write!(
                f,
                "every flight lands with an equivalent fall height of {fall_height:.2} m, above {HIGH_FALL} m: \
                 hard landings that can hurt; build it softer"
            ),
            Self::Steep { angle, stands } => write!(
                f,
                "its face is {:.0} degrees steep; common earth stands at {:.0} degrees, wet earth at less",
                angle.to_degrees(),
                stands.to_degrees()
            ),
            Self::EndsEarly { at, reason } => {
                write!(f, "it ends {at:.2} m out, before the near end: {reason}")
            }
        }
    }
}
