//! Which entry speeds hold a line all the way.

use super::error::RideError;
use super::hold_balanced::Needs;
use super::hold_linear::{Bounds, Held};
use super::options::{Lean, RideOptions};
use super::outcome::{Outcome, Slide};
use super::result::Ride;
use crate::air::Air;
use crate::geometry::Line;
use crate::rider::Rider;
use serde::{Deserialize, Serialize};
use std::fmt;

/// Speeds are looked for up to this, m/s: nobody comes faster, and what holds here is said to hold on.
pub(super) const FASTEST: f64 = 60.0;
/// How closely a hold speed is searched for in wind, m/s.
const CLOSELY: f64 = 1e-9;
/// Grip beyond this does not exist; a line that needs more is said to hold at none.
pub(super) const MOST_GRIP: f64 = 1e3;

/// The entry speeds, m/s, at which the tyres hold a line to its end.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum HoldSpeeds {
    /// Every speed between two holds; below, the tyres slide down or the ride stalls, above they slide up or
    /// leave the surface.
    Between {
        /// The slowest.
        slowest: f64,
        /// The fastest: infinite where nothing limits it.
        fastest: f64,
    },
    /// No speed holds.
    Never {
        /// The grip with which one speed would; none where no grip helps, for whoever is fast enough to get to the
        /// end leaves the surface on the way.
        grip_needed: Option<f64>,
    },
}

impl HoldSpeeds {
    /// Whether an entry speed holds.
    pub fn holds(&self, speed: f64) -> bool {
        match *self {
            Self::Between { slowest, fastest } => (slowest..=fastest).contains(&speed),
            Self::Never { .. } => false,
        }
    }
}

impl fmt::Display for HoldSpeeds {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Self::Between { slowest, fastest } => {
                write!(f, "holds from {slowest:.2} to {fastest:.2} m/s")
            }
            Self::Never { grip_needed: Some(grip) } => {
                write!(f, "no speed holds: grip {grip:.2} would be needed")
            }
            Self::Never { grip_needed: None } => f.write_str(
                "no speed holds with any grip: who is fast enough to reach the end leaves the surface",
            ),
        }
    }
}

impl Line {
    /// The entry speeds that hold this line to its end, without braking or pedalling.
    ///
    /// [`Lean::Balanced`] is what judges a wall: on the deck the side load goes through a roll moment that two tyres
    /// cannot give. On the deck without wind exact, for the loads are then linear in the entry energy at each
    /// station; else by rides, up to 60 m/s, to about `1e-9` m/s. Errors: a line that no speed can be computed on.
    pub fn hold_speeds(
        &self,
        rider: &Rider,
        air: &Air,
        lean: Lean,
    ) -> Result<HoldSpeeds, RideError> {
        if lean != Lean::Deck && rider.com_height() > 0.0 {
            return Needs { line: self, rider, air, lean }.speeds();
        }
        if air.wind().norm() == 0.0 {
            return Ok(Bounds::of(self, rider, air)?.speeds(rider.grip()));
        }
        Search { line: self, air }.speeds(rider)
    }
}

/// What an entry speed was.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
enum Verdict {
    TooSlow,
    Holds,
    TooFast,
}

fn verdict(ride: &Ride) -> Verdict {
    match (ride.slip.map(|slip| slip.slide), ride.outcome) {
        (Some(Slide::Down), _) => Verdict::TooSlow,
        (Some(_), _) | (None, Outcome::LeftSurface { .. }) => Verdict::TooFast,
        (None, Outcome::Reached) => Verdict::Holds,
        (None, _) => Verdict::TooSlow,
    }
}

/// Hold speeds by riding.
struct Search<'a> {
    line: &'a Line,
    air: &'a Air,
}

impl Search<'_> {
    fn speeds(&self, rider: &Rider) -> Result<HoldSpeeds, RideError> {
        if let Some((slowest, fastest)) = self.interval(rider, rider.grip())? {
            return Ok(HoldSpeeds::Between { slowest, fastest });
        }
        let mut low = rider.grip();
        let mut high = 2.0 * low;
        while self.interval(rider, high)?.is_none() {
            if high > MOST_GRIP {
                return Ok(HoldSpeeds::Never { grip_needed: None });
            }
            (low, high) = (high, 2.0 * high);
        }
        while high - low > 1e-6 * high {
            let middle = 0.5 * (low + high);
            if self.interval(rider, middle)?.is_some() { high = middle } else { low = middle }
        }
        Ok(HoldSpeeds::Never { grip_needed: Some(high) })
    }

    fn interval(&self, rider: &Rider, grip: f64) -> Result<Held, RideError> {
        let Ok(rider) = rider.clone().with_grip(grip) else {
            return Ok(None);
        };
        let slowest = self.edge(&rider, |verdict| verdict != Verdict::TooSlow)?;
        let fastest = self.edge(&rider, |verdict| verdict == Verdict::TooFast)?;
        let (Some(slowest), fastest) = (slowest, fastest.unwrap_or(f64::INFINITY)) else {
            return Ok(None);
        };
        let inside = 0.5 * (slowest + fastest.min(FASTEST));
        let holds = slowest < fastest && self.at(&rider, inside)? == Verdict::Holds;
        Ok(holds.then_some((slowest, fastest)))
    }

    /// The lowest speed from which on `passed` is true, none where it never is.
    fn edge(
        &self,
        rider: &Rider,
        passed: impl Fn(Verdict) -> bool,
    ) -> Result<Option<f64>, RideError> {
        let (mut low, mut high) = (0.0, FASTEST);
        if !passed(self.at(rider, high)?) {
            return Ok(None);
        }
        while high - low > CLOSELY {
            let middle = 0.5 * (low + high);
            if passed(self.at(rider, middle)?) { high = middle } else { low = middle }
        }
        Ok(Some(high))
    }

    fn at(&self, rider: &Rider, speed: f64) -> Result<Verdict, RideError> {
        let options = RideOptions::new(speed).exit_only();
        Ok(verdict(&self.line.ride(rider, self.air, &options)?))
    }
}
