//! Flights onto uneven ground, in the machine's vector registers: from the touch of a plane that the ground lies about to the
//! touch of the ground itself, and whether that is the first.

#![allow(clippy::inline_always, reason = "a kernel that is not inlined loses its instruction set")]
#![allow(clippy::needless_range_loop, reason = "axes and powers of several vectors at once")]

use super::chunk::{ROWS, Starts, Touches, Vectors};
use super::closing::Pair;
use super::field::{Blocks, Field, Look, Relief, Seen, Several};
use super::near::{Near, Vector};
use crate::force::Forces;
use crate::ground::LEVELS;
use crate::math::lanes::{Lanes, Mask};
use pulp::{Simd, WithSimd};

/// A gap no wider than this is a touch; metres.
const TOUCHING: f64 = 1e-10;
/// Newton steps to a touch at most.
const MOST_STEPS: usize = 12;
/// So many of them look at the ball's ground only nearby.
const GLANCES: usize = 2;
/// Stretches of a path that are looked at, at most.
const MOST_LOOKS: usize = 64;
/// A touch sooner than this is left to one flight, which knows whether the rider had left the ground; seconds.
const SOONEST: f64 = 1e-6;
/// The gap must close at least so fast, m/s.
const CLOSING: f64 = 0.05;

/// Flies on from the touches of the plane: `certain` says which of the ground's touches stand.
pub(super) struct Onward<'a> {
    pub(super) field: &'a Field,
    /// What the path is held to, seen from the plane.
    pub(super) relief: &'a Relief,
    pub(super) forces: &'a Forces,
    pub(super) starts: &'a Starts,
    pub(super) touches: &'a mut Touches,
    pub(super) rows: usize,
}

impl WithSimd for Onward<'_> {
    type Output = ();

    #[inline(always)]
    fn with_simd<S: Simd>(self, simd: S) {
        let (field, forces, touches) = (self.field, self.forces, self.touches);
        for at in 0..self.rows.min(ROWS).div_ceil(Pair::<S>::WIDTH) {
            let launch = Moment::load(simd, &self.starts.position, &self.starts.velocity, None, at);
            let time = Some(&touches.time[..]);
            let about = Moment::load(simd, &touches.position, &touches.velocity, time, at);
            let near: Near<S> = Near::new(about.place, about.velocity, forces);
            let certain = about.time.filled(0.5).lt(Lanes::load(simd, &touches.certain, at));
            let found = Found::near(&about, &near, field, certain);
            let path = Path::new(&launch, &about, &near, forces, &found.at);
            let sure = found.sure.and(path.stays_over(field, &found.at));
            let first = path.is_first(self.relief, &found.at, sure);
            let one = about.time.filled(1.0);
            sure.and(first).select(one, one.filled(0.0)).store(&mut touches.certain, at);
            found.store(touches, at);
        }
    }
}

/// Place and velocity of flights at a time.
#[derive(Clone, Copy)]
struct Moment<S: Simd> {
    time: Pair<S>,
    place: Vector<S>,
    velocity: Vector<S>,
}

impl<S: Simd> Moment<S> {
    #[inline(always)]
    fn load(simd: S, place: &Vectors, velocity: &Vectors, time: Option<&[f64]>, at: usize) -> Self {
        let time = match time {
            Some(time) => Lanes::load(simd, time, at),
            None => Lanes::splat(simd, 0.0),
        };
        Self { time, place: load(simd, place, at), velocity: load(simd, velocity, at) }
    }

    /// This one where it holds, else another.
    #[inline(always)]
    fn or(&self, holds: Mask<S, 2>, other: &Self) -> Self {
        Self {
            time: holds.select(self.time, other.time),
            place: select(holds, &self.place, &other.place),
            velocity: select(holds, &self.velocity, &other.velocity),
        }
    }
}

#[inline(always)]
fn load<S: Simd>(simd: S, parts: &Vectors, at: usize) -> Vector<S> {
    [
        Lanes::load(simd, &parts[0], at),
        Lanes::load(simd, &parts[1], at),
        Lanes::load(simd, &parts[2], at),
    ]
}

#[inline(always)]
fn select<S: Simd>(holds: Mask<S, 2>, yes: &Vector<S>, no: &Vector<S>) -> Vector<S> {
    [holds.select(yes[0], no[0]), holds.select(yes[1], no[1]), holds.select(yes[2], no[2])]
}

#[inline(always)]
fn dot<S: Simd>(a: &Vector<S>, b: &Vector<S>) -> Pair<S> {
    a[0].mul_add(b[0], a[1].mul_add(b[1], a[2] * b[2]))
}

/// Lanes to what a look-up of single numbers reads, and back.
#[inline(always)]
fn unpacked<S: Simd>(lanes: Pair<S>) -> Several {
    let mut all = Several::default();
    lanes.store(&mut all, 0);
    all
}

/// Touches of the ground.
struct Found<S: Simd> {
    at: Moment<S>,
    /// Along the normal, and of which length.
    normal: Vector<S>,
    gap: Pair<S>,
    /// Whether it is a touch.
    sure: Mask<S, 2>,
}

