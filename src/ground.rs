//! The ground that is flown onto: its shape, how far a point is from it, and the first touch.

mod bounds;
mod domain;
mod error;
mod fall;
mod grid;
pub mod landing;
mod mesh;
mod nearest;
mod patch;
mod pieces;
mod plane;
mod probe;
mod raster;
mod reach;
mod roof;
mod scan;
mod skirt;
mod surface;
mod survey;
mod touch;
mod tree;
mod triangle;

pub use bounds::Bounds;
pub use error::{GroundError, MeshError};
pub use grid::Grid;
pub use landing::{BuiltLanding, Landing, LandingError, Place};
pub use mesh::Mesh;
pub use nearest::Nearest;
pub use pieces::Piece;
pub use plane::Plane;
pub use reach::Reach;
pub use roof::{Block, LEVELS, Roof};
pub use surface::Surface;
pub use survey::Survey;
pub use touch::{End, Search, Touch};

use crate::math::{Vec2, Vec3};
use probe::Probe;
use scan::Scan;
use serde::{Deserialize, Serialize};
use std::sync::Arc;
use surface::Known;

/// The ground: the highest of one or more surfaces. Cheap to clone.
///
/// The solid is what lies under a surface. A ground is known where any of its surfaces is; nothing is extrapolated.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[serde(from = "Vec<Surface>", into = "Vec<Surface>")]
pub struct Ground {
    surfaces: Arc<[Surface]>,
    /// The sides under the outer edges, where there is another surface to come from.
    skirt: Option<Arc<Mesh>>,
}

impl Ground {
    /// A plane through `point` whose `slope` is positive downhill along `heading`; metres and radians.
    pub fn plane(point: Vec3, slope: f64, heading: f64) -> Result<Self, GroundError> {
        Ok(Self::of(vec![Surface::Plane(Plane::new(point, slope, heading)?)]))
    }

    /// Heights on a regular grid of `columns` along `x` by `rows` along `y`, row after row; bilinear between them.
    pub fn grid(
        origin: Vec2,
        spacing: Vec2,
        columns: usize,
        rows: usize,
        heights: Vec<f64>,
    ) -> Result<Self, GroundError> {
        let grid = Grid::new(origin, spacing, columns, rows, heights)?;
        Ok(Self::of(vec![Surface::Grid(Arc::new(grid))]))
    }

    /// Surveyed points with flat triangles between neighbours (Delaunay in plan), known within their convex hull.
    pub fn survey(points: &[Vec3]) -> Result<Self, GroundError> {
        Ok(Self::of(vec![Surface::Survey(Arc::new(Survey::new(points)?))]))
    }

    /// The higher of this ground and another: where only one is known, that one.
    pub fn higher(&self, other: &Self) -> Self {
        Self::of(self.surfaces.iter().chain(other.surfaces.iter()).cloned().collect())
    }

    /// The surfaces of which the ground is the highest.
    pub fn surfaces(&self) -> &[Surface] {
        &self.surfaces
    }

    /// The landing that stands on the ground, the last where there are several.
    pub fn landing(&self) -> Option<&Landing> {
        self.surfaces.iter().rev().find_map(|surface| match surface {
            Surface::Landing { landing, .. } => Some(landing),
            _ => None,
        })
    }

    /// The landings that stand on the ground, in the order built.
    pub fn landings(&self) -> impl Iterator<Item = &Landing> {
        self.surfaces.iter().filter_map(|surface| match surface {
            Surface::Landing { landing, .. } => Some(landing),
            _ => None,
        })
    }

    /// The height over a plan position; `None` where the ground is not known.
    pub fn height(&self, x: f64, y: f64) -> Option<f64> {
        self.top(x, y).map(|(height, _)| height)
    }

    /// The unit normal of the highest surface over a plan position; `None` where the ground is not known.
    pub fn normal(&self, x: f64, y: f64) -> Option<Vec3> {
        self.top(x, y).and_then(|(_, surface)| surface.normal(x, y))
    }

    /// Whether the ground is known at a plan position, borders included.
    pub fn contains(&self, x: f64, y: f64) -> bool {
        (x + y).is_finite()
            && self.surfaces.iter().any(|surface| match surface.domain() {
                Known::Everywhere => true,
                Known::Nowhere => false,
                Known::Within(domain) => domain.contains(x, y),
            })
    }

    /// How far inside the part of the plan where the ground is known a position is; negative outside, infinite without end.
    pub(crate) fn depth(&self, x: f64, y: f64) -> f64 {
        let depth = |surface: &Surface| match surface.domain() {
            Known::Everywhere => f64::INFINITY,
            Known::Nowhere => f64::NEG_INFINITY,
            Known::Within(domain) => domain.depth(x, y),
        };
        self.surfaces.iter().map(depth).fold(f64::NEG_INFINITY, f64::max)
    }

