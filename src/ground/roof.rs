//! Bounds on the ground, block by block: how high it comes, and how steep it is.

use super::Ground;
use super::grid::Grid;
use super::plane::Plane;
use super::raster::{Raster, whole};

/// Blocks of a level are so many times as wide as those of the level below; those of the first two cells wide.
const FACTORS: [usize; LEVELS] = [2, 4, 4, 4];
/// Levels: blocks of 2, 8, 32 and 128 cells.
pub const LEVELS: usize = 4;

/// Over each block of cells, in four sizes, a height that the ball about a centre of mass does not rest above, and bounds on
/// the slopes that it may meet: of all ground within the ball's radius of the block and its neighbours.
///
/// So a path of which every point lies over a block or its neighbours, above the height, is clear of the ground.
#[derive(Debug, Clone, PartialEq)]
pub struct Roof {
    origin: [f64; 2],
    levels: [Level; LEVELS],
    blocks: Vec<Block>,
}

/// What is known of a block: small, for there are many, and rounded to the safe side.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Block {
    top: f32,
    along_x: [f32; 2],
    along_y: [f32; 2],
}

/// The blocks of one size, row after row.
#[derive(Debug, Clone, Copy, Default, PartialEq)]
pub(crate) struct Level {
    /// One over the size of a block, along `x` and `y`.
    pub(crate) per_metre: [f64; 2],
    pub(crate) columns: usize,
    pub(crate) rows: usize,
    /// Which of all blocks is the first.
    pub(crate) first: usize,
}

impl Block {
    pub(super) const NOTHING: Self = Self {
        top: f32::NEG_INFINITY,
        along_x: [f32::INFINITY, f32::NEG_INFINITY],
        along_y: [f32::INFINITY, f32::NEG_INFINITY],
    };

    /// So high at most, and between these slopes.
    pub(super) fn new(top: f64, along_x: [f64; 2], along_y: [f64; 2]) -> Self {
        let outwards = |[low, high]: [f64; 2]| [-above(-low), above(high)];
        Self { top: above(top), along_x: outwards(along_x), along_y: outwards(along_y) }
    }

    /// The ball's centre rests no higher than this; metres.
    #[inline]
    pub fn top(&self) -> f64 {
        f64::from(self.top)
    }

    /// The least and the greatest slope along `x`.
    #[inline]
    pub fn along_x(&self) -> [f64; 2] {
        [f64::from(self.along_x[0]), f64::from(self.along_x[1])]
    }

    /// The least and the greatest slope along `y`.
    #[inline]
    pub fn along_y(&self) -> [f64; 2] {
        [f64::from(self.along_y[0]), f64::from(self.along_y[1])]
    }

    pub(super) fn with(self, other: &Self) -> Self {
        let joined = |a: [f32; 2], b: [f32; 2]| [a[0].min(b[0]), a[1].max(b[1])];
        Self {
            top: self.top.max(other.top),
            along_x: joined(self.along_x, other.along_x),
            along_y: joined(self.along_y, other.along_y),
        }
    }
}

impl Roof {
    /// The roof over a grid for balls of a radius.
    pub fn new(grid: &Grid, radius: f64) -> Self {
        let level = Plane::level();
        Self::over(Raster::of_grid(grid, &level), &level, radius)
    }

    /// The roof over a grid or a survey with the landings on it, for balls of a radius, seen from a plane: heights are over
    /// that, slopes beside its own. None over other grounds.
    pub fn about(plane: &Plane, ground: &Ground, radius: f64) -> Option<Self> {
        let raster = Raster::of(ground.surfaces(), plane)?;
        Some(Self::over(raster, plane, radius))
    }

