//! Whether a touch is the first: the path is looked at backwards from it, stretch by stretch.

#![allow(clippy::inline_always, reason = "a kernel that is not inlined loses its instruction set")]
#![allow(clippy::needless_range_loop, reason = "axes and powers of several vectors at once")]

use super::blocks::Bounds;
use super::closing::Pair;
use super::field::{Field, Relief, unpacked};
use super::near::{Near, Vector};
use super::onward::{CLOSING, Moment, dot, select};
use crate::force::Forces;
use crate::ground::LEVELS;
use crate::math::lanes::Mask;
use pulp::Simd;

/// Stretches of a path that are looked at, at most.
const MOST_LOOKS: usize = 64;
/// The level of the first: that before a touch is long enough if it is short.
const FIRST: f64 = 1.0;

/// The whole path, roughly: a cubic from launch to the plane's touch, the series near that after it.
pub(super) struct Path<'a, S: Simd> {
    launch: &'a Moment<S>,
    about: &'a Moment<S>,
    near: &'a Near<S>,
    /// The cubic's square and cubic terms.
    square: Vector<S>,
    cube: Vector<S>,
    /// How far the cubic may be off, metres.
    slack: Pair<S>,
    /// How far the path may be off its chord in plan, metres.
    bend: Pair<S>,
    /// One over a level speed that it does not exceed, s/m.
    slowness: Pair<S>,
}

impl<'a, S: Simd> Path<'a, S> {
    #[inline(always)]
    pub(super) fn new(
        launch: &'a Moment<S>,
        about: &'a Moment<S>,
        near: &'a Near<S>,
        forces: &Forces,
        end: &Moment<S>,
    ) -> Self {
        let zero = about.time.filled(0.0);
        let h = about.time;
        let inverse = h.recip();
        let (mut square, mut cube) = ([zero; 3], [zero; 3]);
        for i in 0..3 {
            let (v, w) = (launch.velocity[i], about.velocity[i]);
            let mean = (about.place[i] - launch.place[i]) * inverse;
            square[i] = (mean * zero.filled(3.0) - v - v - w) * inverse;
            cube[i] = (v + w - mean - mean) * (inverse * inverse);
        }
        let later = select(h.lt(end.time), &end.velocity, &about.velocity);
        let fastest = air(&launch.velocity, forces)
            .max(air(&about.velocity, forces))
            .max(air(&later, forces));
        // Of `-k |u| u`, with `a` the most that the acceleration is: its second derivative.
        let drag = fastest * zero.filled(forces.k());
        let a = drag + zero.filled(forces.g());
        let snap = a * zero.filled(forces.k()) * (a * zero.filled(3.0) + drag * zero.filled(4.0));
        let (long, hair) = (h.max(end.time), zero.filled(1e-6));
        let level = level(&launch.velocity).max(level(&about.velocity)).max(level(&later));
        Self {
            launch,
            about,
            near,
            square,
            cube,
            slack: (snap * zero.filled(1.0 / 384.0)).mul_add((h * h) * (h * h), hair),
            bend: (drag * zero.filled(0.125)).mul_add(long * long, hair),
            slowness: level.sqrt().max(zero.filled(0.1)).recip(),
        }
    }

    #[inline(always)]
    fn at(&self, time: Pair<S>) -> Moment<S> {
        let (two, three) = (time.filled(2.0), time.filled(3.0));
        let (mut place, mut velocity) = (self.launch.place, self.launch.velocity);
        for i in 0..3 {
            let (v, square, cube) = (self.launch.velocity[i], self.square[i], self.cube[i]);
            let bent = cube.mul_add(time, square);
            place[i] = bent.mul_add(time, v).mul_add(time, place[i]);
            velocity[i] = (cube * three).mul_add(time, square * two).mul_add(time, v);
        }
        let early = Moment { time, place, velocity };
        let late = self.about.time.lt(time);
        if !late.any() {
            return early;
        }
        let (place, velocity) = self.near.after(time - self.about.time);
        Moment { time, place, velocity }.or(late, &early)
    }

