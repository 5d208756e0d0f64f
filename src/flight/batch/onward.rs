//! Flights onto uneven ground, in the machine's vector registers: from the touch of a plane that the ground lies about to the
//! touch of the ground itself, and whether that is the first.

#![allow(clippy::inline_always, reason = "a kernel that is not inlined loses its instruction set")]
#![allow(clippy::needless_range_loop, reason = "axes and powers of several vectors at once")]

use super::chunk::{ROWS, Starts, Touches, Vectors};
use super::closing::Pair;
use super::field::{Field, Look, Relief, Seen, Sight};
use super::first::Path;
use super::near::{Near, Vector};
use crate::force::Forces;
use crate::math::lanes::{Lanes, Mask};
use pulp::{Simd, WithSimd};

/// A gap no wider than this is a touch; metres.
const TOUCHING: f64 = 1e-10;
/// Newton steps to a touch at most.
const MOST_STEPS: usize = 12;
/// So many of them look at the ball's ground only nearby.
const GLANCES: usize = 2;
/// A touch sooner than this is left to one flight, which knows whether the rider had left the ground; seconds.
const SOONEST: f64 = 1e-6;
/// The gap must close at least so fast, m/s.
pub(super) const CLOSING: f64 = 0.05;

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
pub(super) struct Moment<S: Simd> {
    pub(super) time: Pair<S>,
    pub(super) place: Vector<S>,
    pub(super) velocity: Vector<S>,
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
    pub(super) fn or(&self, holds: Mask<S, 2>, other: &Self) -> Self {
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
pub(super) fn select<S: Simd>(holds: Mask<S, 2>, yes: &Vector<S>, no: &Vector<S>) -> Vector<S> {
    [holds.select(yes[0], no[0]), holds.select(yes[1], no[1]), holds.select(yes[2], no[2])]
}

#[inline(always)]
pub(super) fn dot<S: Simd>(a: &Vector<S>, b: &Vector<S>) -> Pair<S> {
    a[0].mul_add(b[0], a[1].mul_add(b[1], a[2] * b[2]))
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
        let mut sight = Sight { gap: zero, normal: velocity };
        for step in 0..MOST_STEPS {
            if step > 0 {
                (place, velocity) = near.after(after);
            }
            let look = if step < GLANCES { Look::Glance } else { Look::Close };
            let wanted = open.select(zero.filled(1.0), zero);
            let exact = field.see(look, &place, wanted, &mut seen, &mut sight);
            let (gap, rate) = (sight.gap, dot(&sight.normal, &velocity));
            // A glance closes nothing.
            let least = if exact { touching } else { zero.filled(-1.0) };
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
        let Sight { gap, normal } = sight;
        let at = Moment { time: about.time + after, place, velocity };
        let closed = gap.abs().lt(zero.filled(1.5 * TOUCHING));
        let late = zero.filled(SOONEST).lt(at.time);
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
