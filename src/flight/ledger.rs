//! Where the energy of a flight went.

use super::path::FlightPath;
use crate::math::path::{Motion, Path, Piece};
use crate::math::quadrature;
use serde::{Deserialize, Serialize};

/// The energy of a flight per mass, J/kg: `end = start + gravity - drag + residual`.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize)]
#[non_exhaustive]
pub struct Ledger {
    /// Kinetic energy at the launch.
    pub start: f64,
    /// What gravity gave: positive downwards.
    pub gravity: f64,
    /// What drag took; negative where wind pushed.
    pub drag: f64,
    /// Kinetic energy at the end.
    pub end: f64,
}

impl Ledger {
    /// What does not add up.
    pub fn residual(&self) -> f64 {
        self.end - (self.start + self.gravity - self.drag)
    }
}

impl FlightPath {
    /// Where the energy went from the launch to a time since.
    pub fn ledger(&self, until: f64) -> Ledger {
        let (first, last) = (self.motion(0.0), self.motion(until));
        let lost = |piece: &Piece| {
            let (a, b) = piece.span();
            let power = |t| {
                let v = piece.velocity(t);
                -self.forces().drag(v).dot(&v)
            };
            if a < last.time { quadrature::integrate(power, a, b.min(last.time)) } else { 0.0 }
        };
        let kinetic = |motion: &Motion| 0.5 * motion.velocity.norm_squared();
        Ledger {
            start: kinetic(&first),
            gravity: self.forces().g() * (first.position.z - last.position.z),
            drag: if self.forces().k() > 0.0 { self.pieces().iter().map(lost).sum() } else { 0.0 },
            end: kinetic(&last),
        }
    }
}
