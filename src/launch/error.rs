//! Why there is no launch.

use crate::math::range::OutOfRange;
use crate::ride::Outcome;

/// Why there is no launch.
#[derive(Debug, Clone, PartialEq, thiserror::Error)]
#[non_exhaustive]
pub enum LaunchError {
    /// A number out of its range.
    #[error(transparent)]
    Range(#[from] OutOfRange),
    /// The ride ended before the edge.
    #[error("the ride does not reach the edge: {outcome}")]
    RideEnded {
        /// How it ended.
        outcome: Outcome,
    },
    /// Too slow for the edge: with the front wheel off, the rear wheel stops before the edge or the frame comes down
    /// on it.
    #[error(
        "hangs up on the edge at {speed:.2} m/s: the bike is {:.0} degrees nose down with the rear wheel still \
         {short_of_edge:.2} m before it",
        .angle.to_degrees()
    )]
    HangsUp {
        /// The tyres' speed at the edge, m/s.
        speed: f64,
        /// The bike's angle then off the line at the edge, radians, nose down positive.
        angle: f64,
        /// How far the rear wheel is from the edge, metres.
        short_of_edge: f64,
    },
    /// Axes that are not right-handed unit vectors.
    #[error(
        "attitude: forward, left and up are to be unit vectors square to each other, left = up x forward; they are off by \
         {off:.1e}"
    )]
    Attitude {
        /// By how much.
        off: f64,
    },
}
