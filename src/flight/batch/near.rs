//! Flights near one of their moments, as short polynomials in time, in the machine's vector registers.

#![allow(clippy::inline_always, reason = "a kernel that is not inlined loses its instruction set")]
#![allow(clippy::needless_range_loop, reason = "axes and powers of several vectors at once")]

use super::closing::Pair;
use super::field::Several;
use crate::force::Forces;
use pulp::Simd;

/// The terms of the velocity that a touch close by takes.
pub(super) const SHORT: usize = 7;
/// They are good within this share of `|u| / g`, where the series ends to converge: to 1e-9 of `k |u|^4 / g^2`.
const SHARE: f64 = 0.22;

/// A vector of each flight.
pub(super) type Vector<S> = [Pair<S>; 3];

/// Place and velocity near a moment: the Taylor series of `u' = G - k |u| u`, `u` the velocity through the air, in the
/// upright plane of the motion through the air.
#[derive(Clone, Copy)]
pub(super) struct Near<S: Simd, const T: usize = SHORT> {
    place: Vector<S>,
    wind: Vector<S>,
    /// The level direction of the motion through the air.
    ahead: [Pair<S>; 2],
    /// Level and upward speed through the air.
    u_h: [Pair<S>; T],
    u_z: [Pair<S>; T],
    /// How far before and after the short one is good, seconds.
    pub(super) span: Pair<S>,
}

/// The same as single numbers, flight beside flight, to be taken flight by flight.
pub(super) struct Terms<const T: usize> {
    pub(super) place: [Several; 3],
    pub(super) ahead: [Several; 2],
    /// Of the way along and up through the air, from the first power of the time on.
    pub(super) along: [Several; T],
    pub(super) up: [Several; T],
}

impl<const T: usize> Terms<T> {
    pub(super) const fn new() -> Self {
        let zeros = [0.0; 16];
        Self { place: [zeros; 3], ahead: [zeros; 2], along: [zeros; T], up: [zeros; T] }
    }
}

impl<S: Simd, const T: usize> Near<S, T> {
    /// The flights near a moment at which they have this place and velocity, not at rest in the air.
    #[inline(always)]
    pub(super) fn new(place: Vector<S>, velocity: Vector<S>, forces: &Forces) -> Self {
        let zero = place[0].filled(0.0);
        let wind = forces.wind();
        let wind = [zero.filled(wind.x), zero.filled(wind.y), zero.filled(wind.z)];
        let u = [velocity[0] - wind[0], velocity[1] - wind[1], velocity[2] - wind[2]];
        let level = u[0].mul_add(u[0], u[1] * u[1]).sqrt();
        let slowness = level.recip();
        let (mut u_h, mut u_z, mut speed) = ([zero; T], [zero; T], [zero; T]);
        (u_h[0], u_z[0], speed[0]) = (level, u[2], level.mul_add(level, u[2] * u[2]).sqrt());
        let half = zero.filled(0.5) / speed[0];
        macro_rules! terms {
            ($($n:literal)*) => {
                $(add_term::<S, T, $n>(&mut u_h, &mut u_z, &mut speed, half, forces);)*
            };
        }
        terms!(0 1 2 3 4 5 6 7 8);
        let ahead = [u[0] * slowness, u[1] * slowness];
        let span = speed[0] * zero.filled(SHARE / forces.g());
        Self { place, wind, ahead, u_h, u_z, span }
    }

    /// Keeps the first terms.
    #[inline(always)]
    pub(super) fn keep<const M: usize>(&self, terms: &mut Terms<M>) {
        for i in 0..3 {
            self.place[i].store(&mut terms.place[i], 0);
        }
        for i in 0..2 {
            self.ahead[i].store(&mut terms.ahead[i], 0);
        }
        for n in 0..M {
            let share = self.span.filled(1.0 / (n + 1) as f64);
            (self.u_h[n] * share).store(&mut terms.along[n], 0);
            (self.u_z[n] * share).store(&mut terms.up[n], 0);
        }
    }

    /// Place and velocity so many seconds later.
    #[inline(always)]
    pub(super) fn after(&self, time: Pair<S>) -> (Vector<S>, Vector<S>) {
        let zero = time.filled(0.0);
        let (mut u_h, mut u_z, mut x, mut z) = (zero, zero, zero, zero);
        for n in (0..T).rev() {
            let share = zero.filled(1.0 / (n + 1) as f64);
            u_h = u_h.mul_add(time, self.u_h[n]);
            u_z = u_z.mul_add(time, self.u_z[n]);
            x = x.mul_add(time, self.u_h[n] * share);
            z = z.mul_add(time, self.u_z[n] * share);
        }
        let (wind, ahead, place) = (&self.wind, &self.ahead, &self.place);
        let velocity =
            [u_h.mul_add(ahead[0], wind[0]), u_h.mul_add(ahead[1], wind[1]), u_z + wind[2]];
        let mean = [x.mul_add(ahead[0], wind[0]), x.mul_add(ahead[1], wind[1]), z + wind[2]];
        let place = [
            mean[0].mul_add(time, place[0]),
            mean[1].mul_add(time, place[1]),
            mean[2].mul_add(time, place[2]),
        ];
        (place, velocity)
    }
}

/// Adds the parts' terms after one, if they have as many: written out, for a loop over loops is not taken apart.
#[inline(always)]
fn add_term<S: Simd, const T: usize, const N: usize>(
    u_h: &mut [Pair<S>; T],
    u_z: &mut [Pair<S>; T],
    speed: &mut [Pair<S>; T],
    half: Pair<S>,
    forces: &Forces,
) {
    let next = N + 1;
    if next >= T {
        return;
    }
    if N > 0 {
        speed[N] = speed_term::<S, T, N>(u_h, u_z, speed) * half;
    }
    let (mut drag_h, mut drag_z) = (speed[0] * u_h[N], speed[0] * u_z[N]);
    for i in 1..next {
        drag_h = speed[i].mul_add(u_h[N - i], drag_h);
        drag_z = speed[i].mul_add(u_z[N - i], drag_z);
    }
    let share = half.filled(-forces.k() / next as f64);
    let pull = if N == 0 { forces.g() } else { 0.0 };
    u_h[next] = drag_h * share;
    u_z[next] = drag_z.mul_add(share, half.filled(-pull));
}

/// Twice a term of the speed times the first, from those before and the parts' of the same order. Each product stands in it
/// twice, but for that in the middle.
#[inline(always)]
fn speed_term<S: Simd, const T: usize, const N: usize>(
    u_h: &[Pair<S>; T],
    u_z: &[Pair<S>; T],
    speed: &[Pair<S>; T],
) -> Pair<S> {
    let mut sum = u_h[0].mul_add(u_h[N], u_z[0] * u_z[N]);
    for i in 1..N.div_ceil(2) {
        sum = u_h[i].mul_add(u_h[N - i], u_z[i].mul_add(u_z[N - i], sum));
        sum = sum - speed[i] * speed[N - i];
    }
    sum = sum + sum;
    if N.is_multiple_of(2) {
        let i = N / 2;
        sum = u_h[i].mul_add(u_h[i], u_z[i].mul_add(u_z[i], sum));
        sum = sum - speed[i] * speed[i];
    }
    sum
}
