//! Why there is no flight.

use crate::ground::GroundError;
use crate::math::ode::OdeError;
use crate::math::range::OutOfRange;
use std::convert::Infallible;

/// Why a flight could not be computed.
#[derive(Debug, Clone, PartialEq, thiserror::Error)]
#[non_exhaustive]
pub enum FlightError {
    /// A number out of its range.
    #[error(transparent)]
    Value(#[from] OutOfRange),
    /// The rider's reach of the ground is wrong.
    #[error(transparent)]
    Ground(#[from] GroundError),
    /// A launch that does not say which way the bike points has no rigid flight.
    #[error(
        "attitude: the launch does not say which way the bike points, and a rigid flight turns from there"
    )]
    NoAttitude,
    /// The body turns so fast that its turning could not be followed.
    #[error("the body turns too fast to be followed past {time} s")]
    TooFast {
        /// So far it was followed, seconds.
        time: f64,
    },
    /// The path could not be integrated: speeds past what numbers hold.
    #[error("the flight could not be integrated: {0}")]
    Path(#[from] OdeError<Infallible>),
}
