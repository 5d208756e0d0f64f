//! A height over the plan that is linear along each axis.

use super::Vec2;
use serde::{Deserialize, Serialize};

/// The height `level + slope · d + twist d_x d_y` at the plan point `at + d`.
///
/// Without twist it is a plane; with it, the surface through the four corners of a grid's cell.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize)]
pub struct Bilinear {
    at: Vec2,
    level: f64,
    slope: Vec2,
    twist: f64,
}

impl Bilinear {
    /// The plane that has the height `level` at `at` and rises by `slope` (rise over run, each axis).
    pub fn plane(at: Vec2, level: f64, slope: Vec2) -> Self {
        Self { at, level, slope, twist: 0.0 }
    }

    /// The surface through the corners of the cell from `low` to `low + size`.
    ///
    /// `heights` are at the corners `(0, 0)`, `(1, 0)`, `(0, 1)`, `(1, 1)` of the cell.
    pub fn cell(low: Vec2, size: Vec2, heights: [f64; 4]) -> Self {
        let [h00, h10, h01, h11] = heights;
        Self {
            at: low,
            level: h00,
            slope: Vec2::new((h10 - h00) / size.x, (h01 - h00) / size.y),
            twist: (h11 - h10 - h01 + h00) / (size.x * size.y),
        }
    }

    /// The height at a point of the plan.
    pub fn at(&self, point: &Vec2) -> f64 {
        let d = point - self.at;
        self.level + self.slope.dot(&d) + self.twist * d.x * d.y
    }

    /// The gradient (rise over run) at a point of the plan.
    pub fn gradient(&self, point: &Vec2) -> Vec2 {
        let d = point - self.at;
        self.slope + self.twist * Vec2::new(d.y, d.x)
    }

    /// How much the surface departs from its planes: the second derivative across both axes.
    pub fn twist(&self) -> f64 {
        self.twist
    }

    /// The plane that touches the surface over `point`.
    pub fn tangent(&self, point: &Vec2) -> Self {
        Self::plane(*point, self.at(point), self.gradient(point))
    }

    /// The same surface, written about another point of the plan.
    pub fn about(&self, at: Vec2) -> Self {
        Self { at, level: self.at(&at), slope: self.gradient(&at), twist: self.twist }
    }

    /// The surface turned upside down.
    pub fn negated(&self) -> Self {
        Self { at: self.at, level: -self.level, slope: -self.slope, twist: -self.twist }
    }

    /// The height of this surface above another.
    pub fn above(&self, other: &Self) -> Self {
        let other = other.about(self.at);
        Self {
            at: self.at,
            level: self.level - other.level,
            slope: self.slope - other.slope,
            twist: self.twist - other.twist,
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn cell_goes_through_its_corners() {
        let (low, size) = (Vec2::new(3.0, -2.0), Vec2::new(0.5, 2.0));
        let cell = Bilinear::cell(low, size, [1.0, 1.5, 0.25, 4.0]);
        for (corner, height) in
            [((0.0, 0.0), 1.0), ((1.0, 0.0), 1.5), ((0.0, 1.0), 0.25), ((1.0, 1.0), 4.0)]
        {
            let point = low + Vec2::new(corner.0 * size.x, corner.1 * size.y);
            assert!((cell.at(&point) - height).abs() < 1e-12);
        }
    }

    #[test]
    fn difference_and_move_keep_heights() {
        let a = Bilinear::cell(Vec2::zeros(), Vec2::new(1.0, 1.0), [0.0, 1.0, 2.0, 5.0]);
        let b = Bilinear::cell(Vec2::new(7.0, 3.0), Vec2::new(2.0, 1.0), [1.0, 0.0, 2.0, -1.0]);
        let point = Vec2::new(0.3, 0.8);
        assert!((a.above(&b).at(&point) - (a.at(&point) - b.at(&point))).abs() < 1e-12);
        assert!((a.about(Vec2::new(9.0, 9.0)).at(&point) - a.at(&point)).abs() < 1e-12);
    }
}
