//! The family of flights that an even landing takes: one launch, any speed.

use super::design::EvenDesign;
use super::stop::StoppedBy;
use crate::flight::{FlightError, FlightPath};
use crate::force::Forces;
use crate::math::ode::{Options, integrate};
use crate::math::roots::bracketed;
use crate::math::{Vec2, Vec3};
use nalgebra::{Matrix3, SVector};
use std::convert::Infallible;

/// Nobody leaves faster than this, m/s.
const FASTEST: f64 = 120.0;
/// Flights slower than this are not looked at, m/s.
const SLOWEST: f64 = 1e-3;
/// No flight is followed longer, seconds.
const LONGEST: f64 = 60.0;
/// How good a flight and what a change of its speed does to it are, in metres and m/s.
const TOLERANCE: f64 = 1e-12;
/// What falls short of a place counts as this far below it, metres.
const SHORT: f64 = -1e6;

/// All flights of one launch, seen in the plane square to the lines that the surface is level or straight along.
///
/// A surface of one cross slope is a cylinder: nothing changes along its rulings, and only the part of a velocity square
/// to them goes into it. So what is to be known of a flight lies in a plane, its axes `along` and `up`.
#[derive(Debug, Clone, PartialEq)]
pub(super) struct Family {
    direction: Vec3,
    forces: Forces,
    up: Vec3,
}

/// A moment of one flight, and how it would change with the launch speed at the same time since the launch.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) struct Moment {
    /// The centre of mass, along and up.
    pub at: Vec2,
    /// Its velocity.
    pub velocity: Vec2,
    /// Its acceleration.
    pub acceleration: Vec2,
    /// The change of place by launch speed, seconds.
    pub place_by_speed: Vec2,
    /// The change of velocity by launch speed.
    pub velocity_by_speed: Vec2,
}

/// A flight that passes a place: its launch speed and the time since the launch.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) struct Passing {
    pub speed: f64,
    pub time: f64,
    pub velocity: Vec2,
}

impl Family {
    pub(super) fn new(design: &EvenDesign, forces: Forces) -> Self {
        let (sin, cos) = design.launch_angle().sin_cos();
        let (left, ahead) = design.sideways().sin_cos();
        let direction = Vec3::new(cos * ahead, cos * left, sin);
        Self::thrown(direction, forces, design.cross_slope())
    }

    /// Of a direction, of length 1, onto a surface that rises to the left at an angle.
    pub(super) fn thrown(direction: Vec3, forces: Forces, cross_slope: f64) -> Self {
        let (fall, rise) = cross_slope.sin_cos();
        Self { direction, forces, up: Vec3::new(0.0, -fall, rise) }
    }

    /// A moment of the flight that leaves at `speed`, `time` after the launch.
    pub(super) fn moment(&self, speed: f64, time: f64) -> Result<Moment, StoppedBy> {
        Ok(self.seen_along(&self.space(speed, time)?, &self.up))
    }

    /// Place, velocity, and both by launch speed, in space.
    pub(super) fn space(&self, speed: f64, time: f64) -> Result<[Vec3; 4], StoppedBy> {
        if speed > 0.0 && speed <= FASTEST && (0.0..=LONGEST).contains(&time) {
            self.flown(speed, time)
        } else {
            Err(StoppedBy::NoFlight)
        }
    }

    /// A moment as it is seen where the surface rises to the left by so much a metre.
    pub(super) fn seen_across(&self, flown: &[Vec3; 4], rise: f64) -> Moment {
        self.seen_along(flown, &Vec3::new(0.0, -rise, 1.0).normalize())
    }

    fn seen_along(&self, flown: &[Vec3; 4], up: &Vec3) -> Moment {
        let [at, velocity, place_by_speed, velocity_by_speed] = flown;
        let seen = |vector: &Vec3| Vec2::new(vector.x, vector.dot(up));
        Moment {
            at: seen(at),
            velocity: seen(velocity),
            acceleration: seen(&(self.forces.gravity() + self.forces.drag(*velocity))),
            place_by_speed: seen(place_by_speed),
            velocity_by_speed: seen(velocity_by_speed),
        }
    }

