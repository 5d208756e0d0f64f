//! Bike and rider on the rear wheel alone: one rigid body in a plane whose rear contact rolls along the lip.
//!
//! Coordinates: `s`, how far the rear contact has come along the lip, and `a`, the bike's angle, nose up positive, both in
//! the plane of the edge's tangent and normal. With `T`, `N` the lip's direction and normal at the rear contact, `kappa` its
//! curvature, `r` from the contact to the centre of mass, `k` the radius of gyration, `G` gravity in the plane and `f` what
//! the contact gives per mass, the centre is at `c = P(s) + r(a)`, and
//!
//! - a wheel that rolls freely gives nothing along the line: `c'' = G + f N`
//! - about the centre: `k² a'' = -(r . T) f`
//!
//! Put together, `f = (kappa s'² - G . N - a'² (r . N)) / (1 + (r . T)² / k²)` and
//! `s'' = G . T + a'² (r . T) + a'' (r . N)`. Energy is kept to the accuracy of the integration. A contact that were
//! carried on at a given speed instead would do work on the rider and lift him.

use crate::math::Vec2;
use crate::ride::{Bike, Edge};
use nalgebra::{SVector, Vector6};

/// Steps of integration in each smooth part of the lip, at least.
const STEPS: f64 = 4.0;
/// A step takes no longer than this, in which a bike turns little; seconds.
const LONGEST_STEP: f64 = 0.01;
/// Who has not left after so many steps never will.
const MOST_STEPS: usize = 4000;
/// Halvings of the step in which the rear wheel lifts off.
const HALVINGS: usize = 40;
/// The cranks' axle ahead of the rear contact as a share of the wheelbase (common practice: 0.44 m of 1.2 m).
const CRANKS: f64 = 0.37;
/// The underside of cranks and frame above the line from contact to contact, in wheel radii (common practice: the
/// cranks' axle 0.34 m up, less a chainring or guard of 0.1 m, at a radius of 0.35 m).
const CLEARANCE: f64 = 0.7;

/// The rider on the rear wheel at one moment.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) struct Moment {
    /// How far the rear contact has come along the lip, metres.
    pub(super) way: f64,
    /// Seconds since the front left.
    pub(super) time: f64,
    /// The rear contact, from the edge.
    pub(super) contact: Vec2,
    /// Its speed.
    pub(super) speed: f64,
    /// The bike's angle, nose up.
    pub(super) angle: f64,
    /// Its rate.
    pub(super) rate: f64,
}

/// What turns, and over what.
#[derive(Debug, Clone, Copy)]
pub(super) struct Hinge<'a> {
    pub(super) edge: &'a Edge,
    pub(super) bike: Bike,
    /// Gravity in the plane.
    pub(super) gravity: Vec2,
    /// From the rear contact to the centre of mass, ahead and up, in the bike's axes.
    pub(super) arm: Vec2,
    /// The square of the radius of gyration about the plane's normal.
    pub(super) gyration: f64,
}

/// How the time on the rear wheel ends.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) enum End {
    /// The rear wheel rolls off the edge, or nothing presses it on any more.
    Leaves(Moment),
    /// It stops before, or the frame comes down on the edge.
    HangsUp(Moment),
}

/// Contact (two numbers), time, speed, angle, rate; over the way.
type State = Vector6<f64>;

