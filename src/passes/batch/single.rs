//! One pass of a batch the way of one pass: ride, launch, flight and touchdown.

use super::columns::Row;
use super::{Batch, Entry, Status};
use crate::flight::Flight;
use crate::launch::{Launch, LaunchError, MOST_POP};
use crate::ride::{Exit, RideError, RideOptions, TOP_SPEED};
use crate::site::SiteError;
use crate::touchdown::Touchdown;
use crate::touchdown::batch::{self as touches, Touched};

/// Why a row has no touch.
pub(super) struct Not(Status);

impl From<RideError> for Not {
    fn from(error: RideError) -> Self {
        Self(match error {
            RideError::Unresolved { .. } => Status::Unbalanced,
            _ => Status::FAILED,
        })
    }
}

impl From<LaunchError> for Not {
    fn from(error: LaunchError) -> Self {
        Self(match error {
            LaunchError::HangsUp { .. } => Status::HungUp,
            _ => Status::FAILED,
        })
    }
}

impl From<SiteError> for Not {
    fn from(error: SiteError) -> Self {
        match error {
            SiteError::Ride(error) => error.into(),
            _ => Self(Status::FAILED),
        }
    }
}

impl Entry {
    /// Whether a ride may be asked for.
    fn is_in_range(&self, batch: &Batch) -> bool {
        (0.0..=TOP_SPEED).contains(&self.speed)
            && (-MOST_POP..=MOST_POP).contains(&self.pop)
            && batch.takeoff.places().contains(self.leave)
    }
}

impl Batch {
    /// The row of one pass.
    pub(super) fn single(&self, entry: &Entry) -> Row {
        let mut row = Row::none(Status::BAD_INPUT);
        if entry.is_in_range(self) {
            row.entry_speed = entry.speed;
            row.status = match self.ridden(entry, &mut row) {
                Ok(status) | Err(Not(status)) => status.code(),
            };
        }
        row
    }

    fn ridden(&self, entry: &Entry, row: &mut Row) -> Result<Status, Not> {
        let line = self.takeoff.line(self.enter, entry.leave)?;
        let options = RideOptions { lean: self.lean, ..RideOptions::new(entry.speed).exit_only() };
        let ride = line.ride(&self.rider, &self.air, &options)?;
        if let Some(status) = Status::of_ride(&ride.outcome) {
            return Ok(status);
        }
        row.exit_speed = ride.exit.map_or(f64::NAN, |Exit { speed, .. }| speed);
        Ok(self.flown(&ride.launch(entry.pop)?, row))
    }

    /// The status of a flight from a launch, its numbers in the row.
    pub(super) fn flown(&self, launch: &Launch, row: &mut Row) -> Status {
        row.launch_position = launch.position.into();
        row.launch_velocity = launch.velocity.into();
        match launch.flight(&self.ground, &self.rider, &self.air) {
            Ok(flight) => told(&flight, row),
            Err(_) => Status::FAILED,
        }
    }
}

fn told(flight: &Flight, row: &mut Row) -> Status {
    let Touchdown { outcome, contact, .. } = flight.touchdown();
    if let Some(touch) = contact {
        *row = Row { lean_owed: touch.lean_owed, ..row.touched(&touch) };
    }
    Status::Flight(touches::Status::Flown(outcome))
}
