//! The higher of several convex shapes, as facets that overlap nowhere.

use super::shape::{Facet, Part, Shape};
use crate::math::{Vec2, bilinear::Bilinear, polygon::Polygon};

/// Slivers of less area are rounding, square metres.
const SLIVER: f64 = 1e-11;

/// Two facets less apart in height are level, and the first of them stands; metres.
const LEVEL: f64 = 1e-12;

/// The surface that is the highest of the shapes, each of them convex and all down to one height.
pub(super) fn highest(shapes: &[Shape]) -> Shape {
    if let [shape] = shapes {
        return shape.clone();
    }
    let bodies: Vec<Vec<Sheet>> = shapes.iter().map(sheets).collect();
    let mut all = Shape { vertices: Vec::new(), facets: Vec::new() };
    for (number, body) in bodies.iter().enumerate() {
        for sheet in body {
            for part in sheet.seen(&bodies, number) {
                sheet.add(&mut all, &part);
            }
        }
    }
    all
}

/// A facet in plan.
struct Sheet {
    part: Part,
    outline: Polygon,
    plane: Bilinear,
}

fn sheets(shape: &Shape) -> Vec<Sheet> {
    let sheet = |facet: &Facet| Sheet {
        part: facet.part,
        outline: shape.outline(facet),
        plane: shape.plane(facet),
    };
    shape.facets.iter().map(sheet).collect()
}

impl Sheet {
    /// The parts of this facet, of the body of a number, that no other body covers.
    fn seen(&self, bodies: &[Vec<Self>], number: usize) -> Vec<Polygon> {
        let mut parts = vec![self.outline.clone()];
        for (other, body) in bodies.iter().enumerate().filter(|(other, _)| *other != number) {
            let floor = if other < number { LEVEL } else { -LEVEL };
            parts = parts.into_iter().flat_map(|part| self.above(part, body, floor)).collect();
        }
        parts.retain(|part| part.area() > SLIVER);
        parts
    }

    /// The parts of a piece of this facet that lie above a body: above one of its planes at least.
    ///
    /// Beside its rim its planes are lower than any facet, so that the rim needs no look. Cut by
    /// the plane that shows most of the piece first, so that few cuts are made.
    fn above(&self, piece: Polygon, body: &[Self], floor: f64) -> Vec<Polygon> {
        let mut depths: Vec<Bilinear> =
            body.iter().map(|sheet| self.plane.above(&sheet.plane)).collect();
        let (mut above, mut rest) = (Vec::new(), piece);
        while rest.area() > SLIVER {
            depths.retain(|depth| highest_over(&rest, depth) > floor);
            let least = |depth: &Bilinear| -highest_over(&rest, &depth.negated());
            let lows = depths.iter().map(least).enumerate();
            let Some((best, _)) = lows.max_by(|a, b| a.1.total_cmp(&b.1)) else { break };
            let depth = depths.swap_remove(best);
            above.push(rest.clipped(|p| depth.at(p) - floor));
            rest = rest.clipped(|p| floor - depth.at(p));
        }
        above.retain(|part| part.area() > SLIVER);
        above
    }

    fn add(&self, shape: &mut Shape, part: &Polygon) {
        let height = |corner: &Vec2| corner.push(self.plane.at(corner));
        let corners = part.corners().iter().map(|corner| shape.push(height(corner))).collect();
        shape.add(self.part, corners);
    }
}

fn highest_over(piece: &Polygon, depth: &Bilinear) -> f64 {
    piece.corners().iter().map(|p| depth.at(p)).fold(f64::NEG_INFINITY, f64::max)
}
