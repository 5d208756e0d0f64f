//! The ground in small cells of the plan: how high it comes over each, and how steep it is there, seen from a plane.

use super::grid::Grid;
use super::mesh::Mesh;
use super::plane::Plane;
use super::roof::Block;
use super::surface::Surface;
use crate::math::Vec3;

/// Cells along the longer side of a ground that has none of its own.
const MOST_CELLS: f64 = 256.0;
/// A facet steeper than this counts as so steep either way.
const UPRIGHT: f64 = 1e3;

/// Cells with what is known of the ground over each, row after row.
#[derive(Debug, Clone)]
pub(super) struct Raster {
    pub(super) origin: [f64; 2],
    pub(super) size: [f64; 2],
    pub(super) columns: usize,
    pub(super) blocks: Vec<Block>,
}

impl Raster {
    /// The cells of a grid.
    pub(super) fn of_grid(grid: &Grid, plane: &Plane) -> Self {
        let (columns, spacing, over) = (grid.columns(), grid.spacing(), over(grid, plane));
        let per_metre = [spacing.x.recip(), spacing.y.recip()];
        let range = |a: f64, b: f64, axis: usize| [a.min(b), a.max(b)].map(|z| z * per_metre[axis]);
        let mut blocks = Vec::with_capacity(over.len());
        for (near, beyond) in over.chunks(columns).zip(over[columns..].chunks(columns)) {
            for (near, beyond) in near.windows(2).zip(beyond.windows(2)) {
                let ([low, right], [up, far]) = ([near[0], near[1]], [beyond[0], beyond[1]]);
                blocks.push(Block::new(
                    low.max(right).max(up.max(far)),
                    range(right - low, far - up, 0),
                    range(up - low, far - right, 1),
                ));
            }
        }
        let origin = [grid.origin().x, grid.origin().y];
        Self { origin, size: [spacing.x, spacing.y], columns: columns - 1, blocks }
    }

    /// The cells of the highest of some surfaces: of a grid or a survey, and the landings on it.
    pub(super) fn of(surfaces: &[Surface], plane: &Plane) -> Option<Self> {
        let own = surfaces.iter().find_map(|surface| match surface {
            Surface::Grid(grid) => Some(Self::of_grid(grid, plane)),
            _ => None,
        });
        let base = || surfaces.iter().find(|one| matches!(one, Surface::Survey(_)));
        let mut raster = own.or_else(|| Self::empty(base()?))?;
        for surface in surfaces {
            match surface {
                Surface::Survey(survey) => raster.add(survey.mesh(), plane),
                Surface::Landing { mesh, .. } => raster.add(mesh, plane),
                Surface::Grid(_) => {}
                Surface::Plane(_) => return None,
            }
        }
        Some(raster)
    }

    fn empty(surface: &Surface) -> Option<Self> {
        let bounds = surface.bounds()?;
        let extent = bounds.high - bounds.low;
        let width = extent.x.max(extent.y) / MOST_CELLS;
        let counts = [extent.x, extent.y].map(|along| whole(along / width) + 1);
        let [columns, rows] = counts;
        let blocks = vec![Block::NOTHING; columns * rows];
        Some(Self { origin: [bounds.low.x, bounds.low.y], size: [width; 2], columns, blocks })
    }

    fn add(&mut self, mesh: &Mesh, plane: &Plane) {
        let level = |c: Vec3| Vec3::new(c.x, c.y, c.z - plane.height(c.x, c.y));
        for facet in 0..mesh.triangles().len() {
            let (corners, normal) = mesh.facet(facet);
            let slope = [0, 1].map(|i| plane.normal()[i] / plane.normal().z - normal[i] / normal.z);
            self.add_facet(&corners.map(level), slope);
        }
    }

    /// Joins a facet with these slopes into every cell that the box about it reaches into.
    fn add_facet(&mut self, corners: &[Vec3; 3], slope: [f64; 2]) {
        let [a, b, c] = corners;
        let (low, high) = (a.inf(b).inf(c), a.sup(b).sup(c));
        let flat = slope.iter().all(|slope| slope.abs() < UPRIGHT);
        let range = |i: usize| if flat { [slope[i]; 2] } else { [-UPRIGHT, UPRIGHT] };
        let [columns, rows] = [self.columns, self.blocks.len() / self.columns];
        let [from, to] =
            [low, high].map(|at| [0, 1].map(|i| (at[i] - self.origin[i]) / self.size[i]));
        for j in whole(from[1])..(whole(to[1]) + 1).min(rows) {
            for i in whole(from[0])..(whole(to[0]) + 1).min(columns) {
                // The plane of the facet over the cell's farthest corner uphill.
                let corner = [i, j].map(|at| at as f64);
                let rise = |k: usize| {
                    let near = self.origin[k] + corner[k] * self.size[k] - a[k];
                    (slope[k] * near).max(slope[k] * (near + self.size[k]))
                };
                let top = if flat { high.z.min(a.z + rise(0) + rise(1)) } else { high.z };
                let block = Block::new(top, range(0), range(1));
                let at = &mut self.blocks[j * columns + i];
                *at = at.with(&block);
            }
        }
    }
}

/// How high a grid's corners are over a plane.
fn over(grid: &Grid, plane: &Plane) -> Vec<f64> {
    let ([x0, y0], spacing) = ([grid.origin().x, grid.origin().y], grid.spacing());
    // A plane's height is a part along `x` and one along `y`.
    let along = |i: usize| plane.height(x0 + spacing.x * i as f64, y0);
    let along_x: Vec<f64> = (0..grid.columns()).map(along).collect();
    let mut over = Vec::with_capacity(grid.heights().len());
    for (j, row) in grid.heights().chunks(grid.columns()).enumerate() {
        let rise = plane.height(x0, y0 + spacing.y * j as f64) - plane.height(x0, y0);
        over.extend(row.iter().zip(&along_x).map(|(z, under)| z - under - rise));
    }
    over
}

pub(super) fn whole(x: f64) -> usize {
    #[expect(
        clippy::cast_possible_truncation,
        clippy::cast_sign_loss,
        reason = "a cast saturates, and what is below zero counts as the first"
    )]
    let whole = x as usize;
    whole
}
