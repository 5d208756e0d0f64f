//! The crest's rounding as it is built, of facets: into which the riders come is a matter of a degree, and that of centimetres of
//! fall height.

#![allow(clippy::inline_always, reason = "a kernel that is not inlined loses its instruction set")]

use super::{
    Quick,
    solid::{Near, dot, pair},
    wide::{Lanes, Mask},
};
use crate::ground::landing::FACET;
use pulp::Simd;

/// Moves the digits behind the point out of a number, so that it is rounded to a whole one.
const TO_WHOLE: f64 = 6_755_399_441_055_744.0;

/// The facets of a crest in the profile: chords of equal turns of the arc.
#[derive(Clone, Copy)]
pub(super) struct Facets<S: Simd> {
    half: Lanes<S>,
    centre: [Lanes<S>; 2],
    /// Towards the arc's start, and along the arc there and at its end.
    start: [Lanes<S>; 2],
    ways: [[Lanes<S>; 2]; 2],
    /// The turn of a facet, and one over it.
    turn: Lanes<S>,
    per_turn: Lanes<S>,
    /// A facet's distance from the arc's centre, and half its length.
    apothem: Lanes<S>,
    reach: Lanes<S>,
}

impl<S: Simd> Facets<S> {
    #[inline(always)]
    pub(super) fn new(simd: S, quick: &Quick) -> Self {
        let fill = |value: f64| Lanes::splat(simd, value);
        let whole = quick.landing.slope() + quick.landing.batter();
        let turn = whole / (whole / FACET).ceil().max(1.0);
        let (sin, cos) = (0.5 * turn).sin_cos();
        Self {
            half: fill(quick.half),
            centre: pair(simd, &quick.centre),
            start: pair(simd, &quick.back[0]),
            ways: [pair(simd, &quick.back[1]), pair(simd, &quick.face[1])],
            turn: fill(turn),
            per_turn: fill(turn.recip()),
            apothem: fill(quick.radius * cos),
            reach: fill(quick.radius * sin),
        }
    }

    /// The normal where centres of mass at these places, of which this is nearest, meet the earth: on a facet the facet's, between
    /// two the one about the edge between them.
    #[inline(always)]
    pub(super) fn normal(&self, at: &[Lanes<S>; 3], near: &Near<S>) -> [Lanes<S>; 3] {
        let from = [at[0] - self.centre[0], at[2] - self.centre[1]];
        let on_arc = self.on_arc(at, &from);
        if !on_arc.any() {
            return near.normal;
        }
        let (one, sixth) = (self.turn.filled(1.0), self.turn.filled(1.0 / 6.0));
        let off = self.off_facet(&from, sixth);
        let sin = off - sixth * off * off * off;
        let cos = one - self.turn.filled(0.5) * off * off;
        let [x, z] = [near.normal[0], near.normal[2]];
        let turned = [x * cos + z * sin, z * cos - x * sin];
        [
            on_arc.select(turned[0], near.normal[0]),
            near.normal[1],
            on_arc.select(turned[1], near.normal[2]),
        ]
    }

    #[inline(always)]
    fn on_arc(&self, at: &[Lanes<S>; 3], from: &[Lanes<S>; 2]) -> Mask<S> {
        let zero = self.turn.filled(0.0);
        let past_back = zero.lt(dot(from, &self.ways[0]));
        past_back.and(dot(from, &self.ways[1]).lt(zero)).and(at[1].abs().lt(self.half))
    }

    /// By how much the built normal is turned on along the arc from the round one; small, so series of few terms do.
    #[inline(always)]
    fn off_facet(&self, from: &[Lanes<S>; 2], sixth: Lanes<S>) -> Lanes<S> {
        let (zero, tiny) = (sixth.filled(0.0), sixth.filled(1e-12));
        let (along, out) = (dot(from, &self.ways[0]), dot(from, &self.start));
        let norm = dot(from, from).sqrt();
        let half = (along / (norm + out).max(tiny)).max(zero).min(sixth.filled(1.0)).atan();
        let turned = half + half;
        let whole = sixth.filled(TO_WHOLE);
        let facet = (turned * self.per_turn - sixth.filled(0.5) + whole) - whole;
        let beyond = turned - (facet + sixth.filled(0.5)) * self.turn;
        // Past a facet's end its edge is nearest.
        let square = beyond * beyond;
        let side = norm * (beyond - sixth * square * beyond);
        let over = norm * (sixth.filled(1.0) - sixth.filled(0.5) * square) - self.apothem;
        let past = (side.abs() - self.reach).max(zero);
        let about = (past / over.max(tiny)).min(self.turn);
        let about = about - sixth.filled(1.0 / 3.0) * about * about * about;
        beyond.lt(zero).select(-about, about) - beyond
    }
}
