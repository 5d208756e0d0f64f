//! How far down the tyres reach, for several riders at once.

#![allow(clippy::inline_always, reason = "a kernel that is not inlined loses its instruction set")]

use super::{crowd::Group, wide::Lanes};
use pulp::Simd;

/// The tyres' distance from the centre of mass, for a register of riders.
#[derive(Clone, Copy)]
pub(super) struct Reach<S: Simd> {
    height: Lanes<S>,
    lean: Lanes<S>,
    rate: Lanes<S>,
}

impl<S: Simd> Reach<S> {
    #[inline(always)]
    pub(super) fn load(simd: S, group: &Group, part: usize) -> Self {
        Self {
            height: Lanes::load(simd, &group.height, part),
            lean: Lanes::load(simd, &group.lean, part),
            rate: Lanes::load(simd, &group.rate, part),
        }
    }

    #[inline(always)]
    pub(super) fn at(&self, time: Lanes<S>) -> Lanes<S> {
        let zero = time.filled(0.0);
        let owed = (-self.rate).mul_add(time, self.lean).max(zero);
        // Most have long righted themselves.
        if zero.lt(owed).any() { self.height * owed.cos() } else { self.height }
    }

    /// The reach, and how fast it grows.
    #[inline(always)]
    pub(super) fn righting(&self, time: Lanes<S>) -> (Lanes<S>, Lanes<S>) {
        let zero = time.filled(0.0);
        let owed = (-self.rate).mul_add(time, self.lean).max(zero);
        if zero.lt(owed).any() {
            (self.height * owed.cos(), self.height * self.rate * owed.sin())
        } else {
            (self.height, zero)
        }
    }

    /// How fast the growth of a reach of this length falls at a time.
    #[inline(always)]
    pub(super) fn bend(&self, time: Lanes<S>, length: Lanes<S>) -> Lanes<S> {
        let zero = time.filled(0.0);
        let leans = (self.rate * time).lt(self.lean);
        leans.select(self.rate * self.rate * length, zero)
    }
}
