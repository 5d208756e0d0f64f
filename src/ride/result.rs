//! A ride along a line, and what it says.

use super::balance;
use super::course::Course;
use super::edge::{Bike, Edge};
use super::equation::Equation;
use super::error::RideError;
use super::events::Setting;
use super::ledger::{Ledger, Momentum};
use super::options::{Lean, RideOptions};
use super::outcome::{Outcome, Slip, Warning};
use super::peak::Peak;
use super::samples::Samples;
use super::station::Body;
use crate::air::Air;
use crate::geometry::{Frame, Line};
use crate::math::Vec3;
use crate::rider::Rider;
use serde::{Deserialize, Serialize};

/// The rider at the end of a line.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize)]
#[non_exhaustive]
pub struct Exit {
    /// The line's frame there.
    pub frame: Frame,
    /// Up through the bike.
    pub up: Vec3,
    /// How it turns, by metres of the tyres' line.
    pub dup: Vec3,
    /// The tyres' speed, m/s.
    pub speed: f64,
    /// The height of the centre of mass along `up`, metres.
    pub com_height: f64,
    /// The kinetic energy per mass, J/kg.
    pub energy: f64,
    /// The centre of mass, metres.
    pub centre: Vec3,
    /// The last wheelbase of the line, from the side.
    pub edge: Edge,
    /// The sizes of bike and rider.
    pub bike: Bike,
    /// The acceleration of free fall, m/s².
    pub gravity: f64,
}

/// A ride along a line: how it went, where it slid, and the state at its end.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[non_exhaustive]
pub struct Ride {
    /// How the rider leant.
    pub lean: Lean,
    /// Station by station; empty where only the exit was asked for.
    pub samples: Samples,
    /// How it ended.
    pub outcome: Outcome,
    /// Where the tyres first slid, also where the ride ended otherwise later.
    pub slip: Option<Slip>,
    /// The state at the line's end, where it was reached.
    pub exit: Option<Exit>,
    /// The hardest place for grip.
    pub peak: Peak,
    /// Where the energy went.
    pub ledger: Ledger,
    /// Where the momentum went; none where only the exit was asked for, without time.
    pub momentum: Option<Momentum>,
    /// What the rider should know.
    pub warnings: Vec<Warning>,
}

impl Exit {
    /// The velocity of the centre of mass, m/s.
    pub fn velocity(&self) -> Vec3 {
        self.velocity_per_speed() * self.speed
    }

    /// That over the tyres' speed.
    pub(crate) fn velocity_per_speed(&self) -> Vec3 {
        self.frame.tangent + self.dup * self.com_height
    }
}

impl Ride {
    /// The tyres' speed at the line's end, m/s, where it was reached.
    pub fn exit_speed(&self) -> Option<f64> {
        self.exit.map(|exit| exit.speed)
    }

    /// The state at the line's end, or the error that says how the ride ended before.
    pub fn reached(&self) -> Result<&Exit, RideError> {
        self.exit.as_ref().ok_or(RideError::Ended { outcome: self.outcome })
    }
}

impl Line {
    /// The ride along this line. What goes wrong on the way is the ride's outcome, not an error.
    ///
    /// Speeds are good to about `1e-11`. Errors: options out of range, and a hollow tighter than twice the height of
    /// the centre of mass.
    pub fn ride(&self, rider: &Rider, air: &Air, options: &RideOptions) -> Result<Ride, RideError> {
        options.check()?;
        let (body, equation) = (Body::new(rider), Equation::new(rider, air, options));
        // A centre of mass at the tyres is where it is, however the rider leans.
        if options.lean != Lean::Deck && rider.com_height() > 0.0 {
            return balance::ride(self, body, equation, options);
        }
        let setting = Setting { line: self, body, equation };
        Course::new(setting, &options.brake).ride(options)
    }
}
