//! A rider from body mass and height: posture on the bike, its mass, centre, inertia and drag.

use super::body::{FOOT, FOREARM, HAND, HEAD, NECK, SHANK, Segment, THIGH, TRUNK, UPPER_ARM};
use super::{Rider, RiderError, Solid};
use crate::math::Vec3;
use crate::math::range::within;
use nalgebra::Matrix3;

/// Mass of a trail bike, kg (common practice: 13 to 16).
const BIKE_MASS: f64 = 15.0;
/// The bike's centre of mass as shares of the wheelbase, ahead of the rear contact and above the
/// ground, and its radii of gyration in roll, pitch and yaw as shares of the wheelbase: from the
/// parts of the hardtail measured by J. K. Moore, *Human Control of a Bicycle* (2012), chapter 5.
const BIKE_CENTRE: [f64; 2] = [0.507, 0.466];
const BIKE_GYRATION: [f64; 3] = [0.2485, 0.4625, 0.4071];
/// Spin inertia of a wheel, kg m^2: the mean of that hardtail's two.
const WHEEL_INERTIA: f64 = 0.1035;
/// The cranks' axle ahead of the rear contact and above the ground, m (common practice).
const CRANK_AXLE: [f64; 2] = [0.44, 0.34];
/// The body for which the default drag area stands: kg and m.
const DRAG_BODY: (f64, f64) = (75.0, 1.75);
/// How steep the trunk stands, from level, radians; the head's axis leans half as far from upright.
const TRUNK_ANGLE: f64 = 35.0 * std::f64::consts::PI / 180.0;

impl Rider {
    /// A rider on a trail bike from body mass, kg (20 to 200), and height, m (1.0 to 2.3).
    ///
    /// - **Mass**: the body's and a bike of 15 kg (common practice).
    /// - **Centre of mass and inertia**: from the segments of de Leva 1996, Table 4 (men; women
    ///   differ by a few per cent), posed as riders stand when the trail gets steep: pedals level,
    ///   knees and elbows bent, hips behind the cranks, trunk 35 degrees from level (posture and
    ///   bike sizes: common practice; all of the posture grows with body height), and the bike as
    ///   measured by Moore 2012 (a hardtail, scaled by mass and wheelbase). Products of inertia are
    ///   left out: they tilt the principal axes in the bike's plane. A rider in a tuck or stretched
    ///   out differs by 20 % and more.
    /// - **Drag**: the default drag area times the body's surface over that of a body of 75 kg and
    ///   1.75 m, by Du Bois and Du Bois 1916, `mass^0.425 height^0.725` (scaling by it is common
    ///   practice).
    /// - **Wheels**: spin inertia as measured by Moore 2012, mean of front and rear.
    ///
    /// All else is as in [`Rider::default`].
    pub fn typical(body_mass: f64, body_height: f64) -> Result<Self, RiderError> {
        within("body_mass", body_mass, 20.0, 200.0)?;
        within("body_height", body_height, 1.0, 2.3)?;
        let rider = Self::default();
        let whole = Solid::sum(&[bike(rider.wheelbase()), body(body_mass, body_height)]);
        let cda = rider.cda() * body_surface_over_default(body_mass, body_height);
        rider.with_solid(&whole)?.with_wheel_inertia(WHEEL_INERTIA)?.with_cda(cda)
    }
}

fn body_surface_over_default(mass: f64, height: f64) -> f64 {
    (mass / DRAG_BODY.0).powf(0.425) * (height / DRAG_BODY.1).powf(0.725)
}

/// The bike, its rear contact at the origin.
fn bike(wheelbase: f64) -> Solid {
    let gyration = Vec3::from(BIKE_GYRATION) * wheelbase;
    Solid {
        mass: BIKE_MASS,
        centre: Vec3::new(BIKE_CENTRE[0], 0.0, BIKE_CENTRE[1]) * wheelbase,
        inertia: Matrix3::from_diagonal(&gyration.component_mul(&gyration)) * BIKE_MASS,
    }
}

/// The standing rider's body, the bike's rear contact at the origin.
fn body(mass: f64, height: f64) -> Solid {
    let axle = Vec3::new(CRANK_AXLE[0], 0.0, CRANK_AXLE[1]);
    let parts: Vec<Solid> = posture()
        .iter()
        .map(|(segment, from, to)| segment.solid(mass, axle + from * height, axle + to * height))
        .collect();
    Solid::sum(&parts)
}

/// Every segment with its upper and lower end, from the cranks' axle, in body heights.
fn posture() -> Vec<(Segment, Vec3, Vec3)> {
    // Sizes for a body of 1.75 m, m: common practice.
    let place = |x: f64, y: f64, z: f64| Vec3::new(x, y, z) / 1.75;
    let hips = place(-0.26, 0.0, 0.79);
    let up_the_trunk = Vec3::new(TRUNK_ANGLE.cos(), 0.0, TRUNK_ANGLE.sin());
    let shoulders = hips + up_the_trunk * TRUNK.length;
    let neck = shoulders + up_the_trunk * NECK;
    let head_angle = TRUNK_ANGLE.midpoint(std::f64::consts::FRAC_PI_2);
    let vertex = neck + Vec3::new(head_angle.cos(), 0.0, head_angle.sin()) * HEAD.length;
    let mut parts = vec![(HEAD, vertex, neck), (TRUNK, shoulders, hips)];
    for (side, crank) in [(1.0, 0.17), (-1.0, -0.17)] {
        let hip = hips + place(0.0, side * 0.09, 0.0);
        let ankle = place(crank - 0.10, side * 0.13, 0.08);
        let knee = middle_joint(hip, ankle, THIGH.length, SHANK.length, Vec3::x());
        let heel = place(crank - 0.15, side * 0.13, 0.02);
        parts.extend([
            (THIGH, hip, knee),
            (SHANK, knee, ankle),
            (FOOT, heel, heel + Vec3::x() * FOOT.length),
        ]);
        let shoulder = shoulders + place(0.0, side * 0.19, 0.0);
        let wrist = place(0.43, side * 0.35, 0.70);
        let outward = Vec3::new(-0.3, side, 0.3);
        let elbow = middle_joint(shoulder, wrist, UPPER_ARM.length, FOREARM.length, outward);
        parts.extend([
            (UPPER_ARM, shoulder, elbow),
            (FOREARM, elbow, wrist),
            (HAND, wrist, wrist + (wrist - elbow).normalize() * HAND.length),
        ]);
    }
    parts
}

