//! Several flights at once, in the local axes of a landing.

#![allow(clippy::inline_always, reason = "a kernel that is not inlined loses its instruction set")]

use super::{Quick, crowd::Group};
use crate::math::lanes::Lanes;
use pulp::Simd;

/// A register of flights and their riders' reach.
#[derive(Clone, Copy)]
pub(super) struct Flown<S: Simd> {
    /// The coefficients of the powers of time: along, across and up.
    terms: [[Lanes<S>; 3]; 6],
    pub end: Lanes<S>,
    reach: Reach<S>,
}

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

impl<S: Simd> Flown<S> {
    #[inline(always)]
    pub(super) fn load(simd: S, quick: &Quick, group: &Group, part: usize) -> Self {
        let column = |of: &[f64]| Lanes::load(simd, of, part);
        let fill = |value: f64| Lanes::splat(simd, value);
        let (ahead, left) = (&quick.ahead, &quick.left);
        let zero = fill(0.0);
        let mut terms = [[zero; 3]; 6];
        for (term, [x, y, z]) in terms.iter_mut().zip(&group.terms) {
            let (x, y) = (column(x), column(y));
            *term = [
                x.mul_add(fill(ahead.x), y * fill(ahead.y)),
                x.mul_add(fill(left.x), y * fill(left.y)),
                column(z),
            ];
        }
        let crest = [quick.crest.dot(ahead), quick.crest.dot(left), quick.crest_height];
        for axis in 0..3 {
            terms[0][axis] = terms[0][axis] - fill(crest[axis]);
        }
        Self { terms, end: column(&group.end), reach: Reach::load(simd, group, part) }
    }

    #[inline(always)]
    fn part(&self, axis: usize, time: Lanes<S>) -> Lanes<S> {
        let mut sum = self.terms[5][axis];
        for power in (0..5).rev() {
            sum = sum.mul_add(time, self.terms[power][axis]);
        }
        sum
    }

    #[inline(always)]
    fn speed(&self, axis: usize, time: Lanes<S>) -> Lanes<S> {
        let mut sum = self.terms[5][axis] * time.filled(5.0);
        for power in (1..5).rev() {
            sum = sum.mul_add(time, self.terms[power][axis] * time.filled(power as f64));
        }
        sum
    }

    #[inline(always)]
    pub(super) fn position(&self, time: Lanes<S>) -> [Lanes<S>; 3] {
        [self.part(0, time), self.part(1, time), self.part(2, time)]
    }

    #[inline(always)]
    pub(super) fn velocity(&self, time: Lanes<S>) -> [Lanes<S>; 3] {
        [self.speed(0, time), self.speed(1, time), self.speed(2, time)]
    }

    /// The tyres' distance from the centre of mass.
    #[inline(always)]
    pub(super) fn reach(&self, time: Lanes<S>) -> Lanes<S> {
        self.reach.at(time)
    }

    /// About when the flights are so far along the heading; the end where they never get there.
    ///
    /// Along, a flight is nearly even: from the chord's time a single step of Newton's is good to tenths of a millisecond.
    #[inline(always)]
    pub(super) fn time_at(&self, along: Lanes<S>) -> Lanes<S> {
        let (zero, slow) = (along.filled(0.0), along.filled(SLOW));
        let chord = (self.part(0, self.end) - self.terms[0][0]) / self.end;
        let guess = ((along - self.terms[0][0]) / chord).max(zero).min(self.end);
        let speed = self.speed(0, guess);
        let time = guess + (along - self.part(0, guess)) / speed;
        // Not a number is not less.
        let gets_there = slow.lt(chord).and(slow.lt(speed)).and(time.lt(self.end));
        gets_there.select(time, self.end)
    }

    /// How far the centres of mass are over a plane through the crest line with this normal in the profile: coefficients of
    /// the powers of time.
    #[inline(always)]
    pub(super) fn over(&self, normal: [f64; 2]) -> [Lanes<S>; 6] {
        let mut over = [self.end.filled(0.0); 6];
        for (term, [along, _, up]) in over.iter_mut().zip(&self.terms) {
            *term = along.mul_add(along.filled(normal[0]), *up * up.filled(normal[1]));
        }
        over
    }

    /// How far the tyres are over a plane, and how fast that grows.
    #[inline(always)]
    pub(super) fn gap(&self, over: &[Lanes<S>; 6], time: Lanes<S>) -> (Lanes<S>, Lanes<S>) {
        let (mut gap, mut growth) = (over[5], time.filled(0.0));
        for power in (0..5).rev() {
            growth = growth.mul_add(time, gap);
            gap = gap.mul_add(time, over[power]);
        }
        let (reach, righting) = self.reach.righting(time);
        (gap - reach, growth - righting)
    }

    /// How fast the distance from the earth grows, where it has this normal.
    #[inline(always)]
    pub(super) fn growth(&self, normal: &[Lanes<S>; 3], time: Lanes<S>) -> Lanes<S> {
        let [along, across, up] = self.velocity(time);
        let (_, righting) = self.reach.righting(time);
        normal[0].mul_add(along, normal[1].mul_add(across, normal[2] * up)) - righting
    }

    /// When the flights cross a plane, the nearest to one of their ends where they are below it; that end where they are above.
    ///
    /// Nearly a parabola: from its root Newton's method takes two steps.
    #[inline(always)]
    pub(super) fn crossing(&self, over: &[Lanes<S>; 6], end: Lanes<S>) -> Lanes<S> {
        let (zero, two) = (end.filled(0.0), end.filled(2.0));
        let close = end.filled(CLOSE);
        let (gap, growth) = self.gap(over, end);
        let below = gap.lt(zero);
        let mut bend = over[5] * end.filled(20.0);
        for power in (2..5).rev() {
            bend = bend.mul_add(end, over[power] * end.filled((power * (power - 1)) as f64));
        }
        let root = (growth * growth - two * bend * gap).max(zero).sqrt();
        let root = growth.lt(zero).select(-root, root);
        let mut time = end - below.select(two * gap / (growth + root), zero);
        for _ in 0..STEPS {
            time = time.max(zero).min(self.end);
            let (gap, growth) = self.gap(over, time);
            let step = below.select(gap / growth, zero);
            time = time - step;
            if !close.lt(step.abs()).any() {
                break;
            }
        }
        time.max(zero).min(self.end)
    }
}

/// Newton's method doubles its digits: more steps than this it never needs.
const STEPS: usize = 8;
/// After a step as short as this, the next one would be lost in rounding; seconds.
const CLOSE: f64 = 1e-5;
/// Slower along than this nobody gets there, m/s.
const SLOW: f64 = 0.1;
