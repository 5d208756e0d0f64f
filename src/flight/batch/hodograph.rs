//! Flights onto a plane by quadrature of the hodograph, in the machine's vector registers.
//!
//! Seen from the air the motion stays in one upright plane. With `u_h`, `u_z` the level and upward speed through the air
//! and `s = asinh(u_z / u_h)`, drag and gravity give
//!
//! ```text
//! 1/u_h^2 = 1/u_h0^2 + (k/g) (F(s0) - F(s)),   F = sinh(s) cosh(s) + s
//! dt = -(u_h/g) cosh(s) ds,   dx = u_h dt,   dz = u_h sinh(s) dt
//! ```
//!
//! so time and place are integrals of smooth functions of `s` (J. Bernoulli, 1719, as in A. Sommerfeld, Mechanics, 1952,
//! section 3; from memory). A guess of the touch gives the last `s`; what the guess is off is flown by a Taylor step.

#![allow(clippy::inline_always, reason = "a kernel that is not inlined loses its instruction set")]

use super::chunk::Touches;
use super::closing::{Closing, Gap};
use super::march::Level;
use super::rule::STRONGEST;
use crate::force::Forces;
use crate::ground::Plane;
use crate::math::Vec3;
use crate::math::lanes::{Lanes, Mask};
use pulp::Simd;

/// Nearer than this at the launch, it is not clear that the rider has left the ground; metres.
pub(super) const CLEAR: f64 = 1e-6;
/// The least turn: below it the quadrature is lost in rounding.
const LEAST_TURN: f64 = 1e-3;
/// The most `|u|^2 / g` for which the rules' bounds keep 1e-8 m: 22 m/s; metres.
const LONGEST: f64 = 50.0;
/// The Taylor step turns the velocity by at most this.
const MOST_STEP: f64 = 0.025;
/// The most a touch may be off the plane; metres.
pub(super) const TOUCHING: f64 = 5e-10;

/// What all flights of a batch onto one plane share.
#[derive(Debug, Clone, Copy)]
pub(super) struct Onto {
    pub(super) g: f64,
    pub(super) k: f64,
    wind: Vec3,
    level: Level,
}

impl Onto {
    pub(super) fn new(plane: &Plane, height: f64, forces: &Forces) -> Self {
        let level = Level::over(plane, height);
        Self { g: forces.g(), k: forces.k(), wind: forces.wind(), level }
    }

    pub(super) const fn level(&self) -> &Level {
        &self.level
    }
}

/// The launch, seen from the air.
#[derive(Clone, Copy)]
pub(super) struct Start<S: Simd, const N: usize> {
    simd: S,
    place: [Lanes<S, N>; 3],
    /// The level direction of the motion through the air.
    ahead: [Lanes<S, N>; 2],
    /// One over the level speed.
    pub(super) slowness: Lanes<S, N>,
    pub(super) u_h: Lanes<S, N>,
    pub(super) u_z: Lanes<S, N>,
    gap: Gap<S, N>,
}

impl<S: Simd, const N: usize> Start<S, N> {
    /// The launch at these places with these velocities.
    #[inline(always)]
    pub(super) fn new(simd: S, place: [Lanes<S, N>; 3], v: [Lanes<S, N>; 3], onto: &Onto) -> Self {
        let fill = |x: f64| Lanes::splat(simd, x);
        let (n, wind) = (&onto.level.normal, &onto.wind);
        let u = [v[0] - fill(wind.x), v[1] - fill(wind.y), v[2] - fill(wind.z)];
        let u_h = u[0].mul_add(u[0], u[1] * u[1]).sqrt();
        let slowness = u_h.recip();
        let ahead = [u[0] * slowness, u[1] * slowness];
        let gap = Gap {
            start: above(onto, &place),
            drift: fill(n.dot(wind)),
            by_x: ahead[0].mul_add(fill(n.x), ahead[1] * fill(n.y)),
            by_z: fill(n.z),
        };
        Self { simd, place, ahead, slowness, u_h, u_z: u[2], gap }
    }

    #[inline(always)]
    pub(super) fn fill(&self, value: f64) -> Lanes<S, N> {
        Lanes::splat(self.simd, value)
    }
}

/// How far centres of mass are above where they touch.
#[inline(always)]
fn above<S: Simd, const N: usize>(onto: &Onto, c: &[Lanes<S, N>; 3]) -> Lanes<S, N> {
    let [x, y, z] = c;
    let fill = |value: f64| x.filled(value);
    let n = &onto.level.normal;
    x.mul_add(fill(n.x), y.mul_add(fill(n.y), z.mul_add(fill(n.z), fill(-onto.level.height))))
}

