//! Why an entrance cannot be checked, and what to beware of in one.

use super::{EntranceCheck, EntranceOptions};
use crate::earth::PressureError;
use crate::feature::RampError;
use crate::math::range::OutOfRange;
use crate::math::roots::RootError;
use crate::ride::RideError;
use serde::{Deserialize, Serialize};
use std::fmt;

/// Less room than this under the chainring is none, metres: pedals, roots and suspension take it (common practice).
const ROOM: f64 = 0.05;
/// An entrance that starts so far off the ground is not met by the trail, metres.
const STEP: f64 = 0.05;

/// Why an entrance cannot be checked.
#[derive(Debug, Clone, PartialEq, thiserror::Error)]
#[non_exhaustive]
pub enum EntranceError {
    /// A number out of its range.
    #[error(transparent)]
    OutOfRange(#[from] OutOfRange),
    /// The ramp or a line on it.
    #[error(transparent)]
    Ramp(#[from] RampError),
    /// The ground is not known under it.
    #[error(
        "the ground is not known at x = {x} m, y = {y} m, where the entrance or its side stands"
    )]
    NoGround {
        /// Where, metres.
        x: f64,
        /// Where, metres.
        y: f64,
    },
    /// A side runs on and on: the ground falls away as steeply.
    #[error(
        "a side has not met the ground {width} m from the middle: it falls away as steeply; take a steeper batter"
    )]
    NoFoot {
        /// How far from the middle, metres.
        width: f64,
    },
    /// The wheels could not be set on it.
    #[error("the front wheel finds no place on the ramp: {0}")]
    Wheels(#[from] RootError),
    /// The ride along it.
    #[error(transparent)]
    Ride(#[from] RideError),
    /// The crib at its back.
    #[error(transparent)]
    Pressure(#[from] PressureError),
}

/// What is not wrong but unwise about an entrance.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
#[non_exhaustive]
pub enum EntranceWarning {
    /// The chainring hits, or nearly.
    ChainringHits {
        /// What is left under it, metres.
        clearance: f64,
        /// The rear wheel's station.
        station: f64,
    },
    /// The entrance begins off the ground.
    StartsOffGround {
        /// How high, metres.
        gap: f64,
    },
    /// He does not come to the deck.
    DoesNotArrive {
        /// The speed he enters at, m/s.
        speed: f64,
    },
    /// The tyres leave the crest.
    LeavesCrest {
        /// Where.
        station: f64,
        /// The speed he enters at, m/s.
        speed: f64,
    },
    /// The hollow is too tight for one rigid rider: legs and arms have to give.
    TooTightToRide {
        /// Its radius, metres.
        radius: f64,
        /// The height of the centre of mass, metres.
        com_height: f64,
    },
    /// The tyres all but leave the crest.
    LightOnCrest {
        /// The least load, g's.
        load: f64,
    },
    /// The ramp is steeper than its earth stands when in doubt.
    SteeperThanStands {
        /// The ramp's angle, degrees.
        ramp_deg: f64,
        /// The soil's, degrees.
        stands_deg: f64,
    },
}

impl EntranceWarning {
    pub(super) fn about(
        check: &EntranceCheck,
        ridden: Option<Self>,
        ramp_grade: f64,
        options: &EntranceOptions,
    ) -> Vec<Self> {
        let clearance = check.clearance.least;
        let station = check.clearance.rear_station;
        let hits = (clearance < ROOM).then_some(Self::ChainringHits { clearance, station });
        let gap = check.earth.start_gap;
        let off = (gap.abs() > STEP).then_some(Self::StartsOffGround { gap });
        let light = check.loads.filter(|(least, _)| *least < 0.3);
        let light = light.map(|(load, _)| Self::LightOnCrest { load });
        let (ramp, stands) = (ramp_grade.atan(), options.soil.stand_up().value());
        let steep = (ramp > stands).then(|| Self::SteeperThanStands {
            ramp_deg: ramp.to_degrees(),
            stands_deg: stands.to_degrees(),
        });
        [hits, off, ridden, light, steep].into_iter().flatten().collect()
    }
}

impl fmt::Display for EntranceWarning {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Self::ChainringHits { clearance, station } => write!(
                f,
                "the chainring has {clearance:.2} m with the rear wheel at {station:.2} m: round the crest more"
            ),
            Self::StartsOffGround { gap } => {
                write!(f, "the entrance begins {gap:.2} m above the ground: set it on the trail")
            }
            Self::DoesNotArrive { speed } => {
                write!(
                    f,
                    "entered at {speed:.1} m/s a rider who does not pedal does not come to the deck"
                )
            }
            Self::LeavesCrest { station, speed } => write!(
                f,
                "entered at {speed:.1} m/s the tyres leave the crest at {station:.2} m: round it more or come slower"
            ),
            Self::TooTightToRide { radius, com_height } => write!(
                f,
                "a hollow of {radius:.2} m is too tight to ride stiffly with the centre of mass {com_height:.2} m up: \
                 no speed is told"
            ),
            Self::LightOnCrest { load } => write!(f, "only {load:.2} g are left on the crest"),
            Self::SteeperThanStands { ramp_deg, stands_deg } => write!(
                f,
                "a ramp of {ramp_deg:.0} degrees is steeper than its earth stands when in doubt, {stands_deg:.0} degrees"
            ),
        }
    }
}
