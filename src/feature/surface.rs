//! A ridden surface at one place.

use crate::math::Vec3;
use serde::{Deserialize, Serialize};

/// A point of a surface with its derivatives by station `s` along it and distance `q` across: on a wall along the foot and
/// up the panel, on a ramp along its curve and from the middle to the left.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize)]
pub struct SurfacePoint {
    /// The point, metres.
    pub point: Vec3,
    /// Derivative along.
    pub ds: Vec3,
    /// Derivative across.
    pub dq: Vec3,
    /// Second derivative along.
    pub dss: Vec3,
    /// Mixed second derivative.
    pub dsq: Vec3,
    /// Second derivative across: zero where the surface is flat across.
    pub dqq: Vec3,
    /// The unit normal, to the rider's side.
    pub normal: Vec3,
}