/// The velocity through the air at about the touch: a parabola under gravity and the drag at a third of the flight, its
/// velocity under the drag half way.
#[inline(always)]
pub(super) fn guess<S: Simd, const N: usize>(start: &Start<S, N>, onto: &Onto) -> [Lanes<S, N>; 2] {
    let (u_h, u_z, gap) = (start.u_h, start.u_z, &start.gap);
    let (g, k, two) = (start.fill(onto.g), start.fill(onto.k), start.fill(2.0));
    let rate = gap.rate(u_h, u_z);
    let fall = onto.level.normal.z * onto.g;
    let root = rate.mul_add(rate, gap.start * start.fill(2.0 * fall)).sqrt();
    let third = (rate + root) * start.fill(1.0 / (3.0 * fall));
    let u_z_third = u_z - g * third;
    let drag = u_h.mul_add(u_h, u_z_third * u_z_third).sqrt() * k;
    let [by_x, by_z] = [drag * u_h, drag * u_z_third];
    let pull = gap.by_x.mul_add(by_x, gap.by_z * by_z) + start.fill(fall);
    let time = (rate + rate.mul_add(rate, gap.start * pull * two).sqrt()) / pull;
    let half = time * start.fill(0.5);
    let u_half = [u_h - by_x * half, u_z - (g + by_z) * half];
    let drag = u_half[0].mul_add(u_half[0], u_half[1] * u_half[1]).sqrt() * k;
    [u_h - drag * u_half[0] * time, u_z - drag.mul_add(u_half[1], g) * time]
}

/// The touch as it came out.
#[derive(Clone, Copy)]
pub(super) struct Found<S: Simd, const N: usize> {
    pub(super) time: Lanes<S, N>,
    pub(super) position: [Lanes<S, N>; 3],
    pub(super) velocity: [Lanes<S, N>; 3],
    /// Level and upward velocity through the air.
    pub(super) through_air: [Lanes<S, N>; 2],
    residual: Lanes<S, N>,
    /// What the guess was off in time.
    step: Lanes<S, N>,
    /// The square of the speed through the air at the end, and the most it was.
    square: Lanes<S, N>,
    fastest: Lanes<S, N>,
}

/// Flies what the guess was off.
#[inline(always)]
pub(super) fn finish<S: Simd, const N: usize>(
    start: &Start<S, N>,
    flown: &Closing<S, N>,
    onto: &Onto,
) -> Found<S, N> {
    let (fill, wind) = (|value: f64| start.fill(value), &onto.wind);
    let (step, end) = flown.close(&start.gap, onto.g, onto.k);
    let ahead = &start.ahead;
    let position = [
        start.place[0] + fill(wind.x).mul_add(end.time, ahead[0] * end.x),
        start.place[1] + fill(wind.y).mul_add(end.time, ahead[1] * end.x),
        start.place[2] + fill(wind.z).mul_add(end.time, end.z),
    ];
    let velocity = [
        end.u_h.mul_add(ahead[0], fill(wind.x)),
        end.u_h.mul_add(ahead[1], fill(wind.y)),
        end.u_z + fill(wind.z),
    ];
    let (residual, square) = (above(onto, &position), flown.square());
    let fastest = start.u_h.mul_add(start.u_h, start.u_z * start.u_z).max(square);
    let through_air = [end.u_h, end.u_z];
    Found { time: end.time, position, velocity, through_air, residual, step, square, fastest }
}

impl<S: Simd, const N: usize> Found<S, N> {
    #[inline(always)]
    pub(super) fn store(&self, touches: &mut Touches, at: usize) {
        self.time.store(&mut touches.time, at);
        self.residual.store(&mut touches.residual, at);
        for i in 0..3 {
            self.position[i].store(&mut touches.position[i], at);
            self.velocity[i].store(&mut touches.velocity[i], at);
        }
    }

    /// Whether it is a touch, and the first.
    ///
    /// While drag is below half of what gravity has across the plane, the gap is concave in time: it comes down to zero
    /// once.
    #[inline(always)]
    pub(super) fn stands(&self, start: &Start<S, N>, onto: &Onto) -> Mask<S, N> {
        let fill = |value: f64| start.fill(value);
        let strongest = STRONGEST.min(0.5 * onto.level.normal.z);
        fill(CLEAR)
            .lt(start.gap.start)
            .and(self.is_near(fill(MOST_STEP), onto))
            .and(self.residual.abs().lt(fill(TOUCHING)))
            .and((self.fastest * fill(onto.k)).lt(fill(strongest * onto.g)))
    }

    /// Whether the guess was off by no more than this share of `|u| / g`.
    #[inline(always)]
    pub(super) fn is_near(&self, share: Lanes<S, N>, onto: &Onto) -> Mask<S, N> {
        (self.step.abs() * share.filled(onto.g)).lt(self.square.sqrt() * share)
    }

    /// Whether a rule with this growth and limit is good enough.
    #[inline(always)]
    pub(super) fn within(
        &self,
        turn: Lanes<S, N>,
        [growth, limit]: [f64; 2],
        onto: &Onto,
    ) -> Mask<S, N> {
        let fill = |value: f64| turn.filled(value);
        let weighed = (self.fastest * fill(growth * onto.k / onto.g)).mul_add(turn, turn);
        fill(LEAST_TURN)
            .lt(turn)
            .and(weighed.lt(fill(limit)))
            .and(self.fastest.lt(fill(LONGEST * onto.g)))
    }
}
