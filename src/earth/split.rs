//! A polygon cut where a height over it changes its sign.

use crate::math::{Vec2, bilinear::Bilinear, polygon::Polygon};

/// How far a twisted height may depart from the plane that stands for it where it is cut, metres.
///
/// The cut's line is off by this over the slope there, and the volume by its square: under a
/// millionth of a cubic metre along kilometres of toe.
const FLAT: f64 = 1e-5;

/// How often a polygon is quartered at most to get there.
const DEEPEST: u32 = 12;

/// The parts of a polygon where a height is not negative, and where it is not positive.
#[derive(Debug, Default)]
pub(super) struct Signed {
    pub above: Vec<Polygon>,
    pub below: Vec<Polygon>,
}

/// Cuts a polygon by the sign of a height: exactly for a plane, within [`FLAT`] for a twisted one.
pub(super) fn by_sign(region: Polygon, height: &Bilinear) -> Signed {
    let mut signed = Signed::default();
    cut(region, height, DEEPEST, &mut signed);
    signed
}

fn cut(region: Polygon, height: &Bilinear, depth: u32, signed: &mut Signed) {
    let Some((low, high)) = region.bounds().filter(|_| !region.is_empty()) else { return };
    let (least, most) = extremes(&region, height);
    if least >= 0.0 {
        signed.above.push(region);
    } else if most <= 0.0 {
        signed.below.push(region);
    } else if depth == 0 || departure(height, low, high) <= FLAT {
        cut_by_plane(&region, &height.tangent(&region.middle()), signed);
    } else {
        for quarter in quarters(low, high) {
            cut(region.intersection(&quarter), height, depth - 1, signed);
        }
    }
}

fn cut_by_plane(region: &Polygon, plane: &Bilinear, signed: &mut Signed) {
    let halves = [
        (region.clipped(|p| plane.at(p)), &mut signed.above),
        (region.clipped(|p| -plane.at(p)), &mut signed.below),
    ];
    for (half, kept) in halves {
        if !half.is_empty() {
            kept.push(half);
        }
    }
}

/// How far a twisted height is from the plane that touches it in the middle of a rectangle.
fn departure(height: &Bilinear, low: Vec2, high: Vec2) -> f64 {
    let size = high - low;
    0.25 * (height.twist() * size.x * size.y).abs()
}

/// The least and the greatest height over a polygon: both lie on its sides, as `xy` is harmonic.
fn extremes(region: &Polygon, height: &Bilinear) -> (f64, f64) {
    let corners = region.corners();
    let ends = corners.iter().skip(1).chain(corners.first());
    let mut range = (f64::INFINITY, f64::NEG_INFINITY);
    let mut widen = |value: f64| range = (range.0.min(value), range.1.max(value));
    for (from, to) in corners.iter().zip(ends) {
        widen(height.at(from));
        if let Some(turn) = turning_point(from, to, height) {
            widen(height.at(&from.lerp(to, turn)));
        }
    }
    range
}

/// The share of a side, strictly inside it, at which a twisted height turns along it.
fn turning_point(from: &Vec2, to: &Vec2, height: &Bilinear) -> Option<f64> {
    let along = to - from;
    let (start, end) = (height.gradient(from).dot(&along), height.gradient(to).dot(&along));
    (start * end < 0.0).then(|| start / (start - end))
}

fn quarters(low: Vec2, high: Vec2) -> [Polygon; 4] {
    let middle = 0.5 * (low + high);
    let rectangle = |a: Vec2, b: Vec2| Polygon::rectangle(a.inf(&b), a.sup(&b));
    [
        rectangle(low, middle),
        rectangle(Vec2::new(high.x, low.y), middle),
        rectangle(high, middle),
        rectangle(Vec2::new(low.x, high.y), middle),
    ]
}

#[cfg(test)]
mod tests {
    use super::*;

    fn unit() -> Polygon {
        Polygon::rectangle(Vec2::zeros(), Vec2::new(1.0, 1.0))
    }

    fn integral(parts: &[Polygon], height: &Bilinear) -> f64 {
        parts.iter().map(|part| part.integral(height)).sum()
    }

    #[test]
    fn plane_is_cut_exactly() {
        let plane = Bilinear::plane(Vec2::new(0.5, 0.0), 0.0, Vec2::new(2.0, 0.0));
        let signed = by_sign(unit(), &plane);
        assert!((integral(&signed.above, &plane) - 0.25).abs() < 1e-15);
        assert!((integral(&signed.below, &plane) + 0.25).abs() < 1e-15);
    }

    #[test]
    fn hyperbola_is_cut_within_the_stated_bound() {
        let twisted =
            Bilinear::cell(Vec2::zeros(), Vec2::new(1.0, 1.0), [-0.25, -0.25, -0.25, 0.75]);
        let signed = by_sign(unit(), &twisted);
        // For each x from 1/4 to 1: y from 1/(4x) to 1 of (x y - 1/4) = x/2 - 1/4 + 1/(32 x).
        let by_hand = 0.25 * (1.0 - 1.0 / 16.0) - 0.25 * 0.75 + 4.0_f64.ln() / 32.0;
        assert!((integral(&signed.above, &twisted) - by_hand).abs() < 1e-9);
        let all = unit().integral(&twisted);
        assert!((integral(&signed.below, &twisted) - (all - by_hand)).abs() < 1e-9);
    }

    /// A saddle whose corners are all positive is negative inside.
    #[test]
    fn turning_sides_are_seen() {
        let saddle =
            Bilinear::cell(Vec2::new(-1.0, -1.0), Vec2::new(2.0, 2.0), [1.0, -1.0, -1.0, 1.0]);
        let diamond = Polygon::new(
            [(0.9, 0.1), (0.1, 0.9), (-0.9, -0.1), (-0.1, -0.9)]
                .map(|(x, y)| Vec2::new(x, y))
                .to_vec(),
        );
        let lifted = saddle.above(&Bilinear::plane(Vec2::zeros(), -0.05, Vec2::zeros()));
        assert!(diamond.corners().iter().all(|corner| lifted.at(corner) > 0.0));
        assert!(extremes(&diamond, &lifted).0 < -0.1);
        assert!(!by_sign(diamond, &lifted).below.is_empty());
    }
}
