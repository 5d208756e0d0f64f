//! What earth is carried and tamped with, and how far it is carried.

use super::{Barrow, Tamping, Trailer};
use crate::math::range::{OutOfRange, non_negative};
use serde::{Deserialize, Serialize};

/// A barrow, a trailer, how far the earth is carried, and what it is tamped with.
///
/// By default a builder's barrow, a small trailer, 20 m and a hand tamper.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize)]
pub struct Means {
    barrow: Barrow,
    trailer: Trailer,
    haul: f64,
    tamping: Tamping,
}

impl Default for Means {
    fn default() -> Self {
        let (barrow, trailer) = (Barrow::default(), Trailer::default());
        Self { barrow, trailer, haul: 20.0, tamping: Tamping::default() }
    }
}

impl Means {
    /// The same with another barrow.
    pub fn with_barrow(self, barrow: Barrow) -> Self {
        Self { barrow, ..self }
    }

    /// The same with another trailer.
    pub fn with_trailer(self, trailer: Trailer) -> Self {
        Self { trailer, ..self }
    }

    /// The same with earth carried so far one way, metres.
    pub fn with_haul(self, haul: f64) -> Result<Self, OutOfRange> {
        Ok(Self { haul: non_negative("haul", haul)?, ..self })
    }

    /// The same, tamped with something else.
    pub fn with_tamping(self, tamping: Tamping) -> Self {
        Self { tamping, ..self }
    }

    /// The barrow.
    pub fn barrow(&self) -> &Barrow {
        &self.barrow
    }

    /// The trailer.
    pub fn trailer(&self) -> &Trailer {
        &self.trailer
    }

    /// How far earth is carried, one way, metres.
    pub fn haul(&self) -> f64 {
        self.haul
    }

    /// What earth is tamped with.
    pub fn tamping(&self) -> Tamping {
        self.tamping
    }
}
