//! A point that moves: its place at a time, and bounds on how it may move between two times.

use super::Vec3;
use serde::{Deserialize, Serialize};

/// A moving point, in metres and seconds, with bounds that hold over a stretch of time.
pub trait Path {
    /// The first and last time.
    fn span(&self) -> (f64, f64);
    /// Where the point is.
    fn position(&self, t: f64) -> Vec3;
    /// Its velocity.
    fn velocity(&self, t: f64) -> Vec3;
    /// Its acceleration.
    fn acceleration(&self, t: f64) -> Vec3;
    /// A speed it does not exceed from `t0` to `t1`.
    fn speed_bound(&self, t0: f64, t1: f64) -> f64;
    /// A size its acceleration does not exceed from `t0` to `t1`.
    fn acceleration_bound(&self, t0: f64, t1: f64) -> f64;
    /// A size the rate of its acceleration does not exceed from `t0` to `t1`.
    fn jerk_bound(&self, t0: f64, t1: f64) -> f64;
}

/// The degree of a piece.
pub const DEGREE: usize = 14;

/// A polynomial in time: a piece of a smooth path.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize)]
pub struct Piece {
    start: f64,
    end: f64,
    /// Coefficients of the powers of the time since the start.
    terms: [Vec3; DEGREE + 1],
    /// The most the jerk's rate is over the piece, m/s^4.
    snap: f64,
}

/// Place, velocity and acceleration at one time.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize)]
pub struct Motion {
    /// The time, seconds.
    pub time: f64,
    /// The place, metres.
    pub position: Vec3,
    /// The velocity, m/s.
    pub velocity: Vec3,
    /// The acceleration, m/s^2.
    pub acceleration: Vec3,
}

impl Piece {
    /// The piece from `start` to `end` with these coefficients of the powers of the time since the start.
    pub fn new(start: f64, end: f64, terms: [Vec3; DEGREE + 1]) -> Self {
        let h = end - start;
        let fourth = |n: usize| (n * (n - 1) * (n - 2) * (n - 3)) as f64;
        let snap = (4..=DEGREE).rev().fold(0.0, |sum, n| sum * h + fourth(n) * terms[n].norm());
        Self { start, end, terms, snap }
    }

    /// The piece of degree five that meets place, velocity and acceleration at both ends, `b` later than `a`.
    ///
    /// Off a smooth path by `h^6 |x| / 46080` at most, `h` the time between the ends.
    pub fn between(a: &Motion, b: &Motion) -> Self {
        let h = b.time - a.time;
        // What the start alone does not foresee, each scaled to metres.
        let place = b.position - a.position - (a.velocity + 0.5 * h * a.acceleration) * h;
        let velocity = (b.velocity - a.velocity - a.acceleration * h) * h;
        let acceleration = (b.acceleration - a.acceleration) * (h * h);
        let cubic = 10.0 * place - 4.0 * velocity + 0.5 * acceleration;
        let quartic = -15.0 * place + 7.0 * velocity - acceleration;
        let quintic = 6.0 * place - 3.0 * velocity + 0.5 * acceleration;
        let h3 = h * h * h;
        let mut terms = parabola(a);
        terms[3..6].copy_from_slice(&[cubic / h3, quartic / (h3 * h), quintic / (h3 * h * h)]);
        Self::new(a.time, b.time, terms)
    }

    /// The piece that keeps the acceleration at `a` until `end`.
    pub fn parabola(a: &Motion, end: f64) -> Self {
        Self::new(a.time, end, parabola(a))
    }

    /// The coefficients of the powers of the time since the start.
    pub const fn terms(&self) -> &[Vec3; DEGREE + 1] {
        &self.terms
    }

    /// Place, velocity and acceleration at a time, at once.
    pub fn motion(&self, time: f64) -> Motion {
        let s = time - self.start;
        let none = Vec3::zeros();
        let (mut position, mut velocity, mut half) = (none, none, none);
        for term in self.terms.iter().rev() {
            half = half * s + velocity;
            velocity = velocity * s + position;
            position = position * s + term;
        }
        Motion { time, position, velocity, acceleration: 2.0 * half }
    }

