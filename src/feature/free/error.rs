//! Why there is no free line.

use super::end::FreeEnd;
use crate::math::range::OutOfRange;

/// Why there is no free line, or none to the edge.
#[derive(Debug, Clone, PartialEq, thiserror::Error)]
#[non_exhaustive]
pub enum FreeError {
    /// A number out of its range.
    #[error(transparent)]
    Range(#[from] OutOfRange),
    /// A line that ends before it begins.
    #[error("the free line ends where it starts: it {end}")]
    EndsAtStart {
        /// How.
        end: FreeEnd,
    },
    /// A line that ends before the end edge.
    #[error("the free line does not reach the end edge: it {end}")]
    NotAtEdge {
        /// How.
        end: FreeEnd,
    },
    /// A height at the end edge that no speed found gives.
    #[error("no entry speed found gives a free line that leaves the end edge at leave = {leave} m")]
    OutOfReach {
        /// The height wanted, metres.
        leave: f64,
    },
    /// A hollow too tight for a centre of mass this high: the model would not hold.
    #[error(
        "{station} m along the foot, {height} m up the panel the hollow's radius of {radius} m is less than twice \
         com_height = {com_height} m"
    )]
    TooTight {
        /// Where, metres along the foot.
        station: f64,
        /// Where, metres up the panel.
        height: f64,
        /// The radius there in the line's direction, metres.
        radius: f64,
        /// The height of the centre of mass, metres.
        com_height: f64,
    },
    /// The equation of motion could not be resolved.
    #[error("the free line does not resolve {station} m along the foot, {height} m up the panel")]
    Unresolved {
        /// Where, metres along the foot.
        station: f64,
        /// Where, metres up the panel.
        height: f64,
    },
}

impl FreeError {
    /// How the line ends, where that is what is wrong.
    pub const fn end(&self) -> Option<&FreeEnd> {
        match self {
            Self::EndsAtStart { end } | Self::NotAtEdge { end } => Some(end),
            _ => None,
        }
    }
}
