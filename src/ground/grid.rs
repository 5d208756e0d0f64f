//! Heights on a regular grid, bilinear between them.

mod window;

use super::bounds::Bounds;
use super::domain::Domain;
use super::error::GroundError;
use super::nearest::Nearest;
use super::patch::{Foot, Patch};
use super::tree::{Quest, Tree};
use crate::math::range::{OutOfRange, coordinate, positive};
use crate::math::{Vec2, Vec3};
use serde::{Deserialize, Serialize};

/// A surface by heights on a regular grid, bilinear in each cell, known over the grid's rectangle only.
#[derive(Debug, Clone, Serialize, Deserialize)]
#[serde(try_from = "Given", into = "Given")]
pub struct Grid {
    origin: Vec2,
    spacing: Vec2,
    columns: usize,
    rows: usize,
    heights: Vec<f64>,
    domain: Domain,
    tree: Tree,
    bulge: f64,
}

#[derive(Clone, Serialize, Deserialize)]
struct Given {
    origin: Vec2,
    spacing: Vec2,
    columns: usize,
    rows: usize,
    heights: Vec<f64>,
}

impl Grid {
    /// The grid of `columns` along `x` by `rows` along `y`, its heights row after row from the origin; metres.
    pub fn new(
        origin: Vec2,
        spacing: Vec2,
        columns: usize,
        rows: usize,
        heights: Vec<f64>,
    ) -> Result<Self, GroundError> {
        check(origin, spacing, columns, rows, &heights)?;
        let grid = Self {
            origin,
            spacing,
            columns,
            rows,
            heights,
            domain: Domain::inside(&rectangle(origin, spacing, columns, rows)),
            tree: Tree::over(&[]),
            bulge: 0.0,
        };
        let boxes: Vec<Bounds> = (0..grid.cells()).map(|i| grid.patch(i).bounds()).collect();
        Ok(Self { tree: Tree::over(&boxes), bulge: grid.bulge(), ..grid })
    }

    /// The plan position of the first height.
    pub fn origin(&self) -> Vec2 {
        self.origin
    }

    /// The spacing along `x` and `y`.
    pub fn spacing(&self) -> Vec2 {
        self.spacing
    }

    /// How many heights stand along `x`.
    pub fn columns(&self) -> usize {
        self.columns
    }

    /// How many heights stand along `y`.
    pub fn rows(&self) -> usize {
        self.rows
    }

    /// The heights, row after row.
    pub fn heights(&self) -> &[f64] {
        &self.heights
    }

    /// The corner of the grid at a column and a row.
    pub fn corner(&self, column: usize, row: usize) -> Option<Vec3> {
        (column < self.columns && row < self.rows).then(|| self.point(column, row))
    }

    /// The box about the whole surface.
    pub fn bounds(&self) -> Bounds {
        self.tree.bounds()
    }

    /// The height over a plan position; `None` beside the grid.
    pub fn height(&self, x: f64, y: f64) -> Option<f64> {
        self.over(x, y).map(|(patch, at)| patch.point(at).z)
    }

    /// The unit normal over a plan position; `None` beside the grid.
    pub fn normal(&self, x: f64, y: f64) -> Option<Vec3> {
        self.over(x, y).map(|(patch, at)| patch.normal(at))
    }

    /// The nearest place to `c` that lies within a distance; exact to rounding.
    pub fn nearest(&self, c: Vec3, within: f64) -> Option<Nearest> {
        if let Some((patch, at)) = self.over(c.x, c.y)
            && c.z <= patch.point(at).z
        {
            return Nearest::below(c, patch.normal(at), within);
        }
        self.nearest_above(c, within)
    }

    pub(super) fn nearest_above(&self, c: Vec3, within: f64) -> Option<Nearest> {
        let found = self.nearest_in_window(c, within).unwrap_or_else(|| {
            let mut quest = Closest { grid: self, c, limit: within.next_up(), found: None };
            self.tree.search(&mut quest);
            quest
        });
        found.seen()
    }

    pub(super) fn domain(&self) -> &Domain {
        &self.domain
    }

    pub(super) fn tree(&self) -> &Tree {
        &self.tree
    }

    /// The cell at an index that counts row after row.
    pub(super) fn patch(&self, cell: usize) -> Patch {
        let (i, j) = (cell % (self.columns - 1), cell / (self.columns - 1));
        let at = j * self.columns + i;
        let z = &self.heights;
        let corners = [z[at], z[at + 1], z[at + self.columns], z[at + self.columns + 1]];
        Patch::new(self.plan(i, j), self.spacing, corners)
    }

    /// The edges around the grid.
    pub(super) fn rim(&self) -> Vec<[Vec3; 2]> {
        let (right, top) = (self.columns - 1, self.rows - 1);
        let along_x = (0..right).flat_map(|i| [[(i, 0), (i + 1, 0)], [(i, top), (i + 1, top)]]);
        let along_y = (0..top).flat_map(|j| [[(0, j), (0, j + 1)], [(right, j), (right, j + 1)]]);
        along_x.chain(along_y).map(|ends| ends.map(|(i, j)| self.point(i, j))).collect()
    }

