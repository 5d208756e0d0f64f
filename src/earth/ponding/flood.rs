//! Priority-flood: how high water stands at each point of a net, and the way it leaves by.

use super::{Drain, Drainage, Pond, net::Net};
use crate::math::bilinear::Bilinear;
use crate::math::polygon::Polygon;
use crate::math::{Vec2, Vec3};
use std::cmp::Ordering;
use std::collections::BinaryHeap;

/// How high water stands at each point, and the next point on its way out.
#[derive(Debug)]
pub(super) struct Flood {
    level: Vec<f64>,
    out: Vec<Option<usize>>,
}

/// The points under one pond.
#[derive(Debug)]
pub(super) struct Wet {
    points: Vec<usize>,
    deepest: usize,
    level: f64,
}

/// A point that water has reached; the lowest goes first, of equal ones the one reached first.
#[derive(Debug, Clone, Copy, PartialEq)]
struct Reached {
    level: f64,
    order: usize,
    point: usize,
}

impl Eq for Reached {}

impl Ord for Reached {
    fn cmp(&self, other: &Self) -> Ordering {
        other.level.total_cmp(&self.level).then(other.order.cmp(&self.order))
    }
}

impl PartialOrd for Reached {
    fn partial_cmp(&self, other: &Self) -> Option<Ordering> {
        Some(self.cmp(other))
    }
}

impl Flood {
    /// Lets water rise from the border inwards, over the lowest way first (Barnes, Lehman and Mulla 2014).
    ///
    /// On triangles a lowest way never has to leave their edges, so the levels are exact.
    pub(super) fn over(net: &Net) -> Self {
        let count = net.points().len();
        let mut flood = Self { level: vec![f64::INFINITY; count], out: vec![None; count] };
        let mut heap = BinaryHeap::with_capacity(count);
        let mut order = 0;
        let mut reach = |heap: &mut BinaryHeap<Reached>, level, point| {
            heap.push(Reached { level, order, point });
            order += 1;
        };
        for &point in net.border() {
            flood.level[point] = net.points()[point].z;
            reach(&mut heap, flood.level[point], point);
        }
        while let Some(Reached { level, point, .. }) = heap.pop() {
            for &next in net.neighbours(point) {
                if flood.level[next] == f64::INFINITY {
                    flood.level[next] = net.points()[next].z.max(level);
                    flood.out[next] = Some(point);
                    reach(&mut heap, flood.level[next], next);
                }
            }
        }
        flood
    }

    /// Whether water stands at a point.
    pub(super) fn is_wet(&self, net: &Net, point: usize) -> bool {
        self.level[point] > net.points()[point].z
    }

    /// The points from one on, on the way that water leaves by.
    pub(super) fn way_out(&self, from: usize) -> impl Iterator<Item = usize> {
        std::iter::successors(Some(from), |point| self.out[*point])
    }

    /// The ponds that are at least so deep.
    pub(super) fn ponds(&self, net: &Net, shallowest: f64) -> Vec<Wet> {
        let mut seen = vec![false; net.points().len()];
        let mut ponds = Vec::new();
        for start in 0..net.points().len() {
            if seen[start] || !self.is_wet(net, start) {
                continue;
            }
            let wet = self.pond_about(net, start, &mut seen);
            if wet.level - net.points()[wet.deepest].z >= shallowest {
                ponds.push(wet);
            }
        }
        ponds
    }

    /// Wet neighbours stand at one level: either would else spill to the other.
    fn pond_about(&self, net: &Net, start: usize, seen: &mut [bool]) -> Wet {
        let (mut points, mut at) = (vec![start], 0);
        seen[start] = true;
        while let Some(&point) = points.get(at) {
            at += 1;
            for &next in net.neighbours(point) {
                if !seen[next] && self.is_wet(net, next) {
                    seen[next] = true;
                    points.push(next);
                }
            }
        }
        let height = |point: &usize| net.points()[*point].z;
        let lowest = points.iter().copied().min_by(|a, b| height(a).total_cmp(&height(b)));
        points.sort_unstable();
        Wet { points, deepest: lowest.unwrap_or(start), level: self.level[start] }
    }
}

impl Wet {
    pub(super) fn pond(&self, net: &Net, flood: &Flood, drainage: &Drainage) -> Pond {
        let deepest = net.points()[self.deepest];
        let under = |point: &usize| self.points.binary_search(point).is_ok();
        let (mut volume, mut area) = (0.0, 0.0);
        for triangle in net.triangles().iter().filter(|corners| corners.iter().any(under)) {
            let (water, surface) = self.over(triangle.map(|point| net.points()[point]));
            volume += water;
            area += surface;
        }
        let spill = flood.way_out(self.deepest).find(|point| !under(point));
        Pond {
            level: self.level,
            depth: self.level - deepest.z,
            volume,
            area,
            deepest,
            spill: spill.map_or(deepest, |point| net.points()[point]),
            drain: Drain::from(self.deepest, net, flood, drainage),
        }
    }

    /// The water over a triangle, and its surface. No corner of it lies below the level but those under the pond.
    fn over(&self, corners: [Vec3; 3]) -> (f64, f64) {
        let [a, b, c] = corners;
        let normal = (b - a).cross(&(c - a));
        if normal.z == 0.0 {
            return (0.0, 0.0);
        }
        let rise = Vec2::new(normal.x, normal.y) / normal.z;
        let depth = Bilinear::plane(a.xy(), self.level - a.z, rise);
        let wet = Polygon::new(corners.iter().map(Vec3::xy).collect()).clipped(|p| depth.at(p));
        (wet.integral(&depth).max(0.0), wet.area())
    }
}
