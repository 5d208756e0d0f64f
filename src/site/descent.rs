//! How a rider comes down the site: run-in, then takeoff.

use super::{Interval, RiderClass, Site, SiteError, Takeoff};
use crate::air::Air;
use crate::geometry::{Line, Profile};
use crate::ride::{Brake, Lean, Outcome, Ride, RideError, RideOptions};
use crate::rider::Rider;
use serde::{Deserialize, Serialize};

/// The two parts of the way down to the edge.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum Part {
    /// From the start mark to the takeoff.
    RunIn,
    /// On the takeoff: wall, lip or drop.
    Wall,
}

/// A ride from a start mark over the edge of the takeoff, or as far as it came.
#[derive(Debug, Clone, PartialEq)]
pub struct Descent {
    /// The ride down the run-in.
    pub run_in: Ride,
    /// The tyres' speed at the takeoff's start, m/s, where the rider came there.
    pub entry_speed: Option<f64>,
    /// Where on the edge the rider leaves or would have left, m (up a wall's panel, or to the left of the middle), where
    /// he came to the takeoff.
    pub leave: Option<f64>,
    /// The ride on the takeoff, where the rider came there.
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
    /// How he leans on the wall; down the run-in he rides square to it.
    pub(crate) lean: Lean,
    /// What the speed onto the takeoff is multiplied by.
    pub(crate) speed_factor: f64,
    /// As in the ride's options.
    pub(crate) sample: Option<f64>,
}

/// What all who come down a site have in common: placed once, ridden by many.
#[derive(Debug, Clone)]
pub(crate) struct Approach<'a> {
    profile: Profile,
    takeoff: &'a Takeoff,
    enter: f64,
    speed_check: Option<f64>,
    places: Interval,
}

impl Descent {
    /// On which part it ended and how: [`Outcome::Reached`] on the takeoff where the rider leaves over
    /// the edge. Who slides on either part does not hold and does not leave, whatever the ride's end
    /// state on paper; who has too little energy to come onto the takeoff stalls at its start.
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

    /// The ride that shows how it ended: the one on the takeoff, or the one down the run-in where that
    /// was all.
    pub fn last(&self) -> &Ride {
        self.wall.as_ref().unwrap_or(&self.run_in)
    }
}

impl Approach<'_> {
    /// The tyres' line down the run-in from a start mark.
    pub(crate) fn run_in(&self, start: f64) -> Result<Line, SiteError> {
        Ok(self.profile.run_in(start)?)
    }

    /// The tyres' line over the takeoff that leaves at a place of the edge.
    pub(crate) fn over(&self, leave: f64) -> Result<Line, SiteError> {
        self.takeoff.line(self.enter, leave)
    }

    /// Where riders come onto a takeoff that they leave at a place of the edge: a wall's entry is the same for all.
    pub(crate) fn entry(&self, leave: f64) -> Result<Line, SiteError> {
        match self.takeoff {
            Takeoff::Wall(_) => self.takeoff.entry(self.enter),
            _ => self.takeoff.line(self.enter, leave),
        }
    }

    /// The ride of one rider, who leaves the edge where `leave` says for his entry speed.
    pub(crate) fn descend(
        &self,
        attempt: &Attempt,
        leave: impl FnOnce(f64) -> f64,
    ) -> Result<Descent, SiteError> {
        let braked = RideOptions { sample: attempt.sample, ..RideOptions::new(0.0) }
            .with_brake(Brake::Constant(attempt.brake));
        let run_in =
            self.profile.run_in(attempt.start)?.ride(attempt.rider, attempt.air, &braked)?;
        if !run_in.outcome.reaches_end() {
            return Ok(Descent { run_in, entry_speed: None, leave: None, wall: None });
        }
        let Some(middle) = self.speed_onto(&self.takeoff.entry(self.enter)?, &run_in, attempt)?
        else {
            return Ok(Descent { run_in, entry_speed: None, leave: None, wall: None });
        };
        let leave = self.places.nearest(leave(middle));
        let line = self.takeoff.line(self.enter, leave)?;
        // The frame at a wall line's start does not depend on where it leaves; a lip's does where it is tilted.
        let speed = match self.takeoff {
            Takeoff::Wall(_) => Some(middle),
            _ => self.speed_onto(&line, &run_in, attempt)?,
        };
        let wall = speed.map(|speed| over(&line, attempt, speed)).transpose()?;
        Ok(Descent { run_in, entry_speed: speed, leave: speed.map(|_| leave), wall })
    }

    fn speed_onto(
        &self,
        line: &Line,
        run_in: &Ride,
        attempt: &Attempt,
    ) -> Result<Option<f64>, SiteError> {
        let speed = Self::carried(line, run_in, (attempt.rider, attempt.air))?;
        Ok(speed.map(|speed| self.checked(attempt.speed_factor * speed)))
    }

    /// The speed with which a rider comes from the run-in onto a line, before any speed check; none where there is too
    /// little energy.
    pub(crate) fn carried(
        line: &Line,
        run_in: &Ride,
        (rider, air): (&Rider, &Air),
    ) -> Result<Option<f64>, SiteError> {
        match run_in.carry_to(line, rider, air) {
            Err(RideError::JointTooHigh { .. }) => Ok(None),
            speed => Ok(Some(speed?)),
        }
    }

    /// A speed onto the takeoff, no faster than the speed check lets him.
    pub(crate) fn checked(&self, speed: f64) -> f64 {
        speed.min(self.speed_check.unwrap_or(f64::INFINITY))
    }

    /// The ride over the takeoff once more with another lean, where the rider came to it.
    pub(crate) fn again(
        &self,
        attempt: &Attempt,
        descent: &Descent,
    ) -> Result<Option<Ride>, SiteError> {
        let Some((speed, leave)) = descent.entry_speed.zip(descent.leave) else { return Ok(None) };
        let line = self.takeoff.line(self.enter, leave)?;
        Ok(Some(over(&line, attempt, speed)?))
    }
}

