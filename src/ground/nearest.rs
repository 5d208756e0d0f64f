//! The place on the ground that is nearest to a point.

use crate::math::Vec3;
use serde::{Deserialize, Serialize};

/// Nearer than this, the direction to the point drowns in rounding and the surface's own normal stands for it; metres.
const CLOSE: f64 = 1e-6;

/// Nearer than this, not even the side on which the point lies is more than rounding; metres.
const TOUCHING: f64 = 1e-11;

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

impl Nearest {
    /// What is seen from `c` of a place on a surface whose own normal there is `face`; `smooth` off edges and corners.
    pub(super) fn seen(c: Vec3, point: Vec3, face: Vec3, smooth: bool) -> Self {
        let away = c - point;
        let distance = away.norm();
        let own = (smooth || distance < CLOSE) && face != Vec3::zeros();
        let normal = if own && (distance < TOUCHING || face.dot(&away) >= 0.0) {
            face
        } else {
            away.try_normalize(0.0).unwrap_or(face)
        };
        Self { distance, point, normal }
    }

    /// What is seen from a point below the surface.
    pub(super) fn below(c: Vec3, normal: Vec3, within: f64) -> Option<Self> {
        (within >= 0.0).then_some(Self { distance: 0.0, point: c, normal })
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    /// A point on the surface, but for rounding, sees its own normal, whichever side of it rounding puts it on.
    #[test]
    fn rounding_is_no_direction() {
        let face = Vec3::new(0.0, 0.6, 0.8);
        let place = Vec3::new(3.0, -2.0, 0.5);
        for off in [Vec3::new(0.0, 1e-16, 1e-16), Vec3::new(0.0, -1e-16, -2e-16), Vec3::zeros()] {
            assert_eq!(Nearest::seen(place + off, place, face, true).normal, face);
        }
        let off = Vec3::new(0.0, -1e-16, -4.4e-16);
        let seen = Nearest::seen(off, Vec3::zeros(), face, true);
        assert_eq!(seen.normal, face);
        // On an edge, farther off, the direction to the point rules.
        let away = Vec3::new(0.0, 0.0, 1e-3);
        assert_eq!(Nearest::seen(away, Vec3::zeros(), face, false).normal, Vec3::z());
    }
}
