//! A lip: a takeoff that rises in one vertical plane and ends at an edge.

use super::ramp::{Drawing, Ramp, RampError};
use super::surface::SurfacePoint;
use crate::geometry::{Line, VerticalCurve};
use crate::math::Vec3;
use crate::rider::Rider;
use serde::{Deserialize, Serialize};

/// A takeoff that rises in one vertical plane, by straights, arcs and clothoids, up to an edge.
///
/// Places on it are `s` metres along its curve and `y` metres across, from its middle to the left. It may be set across
/// the trail by an angle (a *hip*), its edge may be skewed, its surface tilted sideways, evenly or more and more.
/// Derivatives are exact.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[serde(transparent)]
pub struct Lip(Ramp);

impl Lip {
    /// The lip of this shape seen from the side, so wide (metres, above 0).
    ///
    /// With the middle of its start at the origin, ridden along `+x`, square to the travel and level across, unless said
    /// otherwise.
    pub fn new(curve: VerticalCurve, width: f64) -> Result<Self, RampError> {
        Ok(Self(Drawing::new(curve, width).try_into()?))
    }

    /// The same lip with the middle of its start at `position`, ridden along `heading` (radians from `+x`).
    pub fn placed(self, position: Vec3, heading: f64) -> Result<Self, RampError> {
        let change = |d: &mut Drawing| (d.position, d.heading) = (position, heading);
        Ok(Self(self.0.with(change)?))
    }

    /// The same lip set across the trail: its own direction turned by `hip` from the travel's, radians, positive to the
    /// left; to 60 degrees either way.
    ///
    /// Its sides still run along the travel, its start and its edge square to its own direction, and lines run straight on
    /// along the travel, seen from above: with less rise than the lip has, and with the surface leaning to one side.
    pub fn with_hip(self, hip: f64) -> Result<Self, RampError> {
        Ok(Self(self.0.with(|d| d.hip = hip)?))
    }

    /// The same lip with its end edge skewed by an angle on its surface, radians: positive where the left side reaches
    /// further on; to 60 degrees either way.
    ///
    /// Past the end of its curve the lip goes on as its last piece bends.
    pub fn with_end_skew(self, end_skew: f64) -> Result<Self, RampError> {
        Ok(Self(self.0.with(|d| d.end_skew = end_skew)?))
    }

    /// The same lip banked sideways, from `start` evenly to `end`, radians from level across, positive where the left
    /// side is higher; to 60 degrees either way.
    pub fn with_tilt(self, start: f64, end: f64) -> Result<Self, RampError> {
        Ok(Self(self.0.with(|d| (d.tilt.start, d.tilt.end) = (start, end))?))
    }

    /// Its shape seen from the side, in its own direction.
    pub fn curve(&self) -> &VerticalCurve {
        self.0.curve()
    }

    /// Its width across the travel, along the surface, metres.
    pub fn width(&self) -> f64 {
        self.0.drawing().width
    }

    /// The middle of its start, metres.
    pub fn position(&self) -> Vec3 {
        self.0.drawing().position
    }

    /// The heading of the travel over it, radians from `+x`.
    pub fn heading(&self) -> f64 {
        self.0.drawing().heading
    }

    /// The angle from the travel to its own direction, radians, positive to the left.
    pub fn hip(&self) -> f64 {
        self.0.drawing().hip
    }

    /// The skew of its end edge, radians.
    pub fn end_skew(&self) -> f64 {
        self.0.drawing().end_skew
    }

    /// How far it is banked sideways at its start and at its end, radians.
    pub fn tilt(&self) -> (f64, f64) {
        let tilt = self.0.drawing().tilt;
        (tilt.start, tilt.end)
    }

    /// The length along its curve, metres.
    pub fn length(&self) -> f64 {
        self.curve().length()
    }

    /// How much higher its edge is than its start, in the middle, metres.
    pub fn height(&self) -> f64 {
        self.curve().height()
    }

    /// The angle from level at its edge, in its own direction and in the middle, radians.
    pub fn end_angle(&self) -> f64 {
        self.curve().end_angle()
    }

    /// The station of the end edge `y` across, metres along the curve.
    pub fn end_station(&self, y: f64) -> f64 {
        self.0.end_station(y)
    }

    /// The point of the end edge `y` across, metres.
    pub fn edge(&self, y: f64) -> Vec3 {
        self.0.edge(y)
    }

    /// The surface at station `s` along the curve and `y` across, continued as it bends beyond its edges.
    pub fn surface(&self, s: f64, y: f64) -> SurfacePoint {
        self.0.surface(s, y)
    }

    /// Points of the surface for a picture: `rows` along by `columns` across from right to left, row after row, at least
    /// two of each.
    pub fn mesh(&self, rows: usize, columns: usize) -> Vec<Vec3> {
        self.0.mesh(rows, columns)
    }

    /// The line that runs `offset` metres to the left of its middle, from its start to its edge.
    pub fn line(&self, offset: f64) -> Result<Line, RampError> {
        self.0.line(offset)
    }

    /// Nothing where the rider's wheels fit into its curve; else an error with both radii.
    ///
    /// A ride follows the surface itself; a wheel larger than a hollow would bridge it.
    pub fn check_rider(&self, rider: &Rider) -> Result<(), RampError> {
        self.0.check_rider(rider)
    }
}
