//! The last bit of a flight onto a plane: a Taylor step from near the touch to the touch.

#![allow(clippy::inline_always, reason = "a kernel that is not inlined loses its instruction set")]

use crate::math::lanes::Lanes;
use pulp::Simd;

/// The gap to a plane: `start + drift t + by_x x + by_z z` at time `t`, `x` and `z` flown through the air.
#[derive(Clone, Copy)]
pub(super) struct Gap<S: Simd> {
    pub(super) start: Lanes<S>,
    pub(super) drift: Lanes<S>,
    pub(super) by_x: Lanes<S>,
    pub(super) by_z: Lanes<S>,
}

impl<S: Simd> Gap<S> {
    /// What a motion through the air adds to the gap.
    #[inline(always)]
    pub(super) fn along(&self, x: Lanes<S>, z: Lanes<S>) -> Lanes<S> {
        self.by_x.mul_add(x, self.by_z * z)
    }

    /// How fast the gap grows.
    #[inline(always)]
    pub(super) fn rate(&self, u_h: Lanes<S>, u_z: Lanes<S>) -> Lanes<S> {
        self.along(u_h, u_z) + self.drift
    }
}

/// Time since the launch, place and velocity through the air.
#[derive(Clone, Copy)]
pub(super) struct Closing<S: Simd> {
    pub(super) time: Lanes<S>,
    pub(super) x: Lanes<S>,
    pub(super) z: Lanes<S>,
    pub(super) u_h: Lanes<S>,
    pub(super) u_z: Lanes<S>,
}

impl<S: Simd> Closing<S> {
    /// The square of the speed.
    #[inline(always)]
    pub(super) fn square(&self) -> Lanes<S> {
        self.u_h.mul_add(self.u_h, self.u_z * self.u_z)
    }

    /// The step to the touch, and the motion there.
    ///
    /// Good to the fifth power of the step: within `0.025 |u| / g`, to 1e-10 of `k |u|^4 / g^2`.
    #[inline(always)]
    pub(super) fn close(&self, gap: &Gap<S>, g: f64, k: f64) -> (Lanes<S>, Self) {
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
        let speed = |i: usize, u: Lanes<S>| {
            step.mul_add(half.mul_add(third.mul_add(snap[i], jerk[i]), a[i]), u)
        };
        let place = |i: usize, u: Lanes<S>, x: Lanes<S>| {
            let bent = half.mul_add(third.mul_add(quarter.mul_add(snap[i], jerk[i]), a[i]), u);
            step.mul_add(bent, x)
        };
        let end = Self {
            time: self.time + step,
            x: place(0, self.u_h, self.x),
            z: place(1, self.u_z, self.z),
            u_h: speed(0, self.u_h),
            u_z: speed(1, self.u_z),
        };
        (step, end)
    }

    /// Acceleration, jerk and snap of `u' = -k |u| u - g`.
    #[inline(always)]
    fn derivatives(&self, g: Lanes<S>, k: Lanes<S>) -> [[Lanes<S>; 2]; 3] {
        let (u, square) = ([self.u_h, self.u_z], self.square());
        let speed = square.sqrt();
        let slowness = speed.recip();
        let drag = -(k * speed);
        let a = [drag * u[0], drag.mul_add(u[1], -g)];
        let faster = -(g * u[1]).mul_add(slowness, k * square);
        let jerk_of = |i: usize| -(k * faster.mul_add(u[i], speed * a[i]));
        let jerk = [jerk_of(0), jerk_of(1)];
        let bend = a[0].mul_add(a[0], a[1] * a[1]) + u[0].mul_add(jerk[0], u[1] * jerk[1]);
        let still_faster = (bend - faster * faster) * slowness;
        let twice = faster + faster;
        let snap_of =
            |i: usize| -(k * still_faster.mul_add(u[i], twice.mul_add(a[i], speed * jerk[i])));
        [a, jerk, [snap_of(0), snap_of(1)]]
    }
}

/// The small step at which `value + terms` (highest power first) comes to zero, by Newton's method.
#[inline(always)]
fn step<S: Simd>(value: Lanes<S>, terms: &[Lanes<S>; 4]) -> Lanes<S> {
    let [quartic, cubic, square, rate] = *terms;
    let at = |t: Lanes<S>| {
        t.mul_add(t.mul_add(t.mul_add(t.mul_add(quartic, cubic), square), rate), value)
    };
    let three = value.filled(3.0);
    let slope = |t: Lanes<S>| t.mul_add(t.mul_add(cubic * three, square + square), rate);
    let first = -(value / rate);
    let second = first - at(first) / slope(first);
    let inverse = slope(second).recip();
    let third = second - at(second) * inverse;
    third - at(third) * inverse
}
