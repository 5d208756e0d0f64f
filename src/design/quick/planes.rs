//! Planes of a landing and the heights of flights over them, several at once.

#![allow(clippy::inline_always, reason = "a kernel that is not inlined loses its instruction set")]

use super::{
    Quick,
    crowd::Group,
    reach::Reach,
    site::Site,
    solid::Solid,
    wide::{Lanes, Mask},
};
use crate::math::Vec2;
use pulp::Simd;

/// Steps of Halley's method tried: a flight is nearly a parabola, from whose root each has three times the digits.
const STEPS: usize = 5;
/// A step so short is the last, seconds: what is left is some millionths.
const CLOSE: f64 = 1e-2;

/// A plane in the axes of the site.
pub(super) struct Plane<S: Simd> {
    normal: [Lanes<S>; 3],
    offset: Lanes<S>,
}

/// A register of flights over one landing.
pub(super) struct Flying<'a, S: Simd> {
    pub group: &'a Group,
    pub part: usize,
    pub end: Lanes<S>,
    pub reach: Reach<S>,
    /// The reach at the start and at the end, and how fast it grows then.
    pub first: (Lanes<S>, Lanes<S>),
    pub last: (Lanes<S>, Lanes<S>),
}

/// How far the centres of mass of a register are over a plane: coefficients of the powers of time.
pub(super) struct Over<'a, S: Simd> {
    terms: [Lanes<S>; 6],
    flying: &'a Flying<'a, S>,
}

/// A height of tyres over a plane at a time, how fast it grows and how fast that does.
#[derive(Clone, Copy)]
pub(super) struct Height<S: Simd> {
    time: Lanes<S>,
    pub gap: Lanes<S>,
    growth: Lanes<S>,
    bend: Lanes<S>,
}

impl<'a, S: Simd> Flying<'a, S> {
    #[inline(always)]
    pub(super) fn load(simd: S, group: &'a Group, part: usize) -> Self {
        let reach = Reach::load(simd, group, part);
        let end = Lanes::load(simd, &group.end, part);
        let (first, last) = (reach.righting(end.filled(0.0)), reach.righting(end));
        Self { group, part, end, reach, first, last }
    }
}

impl<S: Simd> Plane<S> {
    /// The plane through the crest line with this normal in the profile.
    #[inline(always)]
    pub(super) fn new(simd: S, quick: &Quick, normal: &Vec2) -> Self {
        let level = normal.x * quick.ahead;
        let offset = level.dot(&quick.crest) + normal.y * quick.crest_height;
        let fill = |value: f64| Lanes::splat(simd, value);
        Self { normal: [fill(level.x), fill(level.y), fill(normal.y)], offset: fill(offset) }
    }

    /// The plane across the landing at the crest line: what is over it is along the heading.
    #[inline(always)]
    pub(super) fn across(site: &Site<S>) -> Self {
        let (one, zero) = (site.filled(1.0), site.filled(0.0));
        let (normal, offset) = site.turned_back(&[one, zero, zero], zero);
        Self { normal, offset }
    }

    /// The batter of the side on which places so far across are.
    #[inline(always)]
    pub(super) fn beside(site: &Site<S>, solid: &Solid<S>, across: Lanes<S>) -> Self {
        let (normal, offset) = solid.batter_beside(across);
        let (normal, offset) = site.turned_back(&normal, offset);
        Self { normal, offset }
    }

    #[inline(always)]
    pub(super) fn under<'a>(&self, flying: &'a Flying<'a, S>) -> Over<'a, S> {
        let mut terms = [self.offset; 6];
        for (term, [x, y, z]) in terms.iter_mut().zip(&flying.group.terms) {
            let part = flying.part;
            let (x, y) = (self.offset.loaded(x, part), self.offset.loaded(y, part));
            let level = x.mul_add(self.normal[0], y * self.normal[1]);
            *term = self.offset.loaded(z, part).mul_add(self.normal[2], level);
        }
        terms[0] = terms[0] - self.offset;
        Over { terms, flying }
    }
}

