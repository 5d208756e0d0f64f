//! Flights onto a plane under any acceleration, step by step, in the machine's vector registers.
//!
//! From each state a parabola says when the plane is touched; the way there is cut into even steps, and the parabola asked
//! again after each. So the last step ends within a hair of the touch, and no crossing is searched for.

#![allow(clippy::inline_always, reason = "a kernel that is not inlined loses its instruction set")]
#![allow(clippy::needless_range_loop, reason = "axes of several vectors at once")]

use super::chunk::{Column, ROWS, Starts, Touches, Vectors};
use super::hodograph::{CLEAR, TOUCHING};
use super::order::Order;
use super::stages::{State, square};
use crate::flight::path::LONGEST;
use crate::force::{Acceleration, Moving, Vector};
use crate::ground::Plane;
use crate::math::Vec3;
use crate::math::lanes::{ARCH, Lanes, Mask};
use pulp::{Simd, WithSimd};

/// Two registers at a time, as the other kernels.
const TWO: usize = 2;
/// What a step may seem to be off, m/s: it is off by a third of that or less.
const TOLERANCE: f64 = 6e-9;
/// What all steps may seem to put the touch off together; metres.
const MOST_ERROR: f64 = 4e-8;
/// Steps tried of one flight at most.
const MOST_STEPS: usize = 64;
/// Nearer than this the touch is reached without another step; seconds.
const AT_HAND: f64 = 1e-3;

/// The plane that is flown onto.
#[derive(Debug, Clone, Copy)]
pub(super) struct Level {
    pub(super) normal: Vec3,
    /// `normal . c` of a centre of mass that touches.
    pub(super) height: f64,
}

impl Level {
    /// Where centres of mass are so high over a plane.
    pub(super) fn over(plane: &Plane, height: f64) -> Self {
        let normal = plane.normal();
        Self { normal, height: normal.dot(&plane.point()) + height }
    }
}

/// Flies the rows of a chunk for which it is wanted, and says for which the touch stands.
pub(super) fn fly<A: Acceleration>(
    force: &A,
    level: &Level,
    starts: &Starts,
    wanted: impl Fn(usize) -> bool,
    rows: usize,
    touches: &mut Touches,
) {
    let mut lengths = [0.0; ROWS];
    ARCH.dispatch(Lengths { force, level, starts, out: &mut lengths, rows });
    #[expect(
        clippy::cast_possible_truncation,
        clippy::cast_sign_loss,
        reason = "a cast saturates, and what is not a number is as good as nothing"
    )]
    let order = Order::by_length(|row| wanted(row).then_some(lengths[row] as usize), rows);
    let (mut found, starts) = (Touches::new(), order.starts(starts));
    ARCH.dispatch(March { force, level, starts: &starts, touches: &mut found, rows: order.count });
    // The normals are the plane's, as they were.
    found.level_with(&level.normal);
    touches.take(&order, &found);
}

/// Flies the first rows of a chunk: `certain` says which touches stand.
pub(super) struct March<'a, A> {
    pub(super) force: &'a A,
    pub(super) level: &'a Level,
    pub(super) starts: &'a Starts,
    pub(super) touches: &'a mut Touches,
    pub(super) rows: usize,
}

impl<A: Acceleration> WithSimd for March<'_, A> {
    type Output = ();

    #[inline(always)]
    fn with_simd<S: Simd>(self, simd: S) {
        for at in 0..self.rows.min(ROWS).div_ceil(Lanes::<S, TWO>::WIDTH) {
            let flown = Flown::load(simd, self.starts, at, self.force, self.level);
            flown.fly(self.force, self.level).store(self.level, self.touches, at);
        }
    }
}

/// Tells into how many steps the flights of a chunk seem to be cut.
pub(super) struct Lengths<'a, A> {
    pub(super) force: &'a A,
    pub(super) level: &'a Level,
    pub(super) starts: &'a Starts,
    pub(super) out: &'a mut Column,
    pub(super) rows: usize,
}

impl<A: Acceleration> WithSimd for Lengths<'_, A> {
    type Output = ();

    #[inline(always)]
    fn with_simd<S: Simd>(self, simd: S) {
        for at in 0..self.rows.min(ROWS).div_ceil(Lanes::<S, TWO>::WIDTH) {
            let flown = Flown::load(simd, self.starts, at, self.force, self.level);
            let length = flown.gap.closes_in() / self.force.span(&flown.state.at);
            length.store(self.out, at);
        }
    }
}

