//! A test ride: who, from which start mark, over which place of the edge.

use super::error::FlagsError;
use super::flag::START_SD;
use crate::math::range::{finite, positive, within};
use crate::site::Site;
use serde::{Deserialize, Serialize};

/// A ride from rest at a start mark, made or yet to be made.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct TestRide {
    who: String,
    start: f64,
    start_sd: f64,
    leave: Option<f64>,
    brake_share: f64,
}

impl TestRide {
    /// A ride of a class's middle rider from a start mark, level metres up the hill from the run-in's end, above 0.
    ///
    /// He brakes as is his habit, and leaves where his class does at his speed, unless said otherwise.
    pub fn new(who: impl Into<String>, start: f64) -> Result<Self, FlagsError> {
        positive("start", start)?;
        let who = who.into();
        Ok(Self { who, start, start_sd: START_SD, leave: None, brake_share: 1.0 })
    }

    /// The same, seen to leave at this place of the edge, m: up a wall's panel, or to the left of a lip's middle.
    pub fn leaving(self, place: f64) -> Result<Self, FlagsError> {
        finite("leave", place)?;
        Ok(Self { leave: Some(place), ..self })
    }

    /// The same with this share of the rider's habitual brake: 1 as always, 0 without; from 0 to 1.
    pub fn braking(self, share: f64) -> Result<Self, FlagsError> {
        within("brake_share", share, 0.0, 1.0)?;
        Ok(Self { brake_share: share, ..self })
    }

    /// The same from another start mark.
    pub fn from_start(self, start: f64) -> Result<Self, FlagsError> {
        positive("start", start)?;
        Ok(Self { start, ..self })
    }

    /// The same with a start mark known to this standard deviation, m, at least 0 (taped: 0.05 m; paced: 2 % of the way).
    pub fn with_start_sd(self, sd: f64) -> Result<Self, FlagsError> {
        crate::math::range::non_negative("start_sd", sd)?;
        Ok(Self { start_sd: sd, ..self })
    }

    /// The rider's class.
    pub fn who(&self) -> &str {
        &self.who
    }

    /// Level distance of the start mark up the hill from the run-in's end, m.
    pub const fn start(&self) -> f64 {
        self.start
    }

    /// How sure it is, m.
    pub const fn start_sd(&self) -> f64 {
        self.start_sd
    }

    /// Where the rider was seen to leave, m.
    pub const fn leave(&self) -> Option<f64> {
        self.leave
    }

    /// The share of the habitual brake.
    pub const fn brake_share(&self) -> f64 {
        self.brake_share
    }

    pub(super) fn check(&self, site: &Site) -> Result<(), FlagsError> {
        site.class(&self.who)?;
        let run_in = site.run_in.level_length();
        if self.start > run_in {
            let allowed = format!("above 0 and at most the run-in's level length, {run_in} m");
            return Err(crate::math::range::OutOfRange::new("start", self.start, allowed).into());
        }
        if let Some(leave) = self.leave {
            let places = site.places();
            within("leave", leave, places.low, places.high)?;
        }
        Ok(())
    }

    /// Where he leaves, or the middle of where his class does.
    pub(super) fn middle_leave(&self, site: &Site) -> Result<f64, FlagsError> {
        Ok(self.leave.unwrap_or(site.class(&self.who)?.leave.median()))
    }
}
