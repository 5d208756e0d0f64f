//! The last bit of a flight onto a plane: a Taylor step from near the touch to the touch.

#![allow(clippy::inline_always, reason = "a kernel that is not inlined loses its instruction set")]
#![allow(clippy::needless_range_loop, reason = "axes and powers of several vectors at once")]

use crate::math::lanes::Lanes;
use pulp::Simd;

/// Two registers at a time: most of the work is long chains, and on one alone the machine waits.
pub(super) type Pair<S> = Lanes<S, 2>;

/// The gap to a plane: `start + drift t + by_x x + by_z z` at time `t`, `x` and `z` flown through the air.
#[derive(Clone, Copy)]
pub(super) struct Gap<S: Simd, const N: usize = 2> {
    pub(super) start: Lanes<S, N>,
    pub(super) drift: Lanes<S, N>,
    pub(super) by_x: Lanes<S, N>,
    pub(super) by_z: Lanes<S, N>,
}

impl<S: Simd, const N: usize> Gap<S, N> {
    /// What a motion through the air adds to the gap.
    #[inline(always)]
    pub(super) fn along(&self, x: Lanes<S, N>, z: Lanes<S, N>) -> Lanes<S, N> {
        self.by_x.mul_add(x, self.by_z * z)
    }

    /// How fast the gap grows.
    #[inline(always)]
    pub(super) fn rate(&self, u_h: Lanes<S, N>, u_z: Lanes<S, N>) -> Lanes<S, N> {
        self.along(u_h, u_z) + self.drift
    }
}

/// Time since the launch, place and velocity through the air.
#[derive(Clone, Copy)]
pub(super) struct Closing<S: Simd, const N: usize = 2> {
    pub(super) time: Lanes<S, N>,
    pub(super) x: Lanes<S, N>,
    pub(super) z: Lanes<S, N>,
    pub(super) u_h: Lanes<S, N>,
    pub(super) u_z: Lanes<S, N>,
}

impl<S: Simd, const N: usize> Closing<S, N> {
    /// The square of the speed.
    #[inline(always)]
    pub(super) fn square(&self) -> Lanes<S, N> {
        self.u_h.mul_add(self.u_h, self.u_z * self.u_z)
    }

    /// The step to the touch, and the motion there.
    ///
    /// Good to the fifth power of the step: within `0.025 |u| / g`, to 1e-10 of `k |u|^4 / g^2`.
    #[inline(always)]
    pub(super) fn close(&self, gap: &Gap<S, N>, g: f64, k: f64) -> (Lanes<S, N>, Self) {
        let fill = |value: f64| self.time.filled(value);
        let [a, jerk, snap] = self.derivatives(fill(g), fill(k));
        let value = gap.start + gap.drift.mul_add(self.time, gap.along(self.x, self.z));
        let terms = [
            gap.along(snap[0], snap[1]) * fill(1.0 / 24.0),
            gap.along(jerk[0], jerk[1]) * fill(1.0 / 6.0),
            gap.along(a[0], a[1]) * fill(0.5),
            gap.rate(self.u_h, self.u_z),
        ];
        let step = step(value, &terms);
        let (half, third, quarter) = (step * fill(0.5), step * fill(1.0 / 3.0), step * fill(0.25));
        let powers = [step, half, third, quarter];
        let end = Self {
            time: self.time + step,
            x: place(&powers, [self.x, self.u_h, a[0], jerk[0], snap[0]]),
            z: place(&powers, [self.z, self.u_z, a[1], jerk[1], snap[1]]),
            u_h: speed(&powers, [self.u_h, a[0], jerk[0], snap[0]]),
            u_z: speed(&powers, [self.u_z, a[1], jerk[1], snap[1]]),
        };
        (step, end)
    }

    /// Acceleration, jerk and snap of `u' = -k |u| u - g`.
    #[inline(always)]
    fn derivatives(&self, g: Lanes<S, N>, k: Lanes<S, N>) -> [[Lanes<S, N>; 2]; 3] {
        let (u, square) = ([self.u_h, self.u_z], self.square());
        let speed = square.sqrt();
        let slowness = speed.recip();
        let drag = -(k * speed);
        let a = [drag * u[0], drag.mul_add(u[1], -g)];
        let faster = -(g * u[1]).mul_add(slowness, k * square);
        let (k, zero) = (-k, k.filled(0.0));
        let (mut jerk, mut snap) = ([zero; 2], [zero; 2]);
        for i in 0..2 {
            jerk[i] = k * faster.mul_add(u[i], speed * a[i]);
        }
        let bend = a[0].mul_add(a[0], a[1] * a[1]) + u[0].mul_add(jerk[0], u[1] * jerk[1]);
        let still_faster = (bend - faster * faster) * slowness;
        let twice = faster + faster;
        for i in 0..2 {
            snap[i] = k * still_faster.mul_add(u[i], twice.mul_add(a[i], speed * jerk[i]));
        }
        [a, jerk, snap]
    }
}

/// A speed after a step: `[step, step / 2, step / 3, ..]`, and speed, acceleration, jerk and snap before.
#[inline(always)]
fn speed<S: Simd, const N: usize>(
    powers: &[Lanes<S, N>; 4],
    [u, a, jerk, snap]: [Lanes<S, N>; 4],
) -> Lanes<S, N> {
    let [step, half, third, _] = *powers;
    step.mul_add(half.mul_add(third.mul_add(snap, jerk), a), u)
}

/// A place after a step, from place, speed, acceleration, jerk and snap before.
#[inline(always)]
fn place<S: Simd, const N: usize>(
    powers: &[Lanes<S, N>; 4],
    [x, u, a, jerk, snap]: [Lanes<S, N>; 5],
) -> Lanes<S, N> {
    let [step, half, third, quarter] = *powers;
    step.mul_add(half.mul_add(third.mul_add(quarter.mul_add(snap, jerk), a), u), x)
}

/// The small step at which `value + terms` (highest power first) comes to zero, by Newton's method.
#[inline(always)]
fn step<S: Simd, const N: usize>(value: Lanes<S, N>, terms: &[Lanes<S, N>; 4]) -> Lanes<S, N> {
    let [quartic, cubic, square, rate] = *terms;
    let at = |t: Lanes<S, N>| {
        t.mul_add(t.mul_add(t.mul_add(t.mul_add(quartic, cubic), square), rate), value)
    };
    let three = value.filled(3.0);
    let slope = |t: Lanes<S, N>| t.mul_add(t.mul_add(cubic * three, square + square), rate);
    let first = -(value / rate);
    let second = first - at(first) / slope(first);
    let inverse = slope(second).recip();
    let third = second - at(second) * inverse;
    third - at(third) * inverse
}
