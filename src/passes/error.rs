//! Why there are no passes.

use super::reason::{Reason, sentence};
use crate::flight::FlightError;
use crate::launch::LaunchError;
use crate::math::parallel::CrewError;
use crate::math::range::OutOfRange;
use crate::site::SiteError;

/// Why there are no passes.
#[derive(Debug, Clone, PartialEq, thiserror::Error)]
#[non_exhaustive]
pub enum PassesError {
    /// A number outside its range.
    #[error(transparent)]
    OutOfRange(#[from] OutOfRange),
    /// A site that is none.
    #[error(transparent)]
    Site(#[from] SiteError),
    /// A pass that cannot be computed.
    #[error("pass {index} of class \"{class}\": {source}")]
    Pass {
        /// Which pass, from 0.
        index: usize,
        /// The class of its rider.
        class: String,
        /// What is wrong.
        source: Box<PassError>,
    },
    /// Nobody leaves the edge.
    #[error("of {count} passes none leaves the edge: {}", sentence(reasons))]
    NobodyLeaves {
        /// How many passes.
        count: usize,
        /// Why, in groups, the commonest first.
        reasons: Vec<Reason>,
    },
    /// Stopped, or no threads to be had.
    #[error(transparent)]
    Crew(#[from] CrewError),
}

/// Why one pass cannot be computed.
#[derive(Debug, Clone, PartialEq, thiserror::Error)]
#[non_exhaustive]
pub enum PassError {
    /// The way down to the edge.
    #[error(transparent)]
    Site(#[from] SiteError),
    /// The launch.
    #[error(transparent)]
    Launch(#[from] LaunchError),
    /// The flight.
    #[error(transparent)]
    Flight(#[from] FlightError),
}
