//! Many flights onto a plane by the hodograph: one in each lane of the registers.

#![allow(clippy::inline_always, reason = "a kernel that is not inlined loses its instruction set")]

use super::arc::Arc;
use super::chunk::{ROWS, Starts, Touches, Vectors};
use super::closing::Pair;
use super::hodograph::{Onto, Start, finish, guess};
use super::rule::{LONG, SHORT, STEEP};
use crate::math::lanes::Lanes;
use pulp::{Simd, WithSimd};

/// Flies the first rows of a chunk: `certain` says which touches stand.
pub(super) struct Fly<'a> {
    pub(super) onto: &'a Onto,
    pub(super) starts: &'a Starts,
    pub(super) touches: &'a mut Touches,
    pub(super) rows: usize,
}

impl WithSimd for Fly<'_> {
    type Output = ();

    #[inline(always)]
    fn with_simd<S: Simd>(self, simd: S) {
        for at in 0..self.rows.min(ROWS).div_ceil(Pair::<S>::WIDTH) {
            let place = load(simd, &self.starts.position, at);
            let velocity = load(simd, &self.starts.velocity, at);
            let start = Start::new(simd, place, velocity, self.onto);
            let arc = Arc::until(guess(&start, self.onto), &start, self.onto);
            let turn = arc.turn.lt(start.fill(STEEP.limit)).select(arc.turn, start.fill(0.0));
            let strong = arc.strength.lt(start.fill(1.0)).select(arc.strength, start.fill(0.0));
            let good = |growth: f64| (strong * start.fill(growth)).mul_add(turn, turn).greatest();
            let (flown, good) = if good(SHORT.growth) < SHORT.limit {
                (arc.flown(&SHORT, self.onto), [SHORT.growth, SHORT.limit])
            } else if good(LONG.growth) < LONG.limit {
                (arc.flown(&LONG, self.onto), [LONG.growth, LONG.limit])
            } else {
                (arc.flown(&STEEP, self.onto), [STEEP.growth, STEEP.limit])
            };
            let touch = finish(&start, &flown, self.onto);
            let stands =
                touch.stands(&start, self.onto).and(touch.within(arc.turn, good, self.onto));
            touch.store(self.touches, at);
            stands.select(start.fill(1.0), start.fill(0.0)).store(&mut self.touches.certain, at);
        }
    }
}

#[inline(always)]
fn load<S: Simd>(simd: S, parts: &Vectors, at: usize) -> [Pair<S>; 3] {
    let part = |i: usize| Lanes::load(simd, &parts[i], at);
    [part(0), part(1), part(2)]
}
