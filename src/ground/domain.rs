//! The part of the plan in which a surface is known.

use super::probe::Probe;
use crate::math::{Vec2, Vec3};

/// A position this little outside still counts as known, so that a path along the very edge does not end; metres.
const SLACK: f64 = 1e-9;

/// A convex part of the plan, by the lines around it.
#[derive(Debug, Clone, PartialEq)]
pub(super) struct Domain {
    edges: Vec<Edge>,
}

#[derive(Debug, Clone, Copy, PartialEq)]
struct Edge {
    point: Vec2,
    inward: Vec3,
}

impl Domain {
    /// The inside of a convex polygon, its corners counter-clockwise.
    pub(super) fn inside(corners: &[Vec2]) -> Self {
        let next = corners.iter().cycle().skip(1);
        let edges = corners
            .iter()
            .zip(next)
            .filter_map(|(a, b)| {
                let along = (b - a).try_normalize(0.0)?;
                Some(Edge { point: *a, inward: Vec3::new(-along.y, along.x, 0.0) })
            })
            .collect();
        Self { edges }
    }

    /// Whether a position is known, the border included.
    pub(super) fn contains(&self, x: f64, y: f64) -> bool {
        self.edges.iter().all(|edge| edge.gap(x, y) >= 0.0)
    }

    /// How far inside a position is; negative outside.
    pub(super) fn depth(&self, x: f64, y: f64) -> f64 {
        self.edges.iter().map(|edge| edge.gap(x, y)).fold(f64::INFINITY, f64::min)
    }

    /// How long the ball's centre is sure to stay over the domain; 0 where it is not.
    pub(super) fn stays(&self, probe: &Probe) -> f64 {
        let c = probe.position;
        let time = |edge: &Edge| probe.stays(edge.gap(c.x, c.y), &edge.inward);
        self.edges.iter().map(time).fold(probe.span, f64::min)
    }
}

impl Edge {
    fn gap(&self, x: f64, y: f64) -> f64 {
        self.inward.x * (x - self.point.x) + self.inward.y * (y - self.point.y) + SLACK
    }
}