/// The knee or elbow between two ends that are `upper` and `lower` away from it, bent towards a
/// direction; straight where the ends are too far apart.
fn middle_joint(from: Vec3, to: Vec3, upper: f64, lower: f64, towards: Vec3) -> Vec3 {
    let apart = (to - from).norm();
    let along = (to - from) / apart;
    let side = (towards - along * towards.dot(&along)).normalize();
    let reach = (upper.powi(2) - lower.powi(2) + apart.powi(2)) / (2.0 * apart);
    from + along * reach + side * (upper.powi(2) - reach.powi(2)).max(0.0).sqrt()
}

#[cfg(test)]
mod tests {
    use super::*;
    use approx::{assert_abs_diff_eq, assert_relative_eq};

    #[test]
    fn limbs_keep_their_lengths() {
        for (segment, from, to) in posture() {
            assert_relative_eq!((to - from).norm(), segment.length, max_relative = 1e-12);
        }
    }

    /// The hardtail's parts (mass kg, centre ahead of and above the rear contact m, inertias
    /// kg m^2): Moore 2012, chapter 5, data set Fisher.
    #[test]
    fn bike_follows_from_the_measured_parts() {
        let part = |mass, x, z, [roll, pitch, yaw]: [f64; 3]| Solid {
            mass,
            centre: Vec3::new(x, 0.0, z),
            inertia: Matrix3::from_diagonal(&Vec3::new(roll, pitch, yaw)),
        };
        let whole = Solid::sum(&[
            part(4.48, 0.3670, 0.4990, [0.2825, 0.4697, 0.2677]),
            part(2.52, 0.9597, 0.7192, [0.1147, 0.1000, 0.0226]),
            part(1.50, 1.07, 0.3302, [0.0631, 0.1062, 0.0631]),
            part(1.94, 0.0, 0.3386, [0.0630, 0.1008, 0.0630]),
        ]);
        let wheelbase = 1.07;
        assert_abs_diff_eq!(whole.centre.x / wheelbase, BIKE_CENTRE[0], epsilon = 1e-3);
        assert_abs_diff_eq!(whole.centre.z / wheelbase, BIKE_CENTRE[1], epsilon = 1e-3);
        for (axis, share) in BIKE_GYRATION.iter().enumerate() {
            let gyration = (whole.inertia[(axis, axis)] / whole.mass).sqrt() / wheelbase;
            assert_abs_diff_eq!(gyration, share, epsilon = 1e-3);
        }
        assert_abs_diff_eq!(WHEEL_INERTIA, 0.1062f64.midpoint(0.1008), epsilon = 1e-4);
    }

    #[test]
    fn the_default_is_a_typical_rider_rounded() -> Result<(), RiderError> {
        let (typical, default) = (Rider::typical(75.0, 1.75)?, Rider::default());
        assert_abs_diff_eq!(typical.mass(), default.mass(), epsilon = 1e-12);
        assert_abs_diff_eq!(typical.com_height(), default.com_height(), epsilon = 0.1);
        assert_abs_diff_eq!(typical.cda(), default.cda(), epsilon = 1e-12);
        assert_abs_diff_eq!(typical.rear_to_com(), default.rear_to_com(), epsilon = 0.03);
        let (of_typical, of_default) = (typical.inertia(), default.inertia());
        assert_abs_diff_eq!(of_typical.roll(), of_default.roll(), epsilon = 0.5);
        assert_abs_diff_eq!(of_typical.pitch(), of_default.pitch(), epsilon = 0.5);
        assert_abs_diff_eq!(of_typical.yaw(), of_default.yaw(), epsilon = 0.5);
        Ok(())
    }

    /// Moore, Hubbard, Kooijman and Schwab 2009: a seated rider of 72 kg has 8.07 in pitch and
    /// 8.00 in roll; standing bent over the bars spreads the body a little more or less.
    #[test]
    fn the_body_alone_is_near_a_measured_rider() {
        let body = body(72.0, 1.83);
        assert_relative_eq!(body.inertia[(1, 1)], 8.0689, max_relative = 0.25);
        assert_relative_eq!(body.inertia[(0, 0)], 7.9985, max_relative = 0.25);
    }

    #[test]
    fn bigger_riders_have_more_of_all() -> Result<(), RiderError> {
        let (small, big) = (Rider::typical(55.0, 1.6)?, Rider::typical(95.0, 1.9)?);
        assert!(big.mass() > small.mass() && big.com_height() > small.com_height());
        assert!(big.cda() > small.cda() && big.inertia().pitch() > small.inertia().pitch());
        assert!(Rider::typical(5.0, 1.75).is_err() && Rider::typical(75.0, 17.5).is_err());
        Ok(())
    }
}
