//! The grid of heights about the touchdowns.

use super::error::FreeLandingError;
use super::options::FreeOptions;
use crate::ground::Ground;
use crate::math::Vec2;
use crate::math::count::whole;
use crate::site::Room;
use serde::{Deserialize, Serialize};

/// The most nodes of the grid.
const MOST: usize = 40_000;
/// The most nodes that may be raised: beyond, a step takes minutes.
const MOST_FREE: usize = 4_000;
/// Where no earth lies, the patch stays this far below the ground, metres.
const SUNK: f64 = 0.3;

/// Nodes on a grid over the present ground, and which of them may be raised.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub(super) struct Patch {
    origin: Vec2,
    spacing: f64,
    columns: usize,
    rows: usize,
    bare: Vec<f64>,
    /// The place of each node among the unknowns.
    unknown: Vec<Option<usize>>,
}

/// Whole steps of the grid: columns and rows from one node to another.
type Steps = (i64, i64);

impl Patch {
    /// Over known ground around touchdowns, earth only where there is room for it.
    pub(super) fn around(
        marks: &[Vec2],
        ground: &Ground,
        room: Option<&Room>,
        options: &FreeOptions,
    ) -> Result<Self, FreeLandingError> {
        let (spacing, margin) = (options.spacing(), options.margin());
        let far = Vec2::repeat(f64::INFINITY);
        let low = marks.iter().fold(far, |low, mark| low.inf(mark));
        let high = marks.iter().fold(-far, |high, mark| high.sup(mark));
        // On whole multiples of the spacing, and a ring more that stays bare.
        let border = Vec2::repeat(margin + spacing);
        let first = ((low - border) / spacing).map(f64::floor);
        let count = ((high + border) / spacing).map(f64::ceil) - first + Vec2::repeat(1.0);
        let nodes = count.x * count.y;
        if nodes.is_nan() || nodes > MOST as f64 {
            return Err(FreeLandingError::TooFine { spacing, nodes, most: MOST });
        }
        let size = (whole(count.x), whole(count.y));
        let height = |node: usize| {
            let steps = Vec2::new((node % size.0) as f64, (node / size.0) as f64);
            let at = (first + steps) * spacing;
            ground.height(at.x, at.y)
        };
        let all = (0..size.0 * size.1).map(height).collect();
        let mut frame = Frame { all, stride: size.0, first: (0, 0), size };
        frame.trim();
        let origin = (first + Vec2::new(frame.first.0 as f64, frame.first.1 as f64)) * spacing;
        let bare = frame.heights().ok_or(FreeLandingError::NoRoom { spacing })?;
        let (columns, rows) = frame.size;
        let mut patch = Self { origin, spacing, columns, rows, bare, unknown: Vec::new() };
        patch.number(marks, margin, room)?;
        Ok(patch)
    }

    /// Numbers the nodes that may be raised: those near a touchdown, off the border, with room for the earth around them.
    fn number(
        &mut self,
        marks: &[Vec2],
        margin: f64,
        room: Option<&Room>,
    ) -> Result<(), FreeLandingError> {
        let near = |node: usize| {
            let (i, j) = (node % self.columns, node / self.columns);
            let inside = i > 0 && j > 0 && i + 1 < self.columns && j + 1 < self.rows;
            let at = self.place(node);
            inside && marks.iter().any(|mark| (mark - at).norm() <= margin)
        };
        let near: Vec<bool> = (0..self.bare.len()).map(near).collect();
        if !near.contains(&true) {
            return Err(FreeLandingError::NoRoom { spacing: self.spacing });
        }
        let mut count = 0;
        let unknown = near.iter().enumerate().map(|(node, near)| {
            let free = *near && room.is_none_or(|room| room.takes(&self.around_node(node)));
            free.then(|| {
                count += 1;
                count - 1
            })
        });
        self.unknown = unknown.collect();
        let spacing = self.spacing;
        match count {
            0 => Err(FreeLandingError::Kept { margin }),
            1..=MOST_FREE => Ok(()),
            nodes => {
                Err(FreeLandingError::TooFine { spacing, nodes: nodes as f64, most: MOST_FREE })
            }
        }
    }

    /// The corners of the four cells that a node's earth lies on.
    fn around_node(&self, node: usize) -> [Vec2; 4] {
        let corner = |x, y| self.place(node) + self.spacing * Vec2::new(x, y);
        [corner(-1.0, -1.0), corner(1.0, -1.0), corner(1.0, 1.0), corner(-1.0, 1.0)]
    }

