//! A ride that leaves no mark, or could not be computed.

use super::error::FlagsError;
use crate::flight::FlightError;
use crate::launch::LaunchError;
use crate::ride::{Outcome, RideError};
use crate::rider::RiderError;
use crate::site::{Part, SiteError};
use crate::touchdown::TouchOutcome;
use serde::{Deserialize, Serialize};
use std::fmt;

/// How a ride ends that leaves no mark.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
#[non_exhaustive]
pub enum Stop {
    /// It does not leave the edge.
    OnTheWay {
        /// On which part it ends.
        part: Part,
        /// How.
        outcome: Outcome,
    },
    /// It leaves, but touches no ground that is known.
    NoTouch {
        /// How the flight ends.
        outcome: TouchOutcome,
    },
}

/// Why there is no mark.
#[derive(Debug, Clone, PartialEq)]
pub(super) enum Miss {
    Stop(Stop),
    Failed(Box<FlagsError>),
}

impl Stop {
    /// The same as an error.
    pub(super) fn error(self) -> FlagsError {
        match self {
            Self::OnTheWay { part, outcome } => {
                FlagsError::DoesNotCome { part, how: outcome.to_string() }
            }
            Self::NoTouch { outcome } => {
                let how = format!("leaves, but its flight ends {}", outcome.word());
                FlagsError::DoesNotCome { part: Part::Wall, how }
            }
        }
    }
}

impl fmt::Display for Stop {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Self::OnTheWay { part: Part::RunIn, outcome } => {
                write!(f, "on the run-in it {outcome}")
            }
            Self::OnTheWay { outcome, .. } => write!(f, "on the takeoff it {outcome}"),
            Self::NoTouch { outcome } => write!(f, "its flight ends {}", outcome.word()),
        }
    }
}

impl Miss {
    /// As an error.
    pub(super) fn error(self) -> FlagsError {
        match self {
            Self::Stop(stop) => stop.error(),
            Self::Failed(error) => *error,
        }
    }
}

impl From<Stop> for Miss {
    fn from(stop: Stop) -> Self {
        Self::Stop(stop)
    }
}

impl From<FlagsError> for Miss {
    fn from(error: FlagsError) -> Self {
        Self::Failed(Box::new(error))
    }
}

impl From<Box<FlagsError>> for Miss {
    fn from(error: Box<FlagsError>) -> Self {
        Self::Failed(error)
    }
}

impl From<SiteError> for Miss {
    fn from(error: SiteError) -> Self {
        FlagsError::from(error).into()
    }
}

impl From<RiderError> for Miss {
    fn from(error: RiderError) -> Self {
        SiteError::from(error).into()
    }
}

impl From<RideError> for Miss {
    fn from(error: RideError) -> Self {
        FlagsError::from(error).into()
    }
}

impl From<FlightError> for Miss {
    fn from(error: FlightError) -> Self {
        FlagsError::from(error).into()
    }
}

impl From<LaunchError> for Miss {
    fn from(error: LaunchError) -> Self {
        match error {
            LaunchError::RideEnded { outcome } => {
                Stop::OnTheWay { part: Part::Wall, outcome }.into()
            }
            LaunchError::HangsUp { short_of_edge, .. } => {
                let outcome = Outcome::HungUp { station: -short_of_edge };
                Stop::OnTheWay { part: Part::Wall, outcome }.into()
            }
            other => FlagsError::from(other).into(),
        }
    }
}
