//! The touch found slowly, by walking along a landing: for the few of whom a glance is not sure.

#![allow(clippy::inline_always, reason = "a kernel that is not inlined loses its instruction set")]

use super::{
    Quick,
    crowd::{GROUP, Group},
    planes::{Flying, Over, Plane},
    site::Site,
    solid::{Solid, dot},
    touch::{Touches, touched},
    wide::Lanes,
};
use pulp::{Simd, WithSimd};

/// How closely a moment of touch is found, seconds.
const CLOSE: f64 = 1e-5;
/// How closely the tyres are then, metres.
const MET: f64 = 1e-6;
/// So long after a moment it is past, seconds.
const HAIR: f64 = 1e-4;
/// Slower along than this nobody gets there, m/s.
const SLOW: f64 = 0.1;
/// Moments at which a flight is looked at.
const MOMENTS: usize = 10;
/// Steps tried: a bracket closes in less.
const STEPS: usize = 30;

/// The walk of a group of flights along one face.
pub(super) struct Walk<'a> {
    pub quick: &'a Quick,
    pub group: &'a Group,
    pub touches: &'a mut Touches,
}

impl WithSimd for Walk<'_> {
    type Output = ();

    #[inline(always)]
    fn with_simd<S: Simd>(self, simd: S) {
        let Self { quick, group, touches } = self;
        let (site, solid) = (Site::new(simd, quick), Solid::new(simd, quick));
        let stations = Stations::new(simd, quick);
        let (ahead, face) = (Plane::across(&site), Plane::new(simd, quick, &quick.face[0]));
        for part in 0..GROUP / Lanes::<S>::WIDTH {
            let flying = Flying::load(simd, group, part);
            let (over_face, along) = (face.under(&flying), ahead.under(&flying));
            let local = Local { site: &site, solid: &solid, flying: &flying, along, over_face };
            let time = local.touch_time(&stations);
            let (at, velocity) = site.motion(&flying, time.min(flying.end));
            let normal = solid.facets.normal(&at, &solid.near(&at));
            let length = flying.reach.at(time.min(flying.end));
            touches.store(time, touched(&at, &velocity, &normal, length), part);
        }
    }
}

/// Where a flight is looked at: over the back, at the crest, where the face begins, and at the foot, in order along.
struct Stations<S: Simd>([Lanes<S>; MOMENTS - 2]);

impl<S: Simd> Stations<S> {
    #[inline(always)]
    fn new(simd: S, quick: &Quick) -> Self {
        let fill = |value: f64| Lanes::splat(simd, value);
        let length = quick.landing.length();
        let back = -length * quick.grade / quick.steepest;
        let [foot_from, foot_to] = quick.foot.span();
        let [arc_from, arc_to] = quick.arc;
        Self([
            fill(back),
            fill(0.5 * (back + arc_from)),
            fill(arc_from),
            fill(0.0),
            fill(arc_to),
            fill(foot_from),
            fill(length),
            fill(foot_to),
        ])
    }
}

/// A register of flights over a face.
struct Local<'a, S: Simd> {
    site: &'a Site<S>,
    solid: &'a Solid<S>,
    flying: &'a Flying<'a, S>,
    /// How far the flights are along the heading, and over the face's plane.
    along: Over<'a, S>,
    over_face: Over<'a, S>,
}

/// Two moments between which the earth is first met, and the gaps then; `to` is infinite where it is not.
struct Bracket<S: Simd> {
    from: Lanes<S>,
    above: Lanes<S>,
    to: Lanes<S>,
    below: Lanes<S>,
}

