//! The far end: which flight touches the earth there with the wanted fall height.

use super::family::Family;
use super::station::{Rule, Station};
use super::stop::StoppedBy;
use crate::math::Vec2;
use nalgebra::Matrix2;

/// Surface angles below the level from which the touch is looked for, radians: any near enough will do.
const GUESSES: [f64; 5] = [0.3, 0.0, 0.6, -0.3, 0.9];
const MOST_STEPS: usize = 60;
/// How near to the far end is near enough, metres; rounding of flights is finer.
const NEAR_ENOUGH: f64 = 1e-12;

/// The station whose earth is `far`.
pub(super) fn station(family: &Family, rule: &Rule, far: Vec2) -> Result<Station, StoppedBy> {
    let mut why = None;
    for guess in GUESSES {
        match from_guess(family, rule, far, guess) {
            Ok(station) => return Ok(station),
            Err(reason) => why = why.or(Some(reason)),
        }
        if rule.height <= 0.0 {
            break;
        }
    }
    Err(why.unwrap_or(StoppedBy::NoFlight))
}

/// Newton's method on launch speed and time, from the flight through where the centre of mass would be at an angle.
fn from_guess(family: &Family, rule: &Rule, far: Vec2, angle: f64) -> Result<Station, StoppedBy> {
    let start = family.passing(far + Vec2::new(angle.sin(), angle.cos()) * rule.height)?;
    let (mut speed, mut time) = (start.speed, start.time);
    for _ in 0..MOST_STEPS {
        let (miss, by) = miss(family, rule, far, speed, time)?;
        let step = by.lu().solve(&-miss).ok_or(StoppedBy::FlightsCross)?;
        // Never more than a fifth of either at once: the flights are far from straight.
        let most = (step.x / speed).abs().max((step.y / time).abs());
        let share = if most > 0.2 { 0.2 / most } else { 1.0 };
        (speed, time) = (speed + share * step.x, time + share * step.y);
        if miss.norm() <= NEAR_ENOUGH * (1.0 + far.norm()) {
            return rule.station(family, speed, time);
        }
    }
    Err(StoppedBy::NoFlight)
}

/// How far the touched earth is from the far end, and how that changes with launch speed and time.
///
/// The surface turns with the velocity, `d alpha = -(dv . n) / (v . t)`, and the earth under it with the surface.
fn miss(
    family: &Family,
    rule: &Rule,
    far: Vec2,
    speed: f64,
    time: f64,
) -> Result<(Vec2, Matrix2<f64>), StoppedBy> {
    let moment = family.moment(speed, time)?;
    let facing = rule.facing(moment.velocity)?;
    let turned = |change: &Vec2| {
        let turn = -change.dot(&facing.normal) / moment.velocity.dot(&facing.tangent);
        facing.tangent * (turn * rule.height)
    };
    let by_speed = moment.place_by_speed - turned(&moment.velocity_by_speed);
    let by_time = moment.velocity - turned(&moment.acceleration);
    let miss = moment.at - facing.normal * rule.height - far;
    Ok((miss, Matrix2::from_columns(&[by_speed, by_time])))
}
