//! What an error about flags becomes.

use crate::errors::{Failure, Kind};
use loamline::flags::FlagsError;

impl From<FlagsError> for Failure {
    fn from(error: FlagsError) -> Self {
        match error {
            FlagsError::OutOfRange(number) => number.into(),
            FlagsError::Site(site) => (*site).into(),
            FlagsError::Flag { .. } => of_flag(&error),
            FlagsError::Ride(ride) => ride.into(),
            FlagsError::Launch(launch) => launch.into(),
            FlagsError::Flight(flight) => flight.into(),
            FlagsError::Ground(ground) => ground.into(),
            FlagsError::Landing(landing) => landing.into(),
            FlagsError::Volume(volume) => volume.into(),
            FlagsError::Crew(crew) => crew.into(),
            FlagsError::DoesNotCome { .. } => Self::new(Kind::Ride, &error.to_string()),
            FlagsError::Unsettled { .. } => Self::new(Kind::Fit, &error.to_string()),
            other => Self::input(&other.to_string()).about("flags"),
        }
    }
}

/// With the flag's name in what it says, and the field where one number is wrong.
fn of_flag(error: &FlagsError) -> Failure {
    let FlagsError::Flag { source, .. } = error else { return Failure::input(&error.to_string()) };
    match source.as_ref() {
        FlagsError::DoesNotCome { .. } | FlagsError::Ride(_) | FlagsError::Launch(_) => {
            Failure::new(Kind::Ride, &error.to_string())
        }
        FlagsError::OutOfRange(number) => Failure::input(&error.to_string()).about(&number.field),
        _ => Failure::input(&error.to_string()).about("flags"),
    }
}
