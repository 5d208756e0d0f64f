//! Forces that a model brings along, for several flights at once.

#![allow(clippy::inline_always, reason = "a kernel that is not inlined loses its instruction set")]

use super::Forces;
use crate::math::Vec3;
use crate::math::lanes::Lanes;
use pulp::{Scalar, Simd};

/// With more drag than this, one over metres, ten times a rider's, flights through rest in the air are left to the general solver.
const MOST_DRAG: f64 = 0.05;

/// A vector of each flight, by its parts.
pub type Vector<S, const N: usize> = [Lanes<S, N>; 3];

/// Where several flights are, each at its own time.
#[derive(Debug, Clone, Copy)]
pub struct Moving<S: Simd, const N: usize> {
    /// Seconds since the launch.
    pub time: Lanes<S, N>,
    /// The centre of mass, metres.
    pub place: Vector<S, N>,
    /// Its velocity, m/s.
    pub velocity: Vector<S, N>,
}

/// What accelerates a rider in the air: gravity, drag, and whatever else a model has (wind that grows with height, lift).
///
/// Both methods are part of a kernel: mark them `#[inline(always)]`, and call in them only what is marked so. Flights are
/// integrated to eighth order, so the acceleration should be smooth: where it has a kink, steps become short, and a flight
/// that crosses many takes the slow way.
pub trait Acceleration: Sync {
    /// The acceleration, m/s².
    fn acceleration<S: Simd, const N: usize>(&self, at: &Moving<S, N>) -> Vector<S, N>;

    /// How long a step from here may be at most, seconds. Too short costs time; too long, where an estimate of the error cannot
    /// be trusted any more, accuracy: stay below the time in which the acceleration changes its form. Zero leaves the flight to the general
    /// solver.
    #[inline(always)]
    fn span<S: Simd, const N: usize>(&self, at: &Moving<S, N>) -> Lanes<S, N> {
        at.time.filled(0.35)
    }
}

impl Acceleration for Forces {
    #[inline(always)]
    fn acceleration<S: Simd, const N: usize>(&self, at: &Moving<S, N>) -> Vector<S, N> {
        let [x, y, z] = through_air(self, at);
        let speed = x.mul_add(x, y.mul_add(y, z * z)).sqrt();
        let drag = speed * speed.filled(-self.k());
        [drag * x, drag * y, drag.mul_add(z, speed.filled(-self.g()))]
    }

    /// A share of the time `|u| / g` in which gravity turns the motion through the air, the longer the slower he is, for drag is less.
    #[inline(always)]
    fn span<S: Simd, const N: usize>(&self, at: &Moving<S, N>) -> Lanes<S, N> {
        let [x, y, z] = through_air(self, at);
        let speed = x.mul_add(x, y.mul_add(y, z * z)).sqrt();
        // Tried: 0.6 s at 13 m/s. In longer steps the error shows less than it is.
        let span = (speed * speed.sqrt()).sqrt() * speed.filled(0.86 / self.g());
        let longest = if self.k() > MOST_DRAG { 0.0 } else { 0.65 };
        span.min(speed.filled(longest)).min((speed * speed.filled(14.0 * self.k())).recip())
    }
}

#[inline(always)]
fn through_air<S: Simd, const N: usize>(forces: &Forces, at: &Moving<S, N>) -> Vector<S, N> {
    let ([x, y, z], wind) = (at.velocity, forces.wind());
    [x - x.filled(wind.x), y - y.filled(wind.y), z - z.filled(wind.z)]
}

/// The acceleration of a single flight, m/s².
pub(crate) fn of_one(force: &impl Acceleration, time: f64, place: &Vec3, velocity: &Vec3) -> Vec3 {
    let number = |value: f64| Lanes::<_, 1>::splat(Scalar, value);
    let vector = |v: &Vec3| [number(v.x), number(v.y), number(v.z)];
    let at = Moving { time: number(time), place: vector(place), velocity: vector(velocity) };
    let [x, y, z] = force.acceleration(&at);
    Vec3::new(x.greatest(), y.greatest(), z.greatest())
}
