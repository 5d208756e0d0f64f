//! Heights on a grid as flights look them up, many at once.

#![allow(clippy::inline_always, reason = "a kernel that is not inlined loses its instruction set")]

use super::closing::Pair;
use super::field::{Several, Sight};
use super::near::Vector;
use crate::ground::Grid;
use crate::math::lanes::{Lanes, index};
use pulp::Simd;
use std::sync::Arc;

/// The grid, for bare points: what [`Grid::height`] says, and beside the grid the nearest cell's.
#[derive(Debug, Clone)]
pub(super) struct Sheet {
    grid: Arc<Grid>,
    origin: [f64; 2],
    per_metre: [f64; 2],
    /// The last column and row of cells.
    last: [f64; 2],
}

impl Sheet {
    pub(super) fn new(grid: Arc<Grid>) -> Self {
        let (origin, spacing) = (grid.origin(), grid.spacing());
        let last = [grid.columns(), grid.rows()].map(|corners| (corners - 2) as f64);
        let per_metre = [spacing.x.recip(), spacing.y.recip()];
        Self { grid, origin: [origin.x, origin.y], per_metre, last }
    }

    /// How far places are above the height over their cells, and that cell's slope.
    #[inline(always)]
    pub(super) fn see<S: Simd>(&self, place: &Vector<S>) -> Sight<S> {
        let [x, y, z] = *place;
        let fill = |value: f64| z.filled(value);
        let from = [
            (x - fill(self.origin[0])) * fill(self.per_metre[0]),
            (y - fill(self.origin[1])) * fill(self.per_metre[1]),
        ];
        let cell = [
            from[0].max(fill(0.0)).min(fill(self.last[0])).floor(),
            from[1].max(fill(0.0)).min(fill(self.last[1])).floor(),
        ];
        let [u, v] = [from[0] - cell[0], from[1] - cell[1]];
        let [low, right, up, far] = self.corners(&cell);
        let (rise, climb, twist) = (right - low, up - low, far - up - right + low);
        let across = twist.mul_add(v, rise);
        let height = across.mul_add(u, climb.mul_add(v, low));
        let slope_x = across * fill(-self.per_metre[0]);
        let slope_y = twist.mul_add(u, climb) * fill(-self.per_metre[1]);
        Sight { gap: z - height, normal: [slope_x, slope_y, fill(1.0)] }
    }

    /// The heights at the corners of cells; NaN where there is none.
    #[inline(always)]
    fn corners<S: Simd>(&self, [i, j]: &[Lanes<S, 2>; 2]) -> [Pair<S>; 4] {
        let (heights, columns) = (self.grid.heights(), self.grid.columns());
        let mut at = Several::default();
        j.mul_add(i.filled(columns as f64), *i).store_indices(&mut at);
        let mut corners = [[f64::NAN; 16]; 4];
        for lane in 0..Pair::<S>::WIDTH {
            let first = index(at[lane]);
            if let Some(z) = heights.get(first..first + columns + 2) {
                corners[0][lane] = z[0];
                corners[1][lane] = z[1];
                corners[2][lane] = z[columns];
                corners[3][lane] = z[columns + 1];
            }
        }
        let [low, right, up, far] = &corners;
        [i.loaded(low, 0), i.loaded(right, 0), i.loaded(up, 0), i.loaded(far, 0)]
    }
}
