//! How a rider rides out.

use crate::math::Vec2;
use crate::math::range::{OutOfRange, finite, non_negative, positive, within};
use crate::site::Obstacle;
use serde::{Deserialize, Serialize};

/// The longest run-out that is looked at, metres.
const LONGEST: f64 = 500.0;

/// How a rider rides out: when and how hard he brakes, how far it is looked at, what stands in the way.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct RunOutOptions {
    brake: f64,
    reaction: f64,
    length: f64,
    obstacle: Option<Obstacle>,
    trail: Option<Trail>,
}

/// Where the trail goes on: straight through a place, along a heading.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize)]
pub struct Trail {
    through: Vec2,
    heading: f64,
}

impl Trail {
    /// Through a place, metres, along a heading, radians counter-clockwise from `+x`.
    pub fn new(through: Vec2, heading: f64) -> Result<Self, OutOfRange> {
        finite("trail.x", through.x)?;
        finite("trail.y", through.y)?;
        Ok(Self { through, heading: finite("trail.heading", heading)? })
    }

    /// The place it goes through.
    pub const fn through(&self) -> Vec2 {
        self.through
    }

    /// Its heading, radians counter-clockwise from `+x`.
    pub const fn heading(&self) -> f64 {
        self.heading
    }
}

impl Default for RunOutOptions {
    /// Braking at 2 m/s² from 1 s after the touch on, over 40 m, nothing in the way.
    ///
    /// 2 m/s² is what a mountain bicycle has to reach in the wet, 16 km/h in 5 m (ISO 4210-2, from memory). 1 s is an
    /// assumption: between 0.2 s for a plain reaction (Woods et al., *Front. Hum. Neurosci.* 9, 2015, 131) and the 2.5 s
    /// that road design reckons with (AASHTO).
    fn default() -> Self {
        Self { brake: 2.0, reaction: 1.0, length: 40.0, obstacle: None, trail: None }
    }
}

impl RunOutOptions {
    /// The same with another deceleration by the brake, m/s², at least 0.
    pub fn with_brake(self, brake: f64) -> Result<Self, OutOfRange> {
        Ok(Self { brake: non_negative("brake", brake)?, ..self })
    }

    /// The same with another time from the touch to the brake, seconds, at least 0.
    pub fn with_reaction(self, reaction: f64) -> Result<Self, OutOfRange> {
        Ok(Self { reaction: non_negative("reaction", reaction)?, ..self })
    }

    /// The same, looked at over another level length, metres, from 1 to 500.
    pub fn with_length(self, length: f64) -> Result<Self, OutOfRange> {
        Ok(Self { length: within("length", length, 1.0, LONGEST)?, ..self })
    }

    /// The same with something in the way, or nothing.
    pub fn with_obstacle(self, obstacle: Option<Obstacle>) -> Result<Self, OutOfRange> {
        if let Some(obstacle) = &obstacle {
            finite("obstacle.position", obstacle.position.x)?;
            finite("obstacle.position", obstacle.position.y)?;
            positive("obstacle.radius", obstacle.radius)?;
        }
        Ok(Self { obstacle, ..self })
    }

    /// The same with the trail to rejoin, or none.
    pub fn with_trail(self, trail: Option<Trail>) -> Self {
        Self { trail, ..self }
    }

    /// The trail to rejoin.
    pub const fn trail(&self) -> Option<&Trail> {
        self.trail.as_ref()
    }

    /// The deceleration by the brake, m/s².
    pub const fn brake(&self) -> f64 {
        self.brake
    }

    /// The time from the touch to the brake, seconds.
    pub const fn reaction(&self) -> f64 {
        self.reaction
    }

    /// The level length that is looked at, metres.
    pub const fn length(&self) -> f64 {
        self.length
    }

    /// What stands in the way.
    pub const fn obstacle(&self) -> Option<&Obstacle> {
        self.obstacle.as_ref()
    }
}
