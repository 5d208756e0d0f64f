//! One surface of a ground: each kind answers the same questions.

use super::bounds::Bounds;
use super::domain::Domain;
use super::grid::Grid;
use super::landing::Landing;
use super::mesh::Mesh;
use super::nearest::Nearest;
use super::plane::Plane;
use super::scan::Scan;
use super::survey::Survey;
use crate::math::Vec3;
use serde::{Deserialize, Serialize};
use std::sync::Arc;

/// One surface: what a ground is the highest of.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[non_exhaustive]
pub enum Surface {
    /// A plane without end.
    Plane(Plane),
    /// Heights on a grid.
    Grid(Arc<Grid>),
    /// Surveyed points.
    Survey(Arc<Survey>),
    /// The earth of a landing, down to under the ground it stands on.
    Landing {
        /// The landing as asked for.
        landing: Landing,
        /// Its facets.
        mesh: Arc<Mesh>,
    },
}

impl Surface {
    /// The height over a plan position; `None` where the surface is not known.
    pub fn height(&self, x: f64, y: f64) -> Option<f64> {
        match self {
            Self::Plane(plane) => Some(plane.height(x, y)),
            Self::Grid(grid) => grid.height(x, y),
            Self::Survey(survey) => survey.mesh().height(x, y),
            Self::Landing { mesh, .. } => mesh.height(x, y),
        }
    }

    /// The unit normal over a plan position; `None` where the surface is not known.
    pub fn normal(&self, x: f64, y: f64) -> Option<Vec3> {
        match self {
            Self::Plane(plane) => Some(plane.normal()),
            Self::Grid(grid) => grid.normal(x, y),
            Self::Survey(survey) => survey.mesh().normal(x, y),
            Self::Landing { mesh, .. } => mesh.normal(x, y),
        }
    }

    /// The box about the whole surface; `None` for one without end.
    pub fn bounds(&self) -> Option<Bounds> {
        match self {
            Self::Plane(_) => None,
            Self::Grid(grid) => Some(grid.bounds()),
            Self::Survey(survey) => Some(survey.mesh().bounds()),
            Self::Landing { mesh, .. } => Some(mesh.bounds()),
        }
    }

    /// The nearest place to `c` within a distance; distance 0 below the surface.
    pub(super) fn nearest(&self, c: Vec3, within: f64) -> Option<Nearest> {
        match self {
            Self::Plane(plane) => plane.nearest(c, within),
            Self::Grid(grid) => grid.nearest(c, within),
            Self::Survey(survey) => survey.mesh().nearest(c, within),
            Self::Landing { mesh, .. } => mesh.nearest(c, within),
        }
    }

    /// How far the surface itself is from `c`, negative where `c` lies below it.
    pub(super) fn signed_distance(&self, c: Vec3) -> f64 {
        let below = self.height(c.x, c.y).is_some_and(|z| c.z < z);
        let away = match self {
            Self::Plane(plane) => return plane.above(&c),
            Self::Grid(grid) => grid.nearest_above(c, f64::INFINITY),
            Self::Survey(survey) => survey.mesh().nearest_above(c, f64::INFINITY),
            Self::Landing { mesh, .. } => mesh.nearest_above(c, f64::INFINITY),
        };
        let distance = away.map_or(f64::INFINITY, |near| near.distance);
        if below { -distance } else { distance }
    }

    /// Adds the surface to what was looked at from a moment of a path.
    pub(super) fn scan(&self, scan: &mut Scan) {
        match self {
            Self::Plane(plane) => scan.plane(plane),
            Self::Grid(grid) => scan.grid(grid),
            Self::Survey(survey) => scan.mesh(survey.mesh()),
            Self::Landing { mesh, .. } => scan.mesh(mesh),
        }
    }

    /// Metres from `c` to the boxes about the pieces: never more than to the surface.
    pub(super) fn clearance(&self, c: &Vec3) -> f64 {
        match self {
            Self::Plane(plane) => plane.above(c).max(0.0),
            Self::Grid(grid) => grid.tree().distance(c),
            Self::Survey(survey) => survey.mesh().tree().distance(c),
            Self::Landing { mesh, .. } => mesh.tree().distance(c),
        }
    }

    /// Where the surface is known, as far as it says so.
    pub(super) fn domain(&self) -> Known<'_> {
        match self {
            Self::Plane(_) => Known::Everywhere,
            Self::Grid(grid) => Known::Within(grid.domain()),
            Self::Survey(survey) => Known::Within(survey.domain()),
            Self::Landing { .. } => Known::Nowhere,
        }
    }

    /// The outer edges of a surface that ends.
    pub(super) fn rim(&self) -> Vec<[Vec3; 2]> {
        match self {
            Self::Plane(_) | Self::Landing { .. } => Vec::new(),
            Self::Grid(grid) => grid.rim(),
            Self::Survey(survey) => survey.rim(),
        }
    }

    /// The triangles of the surface, grid cells halved; `None` for one without end.
    pub(super) fn triangles(&self) -> Option<Vec<[Vec3; 3]>> {
        let all =
            |mesh: &Mesh| (0..mesh.triangles().len()).filter_map(|i| mesh.corners(i)).collect();
        match self {
            Self::Plane(_) => None,
            Self::Grid(grid) => Some(grid.halved_cells()),
            Self::Survey(survey) => Some(all(survey.mesh())),
            Self::Landing { mesh, .. } => Some(all(mesh)),
        }
    }
}

/// Where a surface is known.
#[derive(Debug, Clone, Copy)]
pub(super) enum Known<'a> {
    Everywhere,
    /// Only where the ground under it is.
    Nowhere,
    Within(&'a Domain),
}
