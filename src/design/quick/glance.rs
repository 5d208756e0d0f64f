//! Flights and the planes of a landing, several at once: who is sure to clear it, and where the others come down.

#![allow(clippy::inline_always, reason = "a kernel that is not inlined loses its instruction set")]

use super::{
    Quick,
    crowd::{GROUP, Group},
    entry,
    planes::{Flying, Height, Over, Plane},
    site::Site,
    solid::Solid,
    touch::Touches,
    wide::{Lanes, Mask},
};
use pulp::{Simd, WithSimd};

/// The touches of some groups of paths, one after another; says who is not sure to.
pub(super) struct Glance<'a> {
    pub quick: &'a Quick,
    pub groups: &'a [Group],
    pub touches: &'a mut Touches,
    /// One where the touch is sure, or that there is none.
    pub sure: &'a mut [f64],
}

/// A landing, to be glanced at.
struct Seen<S: Simd> {
    face: Plane<S>,
    back: Plane<S>,
    /// The share of the face's normal that is level.
    level: Lanes<S>,
    /// From where to where the face goes between its roundings, and half its width.
    face_from: Lanes<S>,
    face_to: Lanes<S>,
    half: Lanes<S>,
    is_rounded: bool,
    site: Site<S>,
    solid: Solid<S>,
}

/// What is known of a register.
#[derive(Clone, Copy)]
pub(super) struct Known<S: Simd> {
    pub sure: Mask<S>,
    /// Infinite where nothing is touched.
    pub time: Lanes<S>,
    /// The mark along and across, and the square of the speed into the earth.
    pub touched: [Lanes<S>; 3],
}

/// The flights of a register over the two planes of the profile.
struct Profile<'a, S: Simd> {
    over_face: Over<'a, S>,
    over_back: Over<'a, S>,
    last: Height<S>,
    back: [Height<S>; 2],
    /// When they rise through the face's plane; at once where they begin above it.
    up: Lanes<S>,
    /// Outside the back's plane up to then.
    past_back: Mask<S>,
}

impl WithSimd for Glance<'_> {
    type Output = ();

    #[inline(always)]
    fn with_simd<S: Simd>(self, simd: S) {
        let Self { quick, groups, touches, sure } = self;
        let seen = Seen::new(simd, quick);
        let parts = GROUP / Lanes::<S>::WIDTH;
        for (which, group) in groups.iter().enumerate() {
            for part in 0..parts {
                let flying = Flying::load(simd, group, part);
                let known = seen.glance(&flying);
                let register = which * parts + part;
                let (zero, one) = (Lanes::splat(simd, 0.0), Lanes::splat(simd, 1.0));
                known.sure.select(one, zero).store(sure, register);
                touches.store(known.time, known.touched, register);
            }
        }
    }
}

impl<S: Simd> Seen<S> {
    #[inline(always)]
    fn new(simd: S, quick: &Quick) -> Self {
        Self {
            face: Plane::new(simd, quick, &quick.face[0]),
            back: Plane::new(simd, quick, &quick.back[0]),
            level: Lanes::splat(simd, quick.face[0].x),
            face_from: Lanes::splat(simd, quick.arc[1]),
            face_to: Lanes::splat(simd, quick.foot.span()[0]),
            half: Lanes::splat(simd, quick.half),
            is_rounded: quick.foot.is_rounded(),
            site: Site::new(simd, quick),
            solid: Solid::new(simd, quick),
        }
    }

    #[inline(always)]
    fn glance(&self, flying: &Flying<S>) -> Known<S> {
        let profile = self.profile(flying);
        let zero = flying.end.filled(0.0);
        let Profile { over_face, last, back, up, past_back, .. } = &profile;
        // Under gravity the distance from a plane is concave in time: clear at both ends is clear between.
        let short = zero.lt(back[0].gap).and(zero.lt(back[1].gap));
        let (down, met) = over_face.crossing(last);
        let meets = past_back.and(met).and(up.lt(down));
        let at = self.site.position(flying, down);
        let length = flying.reach.at(down);
        let along = at[0] - length * self.level;
        let on_face = self.face_from.lt(along).and(along.lt(self.face_to));
        let on_face = on_face.and(at[1].abs().lt(self.half));
        let mut clear = short;
        // Past a foot that is rounded there is more earth than the planes'.
        if !self.is_rounded {
            clear = clear.or(past_back.and(zero.lt(last.gap)));
            let beside = meets.and(self.half.lt(at[1].abs()));
            if beside.any() {
                let then = self.site.position(flying, flying.end);
                let stays = self.solid.stays_off([&at, &then], [length, flying.last.0]);
                clear = clear.or(beside.and(stays));
            }
        }
        let into = over_face.sinking(down).max(zero);
        let known = Known {
            sure: clear.or(meets.and(on_face)),
            time: clear.select(zero.filled(f64::INFINITY), down),
            touched: [along, at[1], into * into],
        };
        if (!known.sure).any() {
            let down = meets.select(down, zero.filled(-1.0));
            return self.look(flying, &profile, down, &known);
        }
        known
    }

    #[inline(always)]
    fn profile<'a>(&self, flying: &'a Flying<'a, S>) -> Profile<'a, S> {
        let (over_face, over_back) = (self.face.under(flying), self.back.under(flying));
        let (first, last) = (over_face.first(), over_face.last());
        let back = [over_back.first(), over_back.last()];
        let zero = flying.end.filled(0.0);
        let starts_clear = zero.lt(back[0].gap);
        let (mut up, mut past_back) = (zero, starts_clear);
        // Who begins below the face's plane, uphill of the crest, has to stay off the back until above it.
        let below = first.gap.lt(zero);
        if below.any() {
            let (time, met) = over_face.crossing(&first);
            up = below.select(time, zero);
            let clears = met.and(zero.lt(over_back.at(up)));
            past_back = starts_clear.and((!below).or(clears));
        }
        Profile { over_face, over_back, last, back, up, past_back }
    }

    /// Looks closer at who is not sure: before the last plane that is crossed from above all of a flight is outside.
    #[inline(always)]
    fn look(
        &self,
        flying: &Flying<S>,
        profile: &Profile<S>,
        down: Lanes<S>,
        known: &Known<S>,
    ) -> Known<S> {
        let side = self.site.position(flying, flying.end)[1];
        let over_side = Plane::beside(&self.site, &self.solid, side).under(flying);
        let back = profile.over_back.fall(&profile.back[0], &profile.back[1]);
        let from = down.max(back).max(over_side.fall(&over_side.first(), &over_side.last()));
        let found = entry::find(&self.site, &self.solid, flying, from);
        let enters = (!known.sure).and(found.sure).and(from.filled(0.0).lt(from));
        let mut touched = known.touched;
        for (touched, found) in touched.iter_mut().zip(found.touched) {
            *touched = enters.select(found, *touched);
        }
        Known { sure: known.sure.or(enters), time: enters.select(found.time, known.time), touched }
    }
}
