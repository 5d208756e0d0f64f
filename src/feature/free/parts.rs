//! The parts of a wall over which it is smooth.

use crate::feature::wall::Wall;

/// Joints closer than this are one, metres.
const SAME: f64 = 1e-9;

/// Which pieces of plan and bank make a part of a wall.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) struct Pieces {
    pub(super) plan: usize,
    pub(super) bank: usize,
}

/// A smooth part of a wall, by stations along its foot; the first and the last one go on for ever.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) struct Part {
    pub(super) from: f64,
    pub(super) to: f64,
    pub(super) pieces: Pieces,
}

/// The parts of a wall in order.
pub(super) fn parts(wall: &Wall) -> Vec<Part> {
    let plan = wall.plan().joints();
    let mut borders: Vec<f64> = inner(&plan).chain(inner(wall.bank().knots())).collect();
    borders.retain(|border| *border > SAME);
    borders.sort_by(f64::total_cmp);
    borders.dedup_by(|b, a| *b - *a <= SAME);
    let starts = std::iter::once(f64::NEG_INFINITY).chain(borders.iter().copied());
    let ends = borders.iter().copied().chain([f64::INFINITY]);
    let part = |(from, to): (f64, f64)| {
        let middle = 0.5 * (from.max(0.0) + to.min(from.max(0.0) + 1.0));
        let pieces = Pieces { plan: wall.plan().piece(middle), bank: wall.bank().piece(middle) };
        Part { from, to, pieces }
    };
    starts.zip(ends).map(part).collect()
}

/// All but the ends: beyond them, the outer pieces go on.
fn inner(joints: &[f64]) -> impl Iterator<Item = f64> + '_ {
    joints.iter().copied().skip(1).take(joints.len().saturating_sub(2))
}
