//! One flight onto a plane by the hodograph: the nodes of one rule stand in the lanes of the registers.

#![allow(clippy::inline_always, reason = "a kernel that is not inlined loses its instruction set")]

use super::arc::Arc;
use super::closing::Closing;
use super::hodograph::{Onto, Start, finish, guess};
use super::rule::FINE;
use crate::force::Forces;
use crate::ground::Plane;
use crate::math::Vec3;
use crate::math::lanes::{ARCH, Lanes};
use pulp::{Simd, WithSimd};

/// The nodes above zero, and the terms of the hyperbolic functions.
const HALF: usize = 12;
const TERMS: usize = 19;
/// As many with nothing after them as a whole number of the widest registers holds.
const PADDED: usize = 16;
/// After a Taylor step that turns the velocity by no more than this, what its series cuts off is lost in rounding.
const SMALL: f64 = 0.004;
/// So often the way to the touch is integrated at most: to where a parabola has it, and to where that led.
const MOST_LOOKS: usize = 2;

const NODES: [f64; PADDED] = column(0);
const WEIGHTS: [f64; PADDED] = column(1);

/// When, where and how fast a flight touches.
pub(in crate::flight) struct Landed {
    pub(in crate::flight) time: f64,
    pub(in crate::flight) position: Vec3,
    pub(in crate::flight) velocity: Vec3,
}

/// The touch of a plane by a centre of mass so high over it, to 1e-11 m; `None` where that is not certain, or is not the first.
pub(in crate::flight) fn touch(
    position: &Vec3,
    velocity: &Vec3,
    forces: &Forces,
    plane: &Plane,
    height: f64,
) -> Option<Landed> {
    ARCH.dispatch(Alone { onto: &Onto::new(plane, height, forces), position, velocity })
}

struct Alone<'a> {
    onto: &'a Onto,
    position: &'a Vec3,
    velocity: &'a Vec3,
}

impl WithSimd for Alone<'_> {
    type Output = Option<Landed>;

    #[inline(always)]
    fn with_simd<S: Simd>(self, simd: S) -> Option<Landed> {
        let onto = self.onto;
        let start: Start<S, 1> =
            Start::new(simd, vector(simd, self.position), vector(simd, self.velocity), onto);
        let mut end = guess(&start, onto);
        for _ in 0..MOST_LOOKS {
            let arc = Arc::until(end, &start, onto);
            let found = finish(&start, &flown(&arc, onto), onto);
            let good = found.within(arc.turn, [FINE.growth, FINE.limit], onto);
            if !good.any() {
                return None;
            }
            if found.is_near(start.fill(SMALL), onto).any() {
                let [x, y, z] = found.position;
                let [u, v, w] = found.velocity;
                return found.stands(&start, onto).any().then(|| Landed {
                    time: found.time.first(),
                    position: Vec3::new(x.first(), y.first(), z.first()),
                    velocity: Vec3::new(u.first(), v.first(), w.first()),
                });
            }
            end = found.through_air;
        }
        None
    }
}

#[inline(always)]
fn vector<S: Simd>(simd: S, v: &Vec3) -> [Lanes<S>; 3] {
    [Lanes::splat(simd, v.x), Lanes::splat(simd, v.y), Lanes::splat(simd, v.z)]
}

/// Time, place and velocity at the end of an arc: as [`Arc::flown`], several nodes at once.
#[inline(always)]
fn flown<S: Simd>(arc: &Arc<S, 1>, onto: &Onto) -> Closing<S, 1> {
    const { assert!(PADDED.is_multiple_of(Lanes::<S>::WIDTH), "no node is left out") };
    let mut sums = [arc.turn.filled(0.0); 3];
    for at in 0..HALF.div_ceil(Lanes::<S>::WIDTH) {
        let (node, weight) = (arc.turn.loaded(&NODES, at), arc.turn.loaded(&WEIGHTS, at));
        arc.add::<TERMS>(node, weight, onto, &mut sums);
    }
    let [time, x, z] = sums;
    arc.closing([time.sum(), x.sum(), z.sum()], onto)
}

/// One column of the rule's nodes and weights.
const fn column(which: usize) -> [f64; PADDED] {
    let mut column = [0.0; PADDED];
    let mut i = 0;
    while i < HALF {
        column[i] = FINE.nodes[i][which];
        i += 1;
    }
    column
}

#[cfg(test)]
mod tests;
