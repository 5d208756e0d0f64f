//! The nearest place on a grid, looked for among the cells within reach of a first guess.

use super::super::nearest::Nearest;
use super::super::tree::Quest;
use super::{Closest, Grid};
use crate::math::Vec3;

/// A window is at most so many cells wide and long.
const WIDEST: usize = 64;
/// Rounding of squares of distances, as a share of them.
const ROUNDING: f64 = 1e-12;

/// The squares of the distances to a row of corners.
type Row = [f64; WIDEST + 1];

impl Grid {
    /// The search of [`Grid::nearest_above`] for a point over the grid; none where too many cells are within reach, or the
    /// point is beside the grid.
    pub(super) fn nearest_in_window(&self, c: Vec3, within: f64) -> Option<Closest<'_>> {
        let (mut quest, seen) = self.guessed(c, within)?;
        let [[left, right], [low, high]] = self.window(&c, quest.limit)?;
        let (corners, far) = (right - left, self.far(&quest));
        let (mut below, mut row): (Row, Row) = ([0.0; WIDEST + 1], [0.0; WIDEST + 1]);
        let mut had = false;
        let level = self.level_squares(c.x, left, corners);
        for j in low..=high {
            self.squares(&c, j, left, &level[..=corners], &mut row);
            let has = row[..=corners].iter().filter(|square| **square < far).count() > 0;
            if j > low && (has || had) {
                for i in 0..corners {
                    let near = row[i].min(row[i + 1]).min(below[i].min(below[i + 1]));
                    let cell = (j - 1) * (self.columns - 1) + left + i;
                    if near < far && near < self.far(&quest) && !seen.contains(&cell) {
                        quest.visit(cell);
                    }
                }
            }
            had = has;
            below[..=corners].copy_from_slice(&row[..=corners]);
        }
        Some(quest)
    }

    /// The nearest place as the ground under a point would have it if it went on as it is there: an upper bound.
    pub(crate) fn nearest_about(&self, c: Vec3) -> Option<Nearest> {
        self.guessed(c, f64::INFINITY)?.0.seen()
    }

    /// A search that has seen the cell under a point, and the one to which that cell's slope points.
    fn guessed(&self, c: Vec3, within: f64) -> Option<(Closest<'_>, [usize; 2])> {
        let mut quest = Closest { grid: self, c, limit: within.next_up(), found: None };
        let (under, at) = self.over_index(c.x, c.y)?;
        let patch = self.patch(under);
        let (place, normal) = (patch.point(at), patch.normal(at));
        let toward = c - normal * normal.dot(&(c - place));
        let toward = self.over_index(toward.x, toward.y).map_or(under, |(cell, _)| cell);
        quest.visit(toward);
        if toward != under {
            quest.visit(under);
        }
        Some((quest, [toward, under]))
    }

    /// The square of a distance from corners at which none of their cells is nearer than what was found.
    fn far(&self, quest: &Closest) -> f64 {
        let square = quest.limit * quest.limit;
        square + self.bulge + ROUNDING * (square + quest.c.norm_squared())
    }

    /// The first and last corners along both axes of the cells within reach of a point; `None` where they are too many.
    fn window(&self, c: &Vec3, reach: f64) -> Option<[[usize; 2]; 2]> {
        let mut window = [[0; 2]; 2];
        for (axis, corners) in [self.columns, self.rows].into_iter().enumerate() {
            let from = (c[axis] - self.origin[axis]) / self.spacing[axis];
            let far = reach / self.spacing[axis];
            if far.is_nan() || far > 0.5 * WIDEST as f64 - 2.0 {
                return None;
            }
            let low = super::cell_of(from - far, corners);
            window[axis] = [low, super::cell_of(from + far, corners) + 1];
        }
        Some(window)
    }

    /// The squares of a point's distances along `x` from some columns.
    fn level_squares(&self, x: f64, left: usize, corners: usize) -> Row {
        let mut squares = [0.0; WIDEST + 1];
        for (i, square) in squares[..=corners].iter_mut().enumerate() {
            let from = x - (self.origin.x + (left + i) as f64 * self.spacing.x);
            *square = from * from;
        }
        squares
    }

    /// Writes the squares of a point's distances from the corners of a row.
    fn squares(&self, c: &Vec3, j: usize, left: usize, level: &[f64], row: &mut Row) {
        let y = c.y - (self.origin.y + j as f64 * self.spacing.y);
        let heights = &self.heights[j * self.columns + left..];
        for ((z, level), square) in heights.iter().zip(level).zip(row) {
            let z = c.z - z;
            *square = level + (y * y + z * z);
        }
    }

    /// How far the square of a distance from anywhere may be below that from a cell's nearest corner, at most.
    ///
    /// Along an axis a cell is straight: the square is a parabola of curvature `2 (1 + slope^2)`, which is lower between
    /// the ends than at the lesser of them by at most an eighth of that times the square of the length.
    pub(super) fn bulge(&self) -> f64 {
        let (z, columns) = (&self.heights, self.columns);
        let rise = |step: usize, is_edge: &dyn Fn(usize) -> bool| {
            let rises =
                (0..z.len() - step).filter(|at| is_edge(*at)).map(|at| z[at + step] - z[at]);
            rises.fold(0.0, |most: f64, rise| most.max(rise * rise))
        };
        let along_x = rise(1, &|at| at % columns + 1 < columns);
        let along_y = rise(columns, &|_| true);
        0.25 * (self.spacing.norm_squared() + along_x + along_y)
    }
}