impl Hinge<'_> {
    /// From the front's leaving to the rear's.
    pub(super) fn turn(&self, start: Moment) -> End {
        let (mut way, mut state) = (start.way, to_state(&start));
        if self.load(way, &state) <= 0.0 {
            return End::Leaves(start);
        }
        for _ in 0..MOST_STEPS {
            let Some(end) = self.edge.joint_after(way) else {
                return End::Leaves(to_moment(way, &state));
            };
            let even = (self.edge.part() / STEPS).min(state[3] * LONGEST_STEP);
            // A sliver left over would be a step of its own.
            let is_last = end - way <= 1.01 * even;
            let step = if is_last { end - way } else { even };
            let next = classic_step(|s, y| self.rate(s, y), way, &state, step);
            if !self.rolls_on(way + step, &next) {
                break;
            }
            if self.load(way + step, &next) <= 0.0 {
                return End::Leaves(self.lift(way, &state, step));
            }
            (way, state) = (if is_last { end } else { way + step }, next);
        }
        End::HangsUp(to_moment(way, &state))
    }

    /// The centre of mass, from the edge, and its velocity.
    pub(super) fn centre(&self, at: &Moment) -> (Vec2, Vec2) {
        let arm = turned(self.arm, at.angle);
        let along = direction(self.edge.at(at.way).direction);
        (at.contact + arm, along * at.speed + left_of(arm) * at.rate)
    }

    /// Whether the rear wheel still rolls, and the edge is not in the way of cranks and frame.
    fn rolls_on(&self, way: f64, state: &State) -> bool {
        let finite = state.iter().all(|x| x.is_finite());
        finite && state[3] > 0.0 && !self.strikes(way, state)
    }

    /// Whether the edge, between cranks and front wheel, is as high in the bike as its underside.
    fn strikes(&self, way: f64, state: &State) -> bool {
        let up = left_of(direction(state[4]));
        let edge = -state.fixed_rows::<2>(0).dot(&up);
        let is_ahead = self.edge.length() - way >= CRANKS * self.bike.wheelbase;
        is_ahead && edge > CLEARANCE * self.bike.wheel_radius
    }

    /// The moment within a step at which the load on the rear wheel comes to nothing.
    fn lift(&self, way: f64, state: &State, step: f64) -> Moment {
        let at = |part: f64| classic_step(|s, y| self.rate(s, y), way, state, part);
        let (mut on, mut off) = (0.0, step);
        for _ in 0..HALVINGS {
            let middle = 0.5 * (on + off);
            if self.load(way + middle, &at(middle)) > 0.0 {
                on = middle;
            } else {
                off = middle;
            }
        }
        to_moment(way + on, &at(on))
    }

    /// What the rear contact gives along the lip's normal, per mass.
    fn load(&self, way: f64, state: &State) -> f64 {
        let bend = self.edge.at(way);
        let along = direction(bend.direction);
        let arm = turned(self.arm, state[4]);
        let (ahead, up) = (arm.dot(&along), arm.dot(&left_of(along)));
        let pressed = bend.curvature * state[3].powi(2)
            - self.gravity.dot(&left_of(along))
            - state[5].powi(2) * up;
        pressed / (1.0 + ahead * ahead / self.gyration)
    }

    fn rate(&self, way: f64, state: &State) -> State {
        let (speed, turning) = (state[3], state[5]);
        let along = direction(self.edge.at(way).direction);
        let arm = turned(self.arm, state[4]);
        let (ahead, up) = (arm.dot(&along), arm.dot(&left_of(along)));
        let spin_up = -ahead * self.load(way, state) / self.gyration;
        let gain = self.gravity.dot(&along) + turning * turning * ahead + spin_up * up;
        State::new(along.x * speed, along.y * speed, 1.0, gain, turning, spin_up) / speed
    }
}

/// A step of the classic Runge-Kutta method of order 4.
pub(super) fn classic_step<const N: usize>(
    rate: impl Fn(f64, &SVector<f64, N>) -> SVector<f64, N>,
    x: f64,
    y: &SVector<f64, N>,
    h: f64,
) -> SVector<f64, N> {
    let k1 = rate(x, y);
    let k2 = rate(x + 0.5 * h, &(y + k1 * (0.5 * h)));
    let k3 = rate(x + 0.5 * h, &(y + k2 * (0.5 * h)));
    let k4 = rate(x + h, &(y + k3 * h));
    y + (k1 + (k2 + k3) * 2.0 + k4) * (h / 6.0)
}

/// The unit vector at an angle from the edge's tangent, towards the normal.
pub(super) fn direction(angle: f64) -> Vec2 {
    Vec2::new(angle.cos(), angle.sin())
}

/// A vector turned by a quarter, from the tangent towards the normal.
pub(super) fn left_of(v: Vec2) -> Vec2 {
    Vec2::new(-v.y, v.x)
}

/// A vector turned by an angle.
pub(super) fn turned(v: Vec2, angle: f64) -> Vec2 {
    direction(angle) * v.x + left_of(direction(angle)) * v.y
}

fn to_state(at: &Moment) -> State {
    State::new(at.contact.x, at.contact.y, at.time, at.speed, at.angle, at.rate)
}

fn to_moment(way: f64, state: &State) -> Moment {
    let contact = Vec2::new(state[0], state[1]);
    Moment { way, time: state[2], contact, speed: state[3], angle: state[4], rate: state[5] }
}

#[cfg(test)]
mod tests;