    /// Place, velocity, and both by launch speed.
    fn flown(&self, speed: f64, time: f64) -> Result<[Vec3; 4], StoppedBy> {
        let (direction, gravity) = (self.direction, self.forces.gravity());
        if self.forces.k() <= 0.0 {
            let velocity = direction * speed + gravity * time;
            let place = (direction * speed + gravity * (0.5 * time)) * time;
            return Ok([place, velocity, direction * time, direction]);
        }
        let rhs = |_: f64, y: &SVector<f64, 12>| {
            let [_, velocity, _, change] = split(y);
            let force = self.forces.gravity() + self.forces.drag(velocity);
            let by_speed: Matrix3<f64> = self.forces.drag_by_velocity(velocity);
            Ok::<_, Infallible>(joined([velocity, force, change, by_speed * change]))
        };
        let none = Vec3::zeros();
        let start = joined([none, direction * speed, none, direction]);
        let options = Options::new(TOLERANCE, TOLERANCE);
        let flown = integrate(rhs, 0.0, start, time, &options).map_err(|_| StoppedBy::NoFlight)?;
        Ok(split(&flown.end()))
    }

    /// The flight that passes a place, by bisection on the launch speed of whole flights.
    ///
    /// A faster flight of the same launch passes higher, in still air.
    pub(super) fn passing(&self, place: Vec2) -> Result<Passing, StoppedBy> {
        let guess = self.without_drag(place)?;
        let over = |speed: f64| match self.crossing(speed, place.x) {
            Ok(Some((time, path))) => self.seen(&path.position(time)).y - place.y,
            Ok(None) => SHORT,
            Err(_) => f64::NAN,
        };
        let (mut low, mut high) = ((0.9 * guess).max(SLOWEST), (1.1 * guess).min(FASTEST));
        while over(low) > 0.0 && low > SLOWEST {
            low = (0.5 * low).max(SLOWEST);
        }
        while over(high) < 0.0 {
            if high >= FASTEST {
                return Err(StoppedBy::NoFlight);
            }
            high = (1.5 * high).min(FASTEST);
        }
        let speed = bracketed(over, low, high, 1e-14).map_err(|_| StoppedBy::NoFlight)?;
        let Ok(Some((time, path))) = self.crossing(speed, place.x) else {
            return Err(StoppedBy::NoFlight);
        };
        Ok(Passing { speed, time, velocity: self.seen(&path.velocity(time)) })
    }

    /// The launch speed of the parabola through a place.
    pub(super) fn without_drag(&self, place: Vec2) -> Result<f64, StoppedBy> {
        let (direction, g) = (self.seen(&self.direction), self.forces.g() * self.up.z);
        let below = place.x * direction.y / direction.x - place.y;
        let time = (2.0 * below / g).sqrt();
        let speed = place.x / (direction.x * time);
        if speed > 0.0 && speed <= FASTEST { Ok(speed) } else { Err(StoppedBy::NoFlight) }
    }

    /// When a flight first is `along` out, with its path; `None` where it does not get there.
    fn crossing(&self, speed: f64, along: f64) -> Result<Option<(f64, FlightPath)>, FlightError> {
        let velocity = self.direction * speed;
        let mut path = FlightPath::start(Vec3::zeros(), velocity, self.forces)?;
        let (mut before, mut until) = (0.0, 0.5);
        loop {
            path.fly(until)?;
            if path.position(until).x >= along {
                let over = |time: f64| path.position(time).x - along;
                let time = bracketed(over, before, until, 1e-15).ok();
                return Ok(time.map(|time| (time, path)));
            }
            if until >= LONGEST {
                return Ok(None);
            }
            (before, until) = (until, (1.5 * until).min(LONGEST));
        }
    }

    /// A vector of the site, along and up.
    pub(super) fn seen(&self, vector: &Vec3) -> Vec2 {
        Vec2::new(vector.x, vector.dot(&self.up))
    }
}

fn joined(parts: [Vec3; 4]) -> SVector<f64, 12> {
    SVector::from_fn(|i, _| parts[i / 3][i % 3])
}

fn split(y: &SVector<f64, 12>) -> [Vec3; 4] {
    std::array::from_fn(|i| Vec3::new(y[3 * i], y[3 * i + 1], y[3 * i + 2]))
}
