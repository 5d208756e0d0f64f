//! How far down the tyres reach from the centre of mass, while the rider rights himself in the air.

use super::error::GroundError;
use crate::math::range::{non_negative, positive, within};
use serde::{Deserialize, Serialize};
use std::f64::consts::FRAC_PI_2;

/// The rider's reach over the time of flight: `h cos(max(0, lean - rate t))`.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize)]
pub struct Reach {
    height: f64,
    lean: f64,
    righting_rate: f64,
}

impl Reach {
    /// How fast a rider rights himself unless told otherwise: 250 degrees a second in rad/s. An assumption, without
    /// a measurement behind it.
    pub const RIGHTING_RATE: f64 = 250.0 * std::f64::consts::PI / 180.0;

    /// The reach of a rider square to the ground from the start: `height` metres, zero for a bare point.
    pub fn upright(height: f64) -> Result<Self, GroundError> {
        Self::leaning(height, 0.0, Self::RIGHTING_RATE)
    }

    /// The reach of a rider who starts `lean` radians off square (capped at 90 degrees) and rights himself at a
    /// rate in rad/s.
    pub fn leaning(height: f64, lean: f64, righting_rate: f64) -> Result<Self, GroundError> {
        non_negative("com_height_landing", height)?;
        within("lean", lean, 0.0, std::f64::consts::PI)?;
        positive("righting_rate", righting_rate)?;
        Ok(Self { height, lean: lean.min(FRAC_PI_2), righting_rate })
    }

    /// The centre of mass above the tyres once upright, metres.
    pub fn height(&self) -> f64 {
        self.height
    }

    /// The lean at the start, at most 90 degrees; radians.
    pub fn lean(&self) -> f64 {
        self.lean
    }

    /// How fast the lean is paid back, rad/s.
    pub fn righting_rate(&self) -> f64 {
        self.righting_rate
    }

    /// The lean still owed at a time since the start; radians.
    pub fn lean_owed(&self, t: f64) -> f64 {
        (self.lean - self.righting_rate * t).max(0.0)
    }

    /// The reach at a time since the start; metres.
    pub fn at(&self, t: f64) -> f64 {
        let owed = self.lean_owed(t);
        if owed > 0.0 { self.height * owed.cos() } else { self.height }
    }

    /// How fast the reach grows at a time since the start, m/s: never faster later.
    pub fn growth(&self, t: f64) -> f64 {
        let owed = self.lean_owed(t);
        if owed > 0.0 { self.height * self.righting_rate * owed.sin() } else { 0.0 }
    }
}
