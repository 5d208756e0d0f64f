//! The height at which a ball let down on a surface comes to rest: the surface dilated by its radius.

use super::probe::Probe;
use super::scan::Scan;
use super::surface::Surface;
use crate::math::Vec3;

/// Nearer than this counts as touching; metres.
const CLOSE: f64 = 1e-11;
/// More looks than a fall takes, however the ground is shaped.
const MOST_LOOKS: usize = 100_000;

/// The height of the centre of a ball of radius `h` let down over a plan position until it touches the surface.
pub(super) fn dilated_height(surface: &Surface, x: f64, y: f64, h: f64) -> Option<f64> {
    if let Surface::Plane(plane) = surface {
        return Some(plane.height(x, y) + h / plane.normal().z);
    }
    let bounds = surface.bounds()?;
    surface.height(x, y)?;
    let mut z = bounds.high.z + h + 1.0;
    for _ in 0..MOST_LOOKS {
        let probe = Probe {
            position: Vec3::new(x, y, z),
            velocity: -Vec3::z(),
            acceleration: Vec3::zeros(),
            jerk: 0.0,
            speed: 1.0,
            reach: h,
            reach_rate: 0.0,
            span: z - bounds.low.z + h,
        };
        let mut scan = Scan::new(&probe);
        surface.scan(&mut scan);
        if scan.gap <= CLOSE {
            break;
        }
        z -= scan.clear;
    }
    Some(z)
}