#[inline(always)]
fn load<S: Simd>(simd: S, [x, y, z]: &Vectors, at: usize) -> Vector<S, TWO> {
    [Lanes::load(simd, x, at), Lanes::load(simd, y, at), Lanes::load(simd, z, at)]
}

/// Flights on their way.
struct Flown<S: Simd> {
    state: State<S, TWO>,
    gap: Gap<S>,
    /// What the velocity seems to be off.
    error: Lanes<S, TWO>,
    /// Which can still end well: a number, off the ground at the launch, always pulled towards the plane.
    sound: Mask<S, TWO>,
}

/// The gap to the plane, its rate, and the further derivatives.
#[derive(Clone, Copy)]
struct Gap<S: Simd> {
    size: Lanes<S, TWO>,
    rate: Lanes<S, TWO>,
    bend: Lanes<S, TWO>,
    jerk: Lanes<S, TWO>,
    snap: Lanes<S, TWO>,
}

impl<S: Simd> Gap<S> {
    #[inline(always)]
    fn of(state: &State<S, TWO>, level: &Level) -> Self {
        Self {
            size: along(&state.at.place, level, -level.height),
            rate: along(&state.at.velocity, level, 0.0),
            bend: along(&state.pull, level, 0.0),
            jerk: along(&state.jerk, level, 0.0),
            snap: along(&state.snap, level, 0.0),
        }
    }

    /// How long until it closes: by the parabola, and once by Newton's method on the quartic.
    #[inline(always)]
    fn closes_in(&self) -> Lanes<S, TWO> {
        let fill = |value: f64| self.size.filled(value);
        let two = self.size + self.size;
        let root = self.rate.mul_add(self.rate, -(two * self.bend)).max(fill(0.0)).sqrt();
        // Of the two forms of the root the one that does not cancel.
        let rising = fill(0.0).lt(self.rate);
        let time =
            rising.select(self.rate + root, two) / rising.select(-self.bend, root - self.rate);
        let turn = (self.snap * fill(0.25)).mul_add(time, self.jerk);
        let off = turn * fill(1.0 / 6.0) * (time * time) * time;
        let turn = (self.snap * fill(1.0 / 3.0)).mul_add(time, self.jerk) * fill(0.5);
        let rate = turn.mul_add(time, self.bend).mul_add(time, self.rate);
        let most = time.abs() * fill(0.25);
        time - (off / rate).min(most).max(-most)
    }
}

#[inline(always)]
fn along<S: Simd>(v: &Vector<S, TWO>, level: &Level, from: f64) -> Lanes<S, TWO> {
    let fill = |value: f64| v[0].filled(value);
    let n = &level.normal;
    v[0].mul_add(fill(n.x), v[1].mul_add(fill(n.y), v[2].mul_add(fill(n.z), fill(from))))
}

impl<S: Simd> Flown<S> {
    #[inline(always)]
    fn load(simd: S, starts: &Starts, at: usize, force: &impl Acceleration, level: &Level) -> Self {
        let (zero, place) = (Lanes::splat(simd, 0.0), load(simd, &starts.position, at));
        let velocity = load(simd, &starts.velocity, at);
        let state = State::new(Moving { time: zero, place, velocity }, force);
        let gap = Gap::of(&state, level);
        let sound = zero.filled(CLEAR).lt(gap.size).and(gap.bend.lt(zero));
        Self { state, gap, error: zero, sound }
    }

    /// Flies until all that can have come to the touch.
    #[inline(always)]
    fn fly(mut self, force: &impl Acceleration, level: &Level) -> Self {
        let zero = self.error;
        let (one, longest) = (zero.filled(1.0), zero.filled(LONGEST));
        let mut span = force.span(&self.state.at);
        for _ in 0..MOST_STEPS {
            let left = self.gap.closes_in();
            // Not so where it is not a number.
            self.sound = self.sound.and(left.abs().lt(longest)).and(zero.lt(span));
            // Before the first step nothing is known of how the acceleration changes.
            let known = zero.lt(self.state.at.time.abs()).select(zero.filled(AT_HAND), zero);
            let open = self.sound.and(known.lt(left.abs()));
            if !open.any() {
                break;
            }
            let parts = whole((left.abs() / span).min(zero.filled(1e6))).max(one);
            let step = open.select(left / parts, zero);
            let (next, error) = self.state.after(step, force);
            let good = open.and(error.lt(zero.filled(TOLERANCE)));
            self.take(good, &next, error, level);
            span = paced(step.abs(), error, force.span(&self.state.at));
        }
        self
    }