    /// The box about the ground; `None` where one of its surfaces has no end.
    pub fn bounds(&self) -> Option<Bounds> {
        self.surfaces
            .iter()
            .map(Surface::bounds)
            .try_fold(Bounds::nothing(), |all, one| Some(all.with(&one?)))
    }

    /// The nearest place to `c` within a distance; `None` where all is farther, or `c` is not finite.
    ///
    /// Exact to rounding: triangles in closed form, bilinear cells by their stationary points. A point below any of
    /// the surfaces has distance 0.
    pub fn nearest(&self, c: Vec3, within: f64) -> Option<Nearest> {
        if !c.iter().all(|x| x.is_finite()) {
            return None;
        }
        let mut best: Option<Nearest> = None;
        let skirt = |limit| self.skirt.as_ref().and_then(|skirt| skirt.nearest_above(c, limit));
        for surface in self.surfaces.iter().map(Some).chain([None]) {
            let limit = best.map_or(within, |near| near.distance);
            let found = surface.map_or_else(|| skirt(limit), |one| one.nearest(c, limit));
            best = match (best, found) {
                (Some(a), Some(b)) => Some(if b.distance < a.distance { b } else { a }),
                (a, b) => a.or(b),
            };
        }
        best
    }

    /// A lower bound on the distance from `c` to the ground, cheaper than the distance: by boxes about its pieces.
    pub fn clearance(&self, c: Vec3) -> f64 {
        let skirt = self.skirt.iter().map(|skirt| skirt.tree().distance(&c));
        self.surfaces.iter().map(|one| one.clearance(&c)).chain(skirt).fold(f64::INFINITY, f64::min)
    }

    /// The height over a plan position of the ground dilated by `h` metres: where a ball of that radius, let down
    /// from above, comes to rest with its centre.
    ///
    /// Exact to 1e-11 m. `None` where the ground is not known, or `h` is negative or not finite.
    pub fn dilated_height(&self, x: f64, y: f64, h: f64) -> Option<f64> {
        if !(h >= 0.0 && h.is_finite() && self.contains(x, y)) {
            return None;
        }
        self.surfaces
            .iter()
            .filter_map(|surface| fall::dilated_height(surface, x, y, h))
            .max_by(f64::total_cmp)
    }

    /// The triangles of all surfaces, each grid cell as two; `None` where one has no end.
    ///
    /// They are those of each surface, hidden parts too. Halving a bilinear cell moves it by up to a quarter of its
    /// twist's rise: for exact volumes take the cells from [`Self::surfaces`].
    pub fn triangles(&self) -> Option<Vec<[Vec3; 3]>> {
        let each: Option<Vec<_>> = self.surfaces.iter().map(Surface::triangles).collect();
        each.map(|each| each.concat())
    }

    /// How long a moving ball is sure to be clear of the whole ground.
    fn scan<'a>(&self, probe: &'a Probe) -> Scan<'a> {
        let mut scan = Scan::new(probe);
        for surface in self.surfaces.iter() {
            surface.scan(&mut scan);
        }
        if let Some(skirt) = &self.skirt {
            scan.mesh(skirt);
        }
        scan
    }

    /// How long a moving point is sure to stay where the ground is known.
    fn stays_known(&self, probe: &Probe) -> f64 {
        let time = |surface: &Surface| match surface.domain() {
            Known::Everywhere => probe.span,
            Known::Nowhere => 0.0,
            Known::Within(domain) => domain.stays(probe),
        };
        self.surfaces.iter().map(time).fold(0.0, f64::max)
    }

    /// The least distance to a surface, negative where `c` lies below it.
    fn signed_distance(&self, c: Vec3) -> f64 {
        let skirt = self.skirt.iter().filter_map(|skirt| skirt.nearest_above(c, f64::INFINITY));
        let sides = skirt.map(|near| near.distance);
        self.surfaces
            .iter()
            .map(|s| s.signed_distance(c))
            .chain(sides)
            .fold(f64::INFINITY, f64::min)
    }

    fn of(surfaces: Vec<Surface>) -> Self {
        let skirt = skirt::around(&surfaces).map(Arc::new);
        Self { surfaces: surfaces.into(), skirt }
    }

    fn top(&self, x: f64, y: f64) -> Option<(f64, &Surface)> {
        // A landing's earth runs on in the ground, perhaps past where that is known.
        if self.surfaces.len() > 1 && !self.contains(x, y) {
            return None;
        }
        self.surfaces
            .iter()
            .filter_map(|surface| surface.height(x, y).map(|height| (height, surface)))
            .max_by(|a, b| a.0.total_cmp(&b.0))
    }
}

impl From<Vec<Surface>> for Ground {
    fn from(surfaces: Vec<Surface>) -> Self {
        Self::of(surfaces)
    }
}

impl From<Ground> for Vec<Surface> {
    fn from(ground: Ground) -> Self {
        ground.surfaces.to_vec()
    }
}

#[cfg(test)]
mod tests;
