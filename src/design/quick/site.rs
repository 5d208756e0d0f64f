//! From the axes of the site into those of a landing, for registers of flights.

#![allow(clippy::inline_always, reason = "a kernel that is not inlined loses its instruction set")]

use super::{Quick, planes::Flying, wide::Lanes};
use pulp::Simd;

/// The local axes of a landing: along, across and up from the crest line.
pub(super) struct Site<S: Simd> {
    ahead: [Lanes<S>; 2],
    left: [Lanes<S>; 2],
    crest: [Lanes<S>; 3],
}

impl<S: Simd> Site<S> {
    #[inline(always)]
    pub(super) fn new(simd: S, quick: &Quick) -> Self {
        let fill = |value: f64| Lanes::splat(simd, value);
        let (ahead, left) = (&quick.ahead, &quick.left);
        let crest = [quick.crest.dot(ahead), quick.crest.dot(left), quick.crest_height];
        Self {
            ahead: [fill(ahead.x), fill(ahead.y)],
            left: [fill(left.x), fill(left.y)],
            crest: [fill(crest[0]), fill(crest[1]), fill(crest[2])],
        }
    }

    #[inline(always)]
    pub(super) fn filled(&self, value: f64) -> Lanes<S> {
        self.crest[0].filled(value)
    }

    #[inline(always)]
    pub(super) fn position(&self, flying: &Flying<S>, time: Lanes<S>) -> [Lanes<S>; 3] {
        let mut at = [time.filled(0.0); 3];
        for term in flying.group.terms.iter().rev() {
            for (at, column) in at.iter_mut().zip(term) {
                *at = at.mul_add(time, time.loaded(column, flying.part));
            }
        }
        let [along, across, up] = self.turned(&at);
        [along - self.crest[0], across - self.crest[1], up - self.crest[2]]
    }

    /// Position and velocity.
    #[inline(always)]
    pub(super) fn motion(
        &self,
        flying: &Flying<S>,
        time: Lanes<S>,
    ) -> ([Lanes<S>; 3], [Lanes<S>; 3]) {
        let (mut at, mut velocity) = ([time.filled(0.0); 3], [time.filled(0.0); 3]);
        for term in flying.group.terms.iter().rev() {
            for axis in 0..3 {
                velocity[axis] = velocity[axis].mul_add(time, at[axis]);
                at[axis] = at[axis].mul_add(time, time.loaded(&term[axis], flying.part));
            }
        }
        let [along, across, up] = self.turned(&at);
        let at = [along - self.crest[0], across - self.crest[1], up - self.crest[2]];
        (at, self.turned(&velocity))
    }

    #[inline(always)]
    fn turned(&self, of: &[Lanes<S>; 3]) -> [Lanes<S>; 3] {
        let [x, y, z] = *of;
        let along = x.mul_add(self.ahead[0], y * self.ahead[1]);
        let across = x.mul_add(self.left[0], y * self.left[1]);
        [along, across, z]
    }

    /// A plane by its normal and how far it lies along it in local axes, in those of the site.
    #[inline(always)]
    pub(super) fn turned_back(
        &self,
        normal: &[Lanes<S>; 3],
        offset: Lanes<S>,
    ) -> ([Lanes<S>; 3], Lanes<S>) {
        let [along, across, up] = *normal;
        let x = along.mul_add(self.ahead[0], across * self.left[0]);
        let y = along.mul_add(self.ahead[1], across * self.left[1]);
        let to_crest =
            along.mul_add(self.crest[0], across.mul_add(self.crest[1], up * self.crest[2]));
        ([x, y, up], offset + to_crest)
    }
}