    /// Goes a step on where it is good.
    #[inline(always)]
    fn take(
        &mut self,
        good: Mask<S, TWO>,
        next: &State<S, TWO>,
        error: Lanes<S, TWO>,
        level: &Level,
    ) {
        self.state = chosen(good, next, &self.state);
        self.error = good.select(self.error + error, self.error);
        let (before, zero) = (self.gap.bend, error.filled(0.0));
        self.gap = Gap::of(&self.state, level);
        // Towards the plane also between, if it changes over the step by no more than twice what it does from end to end.
        let least = self.gap.bend.max(before) + (self.gap.bend - before).abs();
        self.sound = self.sound.and(least.lt(zero));
    }

    /// Goes the last hair and writes the touch.
    #[inline(always)]
    fn store(&self, level: &Level, touches: &mut Touches, at: usize) {
        let after = self.gap.closes_in();
        let fill = |value: f64| after.filled(value);
        let (half, third) = (after * fill(0.5), after * fill(1.0 / 3.0));
        let quarter = after * fill(0.25);
        let State { at: Moving { time, mut place, mut velocity }, pull, jerk, snap } = self.state;
        for i in 0..3 {
            let mean = quarter.mul_add(snap[i], jerk[i]).mul_add(third, pull[i]);
            place[i] = mean.mul_add(half, velocity[i]).mul_add(after, place[i]);
            let mean = third.mul_add(snap[i], jerk[i]).mul_add(half, pull[i]);
            velocity[i] = mean.mul_add(after, velocity[i]);
        }
        let residual = along(&place, level, -level.height);
        let time = time + after;
        let near = after.abs().lt(fill(1.5 * AT_HAND)).and(residual.abs().lt(fill(TOUCHING)));
        // What is off across the plane moves the touch along it, the more the flatter it comes in.
        let speed = square(&velocity).sqrt();
        let flatness = speed / along(&velocity, level, 0.0).abs() + fill(1.0);
        let exact = (self.error * time.max(fill(0.2)) * flatness).lt(fill(MOST_ERROR));
        let certain = self.sound.and(near).and(exact);
        certain.select(fill(1.0), fill(0.0)).store(&mut touches.certain, at);
        time.store(&mut touches.time, at);
        residual.store(&mut touches.residual, at);
        for i in 0..3 {
            place[i].store(&mut touches.position[i], at);
            velocity[i].store(&mut touches.velocity[i], at);
        }
    }
}

#[inline(always)]
fn chosen<S: Simd>(good: Mask<S, TWO>, yes: &State<S, TWO>, no: &State<S, TWO>) -> State<S, TWO> {
    let mut state = *no;
    state.at.time = good.select(yes.at.time, no.at.time);
    for i in 0..3 {
        state.at.place[i] = good.select(yes.at.place[i], no.at.place[i]);
        state.at.velocity[i] = good.select(yes.at.velocity[i], no.at.velocity[i]);
        state.pull[i] = good.select(yes.pull[i], no.pull[i]);
        state.jerk[i] = good.select(yes.jerk[i], no.jerk[i]);
        state.snap[i] = good.select(yes.snap[i], no.snap[i]);
    }
    state
}

/// How long the next step may be, after one of this length and error: as the model says, unless the error says otherwise.
#[inline(always)]
fn paced<S: Simd>(step: Lanes<S, TWO>, error: Lanes<S, TWO>, said: Lanes<S, TWO>) -> Lanes<S, TWO> {
    let fill = |value: f64| step.filled(value);
    let below = |share: f64| error.lt(fill(share * TOLERANCE));
    let growth = below(2e-3).select(fill(2.0), below(0.05).select(fill(1.4), fill(1.0)));
    let cut = below(256.0).select(fill(0.5), fill(0.2));
    let paced = below(1.0).select(growth, cut) * step;
    // A lane that did not step keeps to what the model says.
    fill(0.0).lt(paced).select(paced.min(said), said)
}

/// The next whole number, or the one after where it is one already but for rounding.
#[inline(always)]
fn whole<S: Simd>(value: Lanes<S, TWO>) -> Lanes<S, TWO> {
    let shift = value.filled(6755399441055744.0);
    (value + value.filled(0.499) + shift) - shift
}
