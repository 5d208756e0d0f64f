//! A plane without end.

use super::error::GroundError;
use super::nearest::Nearest;
use crate::math::Vec3;
use crate::math::range::{coordinate, finite, within};
use serde::{Deserialize, Serialize};

/// The steepest slope of a plane, either way; radians (89 degrees).
const STEEPEST: f64 = 1.553343034274953;

/// A plane through a point, falling along a heading.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize)]
#[serde(try_from = "Given", into = "Given")]
pub struct Plane {
    point: Vec3,
    slope: f64,
    heading: f64,
    normal: Vec3,
}

#[derive(Serialize, Deserialize)]
struct Given {
    point: Vec3,
    slope: f64,
    heading: f64,
}

impl Plane {
    /// The plane through `point` whose `slope` is positive downhill along `heading`; metres and radians.
    pub fn new(point: Vec3, slope: f64, heading: f64) -> Result<Self, GroundError> {
        for (field, value) in [("point.x", point.x), ("point.y", point.y), ("point.z", point.z)] {
            coordinate(field, value)?;
        }
        within("slope", slope, -STEEPEST, STEEPEST)?;
        finite("heading", heading)?;
        let (fall, level) = slope.sin_cos();
        let normal = Vec3::new(fall * heading.cos(), fall * heading.sin(), level);
        Ok(Self { point, slope, heading, normal })
    }

    /// The level plane through the origin.
    pub(super) fn level() -> Self {
        Self { point: Vec3::zeros(), slope: 0.0, heading: 0.0, normal: Vec3::z() }
    }

    /// The point it was given through.
    pub fn point(&self) -> Vec3 {
        self.point
    }

    /// The slope, positive downhill along the heading; radians.
    pub fn slope(&self) -> f64 {
        self.slope
    }

    /// The heading, counter-clockwise from `+x`; radians.
    pub fn heading(&self) -> f64 {
        self.heading
    }

    /// The unit normal, upward.
    pub fn normal(&self) -> Vec3 {
        self.normal
    }

    /// The height over a plan position.
    pub fn height(&self, x: f64, y: f64) -> f64 {
        let n = &self.normal;
        self.point.z - (n.x * (x - self.point.x) + n.y * (y - self.point.y)) / n.z
    }

    /// How far `c` is above the plane, along its normal; negative below.
    pub fn above(&self, c: &Vec3) -> f64 {
        self.normal.dot(&(c - self.point))
    }

    pub(super) fn nearest(&self, c: Vec3, within: f64) -> Option<Nearest> {
        let distance = self.above(&c).max(0.0);
        let point = c - distance * self.normal;
        (distance <= within).then_some(Nearest { distance, point, normal: self.normal })
    }
}

impl TryFrom<Given> for Plane {
    type Error = GroundError;
    fn try_from(given: Given) -> Result<Self, GroundError> {
        Self::new(given.point, given.slope, given.heading)
    }
}

impl From<Plane> for Given {
    fn from(plane: Plane) -> Self {
        Self { point: plane.point, slope: plane.slope, heading: plane.heading }
    }
}
