//! Where the energy and the momentum of a flight went.

use super::path::FlightPath;
use crate::math::Vec3;
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

/// The momentum of a flight per mass, m/s: `end = start + gravity + drag + residual`.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize)]
#[non_exhaustive]
pub struct Momentum {
    /// At the launch.
    pub start: Vec3,
    /// What gravity gave.
    pub gravity: Vec3,
    /// What drag gave: mostly against the path.
    pub drag: Vec3,
    /// At the end.
    pub end: Vec3,
}

impl Momentum {
    /// What does not add up.
    pub fn residual(&self) -> Vec3 {
        self.end - (self.start + self.gravity + self.drag)
    }
}

impl FlightPath {
    /// Where the momentum went from the launch to a time since.
    pub fn momentum(&self, until: f64) -> Momentum {
        let (first, last) = (self.motion(0.0), self.motion(until));
        let pushed = |piece: &Piece| {
            let (a, b) = piece.span();
            let push = |i: usize| {
                let along = |t| self.forces().drag(piece.velocity(t))[i];
                if a < last.time { quadrature::integrate(along, a, b.min(last.time)) } else { 0.0 }
            };
            Vec3::new(push(0), push(1), push(2))
        };
        let has_drag = self.forces().k() > 0.0;
        Momentum {
            start: first.velocity,
            gravity: self.forces().gravity() * last.time,
            drag: if has_drag { self.pieces().iter().map(pushed).sum() } else { Vec3::zeros() },
            end: last.velocity,
        }
    }

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
