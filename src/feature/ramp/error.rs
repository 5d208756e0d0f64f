//! What can be wrong with a lip, a drop or an entrance, or with a line on it.

use crate::geometry::GeometryError;
use crate::math::range::OutOfRange;

/// Why a lip, a drop or an entrance, or a line on it, cannot be.
#[derive(Debug, Clone, PartialEq, thiserror::Error)]
#[non_exhaustive]
pub enum RampError {
    /// A number out of its range; angles are told in degrees.
    #[error(transparent)]
    Range(#[from] OutOfRange),
    /// A shape that cannot be.
    #[error(transparent)]
    Curve(#[from] GeometryError),
    /// A hollow that the rider's wheels do not fit into.
    #[error(
        "a hollow of radius = {radius} m is tighter than the rider's wheels: wheel_radius = {wheel_radius} m"
    )]
    TighterThanWheel {
        /// The smallest radius of the hollow, metres.
        radius: f64,
        /// The radius of the wheels, metres.
        wheel_radius: f64,
    },
    /// A rise that is too low for the curves at its foot and its top.
    #[error(
        "height = {height} m is too low: the curves at foot and top rise by {needed} m between these grades; take smaller \
         radii or a gentler ramp"
    )]
    TooLow {
        /// The rise asked for, metres.
        height: f64,
        /// The rise of the two curves, metres.
        needed: f64,
    },
}