impl<S: Simd> Found<S> {
    /// The touch by Newton's method on the gap between ball and ground, or between bare point and ground.
    #[inline(always)]
    fn near(about: &Moment<S>, near: &Near<S>, field: &Field, certain: Mask<S, 2>) -> Self {
        let zero = about.time.filled(0.0);
        let (touching, closing) = (zero.filled(TOUCHING), zero.filled(-CLOSING));
        let mut seen = Seen::default();
        let (mut after, mut sure) = (zero, certain);
        let mut open = certain;
        let (mut place, mut velocity) = (about.place, about.velocity);
        for step in 0..MOST_STEPS {
            if step > 0 {
                (place, velocity) = near.after(after);
            }
            let wanted = unpacked(open.select(zero.filled(1.0), zero));
            let places = [unpacked(place[0]), unpacked(place[1]), unpacked(place[2])];
            let look = if step < GLANCES { Look::Glance } else { Look::Close };
            field.see(look, &places, &wanted, Pair::<S>::WIDTH, &mut seen);
            let gap = about.time.loaded(&seen.gap, 0);
            let rate = dot(&seen.normal_of(about.time), &velocity);
            // A glance closes nothing.
            let least = if look == Look::Glance { zero.filled(-1.0) } else { touching };
            open = open.and(least.lt(gap.abs()));
            if !open.any() {
                break;
            }
            let next = after - gap / rate;
            let fine = next.abs().lt(near.span).and(rate.lt(closing));
            after = open.select(next, after);
            // Where it is not fine it is not looked for any more.
            let lost = open.select(fine.select(zero, zero.filled(1.0)), zero);
            let kept = lost.lt(zero.filled(0.5));
            (sure, open) = (sure.and(kept), open.and(kept));
        }
        let gap = about.time.loaded(&seen.gap, 0);
        let at = Moment { time: about.time + after, place, velocity };
        let closed = gap.abs().lt(zero.filled(1.5 * TOUCHING));
        let late = zero.filled(SOONEST).lt(at.time);
        let normal = seen.normal_of(about.time);
        Self { at, normal, gap, sure: sure.and(closed).and(late) }
    }

    #[inline(always)]
    fn store(&self, touches: &mut Touches, at: usize) {
        let slight = dot(&self.normal, &self.normal).sqrt().recip();
        self.at.time.store(&mut touches.time, at);
        (self.gap * slight).store(&mut touches.residual, at);
        for i in 0..3 {
            self.at.place[i].store(&mut touches.position[i], at);
            self.at.velocity[i].store(&mut touches.velocity[i], at);
            (self.normal[i] * slight).store(&mut touches.normal[i], at);
        }
    }
}

/// The whole path, roughly: a cubic from launch to the plane's touch, the series near that after it.
struct Path<'a, S: Simd> {
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
    fn new(
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
    fn stays_over(&self, field: &Field, end: &Moment<S>) -> Mask<S, 2> {
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
    fn is_first(&self, relief: &Relief, found: &Moment<S>, wanted: Mask<S, 2>) -> Mask<S, 2> {
        let zero = self.bend.filled(0.0);
        let (one, half) = (zero.filled(1.0), zero.filled(0.5));
        let (mut level, mut after, mut first) = (zero, *found, zero);
        let mut open = wanted.select(one, zero);
        let mut blocks = Blocks::default();
        let slant = Slant::of(relief, zero);
        for _ in 0..MOST_LOOKS {
            let wide = level.lt(zero.filled(1.5));
            let [narrow, middle, widest] = relief.widths();
            let width = wide.select(
                level.lt(half).select(zero.filled(narrow), zero.filled(middle)),
                zero.filled(widest),
            );
            let before = self.at((after.time - width * self.slowness).max(zero));
            let x = (before.place[0] + after.place[0]) * half;
            let y = (before.place[1] + after.place[1]) * half;
            let places = [unpacked(x), unpacked(y)];
            relief.blocks(&unpacked(level), &places, Pair::<S>::WIDTH, &mut blocks);
            let low = slant.over(&before.place).min(slant.over(&after.place)) - self.slack;
            let closing = closes(&blocks, &slant, &before, &after);
            let clear = zero.loaded(&blocks.top, 0).lt(low).or(closing);
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
    blocks: &Blocks,
    slant: &Slant<S>,
    before: &Moment<S>,
    after: &Moment<S>,
) -> Mask<S, 2> {
    let zero = before.time;
    // Gravity only ever bends the path towards the plane.
    let mut rate = slant.away(&before.velocity);
    for i in 0..2 {
        let (v, w) = (before.velocity[i], after.velocity[i]);
        let [flat, steep] = [zero.loaded(&blocks.least[i], 0), zero.loaded(&blocks.most[i], 0)];
        rate = rate - (flat * v).min(flat * w).min((steep * v).min(steep * w));
    }
    rate.lt(zero.filled(-CLOSING))
}