/// The ride over the takeoff.
fn over(line: &Line, attempt: &Attempt, speed: f64) -> Result<Ride, SiteError> {
    let Attempt { lean, sample, .. } = *attempt;
    let options = RideOptions { lean, sample, ..RideOptions::new(speed) };
    Ok(line.ride(attempt.rider, attempt.air, &options)?)
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
    /// (level distance up the hill from the run-in's end, m) and leaves at a place of the edge, m (up a wall's panel,
    /// or to the left of the middle), with a lean on the takeoff; from rest, in the middle of a wind that differs.
    ///
    /// The run-in's end and the takeoff's start are one point (of a lip or a drop the middle); over a bend between them the
    /// energy of the centre of mass is kept. What goes wrong on the way is the rides' outcome, not an error.
    pub fn ride(
        &self,
        start: f64,
        leave: f64,
        who: &str,
        lean: Lean,
    ) -> Result<Descent, SiteError> {
        self.check()?;
        let class = self.class(who)?;
        let rider = class.middle_rider()?;
        let places = self.places();
        crate::math::range::within("leave", leave, places.low, places.high)?;
        let attempt = Attempt {
            rider: &rider,
            air: &self.middle_air()?,
            start,
            brake: class.brake.median(),
            lean,
            speed_factor: 1.0,
            sample: RideOptions::new(0.0).sample,
        };
        self.approach()?.descend(&attempt, |_| leave)
    }

    /// The places on the edge where riders may leave: no higher than a rail or a line lets them.
    pub fn places(&self) -> Interval {
        let places = self.takeoff.places();
        Interval::new(places.low, places.high.min(self.leave_at_most.unwrap_or(f64::INFINITY)))
    }

    /// The air with the middle of the wind, where the wind differs from pass to pass.
    pub fn middle_air(&self) -> Result<Air, SiteError> {
        Ok(match &self.wind {
            None => self.air,
            Some(wind) => self.air.with_wind(wind.velocity(wind.speed.median()))?,
        })
    }

    pub(crate) fn approach(&self) -> Result<Approach<'_>, SiteError> {
        Ok(Approach {
            profile: self.run_in_profile()?,
            takeoff: &self.takeoff,
            enter: self.enter,
            speed_check: self.run_in.speed_check,
            places: self.places(),
        })
    }
}
