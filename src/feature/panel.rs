//! A panel where it stands: its foot, its outside and its bank along a curve, and the place so far up it.

use super::surface::SurfacePoint;
use crate::geometry::Contact;
use crate::math::jet::{Jet, Jet3};

/// What a panel is carried along, with derivatives by one variable: the station along the foot, or any other.
pub(super) struct Strip {
    pub(super) foot: Jet3,
    /// Derivative of the foot by the station.
    pub(super) dfoot: Jet3,
    /// Level, to the outside of the turn.
    pub(super) out: Jet3,
    /// Its derivative by the station.
    pub(super) dout: Jet3,
    /// The bank at the foot.
    pub(super) bank: Jet,
    /// Its derivative by the station.
    pub(super) dbank: Jet,
    /// The panel's curvature upwards, one over metres: zero where it is flat across.
    pub(super) hollow: f64,
    /// To which side the rider is: the plan's turn.
    pub(super) side: f64,
}

/// A place on a panel.
struct Place {
    point: Jet3,
    /// Derivative of the surface by the station.
    along: Jet3,
    /// Unit vector up the panel: the surface's derivative by the distance up it.
    up: Jet3,
    /// Unit vector square to it, to the hollow side.
    inwards: Jet3,
}

impl Strip {
    /// The same by the variable of `station`, the jet of the station.
    pub(super) fn of(&self, station: &Jet) -> Self {
        Self {
            foot: self.foot.of(station),
            dfoot: self.dfoot.of(station),
            out: self.out.of(station),
            dout: self.dout.of(station),
            bank: self.bank.of(station),
            dbank: self.dbank.of(station),
            ..*self
        }
    }

    /// What tyres touch `q` up the panel.
    pub(super) fn contact(&self, q: Jet) -> Contact {
        let Place { point, along, up, .. } = self.at(q);
        let across = up.cross(&along);
        Contact { point, normal: across.scale(across.norm().recip() * self.side) }
    }

    /// The surface `q` up the panel, where this is by the station itself.
    pub(super) fn surface(&self, q: f64) -> SurfacePoint {
        let Place { point, up, inwards, .. } = self.at(Jet::constant(q));
        SurfacePoint {
            point: point.value(),
            ds: point.d1(),
            dq: up.value(),
            dss: point.d2(),
            dsq: up.d1(),
            dqq: inwards.value() * self.hollow,
            normal: up.value().cross(&point.d1()).normalize() * self.side,
        }
    }

    fn at(&self, q: Jet) -> Place {
        // Across, a hollow panel is an arc: its chord has the direction that the panel has half-way up.
        let (chord, half) = (q.chord(self.hollow), self.bank + q * (0.5 * self.hollow));
        let (sin, cos) = half.sin_cos();
        let (to, square) = self.directions(sin, cos);
        let turning = self.dout.scale(cos) + square.scale(self.dbank);
        let (up, inwards) = if self.hollow == 0.0 {
            (to, square)
        } else {
            let (sin, cos) = (self.bank + q * self.hollow).sin_cos();
            self.directions(sin, cos)
        };
        Place {
            point: self.foot + to.scale(chord),
            along: self.dfoot + turning.scale(chord),
            up,
            inwards,
        }
    }

    /// The unit vectors at an angle from level to the outside, and square to it.
    fn directions(&self, sin: Jet, cos: Jet) -> (Jet3, Jet3) {
        let turned = |level: Jet, rise: Jet| self.out.scale(level) + Jet3::upwards(rise);
        (turned(cos, sin), turned(-sin, cos))
    }
}
