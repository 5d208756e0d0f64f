//! The turn that a rider needs to rejoin the trail.

use super::course::Course;
use super::options::Trail;
use super::speed_at;
use crate::air::Air;
use crate::ride::Samples;
use serde::{Deserialize, Serialize};
use std::f64::consts::TAU;

/// The turn from a straight course onto the trail.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize)]
#[non_exhaustive]
pub struct Rejoin {
    /// How far he has to turn, to the left positive, radians from -pi to pi.
    pub turn: f64,
    /// Where his straight course meets the trail's line, metres along the tyres' line; none where it does not ahead.
    pub meets_at: Option<f64>,
    /// The widest arc that takes him onto it from where he can begin to turn, metres; none where there is none, infinite
    /// where he is on it already.
    pub radius: Option<f64>,
    /// His speed where he begins to turn, m/s.
    pub speed: Option<f64>,
    /// The grip that this arc asks for at that speed on the level, `v^2 / (g R)`.
    pub grip_demand: Option<f64>,
}

/// Level distances closer than this are the same, metres.
const SAME: f64 = 1e-6;

impl Rejoin {
    /// The turn onto `trail` for a rider who can begin to turn at a station.
    pub(super) fn onto(
        trail: &Trail,
        course: &Course,
        samples: &Samples,
        from: f64,
        air: &Air,
    ) -> Self {
        let turn = wrapped(trail.heading() - course.heading());
        let through = course.ahead_aside(&trail.through());
        // In the course's own axes the trail runs through `through` at the angle `turn`; it crosses the course's line.
        let crosses = (turn.sin().abs() > SAME).then(|| through.x - through.y / turn.tan());
        let on_it = turn.abs() < SAME && through.y.abs() < SAME;
        let start = level(samples, from);
        let meets = crosses.filter(|at| *at >= start && *at <= course.level_length());
        let tangent = meets.map(|at| at - start);
        let radius = match tangent {
            Some(tangent) => Some(tangent / (0.5 * turn).tan().abs()),
            None if on_it => Some(f64::INFINITY),
            None => None,
        };
        let speed = speed_at(samples, from);
        let demand = |radius: f64, speed: f64| speed * speed / (air.gravity() * radius);
        let grip_demand = radius.zip(speed).map(|(radius, speed)| demand(radius, speed));
        Self { turn, meets_at: meets.map(|at| course.station(at)), radius, speed, grip_demand }
    }
}

/// The level distance at a station.
fn level(samples: &Samples, station: f64) -> f64 {
    let Some(first) = samples.tyres.first() else { return 0.0 };
    let at = samples.station.iter().position(|s| *s >= station);
    at.map_or(0.0, |at| (samples.tyres[at] - first).xy().norm())
}

/// An angle from -pi to pi.
fn wrapped(angle: f64) -> f64 {
    angle - TAU * (angle / TAU).round()
}
