//! How a two-wheel ride starts, what is braked, and how finely it is computed.

use super::error::TwoWheelError;
use crate::math::Vec2;
use crate::math::range::{OutOfRange, finite, non_negative, positive, within};
use serde::{Deserialize, Serialize};
use std::f64::consts::{FRAC_PI_2, PI};

/// No rider comes near this speed, m/s; above it a number is a mistake of units.
const TOP_SPEED: f64 = 100.0;

/// Bike and rider in the plane, at one moment.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize)]
pub struct Pose {
    /// The sprung mass's centre: level distance and height, m.
    pub centre: Vec2,
    /// Pitch from level, radians, nose down positive.
    pub pitch: f64,
    /// The velocity of that centre, m/s.
    pub velocity: Vec2,
    /// The pitch rate, rad/s.
    pub pitch_rate: f64,
    /// The suspension's compression from full extension, rear and front, m.
    pub travel: [f64; 2],
}

/// How a ride starts.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum Start {
    /// Rolling, settled on both wheels as the bike rests on that ground.
    Settled {
        /// Where the front wheel touches, level metres.
        front: f64,
        /// The centre of mass's speed along the ground, m/s.
        speed: f64,
    },
    /// In any pose, its wheels moving with the body.
    Given(Pose),
}

/// Where a rider brakes and how hard.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize)]
pub struct Braking {
    /// Where it begins, level metres of the centre of mass.
    pub from: f64,
    /// Where it ends, level metres.
    pub to: f64,
    /// The deceleration that it gives on level ground, m/s^2: each wheel brakes with that over gravity of its load,
    /// and with no more than the grip.
    pub deceleration: f64,
}

/// What hangs lowest between the wheels: the chainring's guard.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize)]
pub struct Clearance {
    /// How high above the tyres it hangs on the bike at rest, m, above 0. Default 0.25: a cranks' axle at 0.34 m with
    /// a chainring of 32 teeth and its guard (common practice).
    pub height: f64,
    /// How far ahead of the rear axle it hangs, m, at least 0. Default 0.44 (common practice).
    pub ahead: f64,
}

/// How a two-wheel ride is computed.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct TwoWheelOptions {
    /// How it starts.
    pub start: Start,
    /// What is braked, if anything.
    pub braking: Option<Braking>,
    /// What may strike the ground between the wheels.
    pub clearance: Clearance,
    /// The pitch from level, radians, at which a ride counts as lost, over the front or backwards. Default a right
    /// angle: the bike stands on one wheel.
    pub pitch_limit: f64,
    /// The error allowed a step, relative and in metres, seconds and radians. Default 1e-9.
    pub tolerance: f64,
    /// The farthest that samples may lie apart, s. Default 0.005.
    pub sample: f64,
    /// When the ride is broken off, s. Default 60.
    pub longest: f64,
}

impl TwoWheelOptions {
    /// From a start, without brake, all else as by default.
    pub fn new(start: Start) -> Self {
        Self {
            start,
            braking: None,
            clearance: Clearance::default(),
            pitch_limit: FRAC_PI_2,
            tolerance: 1e-9,
            sample: 0.005,
            longest: 60.0,
        }
    }

    /// The same with a brake.
    pub fn with_braking(self, braking: Braking) -> Self {
        Self { braking: Some(braking), ..self }
    }

    /// The same with another clearance.
    pub fn with_clearance(self, clearance: Clearance) -> Self {
        Self { clearance, ..self }
    }

    /// The same with another error allowed a step, from 1e-12 to 1e-3.
    pub fn with_tolerance(self, tolerance: f64) -> Self {
        Self { tolerance, ..self }
    }

    /// The same with another limit on the time of the ride, s, above 0 and at most 600.
    pub fn with_longest(self, longest: f64) -> Self {
        Self { longest, ..self }
    }

    pub(super) fn check(&self) -> Result<(), TwoWheelError> {
        self.start.check()?;
        if let Some(braking) = &self.braking {
            finite("brake.from", braking.from)?;
            if !(braking.to > braking.from && braking.to.is_finite()) {
                let allowed = format!("beyond from = {}", braking.from);
                return Err(OutOfRange::new("brake.to", braking.to, allowed).into());
            }
            non_negative("brake.deceleration", braking.deceleration)?;
        }
        positive("clearance.height", self.clearance.height)?;
        non_negative("clearance.ahead", self.clearance.ahead)?;
        within("pitch_limit", self.pitch_limit, 0.1, PI)?;
        within("tolerance", self.tolerance, 1e-12, 1e-3)?;
        within("sample", self.sample, 1e-4, 1.0)?;
        within("longest", self.longest, f64::MIN_POSITIVE, 600.0)?;
        Ok(())
    }
}

impl Start {
    fn check(&self) -> Result<(), OutOfRange> {
        match self {
            Self::Settled { front, speed } => {
                finite("front", *front)?;
                within("speed", *speed, 0.0, TOP_SPEED)?;
            }
            Self::Given(pose) => {
                for (name, value) in [
                    ("centre", pose.centre.x),
                    ("centre", pose.centre.y),
                    ("travel", pose.travel[0]),
                    ("travel", pose.travel[1]),
                ] {
                    finite(name, value)?;
                }
                within("pitch", pose.pitch, -PI, PI)?;
                within("velocity", pose.velocity.norm(), 0.0, TOP_SPEED)?;
                within("pitch_rate", pose.pitch_rate, -100.0, 100.0)?;
            }
        }
        Ok(())
    }
}

impl Default for Clearance {
    fn default() -> Self {
        Self { height: 0.25, ahead: 0.44 }
    }
}
