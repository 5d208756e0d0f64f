//! The landing of a search asked by several points at once.

#![allow(clippy::inline_always, reason = "a kernel that is not inlined loses its instruction set")]

use super::{
    Quick,
    facets::Facets,
    wide::{Lanes, Mask},
};
use crate::math::Vec2;
use pulp::Simd;

/// The planes and arcs of a landing in its local axes, each number in all lanes.
#[derive(Clone, Copy)]
pub(super) struct Solid<S: Simd> {
    half: Lanes<S>,
    grade: Lanes<S>,
    across: Lanes<S>,
    /// The length of `(grade, across, 1)`, inverted.
    batter: Lanes<S>,
    /// Towards the batter's normal from the side of the face: the share of it that is level.
    away: Lanes<S>,
    crest: Arc<S>,
    face: Flat<S>,
    back: Flat<S>,
    front: Flat<S>,
    foot: Option<Arc<S>>,
    /// The crest as it is built.
    pub(super) facets: Facets<S>,
}

/// An arc between two directions.
#[derive(Clone, Copy)]
struct Arc<S: Simd> {
    radius: Lanes<S>,
    centre: [Lanes<S>; 2],
    /// The directions of travel at its ends.
    ways: [[Lanes<S>; 2]; 2],
}

/// A plane across the landing: its normal in the profile, and how far it lies along it.
#[derive(Clone, Copy)]
struct Flat<S: Simd> {
    normal: [Lanes<S>; 2],
    offset: Lanes<S>,
}

/// The nearest plane or arc to a point: how far, and its normal along, across and up.
#[derive(Clone, Copy)]
pub(super) struct Near<S: Simd> {
    pub distance: Lanes<S>,
    pub normal: [Lanes<S>; 3],
}

impl<S: Simd> Arc<S> {
    #[inline(always)]
    fn new(simd: S, radius: f64, centre: &Vec2, ways: [&Vec2; 2]) -> Self {
        Self {
            radius: Lanes::splat(simd, radius),
            centre: pair(simd, centre),
            ways: [pair(simd, ways[0]), pair(simd, ways[1])],
        }
    }
}

impl<S: Simd> Flat<S> {
    #[inline(always)]
    fn new(simd: S, normal: &Vec2, on: &Vec2) -> Self {
        Self { normal: pair(simd, normal), offset: Lanes::splat(simd, normal.dot(on)) }
    }

    #[inline(always)]
    fn distance(&self, along: Lanes<S>, up: Lanes<S>) -> Lanes<S> {
        dot(&self.normal, &[along, up]) - self.offset
    }
}

impl<S: Simd> Solid<S> {
    #[inline(always)]
    pub(super) fn new(simd: S, quick: &Quick) -> Self {
        let fill = |value: f64| Lanes::splat(simd, value);
        let norm = (quick.steepest * quick.steepest + 1.0).sqrt();
        let (length, foot) = (quick.landing.length(), &quick.foot);
        let end = Vec2::new(length, -length * quick.grade);
        let front = Vec2::new(-quick.back[0].x, quick.back[0].y);
        Self {
            half: fill(quick.half),
            grade: fill(quick.grade),
            across: fill(quick.across),
            batter: fill(norm.recip()),
            away: fill(quick.across / norm),
            crest: Arc::new(simd, quick.radius, &quick.centre, [&quick.back[1], &quick.face[1]]),
            face: Flat::new(simd, &quick.face[0], &Vec2::zeros()),
            back: Flat::new(simd, &quick.back[0], &Vec2::zeros()),
            front: Flat::new(simd, &front, &end),
            facets: Facets::new(simd, quick),
            foot: if foot.is_rounded() {
                Some(Arc::new(simd, foot.radius(), foot.centre(), foot.ways()))
            } else {
                None
            },
        }
    }

    /// How far points are outside the earth, by the plane or arc that each is farthest outside of.
    #[inline(always)]
    pub(super) fn near(&self, at: &[Lanes<S>; 3]) -> Near<S> {
        let [along, across, up] = *at;
        let profile = self.near_profile(along, up);
        let off = across.abs() - self.half;
        let near = self.beside(at, off, &profile);
        match &self.foot {
            Some(foot) => over_foot(foot, at, off, &near),
            None => near,
        }
    }

    #[inline(always)]
    fn near_profile(&self, along: Lanes<S>, up: Lanes<S>) -> Near<S> {
        let zero = along.filled(0.0);
        let from = [along - self.crest.centre[0], up - self.crest.centre[1]];
        let norm = dot(&from, &from).sqrt();
        let unit = norm.max(along.filled(1e-12)).recip();
        let mut near = Near {
            distance: norm - self.crest.radius,
            normal: [from[0] * unit, zero, from[1] * unit],
        };
        let past_back = dot(&from, &self.crest.ways[0]).lt(zero);
        let past_face = zero.lt(dot(&from, &self.crest.ways[1]));
        near = self.back.taken(past_back, along, up, &near);
        near = self.face.taken(past_face, along, up, &near);
        let past_front = near.distance.lt(self.front.distance(along, up));
        self.front.taken(past_front, along, up, &near)
    }

