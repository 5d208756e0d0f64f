//! The principal inertias of rider and bike.

use super::RiderError;
use crate::math::range::{OutOfRange, positive};
use serde::{Deserialize, Serialize};

/// How far rounding may carry a flat body over the rule that no inertia exceeds the others' sum.
const TRIANGLE_SLACK: f64 = 1e-9;

/// Principal inertias about the centre of mass, kg m^2: about the forward, left and up axes.
///
/// The default is [`Rider::typical`](super::Rider::typical) for 75 kg and 1.75 m, rounded.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize)]
#[serde(try_from = "(f64, f64, f64)", into = "(f64, f64, f64)")]
pub struct Inertia {
    roll: f64,
    pitch: f64,
    yaw: f64,
}

impl Inertia {
    /// The three inertias, kg m^2, each above 0 and none above the sum of the other two, as in any
    /// body of real mass.
    pub fn new(roll: f64, pitch: f64, yaw: f64) -> Result<Self, RiderError> {
        for value in [roll, pitch, yaw] {
            positive("inertia", value)?;
        }
        let largest = roll.max(pitch).max(yaw);
        let others = roll + pitch + yaw - largest;
        if largest > others * (1.0 + TRIANGLE_SLACK) {
            let allowed = format!("at most {others}, the sum of the other two");
            return Err(OutOfRange::new("inertia", largest, allowed).into());
        }
        Ok(Self { roll, pitch, yaw })
    }

    /// About the forward axis, kg m^2.
    pub const fn roll(self) -> f64 {
        self.roll
    }

    /// About the axis to the left, kg m^2.
    pub const fn pitch(self) -> f64 {
        self.pitch
    }

    /// About the axis up through the bike, kg m^2.
    pub const fn yaw(self) -> f64 {
        self.yaw
    }
}

impl Default for Inertia {
    fn default() -> Self {
        Self { roll: 13.0, pitch: 18.0, yaw: 8.0 }
    }
}

impl From<Inertia> for (f64, f64, f64) {
    fn from(inertia: Inertia) -> Self {
        (inertia.roll, inertia.pitch, inertia.yaw)
    }
}

impl TryFrom<(f64, f64, f64)> for Inertia {
    type Error = RiderError;

    fn try_from((roll, pitch, yaw): (f64, f64, f64)) -> Result<Self, RiderError> {
        Self::new(roll, pitch, yaw)
    }
}
