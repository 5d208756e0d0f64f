//! What lips, drops and entrances have in common: a vertical curve carried across a width.

mod drawing;
mod error;
mod line;

pub use error::RampError;

use super::surface::SurfacePoint;
use crate::geometry::{Contact, Line, Track, Turn, Uphill, VerticalCurve};
use crate::math::Vec3;
use crate::math::jet::{Jet, Jet3};
use crate::math::range::within;
use crate::rider::Rider;
pub(super) use drawing::Drawing;
use line::RampLine;
use serde::{Deserialize, Serialize};

/// A cross slope below this is none.
const LEVEL: f64 = 1e-9;

/// A vertical curve carried across a width, set at a place.
///
/// `P(s, y) = M(s) + y / cos d (cos b(s) l + sin b(s) k)`: `s` metres along the curve, `y` across, to the left positive;
/// `M` the middle, which runs along the travel's heading; `l` level, to the left of the ramp's own direction, which is
/// turned by the hip angle `d` from the heading; `b` the tilt, `k` up.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[serde(try_from = "Drawing", into = "Drawing")]
pub(super) struct Ramp(Drawing);

impl TryFrom<Drawing> for Ramp {
    type Error = RampError;
    fn try_from(drawing: Drawing) -> Result<Self, RampError> {
        drawing.check()?;
        Ok(Self(drawing))
    }
}

impl From<Ramp> for Drawing {
    fn from(ramp: Ramp) -> Self {
        ramp.0
    }
}

impl Ramp {
    pub(super) fn drawing(&self) -> &Drawing {
        &self.0
    }

    /// The same ramp with something of its drawing changed.
    pub(super) fn with(self, change: impl FnOnce(&mut Drawing)) -> Result<Self, RampError> {
        let mut drawing = self.0;
        change(&mut drawing);
        drawing.try_into()
    }

    pub(super) fn curve(&self) -> &VerticalCurve {
        &self.0.curve
    }

    pub(super) fn end_station(&self, y: f64) -> f64 {
        self.0.end_station(y)
    }

    pub(super) fn edge(&self, y: f64) -> Vec3 {
        self.surface(self.end_station(y), y).point
    }

    pub(super) fn surface(&self, s: f64, y: f64) -> SurfacePoint {
        let (middle, across) = self.strip(self.curve().piece(s), s);
        let point = middle + across.scale(Jet::constant(y));
        SurfacePoint {
            point: point.value(),
            ds: point.d1(),
            dq: across.value(),
            dss: point.d2(),
            dsq: across.d1(),
            dqq: Vec3::zeros(),
            normal: point.d1().cross(&across.value()).normalize(),
        }
    }

    /// Points of the surface, `rows` along by `columns` across from right to left, at least two of each.
    pub(super) fn mesh(&self, rows: usize, columns: usize) -> Vec<Vec3> {
        let share = |i: usize, n: usize| i as f64 / (n - 1) as f64;
        let (rows, columns) = (rows.max(2), columns.max(2));
        let point = |i, j| {
            let y = self.0.width * (share(j, columns) - 0.5);
            self.surface(self.end_station(y) * share(i, rows), y).point
        };
        (0..rows).flat_map(|i| (0..columns).map(move |j| point(i, j))).collect()
    }

    pub(super) fn line(&self, offset: f64) -> Result<Line, RampError> {
        let half = 0.5 * self.0.width;
        within("offset", offset, -half, half)?;
        let line = RampLine::new(self.clone(), offset, self.end_station(offset));
        let end = self.end_station(offset);
        let contact = line.contact(line.breaks().len() - 2, end);
        let left = contact.normal.value().cross(&contact.point.d1());
        let uphill = match left.z {
            z if z > LEVEL => Uphill::To(Turn::Left),
            z if z < -LEVEL => Uphill::To(Turn::Right),
            _ => Uphill::Nowhere,
        };
        Ok(Line::along(line, uphill))
    }

    /// Nothing where the rider's wheels reach the bottom of every hollow.
    pub(super) fn check_rider(&self, rider: &Rider) -> Result<(), RampError> {
        let half = 0.5 * self.0.width;
        let reach = self.end_station(half).max(self.end_station(-half));
        match self.curve().tightest_hollow(reach) {
            Some(radius) if radius < rider.wheel_radius() => {
                Err(RampError::TighterThanWheel { radius, wheel_radius: rider.wheel_radius() })
            }
            _ => Ok(()),
        }
    }

    /// What tyres touch `y` across on a piece of the curve.
    pub(super) fn contact(&self, piece: usize, s: f64, y: f64) -> Contact {
        let (middle, across) = self.strip(piece, s);
        let point = middle + across.scale(Jet::constant(y));
        let up = point.derivative().cross(&across);
        Contact { point, normal: up.scale(up.norm().recip()) }
    }

    /// The ramp's middle, and the surface's derivative by the place across.
    fn strip(&self, piece: usize, s: f64) -> (Jet3, Jet3) {
        let d = &self.0;
        let at = d.curve.at(piece, s);
        let wide = d.hip.cos().recip();
        let (sin, cos) = d.heading.sin_cos();
        let place = |jet: Jet, by: f64| jet + Jet::constant(by);
        let middle = Jet3::new(
            place(at.distance * (wide * cos), d.position.x),
            place(at.distance * (wide * sin), d.position.y),
            place(at.height, d.position.z),
        );
        let (rise, level) = d.tilt.at(s, d.curve.length()).sin_cos();
        let (sin, cos) = (d.heading + d.hip).sin_cos();
        let across = Jet3::new(level * (-wide * sin), level * (wide * cos), rise * wide);
        (middle, across)
    }
}
