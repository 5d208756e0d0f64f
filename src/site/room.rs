//! Where on a site earth may lie.

use super::{Bounds, Site};
use crate::earth::Soil;
use crate::math::{Vec2, outline};
use serde::{Deserialize, Serialize};

/// Where earth may lie: within the allowed area, off the keep-outs, clear of the obstacles and of the edge that is left.
///
/// For earth of a free shape, which has to lie within the area as a whole; of a [`Landing`](crate::ground::Landing) only the
/// deck has to.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct Room {
    bounds: Bounds,
    edge: [Vec2; 2],
    soil: Soil,
}

impl Site {
    /// Where earth may lie on it, and which.
    pub fn room(&self) -> Room {
        let (bounds, soil) = (self.landing.clone(), self.soil.clone());
        Room { bounds, edge: self.takeoff.edge_ends().map(|end| end.xy()), soil }
    }
}

impl Room {
    /// The earth there is.
    pub const fn soil(&self) -> &Soil {
        &self.soil
    }

    /// Whether earth may lie all over an area in plan, given by its corners in order.
    pub fn takes(&self, shape: &[Vec2]) -> bool {
        let bounds = &self.bounds;
        let inside = bounds.area.is_empty() || within(&bounds.area, shape);
        let [from, to] = &self.edge;
        let off_edge = outline::sides(shape)
            .flat_map(|(a, b)| [(a, from, to), (b, from, to), (from, a, b), (to, a, b)])
            .map(|(at, a, b)| (outline::nearest_on(a, b, at) - at).norm())
            .fold(f64::INFINITY, f64::min);
        inside
            && off_edge >= bounds.edge_clearance
            && !outline::contains(shape, from)
            && !outline::sides(shape).any(|side| outline::touch(side, (from, to)))
            && bounds.keep_outs.iter().all(|out| !outline::overlap(&out.corners, shape))
            && bounds.obstacles.iter().all(|o| outline::distance(shape, &o.position) >= o.radius)
    }

    /// Whether earth may lie all over a disc in plan, its radius in metres.
    pub fn takes_disc(&self, middle: &Vec2, radius: f64) -> bool {
        let bounds = &self.bounds;
        let area = &bounds.area;
        let inside = area.is_empty()
            || (outline::contains(area, middle) && outline::from_sides(area, middle) >= radius);
        let [from, to] = &self.edge;
        let off_edge = (outline::nearest_on(from, to, middle) - middle).norm() - radius;
        inside
            && off_edge >= bounds.edge_clearance
            && bounds.keep_outs.iter().all(|o| outline::distance(&o.corners, middle) >= radius)
            && bounds.obstacles.iter().all(|o| (o.position - middle).norm() >= o.radius + radius)
    }
}

/// Whether an area lies in another as a whole.
fn within(area: &[Vec2], shape: &[Vec2]) -> bool {
    let Some(first) = shape.first() else { return true };
    let crosses = |(a, b)| outline::sides(area).any(|side| outline::touch(side, (a, b)));
    outline::contains(area, first) && !outline::sides(shape).any(crosses)
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::site::{Interval, KeepOut, Obstacle};

    fn square(x: f64, y: f64, size: f64) -> Vec<Vec2> {
        [(0.0, 0.0), (size, 0.0), (size, size), (0.0, size)]
            .map(|(dx, dy)| Vec2::new(x + dx, y + dy))
            .to_vec()
    }

    /// An area of 10 m each way, the edge along its low side, mud in one corner, an invented stump in another.
    fn room() -> Room {
        let any = Interval::new(0.1, 1.0);
        let stump = Obstacle { name: "stump".into(), position: Vec2::new(2.0, 8.0), radius: 0.5 };
        let bounds = Bounds {
            area: square(0.0, 0.0, 10.0),
            keep_outs: vec![KeepOut { name: None, corners: square(7.0, 7.0, 2.0) }],
            edge_clearance: 1.5,
            obstacles: vec![stump],
            slope: any,
            heading: any,
            length: any,
            width: any,
        };
        let edge = [Vec2::new(4.0, 0.0), Vec2::new(6.0, 0.0)];
        Room { bounds, edge, soil: Soil::loam() }
    }

    #[test]
    fn a_shape_keeps_to_all_bounds() {
        let takes = |x: f64, y: f64, size: f64| room().takes(&square(x, y, size));
        assert!(takes(4.0, 4.0, 1.0));
        assert!(!takes(9.5, 4.0, 1.0) && !takes(12.0, 4.0, 1.0), "outside the area");
        assert!(!takes(6.5, 6.5, 1.0) && !takes(7.5, 7.5, 0.5) && !takes(6.0, 6.0, 3.5), "mud");
        assert!(takes(6.0, 7.0, 0.99) && !takes(6.0, 7.0, 1.0), "beside the mud");
        assert!(!takes(4.5, 1.4, 1.0) && takes(4.5, 1.5, 1.0), "before the edge");
        assert!(!takes(3.9, -0.1, 2.2), "over the edge");
        assert!(takes(2.5, 7.5, 1.0) && !takes(2.49, 7.5, 1.0) && !takes(1.9, 7.9, 0.2), "stump");
    }

    #[test]
    fn a_disc_keeps_to_all_bounds() {
        let takes = |x: f64, y: f64, radius| room().takes_disc(&Vec2::new(x, y), radius);
        assert!(takes(1.0, 4.0, 1.0) && !takes(0.99, 4.0, 1.0) && !takes(-3.0, 4.0, 1.0));
        assert!(takes(6.0, 8.0, 1.0) && !takes(6.01, 8.0, 1.0) && !takes(8.0, 8.0, 0.1));
        assert!(takes(5.0, 2.5, 1.0) && !takes(5.0, 2.49, 1.0));
        assert!(takes(3.5, 8.0, 1.0) && !takes(3.49, 8.0, 1.0));
        let open = Room { bounds: Bounds { area: Vec::new(), ..room().bounds }, ..room() };
        assert!(open.takes_disc(&Vec2::new(-30.0, 4.0), 1.0));
        assert!(open.takes(&square(-30.0, 4.0, 1.0)));
    }
}
