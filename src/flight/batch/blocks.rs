//! The blocks of a roof as flights look them up: many at once, each on a level of its own.

#![allow(clippy::inline_always, reason = "a kernel that is not inlined loses its instruction set")]
#![allow(clippy::needless_range_loop, reason = "axes and levels of several numbers at once")]

use super::closing::Pair;
use super::field::Several;
use crate::ground::{LEVELS, Roof};
use crate::math::lanes::index;
use pulp::Simd;
use std::sync::Arc;

/// One number of each level.
type Levels = [f64; LEVELS];

/// A roof, and what tells where a place's block is.
#[derive(Debug, Clone)]
pub(super) struct Blocks {
    roof: Arc<Roof>,
    origin: [f64; 2],
    /// How wide blocks are, the lesser of both ways; metres.
    widths: Levels,
    per_metre: [Levels; 2],
    /// The last column and row.
    last: [Levels; 2],
    columns: Levels,
    first: Levels,
}

/// The bounds of the ground about some places.
pub(super) struct Bounds<S: Simd> {
    pub(super) top: Pair<S>,
    /// The least and the greatest slopes along `x` and `y`.
    pub(super) least: [Pair<S>; 2],
    pub(super) most: [Pair<S>; 2],
}

impl Blocks {
    pub(super) fn new(roof: Roof) -> Self {
        let levels = roof.levels();
        Self {
            origin: roof.origin(),
            widths: roof.widths(),
            per_metre: [0, 1].map(|axis| levels.map(|level| level.per_metre[axis])),
            last: [
                levels.map(|level| (level.columns - 1) as f64),
                levels.map(|level| (level.rows - 1) as f64),
            ],
            columns: levels.map(|level| level.columns as f64),
            first: levels.map(|level| level.first as f64),
            roof: Arc::new(roof),
        }
    }

    /// How wide the blocks of some levels are.
    #[inline(always)]
    pub(super) fn width<S: Simd>(&self, level: Pair<S>) -> Pair<S> {
        chosen(level, &self.widths)
    }

    /// What is known about places, on some levels; nothing that is ever held true where a place is no number.
    #[inline(always)]
    pub(super) fn about<S: Simd>(&self, level: Pair<S>, place: [Pair<S>; 2]) -> Bounds<S> {
        let zero = level.filled(0.0);
        let mut cell = place;
        for i in 0..2 {
            let from = place[i] - zero.filled(self.origin[i]);
            let at = from * chosen(level, &self.per_metre[i]);
            cell[i] = at.max(zero).min(chosen(level, &self.last[i])).floor();
        }
        let in_level = cell[1].mul_add(chosen(level, &self.columns), cell[0]);
        let mut at = Several::default();
        (in_level + chosen(level, &self.first)).store_indices(&mut at);
        let mut known = [[f64::NAN; 16]; 5];
        let blocks = self.roof.blocks();
        for lane in 0..Pair::<S>::WIDTH {
            if let Some(block) = blocks.get(index(at[lane])) {
                known[0][lane] = block.top();
                [known[1][lane], known[2][lane]] = block.along_x();
                [known[3][lane], known[4][lane]] = block.along_y();
            }
        }
        let [top, least_x, most_x, least_y, most_y] = &known;
        Bounds {
            top: zero.loaded(top, 0),
            least: [zero.loaded(least_x, 0), zero.loaded(least_y, 0)],
            most: [zero.loaded(most_x, 0), zero.loaded(most_y, 0)],
        }
    }
}

/// The number of each one's level.
#[inline(always)]
fn chosen<S: Simd>(level: Pair<S>, of: &Levels) -> Pair<S> {
    let mut chosen = level.filled(of[0]);
    for i in 1..LEVELS {
        let above = level.filled(i as f64 - 0.5).lt(level);
        chosen = above.select(level.filled(of[i]), chosen);
    }
    chosen
}
