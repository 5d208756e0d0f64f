//! A class of riders: who they are and how they come down the hill.

use super::{Dist, Interval, SiteError, Takeoff};
use crate::math::range::{OutOfRange, finite};
use crate::rider::Rider;
use serde::{Deserialize, Serialize};

/// A class of riders, such as those who know the place and those who do not.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct RiderClass {
    /// What the class is called; no two have the same name.
    pub name: String,
    /// Their share of all riders, above 0; the weights of all classes add up to 1.
    pub weight: f64,
    /// Where they start: level distance up the hill from the run-in's end, m, above 0.
    pub start: Dist,
    /// Where they leave the edge, m (up a wall's panel from its foot, or across from the middle of a lip or a drop to the
    /// left), within its ends, at the entry speed of the class's middle rider (every number at its median).
    pub leave: Dist,
    /// How much farther up (or to the left) they leave for each m/s of entry speed above that, m per m/s. What
    /// comes out is held within the edge's ends.
    pub leave_per_speed: f64,
    /// The speed with which they push off at the edge, m/s, from -5 to 5; negative soaks it up. What jumpers on
    /// snow do lies between -2.48 and 1.12 (J. A. `McNeil` 2011, abstract).
    pub pop: Dist,
    /// The mass of rider and bike, kg, above 0.
    pub mass: Dist,
    /// The drag area, m^2, at least 0.
    pub cda: Dist,
    /// The brake held all the way down the run-in, m/s^2, at least 0.
    pub brake: Dist,
    /// All else about rider and bike; its mass and drag area are those of the class's.
    pub rider: Rider,
}

impl RiderClass {
    /// The class that rides as one rider does: all start at one mark and leave at one place,
    /// without pop or brake.
    pub fn alike(name: impl Into<String>, rider: Rider, start: f64, leave: f64) -> Self {
        Self {
            name: name.into(),
            weight: 1.0,
            start: start.into(),
            leave: leave.into(),
            leave_per_speed: 0.0,
            pop: 0.0.into(),
            mass: rider.mass().into(),
            cda: rider.cda().into(),
            brake: 0.0.into(),
            rider,
        }
    }

    /// Nothing, or the first number that cannot be, on a run-in of a level length, m, and a takeoff.
    pub fn check(&self, run_in: f64, takeoff: &Takeoff) -> Result<(), SiteError> {
        self.check_numbers(run_in, takeoff)
            .map_err(|source| SiteError::Class { class: self.name.clone(), source })?;
        takeoff.check_rider(&self.rider)
    }

    fn check_numbers(&self, run_in: f64, takeoff: &Takeoff) -> Result<(), OutOfRange> {
        if !(self.weight > 0.0 && self.weight <= 1.0) {
            return Err(OutOfRange::new("weight", self.weight, "above 0 and at most 1"));
        }
        let along = format!("above 0 and at most the run-in's level length, {run_in} m");
        self.start.check("start", &along, |start| start > 0.0 && start <= run_in)?;
        let places = takeoff.places();
        let Interval { low, high } = places;
        let edge = match takeoff {
            Takeoff::Wall(_) => format!("from 0 to the panel's width, {high} m"),
            _ => format!("from {low} to {high} m across from the middle, its ends"),
        };
        self.leave.check("leave", &edge, |leave| places.contains(leave))?;
        finite("leave_per_speed", self.leave_per_speed)?;
        self.pop.check("pop", "from -5 to 5", |pop| pop.abs() <= 5.0)?;
        self.mass.check("mass", "above 0", |mass| mass > 0.0)?;
        self.cda.check("cda", "at least 0", |cda| cda >= 0.0)?;
        self.brake.check("brake", "at least 0", |brake| brake >= 0.0)
    }
}