    fn over(raster: Raster, plane: &Plane, radius: f64) -> Self {
        let Raster { origin, mut size, columns, blocks } = raster;
        let mut cells = Table { columns, blocks };
        let (mut levels, mut all) = ([Level::default(); LEVELS], Vec::new());
        for (level, factor) in levels.iter_mut().zip(FACTORS) {
            cells = cells.merged(factor);
            size = size.map(|size| size * factor as f64);
            let around = size.map(|size| 1 + whole(radius / size));
            let per_metre = size.map(f64::recip);
            let (columns, rows, first) = (cells.columns, cells.rows(), all.len());
            *level = Level { per_metre, columns, rows, first };
            all.extend(cells.spread(around).blocks);
        }
        for block in &mut all {
            block.top = above(f64::from(block.top) + radius / plane.normal().z);
        }
        Self { origin, levels, blocks: all }
    }

    pub(crate) const fn origin(&self) -> [f64; 2] {
        self.origin
    }

    pub(crate) const fn levels(&self) -> &[Level; LEVELS] {
        &self.levels
    }

    /// The blocks of all levels.
    pub(crate) fn blocks(&self) -> &[Block] {
        &self.blocks
    }

    /// How wide the blocks of a level are, the lesser of both ways; metres.
    pub fn width(&self, level: usize) -> f64 {
        let [x, y] = self.levels[level].per_metre;
        x.max(y).recip()
    }

    /// How wide the blocks of each level are.
    pub fn widths(&self) -> [f64; LEVELS] {
        std::array::from_fn(|level| self.width(level))
    }

    /// The block over a plan position, the nearest beside the grid.
    #[inline]
    pub fn block(&self, level: usize, x: f64, y: f64) -> &Block {
        let level = &self.levels[level];
        let place = |at: f64, origin: f64, per_metre: f64, count: usize| {
            whole((at - origin) * per_metre).min(count - 1)
        };
        let i = place(x, self.origin[0], level.per_metre[0], level.columns);
        let j = place(y, self.origin[1], level.per_metre[1], level.rows);
        &self.blocks[level.first + j * level.columns + i]
    }
}

/// A single that is not below a number, and hardly above it. Without a branch, for there are many and each as likely as not is
/// rounded down.
pub(super) fn above(x: f64) -> f32 {
    let raised = x * (1.0 + f64::from(f32::EPSILON).copysign(x)) + f64::from(f32::MIN_POSITIVE);
    #[expect(clippy::cast_possible_truncation, reason = "raised by more than it is rounded")]
    let single = raised as f32;
    single
}

/// Blocks row after row.
struct Table {
    columns: usize,
    blocks: Vec<Block>,
}

impl Table {
    fn rows(&self) -> usize {
        self.blocks.len() / self.columns
    }

    /// The blocks made of `factor` times as many either way.
    fn merged(&self, factor: usize) -> Self {
        let (columns, rows) = (self.columns.div_ceil(factor), self.rows().div_ceil(factor));
        let mut blocks = vec![Block::NOTHING; columns * rows];
        for (j, row) in self.blocks.chunks(self.columns).enumerate() {
            let to = &mut blocks[j / factor * columns..][..columns];
            for (to, from) in to.iter_mut().zip(row.chunks(factor)) {
                *to = from.iter().fold(*to, Block::with);
            }
        }
        Self { columns, blocks }
    }

    /// Each block with those up to so many away along both axes.
    fn spread(&self, [around_x, around_y]: [usize; 2]) -> Self {
        let near = |at: usize, count: usize, by: usize| {
            at.saturating_sub(by)..at.saturating_add(by).saturating_add(1).min(count)
        };
        let mut along = Vec::with_capacity(self.blocks.len());
        for row in self.blocks.chunks(self.columns) {
            along.extend((0..self.columns).map(|i| {
                row[near(i, self.columns, around_x)].iter().fold(Block::NOTHING, Block::with)
            }));
        }
        let mut blocks = vec![Block::NOTHING; along.len()];
        for (j, to) in blocks.chunks_mut(self.columns).enumerate() {
            for from in near(j, self.rows(), around_y) {
                let from = &along[from * self.columns..][..self.columns];
                to.iter_mut().zip(from).for_each(|(to, from)| *to = to.with(from));
            }
        }
        Self { columns: self.columns, blocks }
    }
}

#[cfg(test)]
mod tests;