    fn jerk(&self, t: f64) -> Vec3 {
        let s = t - self.start;
        let third = |n: usize| (n * (n - 1) * (n - 2)) as f64;
        (3..=DEGREE).rev().fold(Vec3::zeros(), |sum, n| sum * s + third(n) * self.terms[n])
    }
}

impl Path for Piece {
    fn span(&self) -> (f64, f64) {
        (self.start, self.end)
    }
    fn position(&self, t: f64) -> Vec3 {
        self.motion(t).position
    }
    fn velocity(&self, t: f64) -> Vec3 {
        self.motion(t).velocity
    }
    fn acceleration(&self, t: f64) -> Vec3 {
        self.motion(t).acceleration
    }
    fn speed_bound(&self, t0: f64, t1: f64) -> f64 {
        self.motion(t0).speed_bound(self.jerk_bound(t0, t1), t1 - t0)
    }
    fn acceleration_bound(&self, t0: f64, t1: f64) -> f64 {
        self.acceleration(t0).norm() + self.jerk_bound(t0, t1) * (t1 - t0)
    }
    fn jerk_bound(&self, t0: f64, t1: f64) -> f64 {
        self.jerk(t0).norm() + self.snap * (t1 - t0)
    }
}

impl Motion {
    /// A speed that is not exceeded within `span` seconds while the jerk stays within a bound.
    pub fn speed_bound(&self, jerk: f64, span: f64) -> f64 {
        self.velocity.norm() + (self.acceleration.norm() + 0.5 * jerk * span) * span
    }
}

fn parabola(a: &Motion) -> [Vec3; DEGREE + 1] {
    let mut terms = [Vec3::zeros(); DEGREE + 1];
    terms[..3].copy_from_slice(&[a.position, a.velocity, 0.5 * a.acceleration]);
    terms
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    /// A path of degree five with a known derivative.
    fn motion(terms: &[Vec3], time: f64) -> Motion {
        let sum = |order: i32| {
            terms.iter().zip(0..).skip(usize::try_from(order).unwrap()).fold(
                Vec3::zeros(),
                |sum, (c, i): (&Vec3, i32)| {
                    let factor: i32 = ((i - order + 1)..=i).product();
                    sum + c * f64::from(factor) * time.powi(i - order)
                },
            )
        };
        Motion { time, position: sum(0), velocity: sum(1), acceleration: sum(2) }
    }

    proptest! {
        #[test]
        fn a_quintic_path_is_met_everywhere_and_bounded(
            terms in prop::collection::vec(prop::array::uniform3(-1.0..1.0f64), 6),
            (a, h) in (-1.0..1.0f64, 0.1..2.0f64),
        ) {
            let terms: Vec<Vec3> = terms.into_iter().map(Vec3::from).collect();
            let piece = Piece::between(&motion(&terms, a), &motion(&terms, a + h));
            let (t0, t1) = (a + 0.2 * h, a + 0.9 * h);
            for i in 0..=20 {
                let t = t0 + (t1 - t0) * f64::from(i) / 20.0;
                let (found, wanted) = (piece.motion(t), motion(&terms, t));
                prop_assert!((found.position - wanted.position).norm() < 1e-11);
                prop_assert!((found.velocity - wanted.velocity).norm() < 1e-10);
                prop_assert!((found.acceleration - wanted.acceleration).norm() < 1e-8);
                prop_assert!(found.velocity.norm() <= piece.speed_bound(t0, t1) + 1e-9);
                prop_assert!(found.acceleration.norm() <= piece.acceleration_bound(t0, t1) + 1e-9);
                let later = piece.acceleration(t + 1e-4) - found.acceleration;
                prop_assert!(later.norm() <= piece.jerk_bound(t0, t1 + 1e-4) * 1e-4 + 1e-9);
            }
        }
    }
}
