//! What the line gives the ride's energy equation at one station, ridden square to the surface.

use super::edge::Bike;
use crate::geometry::Frame;
use crate::math::Vec3;
use crate::rider::Rider;

/// The sizes of rider and bike that matter on a line.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) struct Body {
    pub(super) com_height: f64,
    pub(super) rotating: f64,
    pub(super) bike: Bike,
}

impl Body {
    pub(super) fn new(rider: &Rider) -> Self {
        Self {
            com_height: rider.com_height(),
            rotating: rider.rotating_factor(),
            bike: Bike::of(rider),
        }
    }
}

/// "Up through the bike" at one station, with two derivatives by metres of the tyres' line.
pub(super) struct Up {
    pub(super) u: Vec3,
    pub(super) du: Vec3,
    ddu: Vec3,
}

impl Up {
    /// Square to the surface.
    pub(super) fn square(frame: &Frame) -> Self {
        Self { u: frame.normal, du: frame.dnormal, ddu: frame.ddnormal }
    }
}

/// One station of a line, ready for the equation. Derivatives are by metres of the tyres' line.
#[derive(Debug, Clone, Copy)]
pub(super) struct Station {
    /// The centre of mass.
    pub(super) centre: Vec3,
    /// Its derivative `c'`.
    pub(super) dc: Vec3,
    /// The surface's normal.
    pub(super) normal: Vec3,
    /// To the left, across the line.
    pub(super) left: Vec3,
    /// `|c'|² + lambda`: twice the energy per mass over the square of the tyres' speed.
    pub(super) inertia: f64,
    /// Its derivative.
    pub(super) dinertia: f64,
    /// `c'' · n`.
    pub(super) bend: f64,
    /// `c'' · (n × t)`.
    pub(super) side_bend: f64,
    /// `c' · (n × t)`: how far the centre of mass swings across.
    pub(super) swing: f64,
    /// Curvature of the tyres' line towards the normal.
    pub(super) hollow: f64,
    /// Where the tyres touch.
    pub(super) tyres: Vec3,
}

impl Station {
    pub(super) fn new(frame: &Frame, body: &Body) -> Self {
        let up = Up::square(frame);
        let h = body.com_height;
        let dc = frame.tangent + up.du * h;
        let ddc = frame.curvature + up.ddu * h;
        let left = frame.left();
        Self {
            centre: frame.position + up.u * h,
            dc,
            normal: frame.normal,
            left,
            inertia: dc.norm_squared() + body.rotating,
            dinertia: 2.0 * dc.dot(&ddc),
            bend: ddc.dot(&frame.normal),
            side_bend: ddc.dot(&left),
            swing: dc.dot(&left),
            hollow: frame.normal_curvature(),
            tyres: frame.position,
        }
    }

    /// The kinetic energy per mass at a speed of the tyres.
    pub(super) fn energy(&self, speed: f64) -> f64 {
        0.5 * self.inertia * speed * speed
    }

    /// The tyres' speed at a kinetic energy per mass.
    pub(super) fn speed(&self, energy: f64) -> f64 {
        (2.0 * energy.max(0.0) / self.inertia).sqrt()
    }
}
