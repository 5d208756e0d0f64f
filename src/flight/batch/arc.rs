//! The integrals along the hodograph: the stretch of it that a flight takes, and its sums over a rule's nodes.

#![allow(clippy::inline_always, reason = "a kernel that is not inlined loses its instruction set")]

use super::closing::Closing;
use super::hodograph::{Onto, Start};
use super::rule::{Rule, hyperbolic};
use crate::math::lanes::Lanes;
use pulp::Simd;

/// The stretch of the hodograph from the launch to about the touch.
#[derive(Clone, Copy)]
pub(super) struct Arc<S: Simd, const N: usize> {
    slope_end: Lanes<S, N>,
    /// `cosh` and `sinh` of the middle of `s`.
    middle: [Lanes<S, N>; 2],
    /// Half the range of `s`.
    pub(super) turn: Lanes<S, N>,
    /// `1/u_h^2` but for what a node adds, and at the end.
    base: Lanes<S, N>,
    end: Lanes<S, N>,
    /// The most `k |u|^2 / g` seems to be.
    pub(super) strength: Lanes<S, N>,
}

impl<S: Simd, const N: usize> Arc<S, N> {
    /// The stretch until the velocity through the air is about this.
    #[inline(always)]
    pub(super) fn until([u_h, u_z]: [Lanes<S, N>; 2], start: &Start<S, N>, onto: &Onto) -> Self {
        let (one, slope) = (start.fill(1.0), start.u_z * start.slowness);
        let slope_end = u_z / u_h;
        let rise = slope.mul_add(slope, one).sqrt();
        let rise_end = slope_end.mul_add(slope_end, one).sqrt();
        // `exp` of `s` and of `-s`, at the launch and at the end.
        let [up, down] = [rise + slope, rise - slope];
        let [up_end, down_end] = [rise_end + slope_end, rise_end - slope_end];
        let turn = (up * down_end).ln() * start.fill(0.5);
        let up_middle = (up * up_end).sqrt();
        let down_middle = up_middle * down_end * down;
        let half = start.fill(0.5);
        let kg = start.fill(onto.k / onto.g);
        let first = start.slowness * start.slowness;
        let launch = slope.mul_add(rise, turn);
        let fastest = start.u_h.mul_add(start.u_h, start.u_z * start.u_z);
        Self {
            slope_end,
            middle: [(up_middle + down_middle) * half, (up_middle - down_middle) * half],
            turn,
            base: kg.mul_add(launch, first),
            end: kg.mul_add(launch + turn - slope_end * rise_end, first),
            strength: kg * fastest.max(u_h.mul_add(u_h, u_z * u_z)),
        }
    }

    /// Time, place and velocity at the end.
    #[inline(always)]
    pub(super) fn flown<const H: usize, const T: usize>(
        &self,
        rule: &Rule<H, T>,
        onto: &Onto,
    ) -> Closing<S, N> {
        let fill = |value: f64| self.turn.filled(value);
        let mut sums = [fill(0.0); 3];
        for [node, weight] in &rule.nodes {
            self.add::<T>(fill(*node), fill(*weight), onto, &mut sums);
        }
        self.closing(sums, onto)
    }

    /// Adds a node and the one on the other side of the middle to the sums for time, `x` and `z`.
    #[inline(always)]
    pub(super) fn add<const T: usize>(
        &self,
        node: Lanes<S, N>,
        weight: Lanes<S, N>,
        onto: &Onto,
        [time, x, z]: &mut [Lanes<S, N>; 3],
    ) {
        let (one, kg) = (node.filled(1.0), node.filled(onto.k / onto.g));
        let [cosh_m, sinh_m] = self.middle;
        let from = self.turn * node;
        let square = from * from;
        let cosh = square.polynomial(const { &hyperbolic::<T>(0) });
        let sinh = square.polynomial(const { &hyperbolic::<T>(1) }) * from;
        let [cc, ss] = [cosh_m * cosh, sinh_m * sinh];
        let [cs, sc] = [cosh_m * sinh, sinh_m * cosh];
        let ([c1, c2], [s1, s2]) = ([cc + ss, cc - ss], [sc + cs, sc - cs]);
        let r1 = one / (self.base - kg * s1.mul_add(c1, from));
        let r2 = one / (self.base - kg * s2.mul_add(c2, -from));
        let [a1, a2] = [c1 * r1, c2 * r2];
        *time = weight.mul_add(c1.mul_add(r1.sqrt(), c2 * r2.sqrt()), *time);
        *x = weight.mul_add(a1 + a2, *x);
        *z = weight.mul_add(a1.mul_add(s1, a2 * s2), *z);
    }

    /// The end, from the sums over all nodes.
    #[inline(always)]
    pub(super) fn closing(&self, [time, x, z]: [Lanes<S, N>; 3], onto: &Onto) -> Closing<S, N> {
        let scale = self.turn * self.turn.filled(1.0 / onto.g);
        let u_h = self.turn.filled(1.0) / self.end.sqrt();
        Closing { time: time * scale, x: x * scale, z: z * scale, u_h, u_z: u_h * self.slope_end }
    }
}
