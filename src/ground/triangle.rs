//! One triangle: its nearest point in closed form, its plane, its height over a plan position.

use crate::math::Vec3;

/// The point of a triangle nearest to `c`, and whether it lies inside the face.
///
/// By Voronoi regions of corners, edges and face (Ericson, Real-Time Collision Detection, 2005, section 5.1.5).
pub(super) fn nearest(corners: &[Vec3; 3], c: &Vec3) -> (Vec3, bool) {
    let [a, b, d] = corners;
    let (ab, ad) = (b - a, d - a);
    let from_a = c - a;
    let (d1, d2) = (ab.dot(&from_a), ad.dot(&from_a));
    if d1 <= 0.0 && d2 <= 0.0 {
        return (*a, false);
    }
    let from_b = c - b;
    let (d3, d4) = (ab.dot(&from_b), ad.dot(&from_b));
    if d3 >= 0.0 && d4 <= d3 {
        return (*b, false);
    }
    let vd = d1 * d4 - d3 * d2;
    if vd <= 0.0 && d1 >= 0.0 && d3 <= 0.0 {
        return (a + ab * share(d1, -d3), false);
    }
    let from_d = c - d;
    let (d5, d6) = (ab.dot(&from_d), ad.dot(&from_d));
    if d6 >= 0.0 && d5 <= d6 {
        return (*d, false);
    }
    let vb = d5 * d2 - d1 * d6;
    if vb <= 0.0 && d2 >= 0.0 && d6 <= 0.0 {
        return (a + ad * share(d2, -d6), false);
    }
    let va = d3 * d6 - d5 * d4;
    let (along, back) = (d4 - d3, d5 - d6);
    if va <= 0.0 && along >= 0.0 && back >= 0.0 {
        return (b + (d - b) * share(along, back), false);
    }
    let whole = va + vb + vd;
    (a + ab * (vb / whole) + ad * (vd / whole), true)
}

/// The part `a` of `a + b`; 0 of nothing.
fn share(a: f64, b: f64) -> f64 {
    if a + b > 0.0 { a / (a + b) } else { 0.0 }
}

/// The unit normal that does not point down; zero for a triangle without area.
pub(super) fn normal(corners: &[Vec3; 3]) -> Vec3 {
    let [a, b, d] = corners;
    let cross = (b - a).cross(&(d - a));
    let unit = cross.try_normalize(0.0).unwrap_or_else(Vec3::zeros);
    if unit.z < 0.0 { -unit } else { unit }
}

/// The height over a plan position inside the triangle, its edges included; `None` outside, and for a vertical triangle.
pub(super) fn height(corners: &[Vec3; 3], x: f64, y: f64) -> Option<f64> {
    let [a, b, d] = corners;
    let twice = |p: &Vec3, q: &Vec3| (p.x - x) * (q.y - y) - (p.y - y) * (q.x - x);
    let (wa, wb, wd) = (twice(b, d), twice(d, a), twice(a, b));
    let whole = wa + wb + wd;
    // Rounding must not open a slit along a shared edge.
    let slack = 1e-13 * (wa.abs() + wb.abs() + wd.abs());
    let inside = [wa, wb, wd].iter().all(|w| w * whole.signum() >= -slack);
    (whole != 0.0 && inside).then(|| (wa * a.z + wb * b.z + wd * d.z) / whole)
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    fn point() -> impl Strategy<Value = Vec3> {
        prop::array::uniform3(-3.0..3.0f64).prop_map(Vec3::from)
    }

    proptest! {
        /// No point of the triangle is nearer, and the point found belongs to it.
        #[test]
        fn nearest_is_nearest(a in point(), b in point(), d in point(), c in point()) {
            let corners = [a, b, d];
            let (found, _) = nearest(&corners, &c);
            let best = (found - c).norm();
            for i in 0..=20 {
                for j in 0..=(20 - i) {
                    let (u, v) = (f64::from(i) / 20.0, f64::from(j) / 20.0);
                    let sample = a + (b - a) * u + (d - a) * v;
                    prop_assert!((sample - c).norm() >= best - 1e-12);
                }
            }
            prop_assert!((nearest(&corners, &found).0 - found).norm() < 1e-9);
        }
    }

    #[test]
    fn a_triangle_without_area_is_its_longest_side() {
        let corners = [Vec3::zeros(), Vec3::new(1.0, 0.0, 0.0), Vec3::new(3.0, 0.0, 0.0)];
        let (found, _) = nearest(&corners, &Vec3::new(2.0, 1.0, 0.0));
        assert!((found - Vec3::new(2.0, 0.0, 0.0)).norm() < 1e-12);
        assert_eq!(normal(&corners), Vec3::zeros());
        assert_eq!(height(&corners, 1.0, 0.0), None);
    }
}
