//! What a rider brakes on the way.

use super::error::RideError;
use crate::math::range::{OutOfRange, non_negative};
use serde::{Deserialize, Serialize};

/// How a rider slows down within a zone.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum Slowing {
    /// By a deceleration along the line, m/s².
    By(f64),
    /// To a speed of the tyres at the zone's end, m/s, by the steady deceleration that meets it; not at all where the
    /// rider is slower anyway.
    To(f64),
}

/// Part of a line over which a rider brakes.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize)]
pub struct Zone {
    /// Where it begins, metres from the line's start.
    pub from: f64,
    /// Where it ends, metres from the line's start.
    pub to: f64,
    /// How much.
    pub slowing: Slowing,
}

/// What a rider brakes along a line; always limited to the grip that the side load leaves.
#[derive(Debug, Clone, PartialEq, Default, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum Brake {
    /// Nothing.
    #[default]
    None,
    /// A deceleration all along, m/s².
    Constant(f64),
    /// Zones in order that do not overlap; nothing between them.
    Zones(Vec<Zone>),
}

impl Brake {
    /// The same brake on a line that starts `by` metres later: what lies before its start is left out.
    pub fn shifted(&self, by: f64) -> Self {
        let Self::Zones(zones) = self else {
            return self.clone();
        };
        let moved = zones.iter().filter(|zone| zone.to > by).map(|zone| Zone {
            from: (zone.from - by).max(0.0),
            to: zone.to - by,
            slowing: zone.slowing,
        });
        Self::Zones(moved.collect())
    }

    pub(super) fn check(&self) -> Result<(), RideError> {
        match self {
            Self::None => Ok(()),
            Self::Constant(value) => {
                non_negative("brake", *value)?;
                Ok(())
            }
            Self::Zones(zones) => {
                let mut end = 0.0;
                for (index, zone) in zones.iter().enumerate() {
                    zone.check().map_err(|source| RideError::Zone { index, source })?;
                    if zone.from < end {
                        return Err(RideError::ZonesOverlap { index, from: zone.from, end });
                    }
                    end = zone.to;
                }
                Ok(())
            }
        }
    }
}

impl Zone {
    fn check(&self) -> Result<(), OutOfRange> {
        non_negative("from", self.from)?;
        non_negative("to", self.to)?;
        match self.slowing {
            Slowing::By(value) => non_negative("deceleration", value)?,
            Slowing::To(speed) => non_negative("speed", speed)?,
        };
        if self.to > self.from {
            return Ok(());
        }
        Err(OutOfRange::new("to", self.to, format!("beyond from = {}", self.from)))
    }
}
