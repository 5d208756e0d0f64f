//! The place on the ground that is nearest to a point.

use crate::math::Vec3;
use serde::{Deserialize, Serialize};

/// Nearer than this, the direction to the point drowns in rounding and the surface's own normal stands for it; metres.
pub(super) const CLOSE: f64 = 1e-6;

/// The nearest place on the ground, as seen from a point.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize)]
pub struct Nearest {
    /// Metres from the point to the ground; 0 for a point below the surface.
    pub distance: f64,
    /// The nearest place; the point itself where it lies below the surface.
    pub point: Vec3,
    /// The unit vector from the place to the point; the surface's normal where the distance is 0.
    pub normal: Vec3,
}
