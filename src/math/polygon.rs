//! Convex polygons in plan: cut along a line, overlaid, integrated over.

use super::{Vec2, bilinear::Bilinear};

/// A convex polygon, its corners counter-clockwise; fewer than three corners is the empty one.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct Polygon {
    corners: Vec<Vec2>,
}

impl Polygon {
    /// The polygon with these corners, turned counter-clockwise where they run the other way.
    ///
    /// The corners have to be those of a convex polygon, in order.
    pub fn new(mut corners: Vec<Vec2>) -> Self {
        if signed_area(&corners) < 0.0 {
            corners.reverse();
        }
        Self { corners }
    }

    /// The rectangle from `low` to `high`.
    pub fn rectangle(low: Vec2, high: Vec2) -> Self {
        Self { corners: vec![low, Vec2::new(high.x, low.y), high, Vec2::new(low.x, high.y)] }
    }

    /// The corners, counter-clockwise.
    pub fn corners(&self) -> &[Vec2] {
        &self.corners
    }

    /// Whether nothing is left of it.
    pub fn is_empty(&self) -> bool {
        self.corners.len() < 3
    }

    /// The area in square metres.
    pub fn area(&self) -> f64 {
        signed_area(&self.corners).max(0.0)
    }

    /// The lowest and the highest coordinates, or `None` of the empty polygon.
    pub fn bounds(&self) -> Option<(Vec2, Vec2)> {
        let first = *self.corners.first()?;
        Some(self.corners.iter().fold((first, first), |(low, high), p| (low.inf(p), high.sup(p))))
    }

    /// The mean of the corners.
    pub fn middle(&self) -> Vec2 {
        let sum: Vec2 = self.corners.iter().sum();
        sum / self.corners.len().max(1) as f64
    }

    /// The part where `value` is not negative; `value` has to be linear.
    pub fn clipped(&self, value: impl Fn(&Vec2) -> f64) -> Self {
        let mut kept = Vec::with_capacity(self.corners.len() + 1);
        let Some(mut before) = self.corners.last() else { return Self::default() };
        let mut value_before = value(before);
        for corner in &self.corners {
            let value_here = value(corner);
            if (value_here >= 0.0) != (value_before >= 0.0) {
                kept.push(before.lerp(corner, value_before / (value_before - value_here)));
            }
            if value_here >= 0.0 {
                kept.push(*corner);
            }
            (before, value_before) = (corner, value_here);
        }
        if kept.len() < 3 { Self::default() } else { Self { corners: kept } }
    }

    /// The part that lies in another convex polygon too.
    pub fn intersection(&self, other: &Self) -> Self {
        if other.is_empty() {
            return Self::default();
        }
        let ends = other.corners.iter().skip(1).chain(other.corners.first());
        other.corners.iter().zip(ends).fold(self.clone(), |rest, (from, to)| {
            let edge = to - from;
            rest.clipped(|p| edge.perp(&(p - from)))
        })
    }

    /// The integral of a height over the polygon, in cubic metres; exact but for rounding.
    pub fn integral(&self, height: &Bilinear) -> f64 {
        let Some(origin) = self.corners.first() else { return 0.0 };
        let height = height.about(*origin);
        let pairs = self.corners.iter().skip(1).zip(self.corners.iter().skip(2));
        pairs.map(|(a, b)| triangle_integral(&height, origin, a, b)).sum()
    }
}

/// Three heights at the middles of the sides integrate a quadratic over a triangle exactly.
fn triangle_integral(height: &Bilinear, a: &Vec2, b: &Vec2, c: &Vec2) -> f64 {
    let area = 0.5 * (b - a).perp(&(c - a));
    let middles = [(a, b), (b, c), (c, a)].map(|(p, q)| height.at(&(0.5 * (p + q))));
    area * middles.iter().sum::<f64>() / 3.0
}

fn signed_area(corners: &[Vec2]) -> f64 {
    let Some(origin) = corners.first() else { return 0.0 };
    let pairs = corners.iter().skip(1).zip(corners.iter().skip(2));
    pairs.map(|(a, b)| 0.5 * (a - origin).perp(&(b - origin))).sum()
}

#[cfg(test)]
mod tests {
    use super::*;

    fn unit() -> Polygon {
        Polygon::rectangle(Vec2::zeros(), Vec2::new(1.0, 1.0))
    }

    #[test]
    fn clip_keeps_the_part_that_is_not_negative() {
        let half = unit().clipped(|p| p.x - 0.25);
        assert!((half.area() - 0.75).abs() < 1e-15);
        assert!(unit().clipped(|p| p.x - 2.0).is_empty());
        assert_eq!(unit().clipped(|p| p.x + 2.0), unit());
    }

    #[test]
    fn overlay_of_a_square_and_a_triangle() {
        let triangle =
            Polygon::new(vec![Vec2::new(0.0, 2.0), Vec2::new(2.0, 0.0), Vec2::new(0.0, 0.0)]);
        assert!((unit().intersection(&triangle).area() - 1.0).abs() < 1e-15);
        let moved = Polygon::rectangle(Vec2::new(0.5, 0.5), Vec2::new(3.0, 3.0));
        assert!((triangle.intersection(&moved).area() - 0.5).abs() < 1e-15);
    }

    #[test]
    fn integral_of_a_twisted_cell_is_the_mean_of_its_corners() {
        let low = Vec2::new(100.0, -40.0);
        let size = Vec2::new(2.0, 3.0);
        let cell = Bilinear::cell(low, size, [1.0, 2.0, 4.0, 11.0]);
        let volume = Polygon::rectangle(low, low + size).integral(&cell);
        assert!((volume - 6.0 * 4.5).abs() < 1e-12);
    }
}