    /// Each cell as two triangles.
    pub(super) fn halved_cells(&self) -> Vec<[Vec3; 3]> {
        let cell = |at: usize| {
            let (i, j) = (at % (self.columns - 1), at / (self.columns - 1));
            let [a, b] = [self.point(i, j), self.point(i + 1, j)];
            let [c, d] = [self.point(i, j + 1), self.point(i + 1, j + 1)];
            [[a, b, d], [a, d, c]]
        };
        (0..self.cells()).flat_map(cell).collect()
    }

    fn point(&self, column: usize, row: usize) -> Vec3 {
        let plan = self.plan(column, row);
        Vec3::new(plan.x, plan.y, self.heights[row * self.columns + column])
    }

    fn cells(&self) -> usize {
        (self.columns - 1) * (self.rows - 1)
    }

    fn plan(&self, column: usize, row: usize) -> Vec2 {
        self.origin + Vec2::new(column as f64 * self.spacing.x, row as f64 * self.spacing.y)
    }

    /// The cell over a plan position, and the position from the cell's low corner.
    fn over(&self, x: f64, y: f64) -> Option<(Patch, Vec2)> {
        self.over_index(x, y).map(|(cell, at)| (self.patch(cell), at))
    }

    /// The same by the cell's index.
    fn over_index(&self, x: f64, y: f64) -> Option<(usize, Vec2)> {
        if !self.domain.contains(x, y) {
            return None;
        }
        let from = (Vec2::new(x, y) - self.origin).component_div(&self.spacing);
        let (i, j) = (cell_of(from.x, self.columns), cell_of(from.y, self.rows));
        let low = self.plan(i, j);
        let at = Vec2::new(x - low.x, y - low.y).sup(&Vec2::zeros()).inf(&self.spacing);
        Some((j * (self.columns - 1) + i, at))
    }
}

impl PartialEq for Grid {
    fn eq(&self, other: &Self) -> bool {
        self.origin == other.origin
            && self.spacing == other.spacing
            && self.columns == other.columns
            && self.heights == other.heights
    }
}

impl TryFrom<Given> for Grid {
    type Error = GroundError;
    fn try_from(given: Given) -> Result<Self, GroundError> {
        Self::new(given.origin, given.spacing, given.columns, given.rows, given.heights)
    }
}

impl From<Grid> for Given {
    fn from(grid: Grid) -> Self {
        let Grid { origin, spacing, columns, rows, heights, .. } = grid;
        Self { origin, spacing, columns, rows, heights }
    }
}

fn check(
    origin: Vec2,
    spacing: Vec2,
    columns: usize,
    rows: usize,
    heights: &[f64],
) -> Result<(), GroundError> {
    coordinate("origin.x", origin.x)?;
    coordinate("origin.y", origin.y)?;
    coordinate("spacing.x", positive("spacing.x", spacing.x)?)?;
    coordinate("spacing.y", positive("spacing.y", spacing.y)?)?;
    for (field, count) in [("columns", columns), ("rows", rows)] {
        if count < 2 {
            return Err(OutOfRange::new(field, count as f64, "at least 2").into());
        }
    }
    let given = heights.len();
    if columns.checked_mul(rows) != Some(given) {
        return Err(GroundError::HeightCount { given, rows, columns });
    }
    match heights.iter().position(|z| !z.is_finite()) {
        Some(i) => Err(GroundError::HeightNotFinite {
            row: i / columns,
            column: i % columns,
            value: heights[i],
        }),
        None => Ok(heights.iter().try_for_each(|z| coordinate("heights", *z).map(drop))?),
    }
}

fn rectangle(origin: Vec2, spacing: Vec2, columns: usize, rows: usize) -> [Vec2; 4] {
    let size = Vec2::new((columns - 1) as f64 * spacing.x, (rows - 1) as f64 * spacing.y);
    [(0.0, 0.0), (1.0, 0.0), (1.0, 1.0), (0.0, 1.0)]
        .map(|(u, v)| origin + Vec2::new(u * size.x, v * size.y))
}

/// The cell that holds a position counted in cells.
fn cell_of(position: f64, corners: usize) -> usize {
    let last = corners - 2;
    #[expect(
        clippy::cast_possible_truncation,
        clippy::cast_sign_loss,
        reason = "clamped to the cells there are"
    )]
    let cell = position.clamp(0.0, last as f64) as usize;
    cell.min(last)
}

/// The cell nearest to a point.
struct Closest<'a> {
    grid: &'a Grid,
    c: Vec3,
    limit: f64,
    found: Option<(Patch, Foot)>,
}

impl Closest<'_> {
    fn seen(self) -> Option<Nearest> {
        self.found.map(|(patch, foot)| {
            let normal = patch.normal_at(&foot);
            Nearest::seen(self.c, foot.point, normal, patch.is_inside(&foot))
        })
    }
}

impl Quest for Closest<'_> {
    fn key(&self, bounds: &Bounds) -> f64 {
        (bounds.nearest(&self.c) - self.c).norm()
    }
    fn limit(&self) -> f64 {
        self.limit
    }
    fn visit(&mut self, piece: usize) {
        let patch = self.grid.patch(piece);
        let (point, normal) = patch.lid();
        if normal.dot(&(self.c - point)) >= self.limit {
            return;
        }
        let foot = patch.nearest(&self.c);
        let distance = (foot.point - self.c).norm();
        if distance < self.limit {
            self.limit = distance;
            self.found = Some((patch, foot));
        }
    }
}

#[cfg(test)]
mod tests;