    pub(super) const fn origin(&self) -> Vec2 {
        self.origin
    }

    pub(super) const fn spacing(&self) -> f64 {
        self.spacing
    }

    pub(super) const fn size(&self) -> (usize, usize) {
        (self.columns, self.rows)
    }

    pub(super) fn bare(&self) -> &[f64] {
        &self.bare
    }

    /// How many nodes may be raised.
    pub(super) fn unknowns(&self) -> usize {
        self.unknown.iter().flatten().count()
    }

    /// The place of a node among the unknowns.
    pub(super) fn unknown(&self, node: usize) -> Option<usize> {
        self.unknown.get(node).copied().flatten()
    }

    pub(super) fn place(&self, node: usize) -> Vec2 {
        let (i, j) = (node % self.columns, node / self.columns);
        self.origin + Vec2::new(i as f64, j as f64) * self.spacing
    }

    /// The node some steps from another, on the grid.
    pub(super) fn stepped(&self, node: usize, steps: Steps) -> Option<usize> {
        let i = usize::try_from(i64::try_from(node % self.columns).ok()? + steps.0).ok()?;
        let j = usize::try_from(i64::try_from(node / self.columns).ok()? + steps.1).ok()?;
        (i < self.columns && j < self.rows).then_some(j * self.columns + i)
    }

    /// The volume of earth of these depths.
    pub(super) fn volume(&self, earth: &[f64]) -> f64 {
        earth.iter().sum::<f64>() * self.spacing * self.spacing
    }

    /// The ground with earth of these depths on it.
    ///
    /// Away from earth the patch stays under the ground, whose folds between nodes it does not know.
    pub(super) fn built(&self, ground: &Ground, earth: &[f64]) -> Result<Ground, FreeLandingError> {
        let height = |node: usize| {
            let sunk = if self.has_earth_near(node, earth) { 0.0 } else { SUNK };
            self.bare[node] + earth[node] - sunk
        };
        let (spacing, heights) = (Vec2::repeat(self.spacing), (0..earth.len()).map(height));
        let heights = heights.collect();
        let patch = Ground::grid(self.origin, spacing, self.columns, self.rows, heights)?;
        Ok(ground.higher(&patch))
    }

    /// Whether earth lies on a node or on one of the eight around it.
    fn has_earth_near(&self, node: usize, earth: &[f64]) -> bool {
        let around = (-1..=1).flat_map(|i| (-1..=1).map(move |j| (i, j)));
        around.filter_map(|steps| self.stepped(node, steps)).any(|near| earth[near] > 0.0)
    }
}

/// A rectangle of nodes among all, where some may lie off the known ground.
struct Frame {
    all: Vec<Option<f64>>,
    stride: usize,
    first: (usize, usize),
    size: (usize, usize),
}

impl Frame {
    /// The heights of all its nodes, where all are known.
    fn heights(&self) -> Option<Vec<f64>> {
        let (columns, rows) = self.size;
        let heights = (0..columns * rows).map(|node| self.height(node % columns, node / columns));
        heights.collect::<Option<Vec<f64>>>().filter(|heights| !heights.is_empty())
    }

    fn height(&self, i: usize, j: usize) -> Option<f64> {
        self.all[(self.first.1 + j) * self.stride + self.first.0 + i]
    }

    /// Takes away the side on which the greatest share is not known, until all is.
    fn trim(&mut self) {
        while self.size.0 > 2 && self.size.1 > 2 && self.heights().is_none() {
            let (columns, rows) = self.size;
            let lost = |i, j| self.height(i, j).is_none();
            let of_row = |j: usize| (0..columns).filter(|i| lost(*i, j)).count() as f64;
            let of_column = |i: usize| (0..rows).filter(|j| lost(i, *j)).count() as f64;
            let shares = [
                of_column(0) / rows as f64,
                of_column(columns - 1) / rows as f64,
                of_row(0) / columns as f64,
                of_row(rows - 1) / columns as f64,
            ];
            let worst = (0..4)
                .fold(0, |worst, side| if shares[side] > shares[worst] { side } else { worst });
            match worst {
                0 => (self.first.0, self.size.0) = (self.first.0 + 1, columns - 1),
                1 => self.size.0 -= 1,
                2 => (self.first.1, self.size.1) = (self.first.1 + 1, rows - 1),
                _ => self.size.1 -= 1,
            }
        }
    }
}
