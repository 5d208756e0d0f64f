//! The condition that makes a landing even, and what it says at one station.

use super::family::{Family, Moment};
use super::stop::StoppedBy;
use crate::math::Vec2;
use serde::{Deserialize, Serialize};
use std::f64::consts::FRAC_PI_2;

/// Flights cross where a change of launch speed moves them aside by less than this share of what it moves them.
const CROSSING: f64 = 1e-9;

/// What every station has to obey: the speed into the surface, and how far below the centre of mass the earth lies.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) struct Rule {
    /// The speed into the surface, `sqrt(2 g h_eq)`.
    pub into: f64,
    /// The height of the centre of mass over the tyres at touchdown.
    pub height: f64,
}

/// A station of the surface that the centre of mass lands on, seen in the family's plane.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize)]
pub(super) struct Station {
    /// The centre of mass, along and up.
    pub com: Vec2,
    /// The touched earth.
    pub earth: Vec2,
    /// The surface's angle below the level.
    pub angle: f64,
    /// How that grows along the centre of mass's surface, radians a metre along.
    pub bend: f64,
    /// Metres of earth a metre of the centre of mass's surface, both along.
    pub scale: f64,
    /// The launch speed of the flight that lands here.
    pub speed: f64,
    /// How that grows along the centre of mass's surface, 1/s.
    pub speed_rate: f64,
    /// The time of that flight.
    pub time: f64,
    /// How that grows along the centre of mass's surface, s/m.
    pub time_rate: f64,
}

/// The surface's angle below the level, its unit normal and its unit tangent, outwards.
pub(super) struct Facing {
    pub angle: f64,
    pub normal: Vec2,
    pub tangent: Vec2,
}

impl Rule {
    /// How the surface must face a velocity: `v sin(phi - alpha) = sqrt(2 g h_eq)`, `phi` the path's angle below the
    /// level, `alpha` the surface's.
    pub(super) fn facing(&self, velocity: Vec2) -> Result<Facing, StoppedBy> {
        let speed = velocity.norm();
        above(speed, self.into, StoppedBy::TooSlow)?;
        let angle = (-velocity.y).atan2(velocity.x) - (self.into / speed).asin();
        above(FRAC_PI_2, angle.abs(), StoppedBy::TooSteep)?;
        let (sin, cos) = angle.sin_cos();
        Ok(Facing { angle, normal: Vec2::new(sin, cos), tangent: Vec2::new(cos, -sin) })
    }

    /// How launch speed and time grow along the surface, each a metre along.
    ///
    /// The flights' points stay on the surface, `(S dv0 + v dtau) . n = 0`, so `S . n dv0 = w dtau` with `w` the speed
    /// into it; and they go one metre along. `S` is the change of place by launch speed.
    pub(super) fn rates(&self, moment: &Moment, facing: &Facing) -> Result<(f64, f64), StoppedBy> {
        let over = moment.place_by_speed.dot(&facing.normal);
        let metre = over * moment.velocity.x + self.into * moment.place_by_speed.x;
        let least = CROSSING * moment.velocity.norm() * moment.place_by_speed.norm();
        above(metre, least, StoppedBy::FlightsCross)?;
        Ok((self.into / metre, over / metre))
    }

    /// The station at which the flight of a launch speed lands after a time.
    pub(super) fn station(
        &self,
        family: &Family,
        speed: f64,
        time: f64,
    ) -> Result<Station, StoppedBy> {
        let moment = family.moment(speed, time)?;
        let facing = self.facing(moment.velocity)?;
        let (speed_rate, time_rate) = self.rates(&moment, &facing)?;
        let change = moment.velocity_by_speed * speed_rate + moment.acceleration * time_rate;
        let bend = -change.dot(&facing.normal) / moment.velocity.dot(&facing.tangent);
        let scale = 1.0 - self.height * facing.angle.cos() * bend;
        above(scale, 0.0, StoppedBy::TooTight)?;
        Ok(Station {
            com: moment.at,
            earth: moment.at - facing.normal * self.height,
            angle: facing.angle,
            bend,
            scale,
            speed,
            speed_rate,
            time,
            time_rate,
        })
    }
}

/// Nothing where a number is above a bound; the reason where it is not, or is none.
fn above(value: f64, bound: f64, reason: StoppedBy) -> Result<(), StoppedBy> {
    if value > bound { Ok(()) } else { Err(reason) }
}
