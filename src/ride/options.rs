//! How a line is ridden.

use super::brake::Brake;
use super::error::RideError;
use crate::math::range::{non_negative, positive, within};
use serde::{Deserialize, Serialize};

/// No rider comes near this speed, m/s; above it a number is a mistake of units.
pub(crate) const TOP_SPEED: f64 = 100.0;

/// How a rider leans off the surface's normal.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, Default, Serialize, Deserialize)]
#[serde(rename_all = "lowercase")]
#[non_exhaustive]
pub enum Lean {
    /// Square to what is under the tyres. The contact force then misses the centre of mass by the angle whose tangent is the
    /// grip demand: soft on slow riders, and the side load goes through a roll moment that two tyres cannot give.
    #[default]
    Deck,
    /// As balance asks: the contact force passes through the centre of mass at every station, and at the line's end
    /// the rider does not swing across.
    Balanced,
    /// As balance asks, and settled by the line's end: there he leans as a point on the tyres' line would, so that a slow rider
    /// nearly stands upright.
    Settled,
}

impl Lean {
    /// All of them: the band of what a forecast reckons with.
    pub const ALL: [Self; 3] = [Self::Deck, Self::Balanced, Self::Settled];

    /// Its name, as files and Python have it.
    pub const fn name(self) -> &'static str {
        match self {
            Self::Deck => "deck",
            Self::Balanced => "balanced",
            Self::Settled => "settled",
        }
    }
}

/// How a line is ridden: entry speed, braking, pedalling, lean, and how much of the ride is kept.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct RideOptions {
    /// The tyres' speed at the line's start, m/s: 0 for a start from rest, up to 100.
    pub speed: f64,
    /// What is braked.
    pub brake: Brake,
    /// Pedalling power, W.
    pub power: f64,
    /// The most that pedalling can push, as an acceleration, m/s²: what the lowest gear gives.
    pub drive_limit: f64,
    /// The lean.
    pub lean: Lean,
    /// The farthest that samples may lie apart, metres; none keeps the exit only and is much faster.
    pub sample: Option<f64>,
}

impl RideOptions {
    /// Entered at `speed` m/s, without brake or pedalling, square to the surface, sampled every 0.02 m.
    ///
    /// The drive limit of 3 m/s², used only with pedalling, is an assumption: about 270 N at the tyre for 90 kg.
    pub fn new(speed: f64) -> Self {
        Self {
            speed,
            brake: Brake::None,
            power: 0.0,
            drive_limit: 3.0,
            lean: Lean::Deck,
            sample: Some(0.02),
        }
    }

    /// The same with a brake.
    pub fn with_brake(self, brake: Brake) -> Self {
        Self { brake, ..self }
    }

    /// The same with pedalling power, W.
    pub fn with_power(self, power: f64) -> Self {
        Self { power, ..self }
    }

    /// The same from another entry speed, m/s.
    pub fn with_speed(self, speed: f64) -> Self {
        Self { speed, ..self }
    }

    /// The same with nothing kept but the exit, the outcome and the warnings.
    pub fn exit_only(self) -> Self {
        Self { sample: None, ..self }
    }

    pub(super) fn check(&self) -> Result<(), RideError> {
        within("speed", self.speed, 0.0, TOP_SPEED)?;
        self.brake.check()?;
        non_negative("power", self.power)?;
        positive("drive_limit", self.drive_limit)?;
        if let Some(sample) = self.sample {
            within("sample", sample, 1e-4, 1.0)?;
        }
        Ok(())
    }
}