impl<S: Simd> Over<'_, S> {
    /// How far the tyres are over the plane at a time.
    #[inline(always)]
    pub(super) fn at(&self, time: Lanes<S>) -> Lanes<S> {
        let mut sum = self.terms[5];
        for power in (0..5).rev() {
            sum = sum.mul_add(time, self.terms[power]);
        }
        sum - self.flying.reach.at(time)
    }

    /// How fast the centre of mass goes down to the plane.
    #[inline(always)]
    pub(super) fn sinking(&self, time: Lanes<S>) -> Lanes<S> {
        -self.rising(time).1
    }

    /// How far the centre of mass is over the plane, and how fast that grows.
    #[inline(always)]
    pub(super) fn rising(&self, time: Lanes<S>) -> (Lanes<S>, Lanes<S>) {
        let (mut sum, mut growth) = (self.terms[5], time.filled(0.0));
        for power in (0..5).rev() {
            growth = growth.mul_add(time, sum);
            sum = sum.mul_add(time, self.terms[power]);
        }
        (sum, growth)
    }

    /// The height at the start.
    #[inline(always)]
    pub(super) fn first(&self) -> Height<S> {
        let ([gap, growth, half, ..], (length, righting)) = (self.terms, self.flying.first);
        let time = gap.filled(0.0);
        let bend = half + half + self.flying.reach.bend(time, length);
        Height { time, gap: gap - length, growth: growth - righting, bend }
    }

    /// The height at the end.
    #[inline(always)]
    pub(super) fn last(&self) -> Height<S> {
        self.height(self.flying.end, self.flying.last)
    }

    /// The height at a time when the reach, and how fast it grows, are these.
    #[inline(always)]
    fn height(&self, time: Lanes<S>, (length, righting): (Lanes<S>, Lanes<S>)) -> Height<S> {
        let zero = time.filled(0.0);
        let (mut gap, mut growth, mut half) = (self.terms[5], zero, zero);
        for power in (0..5).rev() {
            half = half.mul_add(time, growth);
            growth = growth.mul_add(time, gap);
            gap = gap.mul_add(time, self.terms[power]);
        }
        let bend = half + half + self.flying.reach.bend(time, length);
        Height { time, gap: gap - length, growth: growth - righting, bend }
    }

    /// When flights that begin above the plane come down to it before their end; before they begin where that is not known.
    #[inline(always)]
    pub(super) fn fall(&self, first: &Height<S>, last: &Height<S>) -> Lanes<S> {
        let (time, met) = self.crossing(last);
        first.gap.filled(0.0).lt(first.gap).and(met).select(time, time.filled(-1.0))
    }

    /// When the tyres cross the plane, the nearest to a height below it, and whether they are known to: from the root of
    /// the parabola by Halley's method.
    #[inline(always)]
    pub(super) fn crossing(&self, near: &Height<S>) -> (Lanes<S>, Mask<S>) {
        let Height { time, gap, growth, bend } = *near;
        let (zero, two, close) = (time.filled(0.0), time.filled(2.0), time.filled(CLOSE));
        let half = time.filled(0.5);
        let end = self.flying.end;
        let below = gap.lt(zero);
        let root = (growth * growth - two * bend * gap).max(zero).sqrt();
        let root = growth.lt(zero).select(-root, root);
        let mut crossing = (time - two * gap / (growth + root)).max(zero).min(end);
        let mut open = below;
        for _ in 0..STEPS {
            if !open.any() {
                break;
            }
            let now = self.height(crossing, self.flying.reach.righting(crossing));
            let square = now.growth * now.growth;
            let step = now.gap * now.growth / (square - half * now.gap * now.bend);
            crossing = (crossing - step).max(zero).min(end);
            // A step that is no number is not short.
            open = open.and(!step.abs().lt(close));
        }
        (crossing, below.and(!open))
    }
}