    /// Whether the whole path lies over the known ground: its ends do, by more than it bends in plan.
    #[inline(always)]
    pub(super) fn stays_over(&self, field: &Field, end: &Moment<S>) -> Mask<S, 2> {
        let bend = self.bend;
        let mut within = bend.filled(0.0).lt(bend);
        for i in 0..2 {
            let [low, high] = field.span(i);
            for place in [&self.launch.place[i], &end.place[i]] {
                let inside = bend.lt(*place - bend.filled(low));
                within = within.and(inside).and(bend.lt(bend.filled(high) - *place));
            }
        }
        for place in [&self.launch.place, &end.place] {
            let at = [unpacked(place[0]), unpacked(place[1])];
            if let Some(depths) = field.depths(&at, Pair::<S>::WIDTH) {
                within = within.and(bend.lt(bend.loaded(&depths, 0)));
            }
        }
        within
    }

    /// Whether there is no touch before the one found: looked at backwards from it, stretch by stretch.
    ///
    /// A stretch is clear if it passes above all ground near it, or if the gap only closes over it, whatever the slope near
    /// it is, so that it is open before where it is open, or just touching, after.
    #[inline(always)]
    pub(super) fn is_first(
        &self,
        relief: &Relief,
        found: &Moment<S>,
        wanted: Mask<S, 2>,
    ) -> Mask<S, 2> {
        let zero = self.bend.filled(0.0);
        let (one, half) = (zero.filled(1.0), zero.filled(0.5));
        let (mut level, mut after, mut first) = (zero.filled(FIRST), *found, zero);
        let mut open = wanted.select(one, zero);
        let slant = Slant::of(relief, zero);
        for _ in 0..MOST_LOOKS {
            let width = relief.blocks.width(level);
            let before = self.at((after.time - width * self.slowness).max(zero));
            let x = (before.place[0] + after.place[0]) * half;
            let y = (before.place[1] + after.place[1]) * half;
            let known = relief.blocks.about(level, [x, y]);
            let low = slant.over(&before.place).min(slant.over(&after.place)) - self.slack;
            let closing = closes(&known, &slant, &before, &after);
            let clear = known.top.lt(low).or(closing);
            let to_go = zero.lt(before.time).select(one, zero);
            first = half.lt(open).and(clear).select(one - to_go, first);
            let finer = half.lt(level).select(one, zero);
            open = open * clear.select(to_go, finer);
            let up = (level + one).min(zero.filled((LEVELS - 1) as f64));
            level = clear.select(up, (level - one).max(zero));
            after = before.or(clear, &after);
            if !half.lt(open).any() {
                break;
            }
        }
        half.lt(first)
    }
}

/// The plane from which the ground is seen.
#[derive(Clone, Copy)]
struct Slant<S: Simd> {
    slope: [Pair<S>; 2],
    height: Pair<S>,
}

impl<S: Simd> Slant<S> {
    #[inline(always)]
    fn of(relief: &Relief, like: Pair<S>) -> Self {
        let (n, plane) = (relief.seen_from.normal(), &relief.seen_from);
        let slope = [like.filled(-n.x / n.z), like.filled(-n.y / n.z)];
        Self { slope, height: like.filled(plane.height(0.0, 0.0)) }
    }

    /// How high places are over the plane.
    #[inline(always)]
    fn over(&self, place: &Vector<S>) -> Pair<S> {
        self.away(place) - self.height
    }

    /// How fast that grows.
    #[inline(always)]
    fn away(&self, velocity: &Vector<S>) -> Pair<S> {
        let [x, y, z] = *velocity;
        z - x.mul_add(self.slope[0], y * self.slope[1])
    }
}

/// The square of the speed through the air.
#[inline(always)]
fn air<S: Simd>(v: &Vector<S>, forces: &Forces) -> Pair<S> {
    let wind = forces.wind();
    let [x, y, z] = v;
    let u = [*x - x.filled(wind.x), *y - x.filled(wind.y), *z - x.filled(wind.z)];
    dot(&u, &u)
}

/// The square of the level speed.
#[inline(always)]
fn level<S: Simd>(v: &Vector<S>) -> Pair<S> {
    v[0].mul_add(v[0], v[1] * v[1])
}

/// Whether the gap to ground with such slopes closes all the way between two moments.
#[inline(always)]
fn closes<S: Simd>(
    known: &Bounds<S>,
    slant: &Slant<S>,
    before: &Moment<S>,
    after: &Moment<S>,
) -> Mask<S, 2> {
    // Gravity only ever bends the path towards the plane.
    let mut rate = slant.away(&before.velocity);
    for i in 0..2 {
        let (v, w) = (before.velocity[i], after.velocity[i]);
        let [flat, steep] = [known.least[i], known.most[i]];
        rate = rate - (flat * v).min(flat * w).min((steep * v).min(steep * w));
    }
    rate.lt(rate.filled(-CLOSING))
}
