//! Why there is no map of barrows.

use crate::ground::GroundError;
use crate::math::parallel::CrewError;
use crate::math::range::OutOfRange;
use crate::passes::PassesError;

/// Why there is no map of barrows, or no next barrow.
#[derive(Debug, Clone, PartialEq, thiserror::Error)]
#[non_exhaustive]
pub enum BarrowError {
    /// A number outside its range.
    #[error(transparent)]
    OutOfRange(#[from] OutOfRange),
    /// Nobody touches the ground upright, away from its edges.
    #[error(
        "nobody comes down where a change of the ground can be told: there is nothing to go by"
    )]
    NobodyLands,
    /// No place near the touchdowns takes a barrow.
    #[error(
        "no place near the touchdowns has room for a barrow {radius} m in radius: they lie outside the allowed area, on keep-outs, or too near the edge or an obstacle; move those bounds, or take a smaller radius"
    )]
    NoRoom {
        /// The mound's radius, metres.
        radius: f64,
    },
    /// The map would have too many places.
    #[error(
        "a map every {spacing} m would have {places} places, more than {most}: take a wider spacing"
    )]
    TooFine {
        /// The spacing asked for, metres.
        spacing: f64,
        /// How many places that makes.
        places: f64,
        /// How many there may be.
        most: usize,
    },
    /// The ground with the earth on it.
    #[error(transparent)]
    Ground(#[from] GroundError),
    /// The passes could not be landed again.
    #[error(transparent)]
    Passes(#[from] PassesError),
    /// It was stopped.
    #[error(transparent)]
    Crew(#[from] CrewError),
}
