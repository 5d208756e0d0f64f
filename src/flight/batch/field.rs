//! A grid as flights see it: the plane that it lies about, and what one near it is to know of it.

use crate::ground::{Grid, Ground, LEVELS, Plane, Roof};
use crate::math::Vec3;
use crate::math::lanes::Lanes;
use pulp::Simd;
use std::sync::Arc;

/// One number of as many flights as are flown on at once: two of the widest registers.
pub(super) type Several = [f64; 16];

/// What all flights of a batch onto one grid share.
#[derive(Debug, Clone)]
pub(super) struct Field {
    ground: Ground,
    grid: Arc<Grid>,
    roof: Roof,
    per_metre: [f64; 2],
    /// The plane about which the grid lies.
    pub(super) plane: Plane,
    height: f64,
}

/// How closely to look at the ground.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) enum Look {
    Glance,
    Close,
}

/// How far flights are above touching the grid, and along which normal, not of length 1, that grows.
#[derive(Debug, Default)]
pub(super) struct Seen {
    pub(super) gap: Several,
    normal: [Several; 3],
}

/// The bounds of the blocks of ground under flights.
#[derive(Debug, Default)]
pub(super) struct Blocks {
    pub(super) top: Several,
    /// The least and the greatest slopes along `x` and `y`.
    pub(super) least: [Several; 2],
    pub(super) most: [Several; 2],
}

impl Seen {
    #[inline(always)]
    #[allow(clippy::inline_always, reason = "part of a kernel")]
    pub(super) fn normal_of<S: Simd>(&self, like: Lanes<S, 2>) -> [Lanes<S, 2>; 3] {
        let [x, y, z] = &self.normal;
        [like.loaded(x, 0), like.loaded(y, 0), like.loaded(z, 0)]
    }

    fn set(&mut self, i: usize, gap: f64, normal: [f64; 3]) {
        self.gap[i] = gap;
        for (column, part) in self.normal.iter_mut().zip(normal) {
            column[i] = part;
        }
    }
}

impl Field {
    pub(super) fn new(ground: &Ground, grid: &Arc<Grid>, height: f64) -> Option<Self> {
        let plane = middle(grid)?;
        let roof = Roof::new(grid, height);
        let per_metre = [grid.spacing().x.recip(), grid.spacing().y.recip()];
        Some(Self { ground: ground.clone(), grid: grid.clone(), roof, per_metre, plane, height })
    }

    /// From where to where the grid reaches along an axis.
    pub(super) fn span(&self, axis: usize) -> [f64; 2] {
        let last = [self.grid.columns(), self.grid.rows()][axis] - 1;
        let low = self.grid.origin()[axis];
        [low, low + last as f64 * self.grid.spacing()[axis]]
    }

    /// How wide the blocks of each level are, metres.
    pub(super) fn widths(&self) -> [f64; LEVELS] {
        self.roof.widths()
    }

    /// Looks at the ground from the first `width` places, where it is wanted; NaN where there is no telling. A glance may
    /// say too wide a gap.
    pub(super) fn see(
        &self,
        look: Look,
        places: &[Several; 3],
        wanted: &Several,
        width: usize,
        seen: &mut Seen,
    ) {
        for i in 0..width {
            if wanted[i] > 0.0 {
                let c = Vec3::new(places[0][i], places[1][i], places[2][i]);
                if self.height > 0.0 {
                    self.see_ball(look, i, c, seen);
                } else {
                    self.see_point(i, &c, seen);
                }
            }
        }
    }

    /// The distance from the ground less the radius of the ball about the centre of mass.
    fn see_ball(&self, look: Look, i: usize, c: Vec3, seen: &mut Seen) {
        let near = match look {
            Look::Glance => self.grid.nearest_about(c),
            Look::Close => None,
        };
        match near.or_else(|| self.ground.nearest(c, f64::INFINITY)) {
            Some(near) if near.distance > 0.0 => {
                seen.set(i, near.distance - self.height, near.normal.into());
            }
            _ => seen.set(i, f64::NAN, [0.0; 3]),
        }
    }

    /// The height over the cell at a place, and that cell's slopes; the nearest cell's beside the grid.
    fn see_point(&self, i: usize, c: &Vec3, seen: &mut Seen) {
        let grid = &self.grid;
        let (origin, per_metre, columns) = (grid.origin(), &self.per_metre, grid.columns());
        let (x, y) = ((c.x - origin.x) * per_metre[0], (c.y - origin.y) * per_metre[1]);
        let (column, row) = (cell(x, columns), cell(y, grid.rows()));
        let at = row * columns + column;
        let z = &grid.heights()[at..];
        let (u, v) = (x - column as f64, y - row as f64);
        let [low, right, up, far] = [z[0], z[1], z[columns], z[columns + 1]];
        let (rise, climb, twist) = (right - low, up - low, far - up - right + low);
        let height = low + rise * u + climb * v + twist * u * v;
        let slope = [(rise + twist * v) * per_metre[0], (climb + twist * u) * per_metre[1]];
        seen.set(i, c.z - height, [-slope[0], -slope[1], 1.0]);
    }

    /// Looks up the blocks of some levels at the first `width` places.
    pub(super) fn blocks(
        &self,
        levels: &Several,
        [x, y]: &[Several; 2],
        width: usize,
        blocks: &mut Blocks,
    ) {
        for i in 0..width {
            let level = if levels[i] < 0.5 { 0 } else { 1 + usize::from(levels[i] > 1.5) };
            let block = self.roof.block(level, x[i], y[i]);
            blocks.top[i] = block.top();
            [blocks.least[0][i], blocks.most[0][i]] = block.along_x();
            [blocks.least[1][i], blocks.most[1][i]] = block.along_y();
        }
    }
}

fn cell(at: f64, corners: usize) -> usize {
    #[expect(
        clippy::cast_possible_truncation,
        clippy::cast_sign_loss,
        reason = "a cast saturates, and the cells there are bound it"
    )]
    let whole = at as usize;
    whole.min(corners - 2)
}

/// The plane of least squares through a grid's heights; none where that is too steep.
fn middle(grid: &Grid) -> Option<Plane> {
    let (columns, rows) = (grid.columns(), grid.rows());
    let centre = [(columns - 1) as f64 / 2.0, (rows - 1) as f64 / 2.0];
    let (mut mean, mut tilt, mut weight) = (0.0, [0.0; 2], [0.0; 2]);
    for (at, z) in grid.heights().iter().enumerate() {
        let from = [(at % columns) as f64 - centre[0], (at / columns) as f64 - centre[1]];
        mean += z;
        for i in 0..2 {
            tilt[i] += from[i] * z;
            weight[i] += from[i] * from[i];
        }
    }
    let (origin, spacing) = (grid.origin(), grid.spacing());
    let slope = [0, 1].map(|i| tilt[i] / weight[i] / spacing[i]);
    let point = Vec3::new(
        origin.x + centre[0] * spacing.x,
        origin.y + centre[1] * spacing.y,
        mean / grid.heights().len() as f64,
    );
    let fall = slope[0].hypot(slope[1]).atan();
    Plane::new(point, fall, (-slope[1]).atan2(-slope[0])).ok()
}
