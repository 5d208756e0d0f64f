//! How a free line is entered.

use super::error::FreeError;
use crate::feature::wall::Wall;
use crate::math::range::within;
use serde::{Deserialize, Serialize};

/// Below this speed of the tyres, m/s, a line counts as stalled: a tenth of a walk, at which nobody keeps a bike up.
/// Slower yet, its direction is what rounding leaves of it.
pub(super) const STANDING: f64 = 0.1;
/// No rider comes near this speed, m/s; above it a number is a mistake of units.
const TOP_SPEED: f64 = 100.0;

/// Where, how fast and which way the tyres come onto a wall, at the start of its foot.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize)]
pub struct FreeEntry {
    /// Metres up the panel from its foot.
    pub height: f64,
    /// The tyres' speed, m/s: 0.1 to 100.
    pub speed: f64,
    /// The tyres' direction, radians from level along the panel, positive up it: at most a right angle either way.
    pub heading: f64,
}

impl FreeEntry {
    /// Entered `height` metres up the panel at `speed` m/s, along the panel.
    pub fn new(height: f64, speed: f64) -> Self {
        Self { height, speed, heading: 0.0 }
    }

    /// The same in a direction `heading` radians up the panel.
    pub fn with_heading(self, heading: f64) -> Self {
        Self { heading, ..self }
    }

    pub(super) fn check(&self, wall: &Wall) -> Result<(), FreeError> {
        within("enter", self.height, 0.0, wall.width())?;
        within("speed", self.speed, STANDING, TOP_SPEED)?;
        within("heading_deg", self.heading.to_degrees(), -90.0, 90.0)?;
        Ok(())
    }
}
