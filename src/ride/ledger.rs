//! Where the energy of a ride went.

use serde::{Deserialize, Serialize};

/// The energy of a ride per mass, J/kg: `end = start + gravity + pedal - drag - rolling - brake + residual`.
#[derive(Debug, Clone, Copy, PartialEq, Default, Serialize, Deserialize)]
#[non_exhaustive]
pub struct Ledger {
    /// Kinetic energy at the start, wheels' spin included.
    pub start: f64,
    /// What gravity gave: positive downhill.
    pub gravity: f64,
    /// What drag took; negative where wind pushed.
    pub drag: f64,
    /// What rolling resistance took.
    pub rolling: f64,
    /// What the brake took.
    pub brake: f64,
    /// What pedalling gave.
    pub pedal: f64,
    /// Kinetic energy at the end of the ride, wherever that was.
    pub end: f64,
}

impl Ledger {
    /// What does not add up: below `1e-9` of the energies.
    pub fn residual(&self) -> f64 {
        let gains = self.start + self.gravity + self.pedal;
        self.end - (gains - self.drag - self.rolling - self.brake)
    }
}
