//! How deep the earth between two grounds is, and how steep it stands.

use super::overlay::parts_over;
use super::split::{Signed, by_sign};
use super::volume::{VolumeError, overlaid};
use crate::ground::Ground;
use crate::math::polygon::Polygon;
use serde::{Deserialize, Serialize};

/// The depths and slopes of the earth between a ground before and one after.
#[derive(Debug, Clone, Copy, PartialEq, Default, Serialize, Deserialize)]
pub struct Shape {
    /// The deepest fill, straight down, metres.
    pub deepest_fill: f64,
    /// The deepest cut, metres.
    pub deepest_cut: f64,
    /// The steepest face where earth was filled on, radians from level.
    pub steepest_fill: f64,
    /// The steepest face where earth was cut away, radians from level.
    pub steepest_cut: f64,
}

/// Less earth than this on top is no face of its own, metres.
const SKIN: f64 = 1e-3;

/// The depths and slopes of the earth between two grounds.
///
/// Depths are exact for planes, triangles and facets; over the twisted cells of a grid they are taken at the corners
/// of what is left of a cell, slopes in its middle.
pub fn shape(before: &Ground, after: &Ground) -> Result<Shape, VolumeError> {
    let mut shape = Shape::default();
    if let Some((region, layers)) = overlaid(before, after)? {
        parts_over(&region, &layers, &mut |part, depth| {
            let Signed { above, below } = by_sign(part.clone(), depth);
            for part in above.iter().chain(&below) {
                shape.look(part, before, after);
            }
        });
    }
    Ok(shape)
}

impl Shape {
    fn look(&mut self, part: &Polygon, before: &Ground, after: &Ground) {
        let depth = |x: f64, y: f64| Some(after.height(x, y)? - before.height(x, y)?);
        for corner in part.corners() {
            let Some(depth) = depth(corner.x, corner.y) else { continue };
            self.deepest_fill = self.deepest_fill.max(depth);
            self.deepest_cut = self.deepest_cut.max(-depth);
        }
        let middle = part.middle();
        let here = depth(middle.x, middle.y).zip(after.normal(middle.x, middle.y));
        let Some((depth, normal)) = here else { return };
        let slope = normal.xy().norm().atan2(normal.z);
        if depth > SKIN {
            self.steepest_fill = self.steepest_fill.max(slope);
        } else if depth < -SKIN {
            self.steepest_cut = self.steepest_cut.max(slope);
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::ground::Landing;
    use crate::math::{Vec2, Vec3};

    #[test]
    fn a_landing_is_deepest_at_its_crest_and_steepest_at_its_batter() {
        let level = Ground::plane(Vec3::zeros(), 0.0, 0.0).expect("a plane");
        let landing = Landing::new(Vec2::new(1.0, 2.0), 0.4, 0.35, 4.0, 3.0)
            .and_then(|l| l.with_crest_radius(0.0)?.with_batter(0.6))
            .expect("a landing");
        let shape = shape(&level, &level.with_landing(&landing).expect("built")).expect("a shape");
        assert!((shape.deepest_fill - 4.0 * 0.35_f64.tan()).abs() < 1e-9, "{shape:?}");
        assert!(shape.deepest_cut.abs() < 1e-12);
        assert!((shape.steepest_fill - 0.6).abs() < 2e-3, "facets of a cone come near it");
    }

    #[test]
    fn fill_and_cut_are_kept_apart() {
        let before = Ground::plane(Vec3::zeros(), 0.0, 0.0).expect("a plane");
        let points = [[0.0, 0.0, -0.5], [4.0, 0.0, -0.5], [4.0, 2.0, 1.5], [0.0, 2.0, 1.5]];
        let after = Ground::survey(&points.map(Vec3::from)).expect("a survey");
        let shape = shape(&before, &after).expect("a shape");
        assert!((shape.deepest_fill - 1.5).abs() < 1e-12);
        assert!((shape.deepest_cut - 0.5).abs() < 1e-12);
        let slope = std::f64::consts::FRAC_PI_4;
        assert!((shape.steepest_fill - slope).abs() < 1e-12);
        assert!((shape.steepest_cut - slope).abs() < 1e-12);
        assert_eq!(super::shape(&after, &after), Ok(Shape::default()));
    }
}