    /// How far points so far off a side are over the batter there.
    #[inline(always)]
    fn over_batter(&self, at: &[Lanes<S>; 3], off: Lanes<S>) -> Lanes<S> {
        self.across.mul_add(off, at[0].mul_add(self.grade, at[2])) * self.batter
    }

    /// The plane of the batter on the side of places so far across: its normal, and how far it lies along it.
    #[inline(always)]
    pub(super) fn batter_beside(&self, across: Lanes<S>) -> ([Lanes<S>; 3], Lanes<S>) {
        let zero = across.filled(0.0);
        let away = across.lt(zero).select(-self.away, self.away);
        ([self.grade * self.batter, away, self.batter], self.away * self.half)
    }

    /// Whether riders who reach so far are beside the landing at a place, and over its batter there from then to their last
    /// one: a flight is concave.
    #[inline(always)]
    pub(super) fn stays_off(
        &self,
        [then, last]: [&[Lanes<S>; 3]; 2],
        [reach_then, reach_last]: [Lanes<S>; 2],
    ) -> Mask<S> {
        let (zero, one) = (self.half.filled(0.0), self.half.filled(1.0));
        let side = then[1].lt(zero).select(-one, one);
        let (off_then, off_last) = (then[1] * side - self.half, last[1] * side - self.half);
        let over_then = reach_then.lt(self.over_batter(then, off_then));
        let over_last = reach_last.lt(self.over_batter(last, off_last));
        zero.lt(off_then).and(over_then).and(over_last)
    }

    /// The edge of the deck or the batter below it, where that is what a point so far off the side is nearest to.
    #[inline(always)]
    fn beside(&self, at: &[Lanes<S>; 3], off: Lanes<S>, profile: &Near<S>) -> Near<S> {
        let (zero, one) = (off.filled(0.0), off.filled(1.0));
        let side = at[1].lt(zero).select(-one, one);
        let outside = profile.distance.max(zero);
        let edge = off.mul_add(off, outside * outside).sqrt();
        let batter = self.over_batter(at, off);
        let on_batter = profile.distance.lt(batter);
        let mut near = Near {
            distance: on_batter.select(batter, profile.distance),
            normal: [
                on_batter.select(self.grade * self.batter, profile.normal[0]),
                on_batter.select(self.away * side, zero),
                on_batter.select(self.batter, profile.normal[2]),
            ],
        };
        // Up to the batter's own normal the edge is nearest, all along which a rider's reach turns about it.
        let beyond = zero.lt(off).and(zero.lt(profile.distance));
        let on_edge = beyond.and(off.lt(self.away * edge));
        let share = profile.distance / edge;
        near.distance = on_edge.select(edge, near.distance);
        near.normal = [
            on_edge.select(profile.normal[0] * share, near.normal[0]),
            on_edge.select(off * side / edge, near.normal[1]),
            on_edge.select(profile.normal[2] * share, near.normal[2]),
        ];
        near
    }
}

impl<S: Simd> Flat<S> {
    /// This plane where the mask holds, else what was nearest.
    #[inline(always)]
    fn taken(&self, taken: Mask<S>, along: Lanes<S>, up: Lanes<S>, other: &Near<S>) -> Near<S> {
        let zero = along.filled(0.0);
        Near {
            distance: taken.select(self.distance(along, up), other.distance),
            normal: [
                taken.select(self.normal[0], other.normal[0]),
                taken.select(zero, other.normal[1]),
                taken.select(self.normal[1], other.normal[2]),
            ],
        }
    }
}

/// The earth of the foot's rounding lies beside the rest: nearest is what is nearer of the two.
#[inline(always)]
fn over_foot<S: Simd>(foot: &Arc<S>, at: &[Lanes<S>; 3], off: Lanes<S>, near: &Near<S>) -> Near<S> {
    let zero = off.filled(0.0);
    let from = [at[0] - foot.centre[0], at[2] - foot.centre[1]];
    let norm = dot(&from, &from).sqrt();
    let distance = foot.radius - norm;
    let within = (-dot(&from, &foot.ways[0])).lt(zero).and(dot(&from, &foot.ways[1]).lt(zero));
    let nearer = distance.lt(near.distance).and(off.lt(zero)).and(within);
    let unit = norm.max(off.filled(1e-12)).recip();
    Near {
        distance: nearer.select(distance, near.distance),
        normal: [
            nearer.select(-from[0] * unit, near.normal[0]),
            nearer.select(zero, near.normal[1]),
            nearer.select(-from[1] * unit, near.normal[2]),
        ],
    }
}

#[inline(always)]
pub(super) fn pair<S: Simd>(simd: S, of: &Vec2) -> [Lanes<S>; 2] {
    [Lanes::splat(simd, of.x), Lanes::splat(simd, of.y)]
}

#[inline(always)]
pub(super) fn dot<S: Simd, const N: usize>(a: &[Lanes<S>; N], b: &[Lanes<S>; N]) -> Lanes<S> {
    let mut sum = a[0] * b[0];
    for (a, b) in a.iter().zip(b).skip(1) {
        sum = a.mul_add(*b, sum);
    }
    sum
}
