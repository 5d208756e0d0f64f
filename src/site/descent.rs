//! How a rider comes down the site: run-in, then wall.

use super::{RiderClass, Site, SiteError};
use crate::air::Air;
use crate::feature::Wall;
use crate::geometry::{Line, Profile};
use crate::ride::{Brake, Outcome, Ride, RideError, RideOptions};
use crate::rider::Rider;
use serde::{Deserialize, Serialize};

/// The two parts of the way down to the edge.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum Part {
    /// From the start mark to the wall.
    RunIn,
    /// On the wall.
    Wall,
}

/// A ride from a start mark over the edge of the wall, or as far as it came.
#[derive(Debug, Clone, PartialEq)]
pub struct Descent {
    /// The ride down the run-in.
    pub run_in: Ride,
    /// The tyres' speed at the wall's start, m/s, where the rider came there.
    pub entry_speed: Option<f64>,
    /// How far up the panel the rider leaves or would have left, m, where he came to the wall.
    pub leave: Option<f64>,
    /// The ride on the wall, where the rider came there.
    pub wall: Option<Ride>,
}

/// One rider's start, and how he rides.
#[derive(Debug, Clone)]
pub(crate) struct Attempt<'a> {
    pub(crate) rider: &'a Rider,
    pub(crate) air: &'a Air,
    /// Level distance up the hill from the run-in's end, m.
    pub(crate) start: f64,
    /// The brake held down the run-in, m/s^2.
    pub(crate) brake: f64,
    /// As in the ride's options.
    pub(crate) sample: Option<f64>,
}

/// What all who come down a site have in common: placed once, ridden by many.
#[derive(Debug, Clone)]
pub(crate) struct Approach<'a> {
    profile: Profile,
    wall: &'a Wall,
    enter: f64,
}

impl Descent {
    /// On which part it ended and how: [`Outcome::Reached`] on the wall where the rider leaves over
    /// the edge. Who slides on either part does not hold and does not leave, whatever the ride's end
    /// state on paper; who has too little energy to come onto the wall stalls at its start.
    pub fn ended(&self) -> (Part, Outcome) {
        match (self.run_in.outcome, &self.wall) {
            (Outcome::Reached, Some(wall)) => (Part::Wall, wall.outcome),
            (Outcome::Slid(_), Some(wall)) if !wall.outcome.reaches_end() => {
                (Part::Wall, wall.outcome)
            }
            (Outcome::Reached, None) => (Part::Wall, Outcome::Stalled { station: 0.0 }),
            (ended, _) => (Part::RunIn, ended),
        }
    }

    /// The ride that shows how it ended: the one on the wall, or the one down the run-in where that
    /// was all.
    pub fn last(&self) -> &Ride {
        self.wall.as_ref().unwrap_or(&self.run_in)
    }
}

impl Approach<'_> {
    /// The ride of one rider, who leaves as far up the panel as `leave` says for his entry speed.
    pub(crate) fn descend(
        &self,
        attempt: &Attempt,
        leave: impl FnOnce(f64) -> f64,
    ) -> Result<Descent, SiteError> {
        let options = RideOptions { sample: attempt.sample, ..RideOptions::new(0.0) };
        let braked = options.clone().with_brake(Brake::Constant(attempt.brake));
        let run_in =
            self.profile.run_in(attempt.start)?.ride(attempt.rider, attempt.air, &braked)?;
        if !run_in.outcome.reaches_end() {
            return Ok(Descent { run_in, entry_speed: None, leave: None, wall: None });
        }
        // The frame at a line's start does not depend on where it leaves.
        let entry = self.line(self.enter)?;
        let carried = run_in.carry_to(&entry, attempt.rider, attempt.air);
        if matches!(carried, Err(RideError::JointTooHigh { .. })) {
            return Ok(Descent { run_in, entry_speed: None, leave: None, wall: None });
        }
        let entry_speed = carried?;
        let leave = leave(entry_speed).clamp(0.0, self.wall.width());
        let wall = self.line(leave)?;
        let wall = wall.ride(attempt.rider, attempt.air, &options.with_speed(entry_speed))?;
        Ok(Descent { run_in, entry_speed: Some(entry_speed), leave: Some(leave), wall: Some(wall) })
    }

    fn line(&self, leave: f64) -> Result<Line, SiteError> {
        Ok(self.wall.line(self.enter, leave)?)
    }
}

impl RiderClass {
    /// The class's middle rider: mass and drag area at their medians.
    pub fn middle_rider(&self) -> Result<Rider, SiteError> {
        let rider = self.rider.clone().with_mass(self.mass.median())?;
        Ok(rider.with_cda(self.cda.median())?)
    }
}

impl Site {
    /// How the middle rider of a class, with the class's middle brake, comes down from a start mark
    /// (level distance up the hill from the run-in's end, m) and leaves so far up the panel, m;
    /// from rest, in the middle of a wind that differs.
    ///
    /// The run-in's end and the wall's start are one point; over a bend between them the energy of
    /// the centre of mass is kept. What goes wrong on the way is the rides' outcome, not an error.
    pub fn ride(&self, start: f64, leave: f64, who: &str) -> Result<Descent, SiteError> {
        self.check()?;
        let class = self.class(who)?;
        let rider = class.middle_rider()?;
        crate::math::range::within("leave", leave, 0.0, self.wall.width())?;
        let attempt = Attempt {
            rider: &rider,
            air: &self.middle_air()?,
            start,
            brake: class.brake.median(),
            sample: RideOptions::new(0.0).sample,
        };
        self.approach()?.descend(&attempt, |_| leave)
    }

    /// The air with the middle of the wind, where the wind differs from pass to pass.
    pub fn middle_air(&self) -> Result<Air, SiteError> {
        Ok(match &self.wind {
            None => self.air,
            Some(wind) => self.air.with_wind(wind.velocity(wind.speed.median()))?,
        })
    }

    pub(crate) fn approach(&self) -> Result<Approach<'_>, SiteError> {
        Ok(Approach { profile: self.run_in_profile()?, wall: &self.wall, enter: self.enter })
    }
}
