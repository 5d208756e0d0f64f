//! The body as segments: masses, centres and radii of gyration.

use super::Solid;
use crate::math::Vec3;
use nalgebra::Matrix3;

/// A body segment as shares: of the body's mass, and of the segment's own length.
#[derive(Debug, Clone, Copy)]
pub(super) struct Segment {
    /// Share of the body's mass.
    pub(super) mass: f64,
    /// Length as a share of body height.
    pub(super) length: f64,
    /// From the upper end to the centre of mass.
    pub(super) centre: f64,
    /// Radii of gyration about the fore-and-aft, the left-and-right and the long axis.
    pub(super) gyration: [f64; 3],
}

/// Mean height of the men whose segment lengths stand in de Leva's Table 4, m (from memory).
const SAMPLE_HEIGHT: f64 = 1.741;

const fn segment(mass: f64, length: f64, centre: f64, gyration: [f64; 3]) -> Segment {
    Segment { mass, length: length / SAMPLE_HEIGHT, centre, gyration }
}

// P. de Leva, Journal of Biomechanics 29 (1996) 1223-1230, Table 4, males; the lengths in metres
// are that table's too, but from memory. Ends: vertex to cervicale for the head, middle of the
// shoulders to middle of the hips for the trunk, joint centres for the limbs, wrist to third
// knuckle for the hand, heel to toe tip for the foot.
pub(super) const HEAD: Segment = segment(0.0694, 0.2429, 0.5002, [0.303, 0.315, 0.261]);
pub(super) const TRUNK: Segment = segment(0.4346, 0.5155, 0.4310, [0.384, 0.358, 0.197]);
pub(super) const UPPER_ARM: Segment = segment(0.0271, 0.2817, 0.5772, [0.285, 0.269, 0.158]);
pub(super) const FOREARM: Segment = segment(0.0162, 0.2689, 0.4574, [0.276, 0.265, 0.121]);
pub(super) const HAND: Segment = segment(0.0061, 0.0862, 0.7900, [0.628, 0.513, 0.401]);
pub(super) const THIGH: Segment = segment(0.1416, 0.4222, 0.4095, [0.329, 0.329, 0.149]);
pub(super) const SHANK: Segment = segment(0.0433, 0.4340, 0.4395, [0.251, 0.246, 0.102]);
pub(super) const FOOT: Segment = segment(0.0137, 0.2581, 0.4415, [0.257, 0.245, 0.124]);
/// From the cervicale down to the middle of the shoulders, as a share of body height (the
/// difference of two trunk lengths in the same table, from memory).
pub(super) const NECK: f64 = (0.6033 - 0.5155) / SAMPLE_HEIGHT;

impl Segment {
    /// The segment of a body of `body_mass`, kg, whose upper end is at `from` and lower at `to`.
    pub(super) fn solid(&self, body_mass: f64, from: Vec3, to: Vec3) -> Solid {
        let mass = self.mass * body_mass;
        let along = to - from;
        let long = along.normalize();
        let left = (Vec3::y() - long * long.y).normalize();
        let forward = left.cross(&long);
        let inertia = [forward, left, long]
            .iter()
            .zip(self.gyration)
            .map(|(axis, gyration)| axis * axis.transpose() * gyration.powi(2))
            .sum::<Matrix3<f64>>()
            * (mass * along.norm_squared());
        Solid { mass, centre: from + along * self.centre, inertia }
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use approx::assert_abs_diff_eq;

    #[test]
    fn segments_add_up_to_a_body() {
        let middle = HEAD.mass + TRUNK.mass;
        let limbs = [UPPER_ARM, FOREARM, HAND, THIGH, SHANK, FOOT];
        let total = middle + 2.0 * limbs.iter().map(|limb| limb.mass).sum::<f64>();
        assert_abs_diff_eq!(total, 1.0, epsilon = 1e-12);
        // Standing: head, neck's rise, trunk, thigh, shank and some 8 cm of ankle height.
        let standing = HEAD.length + NECK + TRUNK.length + THIGH.length + SHANK.length;
        assert_abs_diff_eq!(standing, 1.0, epsilon = 0.05);
    }
}
