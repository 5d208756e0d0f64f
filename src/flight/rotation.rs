//! How a rigid body turns about its centre of mass, as Taylor series in time.

mod series;

use super::error::FlightError;
use super::path::LONGEST;
use crate::math::Vec3;
use crate::math::quadrature;
use crate::math::range::{finite, within};
use crate::rider::{Inertia, Rider};
use nalgebra::{Quaternion, Unit, UnitQuaternion};
use serde::{Deserialize, Serialize};
use series::Turn;

/// More pieces than this are not kept: the body turns too fast to be a rider.
const MOST_PIECES: usize = 20_000;

/// What turns: a body with wheels that spin in it, and the torque that its rider has on it. In the body's axes forward, left
/// and up, which are its principal axes.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize)]
pub struct Body {
    inertia: Inertia,
    spin: f64,
    torque: Vec3,
}

impl Body {
    /// A body with these inertias, wheels whose spin momentum to the left is `spin` kg m²/s, and a constant torque, N m.
    pub fn new(inertia: Inertia, spin: f64, torque: Vec3) -> Result<Self, FlightError> {
        finite("spin", spin)?;
        for part in torque.iter() {
            finite("torque", *part)?;
        }
        Ok(Self { inertia, spin, torque })
    }

    /// A rider whose two wheels spin as at a speed of the tyres, m/s.
    pub fn of(rider: &Rider, tyre_speed: f64, torque: Vec3) -> Result<Self, FlightError> {
        let spin = 2.0 * rider.wheel_inertia() * tyre_speed / rider.wheel_radius();
        Self::new(rider.inertia(), spin, torque)
    }

    /// The principal inertias, kg m².
    pub const fn inertia(&self) -> Inertia {
        self.inertia
    }

    /// The wheels' spin momentum, kg m²/s, to the left.
    pub const fn spin(&self) -> f64 {
        self.spin
    }

    /// The rider's torque, N m.
    pub const fn torque(&self) -> Vec3 {
        self.torque
    }

    /// The angular momentum about the centre of mass in the body's axes, at these rates.
    fn momentum(&self, rates: &Vec3) -> Vec3 {
        self.moments().component_mul(rates) + Vec3::new(0.0, self.spin, 0.0)
    }

    fn moments(&self) -> Vec3 {
        Vec3::new(self.inertia.roll(), self.inertia.pitch(), self.inertia.yaw())
    }
}

/// A body's turning from the launch on, at time 0: `I w' + w x (I w + H) = tau`, `q' = 1/2 q (0, w)`.
///
/// A chain of Taylor series of degree 20 in time, each good to rounding: energy and angular momentum are kept to about 1e-14 a
/// piece.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct Rotation {
    body: Body,
    pieces: Vec<Turn>,
}

/// Rotation and rates at one time.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize)]
pub struct Turning {
    /// Takes the body's axes to the site's.
    pub rotation: UnitQuaternion<f64>,
    /// About the body's forward, left and up axes, rad/s.
    pub rates: Vec3,
}

impl Turning {
    /// The angular velocity in the site's axes, rad/s.
    pub fn angular_velocity(&self) -> Vec3 {
        self.rotation * self.rates
    }
}

/// Where the angular momentum about the centre of mass went, kg m²/s in the site's axes: `end = start + torque + residual`.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize)]
#[non_exhaustive]
pub struct SpinLedger {
    /// At the launch, the wheels' spin counted.
    pub start: Vec3,
    /// What the rider's torque gave.
    pub torque: Vec3,
    /// At the end.
    pub end: Vec3,
    /// The body's energy of rotation at the launch, J; the wheels' own spin left out.
    pub start_energy: f64,
    /// What the rider's torque did to it, J.
    pub work: f64,
    /// The energy at the end, J.
    pub end_energy: f64,
}

impl SpinLedger {
    /// What of the momentum does not add up, kg m²/s.
    pub fn residual(&self) -> Vec3 {
        self.end - self.start - self.torque
    }

    /// What of the energy does not add up, J.
    pub fn energy_residual(&self) -> f64 {
        self.end_energy - self.start_energy - self.work
    }
}

impl Rotation {
    /// The turning of a body from a start until a time, at most 60 s.
    ///
    /// Errors: numbers that are not finite; so fast that 60 s would take more than 20 000 pieces (some 1000 rad/s).
    pub fn new(body: Body, start: Turning, until: f64) -> Result<Self, FlightError> {
        for rate in start.rates.iter().chain(start.rotation.coords.iter()) {
            finite("angular_velocity", *rate)?;
        }
        let mut rotation = Self { body, pieces: vec![Turn::from(&body, &start, 0.0)?] };
        rotation.turn(until)?;
        Ok(rotation)
    }

    /// Turns on at least until a time, at most 60 s.
    pub fn turn(&mut self, until: f64) -> Result<(), FlightError> {
        within("duration", until, 0.0, LONGEST)?;
        while self.duration() < until {
            if self.pieces.len() >= MOST_PIECES {
                return Err(FlightError::TooFast { time: self.duration() });
            }
            let time = self.duration();
            self.pieces.push(Turn::from(&self.body, &self.at(time), time)?);
        }
        Ok(())
    }

    /// What turns.
    pub const fn body(&self) -> &Body {
        &self.body
    }

    /// How far it is known, seconds: up to a piece longer than was asked for.
    pub fn duration(&self) -> f64 {
        self.pieces.last().map_or(0.0, |piece| piece.end)
    }

    /// Rotation and rates at a time; those of the nearest end outside.
    pub fn at(&self, time: f64) -> Turning {
        let time = time.clamp(0.0, self.duration());
        let i = self.pieces.partition_point(|piece| piece.end < time);
        self.pieces.get(i).map_or_else(resting, |piece| piece.at(time))
    }

    /// The angular momentum about the centre of mass at a time, kg m²/s in the site's axes, the wheels' spin counted.
    pub fn momentum(&self, time: f64) -> Vec3 {
        let now = self.at(time);
        now.rotation * self.body.momentum(&now.rates)
    }

    /// The body's energy of rotation at a time, J; the wheels' own spin left out.
    pub fn energy(&self, time: f64) -> f64 {
        let rates = self.at(time).rates;
        0.5 * rates.dot(&self.body.moments().component_mul(&rates))
    }

    /// Where momentum and energy went until a time.
    pub fn ledger(&self, until: f64) -> SpinLedger {
        let (mut torque, mut work) = (Vec3::zeros(), 0.0);
        let whole = |of: &dyn Fn(&Turning) -> f64| -> f64 {
            let pieces = self.pieces.iter().filter(|piece| piece.start < until);
            let over = |piece: &Turn| {
                quadrature::integrate(|t| of(&piece.at(t)), piece.start, piece.end.min(until))
            };
            pieces.map(over).sum()
        };
        if self.body.torque != Vec3::zeros() {
            torque = Vec3::from_fn(|i, _| whole(&|now| (now.rotation * self.body.torque)[i]));
            work = whole(&|now| now.rates.dot(&self.body.torque));
        }
        SpinLedger {
            start: self.momentum(0.0),
            torque,
            end: self.momentum(until),
            start_energy: self.energy(0.0),
            work,
            end_energy: self.energy(until),
        }
    }
}

fn resting() -> Turning {
    Turning { rotation: UnitQuaternion::identity(), rates: Vec3::zeros() }
}

/// The unit quaternion of four numbers that are one but for rounding.
fn unit(w: f64, v: Vec3) -> UnitQuaternion<f64> {
    Unit::new_normalize(Quaternion::from_parts(w, v))
}

#[cfg(test)]
mod tests;
