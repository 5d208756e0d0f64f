//! Three forms of the one equation of an even landing.

use super::family::Family;
use super::station::{Rule, Station};
use super::stop::StoppedBy;
use crate::math::Vec2;
use crate::math::ode::{OdeError, Options, integrate};
use serde::{Deserialize, Serialize};

/// How good a step from station to station is: metres, seconds, m/s.
const TOLERANCE: f64 = 1e-12;

/// In which form the equation of an even landing is solved. All three say the same; that they do is a check.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
#[non_exhaustive]
pub enum EvenForm {
    /// Launch speed and time of the flight that lands, by the distance out: holds for every fall height.
    #[default]
    Distance,
    /// Time of flight by launch speed, `dtau/dv0 = S . n / w`: not for a fall height of 0, which follows one flight.
    LaunchSpeed,
    /// Height by the distance out, `dz/dx = -tan(phi - asin(w/v))`, the flight through each place looked for among whole
    /// flights: slow, and free of what the others know about a change of launch speed.
    Root,
}

/// A form, the flights and the rule together.
pub(super) struct Solver<'a> {
    pub form: EvenForm,
    pub family: &'a Family,
    pub rule: Rule,
}

impl Solver<'_> {
    /// The station that lies `stride` metres nearer, along, than the last.
    pub(super) fn next(&self, last: &Station, stride: f64) -> Result<Station, StoppedBy> {
        match self.form {
            EvenForm::Distance => self.by_distance(last, stride),
            EvenForm::LaunchSpeed => self.by_launch_speed(last, stride),
            EvenForm::Root => self.by_root(last, stride),
        }
    }

    fn by_distance(&self, last: &Station, stride: f64) -> Result<Station, StoppedBy> {
        let start = Vec2::new(last.speed, last.time);
        let rhs = |_: f64, y: &Vec2| {
            let moment = self.family.moment(y.x, y.y)?;
            let (speed, time) = self.rule.rates(&moment, &self.rule.facing(moment.velocity)?)?;
            Ok(Vec2::new(speed, time))
        };
        let end = carried(rhs, last.com.x, start, -stride)?;
        self.rule.station(self.family, end.x, end.y)
    }

    fn by_launch_speed(&self, last: &Station, stride: f64) -> Result<Station, StoppedBy> {
        let rhs = |speed: f64, y: &Vec2| {
            let moment = self.family.moment(speed, y.x)?;
            let facing = self.rule.facing(moment.velocity)?;
            Ok(Vec2::new(moment.place_by_speed.dot(&facing.normal) / self.rule.into, 0.0))
        };
        let slower = -stride * last.speed_rate;
        let end = carried(rhs, last.speed, Vec2::new(last.time, 0.0), slower)?;
        self.rule.station(self.family, last.speed + slower, end.x)
    }

    fn by_root(&self, last: &Station, stride: f64) -> Result<Station, StoppedBy> {
        let rhs = |x: f64, y: &Vec2| {
            let passing = self.family.passing(Vec2::new(x, y.x))?;
            Ok(Vec2::new(-self.rule.facing(passing.velocity)?.angle.tan(), 0.0))
        };
        let end = carried(rhs, last.com.x, Vec2::new(last.com.y, 0.0), -stride)?;
        let passing = self.family.passing(Vec2::new(last.com.x - stride, end.x))?;
        self.rule.station(self.family, passing.speed, passing.time)
    }
}

/// The solution `step` on; an equation that ends on the way ends it with its reason.
fn carried(
    rhs: impl FnMut(f64, &Vec2) -> Result<Vec2, StoppedBy>,
    from: f64,
    start: Vec2,
    step: f64,
) -> Result<Vec2, StoppedBy> {
    let options = Options::new(TOLERANCE, TOLERANCE).with_first_step(step.abs().max(1e-15));
    match integrate(rhs, from, start, from + step, &options) {
        Ok(steps) => Ok(steps.end()),
        Err(OdeError::RightHandSide(reason)) => Err(reason),
        Err(_) => Err(StoppedBy::FlightsCross),
    }
}
