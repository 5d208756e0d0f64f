//! A ridden surface at one place.

use crate::math::Vec3;
use serde::{Deserialize, Serialize};

/// A point of a surface with its derivatives by station `s` along the foot and distance `q` up the panel.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize)]
pub struct SurfacePoint {
    /// The point, metres.
    pub point: Vec3,
    /// Derivative along the foot.
    pub ds: Vec3,
    /// Derivative up the panel.
    pub dq: Vec3,
    /// Second derivative along the foot.
    pub dss: Vec3,
    /// Mixed second derivative.
    pub dsq: Vec3,
    /// Second derivative up the panel: zero where the panel is flat across.
    pub dqq: Vec3,
    /// The unit normal, to the rider's side.
    pub normal: Vec3,
}
