//! What a chain is made of: struts that only push, suspensions, and the stops at their ends.

use super::LoadError;
use crate::math::range::{non_negative, positive};
use crate::rider::AirSpring;
use serde::{Deserialize, Serialize};

/// A stop gives back no more speed than this, m/s: going back faster, it no longer pushes. An assumption: rubber and
/// flesh come back slowly. Small against the speed of any landing that reaches a stop.
pub(crate) const STOP_RETURN: f64 = 0.5;

/// The end of a way: a stiff spring that keeps what it took up.
///
/// Pressed in by `d` it pushes with `k d`. Going back at a speed `w` it pushes with `k d (1 - w / w_r)`, and not at all
/// past `w_r` = 0.5 m/s: nearly no restitution, and no jump in the force.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize)]
pub struct Stop {
    pub(super) at: f64,
    pub(super) stiffness: f64,
}

/// A spring and a damper side by side that only push, with a force at which they slip together, and a stop.
///
/// Tyre and ground, or legs and arms. The damper's end has no mass: where the strut would pull it lets go, and goes back
/// to its length at `k/c`. At the force of yielding the strut gets shorter without pushing harder, and that part of the
/// way does not come back.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize)]
pub struct Strut {
    pub(super) stiffness: f64,
    pub(super) damping: f64,
    pub(super) yields_at: Option<f64>,
    pub(super) stop: Option<Stop>,
}

impl Strut {
    /// A spring of `stiffness`, N/m, above 0.
    pub fn spring(stiffness: f64) -> Result<Self, LoadError> {
        let stiffness = positive("stiffness", stiffness)?;
        Ok(Self { stiffness, damping: 0.0, yields_at: None, stop: None })
    }

    /// The stiffness of its spring, N/m.
    pub const fn stiffness(&self) -> f64 {
        self.stiffness
    }

    /// The same with `damping`, N s/m, at least 0.
    pub fn with_damping(self, damping: f64) -> Result<Self, LoadError> {
        Ok(Self { damping: non_negative("damping", damping)?, ..self })
    }

    /// The same, never pushing harder than `force`, N, above 0, before its stop.
    pub fn yielding_at(self, force: f64) -> Result<Self, LoadError> {
        Ok(Self { yields_at: Some(positive("force", force)?), ..self })
    }

    /// The same with a stop of `stiffness`, N/m, above 0, after a `stroke`, m, above 0.
    pub fn stopped_at(self, stroke: f64, stiffness: f64) -> Result<Self, LoadError> {
        let (at, stiffness) = (positive("stroke", stroke)?, positive("stiffness", stiffness)?);
        Ok(Self { stop: Some(Stop { at, stiffness }), ..self })
    }
}

/// An air spring with its damper, pushing and pulling, between a stop at either end of its travel.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize)]
pub struct Suspension {
    pub(super) spring: AirSpring,
    pub(super) compression: f64,
    pub(super) rebound: f64,
    /// At full travel and, mirrored, at full extension.
    pub(super) stops: [Stop; 2],
}

impl Suspension {
    /// A spring over its travel, m, above 0, undamped, with stops of `stop_stiffness`, N/m, above 0.
    pub fn new(spring: AirSpring, travel: f64, stop_stiffness: f64) -> Result<Self, LoadError> {
        let at = positive("travel", travel)?;
        let stiffness = positive("stop_stiffness", stop_stiffness)?;
        let stops = [Stop { at, stiffness }, Stop { at: 0.0, stiffness }];
        Ok(Self { spring, compression: 0.0, rebound: 0.0, stops })
    }

    /// The same with damping as it goes in and as it comes out, N s/m, each at least 0.
    pub fn with_damping(self, compression: f64, rebound: f64) -> Result<Self, LoadError> {
        let compression = non_negative("compression", compression)?;
        Ok(Self { compression, rebound: non_negative("rebound", rebound)?, ..self })
    }
}

/// One member of a chain between two masses, or between the ground and the lowest.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
#[non_exhaustive]
pub enum Part {
    /// Tyre and ground, or legs and arms.
    Strut(Strut),
    /// A suspension.
    Suspension(Suspension),
}

impl Part {
    /// How far it goes before its stop, m, where it has one.
    pub fn travel(&self) -> Option<f64> {
        match self {
            Self::Strut(strut) => strut.stop.map(|stop| stop.at),
            Self::Suspension(suspension) => Some(suspension.stops[0].at),
        }
    }
}
