//! How long a moving ball is sure to be clear of a whole surface, seen from one moment of its path.

use super::bounds::Bounds;
use super::grid::Grid;
use super::mesh::Mesh;
use super::patch::Patch;
use super::plane::Plane;
use super::probe::{HAIR, Probe};
use super::tree::Quest;
use super::triangle;
use crate::math::Vec3;

/// A patch is quartered where its bend is above this share of the ball's, and no more often than that.
const TIGHT: f64 = 0.7;
const MOST_CUTS: usize = 5;

/// The result of looking at one or more surfaces from one moment.
#[derive(Debug)]
pub(super) struct Scan<'a> {
    probe: &'a Probe,
    /// How long the ball is sure to be clear of all that was looked at.
    pub(super) clear: f64,
    /// The least gap between ball and ground that was seen; infinite where all was passed over as far.
    pub(super) gap: f64,
}

impl<'a> Scan<'a> {
    pub(super) fn new(probe: &'a Probe) -> Self {
        Self { probe, clear: probe.span, gap: f64::INFINITY }
    }

    pub(super) fn plane(&mut self, plane: &Plane) {
        let above = plane.above(&self.probe.position);
        self.see(above, self.probe.clear(above, &plane.normal(), 0.0));
    }

    pub(super) fn mesh(&mut self, mesh: &Mesh) {
        if mesh.is_convex() {
            self.convex(mesh);
        } else {
            mesh.tree().search(&mut Facets { scan: self, mesh });
        }
    }

    pub(super) fn grid(&mut self, grid: &Grid) {
        grid.tree().search(&mut Cells { scan: self, grid });
    }

    /// A convex solid as a whole: the plane square to the nearest point's direction bounds it all.
    fn convex(&mut self, mesh: &Mesh) {
        let probe = self.probe;
        let far = probe.reach + (probe.speed + probe.reach_rate) * self.clear;
        if let Some(near) = mesh.nearest_above(probe.position, far) {
            self.see(near.distance, probe.clear(near.distance, &near.normal, 0.0));
        }
    }

    fn see(&mut self, distance: f64, clear: f64) {
        self.gap = self.gap.min(distance - self.probe.reach);
        self.clear = self.clear.min(clear);
    }

    /// How long the ball is clear of the plane through `point`, which nothing of a piece rises above.
    fn clear_of_lid(&self, point: &Vec3, normal: &Vec3) -> f64 {
        self.probe.clear(normal.dot(&(self.probe.position - point)), normal, 0.0)
    }
}

struct Facets<'s, 'a> {
    scan: &'s mut Scan<'a>,
    mesh: &'s Mesh,
}

impl Quest for Facets<'_, '_> {
    fn key(&self, bounds: &Bounds) -> f64 {
        self.scan.probe.clear_box(bounds, self.scan.clear)
    }
    fn limit(&self) -> f64 {
        self.scan.clear
    }
    fn visit(&mut self, piece: usize) {
        let probe = self.scan.probe;
        let (corners, normal) = self.mesh.facet(piece);
        // A triangle lies in its plane, so the plane bounds it from either side.
        let above = normal.dot(&(probe.position - corners[0]));
        let lid = self.scan.clear_of_lid(&corners[0], &(normal * 1f64.copysign(above)));
        // A bare point that rounding has put a hair under the triangle it touches seems to leave its plane.
        if lid >= self.scan.clear && above.abs() > probe.reach + HAIR {
            return;
        }
        let (point, _) = triangle::nearest(&corners, &probe.position);
        let away = probe.position - point;
        let distance = away.norm();
        let toward = away.try_normalize(0.0).unwrap_or(normal);
        self.scan.see(distance, lid.max(probe.clear(distance, &toward, 0.0)));
    }
}

struct Cells<'s, 'a> {
    scan: &'s mut Scan<'a>,
    grid: &'s Grid,
}

impl Quest for Cells<'_, '_> {
    fn key(&self, bounds: &Bounds) -> f64 {
        self.scan.probe.clear_box(bounds, self.scan.clear)
    }
    fn limit(&self) -> f64 {
        self.scan.clear
    }
    fn visit(&mut self, piece: usize) {
        let probe = self.scan.probe;
        let patch = self.grid.patch(piece);
        let (point, normal) = patch.lid();
        let lid = self.scan.clear_of_lid(&point, &normal);
        if lid >= self.scan.clear {
            return;
        }
        let (distance, clear) = clear_of(&patch, probe, MOST_CUTS);
        self.scan.see(distance, lid.max(clear));
    }
}

/// The distance to a patch, and how long the ball is sure to be clear of it.
///
/// A patch that may bend up nearly as tightly as the ball is round says little as a whole: its quarters say more, for
/// the nearest point is then on the edge of most.
fn clear_of(patch: &Patch, probe: &Probe, cuts: usize) -> (f64, f64) {
    let foot = patch.nearest(&probe.position);
    let away = probe.position - foot.point;
    let distance = away.norm();
    let toward = away.try_normalize(0.0).unwrap_or_else(|| patch.normal_at(&foot));
    let bend = patch.bend(&foot, &toward);
    if cuts == 0 || bend * distance < TIGHT {
        return (distance, probe.clear(distance, &toward, bend));
    }
    let clear = |quarter: &Patch| clear_of(quarter, probe, cuts - 1).1;
    (distance, patch.quarters().iter().map(clear).fold(probe.span, f64::min))
}