impl<S: Simd> Local<'_, S> {
    /// About when the flights are so far along the heading; the end where they never get there.
    ///
    /// Along, a flight is nearly even: from the chord's time a single step of Newton's is good to tenths of a millisecond.
    #[inline(always)]
    fn time_at(&self, along: Lanes<S>) -> Lanes<S> {
        let (zero, slow, end) = (along.filled(0.0), along.filled(SLOW), self.flying.end);
        let start = self.along.rising(zero).0;
        let chord = (self.along.rising(end).0 - start) / end;
        let guess = ((along - start) / chord).max(zero).min(end);
        let (there, speed) = self.along.rising(guess);
        let time = guess + (along - there) / speed;
        // Not a number is not less.
        let gets_there = slow.lt(chord).and(slow.lt(speed)).and(time.lt(end));
        gets_there.select(time, end)
    }

    #[inline(always)]
    fn gap(&self, time: Lanes<S>) -> Lanes<S> {
        let at = self.site.position(self.flying, time);
        self.solid.near(&at).distance - self.flying.reach.at(time)
    }

    /// The first moment within reach of the earth, or infinity where the ground comes first.
    ///
    /// Over the face the gap is concave in time, so a few moments bracket what there is.
    #[inline(always)]
    fn touch_time(&self, stations: &Stations<S>) -> Lanes<S> {
        let end = self.flying.end;
        let mut moments = [end; MOMENTS];
        for (moment, along) in moments.iter_mut().zip(&stations.0) {
            *moment = self.time_at(*along);
        }
        // A hair after he comes down to the face's plane: near the foot he may be clear again soon after.
        let (down, _) = self.over_face.crossing(&self.over_face.last());
        moments[MOMENTS - 2] = (down + end.filled(HAIR)).min(end);
        let bracket = self.bracket(&moments);
        let met = bracket.to.lt(end.filled(f64::INFINITY));
        if !met.any() {
            return bracket.to;
        }
        self.close_in(&bracket)
    }

    /// The first of some moments at which the earth is within reach, and the last one before.
    #[inline(always)]
    fn bracket(&self, moments: &[Lanes<S>; MOMENTS]) -> Bracket<S> {
        let fill = |value: f64| self.flying.end.filled(value);
        let (zero, never) = (fill(0.0), fill(f64::INFINITY));
        let mut gaps = [zero; MOMENTS];
        let (mut to, mut below) = (never, zero);
        for (gap, moment) in gaps.iter_mut().zip(moments) {
            *gap = self.gap(*moment);
            // Behind the edge nothing is met.
            let sooner = gap.lt(fill(f64::MIN_POSITIVE)).and(zero.lt(*moment)).and(moment.lt(to));
            to = sooner.select(*moment, to);
            below = sooner.select(*gap, below);
        }
        let (mut from, mut above) = (zero, self.gap(zero).max(fill(1e-9)));
        for (gap, moment) in gaps.iter().zip(moments) {
            let later = from.lt(*moment).and(moment.lt(to));
            from = later.select(*moment, from);
            above = later.select(*gap, above);
        }
        Bracket { from, above, to, below }
    }

    /// Newton's method on a bracket; the chord where it leads out of it.
    #[inline(always)]
    fn close_in(&self, bracket: &Bracket<S>) -> Lanes<S> {
        let Bracket { mut from, mut above, mut to, mut below } = *bracket;
        let end = self.flying.end;
        let zero = end.filled(0.0);
        let (never, hair, met) = (end.filled(f64::INFINITY), end.filled(CLOSE), end.filled(MET));
        let mut open = to.lt(never);
        let mut time = (from * below - to * above) / (below - above);
        for _ in 0..STEPS {
            open = open.and(hair.lt(to - from));
            if !open.any() {
                break;
            }
            let (at, velocity) = self.site.motion(self.flying, time);
            let near = self.solid.near(&at);
            let (length, righting) = self.flying.reach.righting(time);
            let gap = near.distance - length;
            let over = open.and(zero.lt(gap));
            let under = open.and(gap.lt(end.filled(f64::MIN_POSITIVE)));
            (from, above) = (over.select(time, from), over.select(gap, above));
            (to, below) = (under.select(time, to), under.select(gap, below));
            let closed = open.and(gap.abs().lt(met));
            (from, to) = (closed.select(time, from), closed.select(time, to));
            let newton = time - gap / (dot(&near.normal, &velocity) - righting);
            let chord = (from * below - to * above) / (below - above);
            time = from.lt(newton).and(newton.lt(to)).select(newton, chord);
        }
        to
    }
}
