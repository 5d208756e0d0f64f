//! What can be wrong with a curve.

use crate::math::range::OutOfRange;
use crate::math::spline::PointsError;

/// Why a curve cannot be made.
#[derive(Debug, Clone, PartialEq, thiserror::Error)]
#[non_exhaustive]
pub enum GeometryError {
    /// A number out of its range.
    #[error(transparent)]
    Range(#[from] OutOfRange),
    /// A piece of a curve with a number out of its range.
    #[error("piece {index}: {source}")]
    Piece {
        /// Which piece, from 0.
        index: usize,
        /// What is wrong with it.
        source: OutOfRange,
    },
    /// A curve without pieces.
    #[error("a curve needs at least one piece")]
    NoPieces,
    /// A shape seen from the side that leans past vertical.
    #[error("past vertical: the shape stands at {angle_deg} degrees {station} m along it")]
    PastVertical {
        /// Where, metres along it.
        station: f64,
        /// The angle from level there, degrees.
        angle_deg: f64,
    },
    /// Distances and heights that make no profile.
    #[error("distance, height: {0}")]
    Points(#[from] PointsError),
    /// A rounding that does not fit between its neighbours.
    #[error(
        "radius = {radius} is too large: the piece from point {index} to the next is {length} m long \
         and its roundings need {needed} m"
    )]
    RadiusTooLarge {
        /// The point at which the piece begins, from 0.
        index: usize,
        /// The radius asked for, metres.
        radius: f64,
        /// The length of the piece, metres.
        length: f64,
        /// What the roundings at its ends take of it, metres.
        needed: f64,
    },
}
