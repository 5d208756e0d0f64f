//! Why there are no loads.

use crate::math::range::OutOfRange;
use crate::touchdown::TouchOutcome;

/// Why the loads of a landing could not be computed.
#[derive(Debug, Clone, PartialEq, thiserror::Error)]
#[non_exhaustive]
pub enum LoadError {
    /// A number out of its range.
    #[error(transparent)]
    Value(#[from] OutOfRange),
    /// The flight did not come down on anything.
    #[error("there is no touch to take the loads of: the flight ended as {outcome}")]
    NoTouch {
        /// How it ended.
        outcome: TouchOutcome,
    },
    /// A chain without a stage.
    #[error("a chain has at least one stage")]
    NoStage,
    /// A chain whose lowest stage could pull on the ground.
    #[error("the lowest stage of a chain stands on the ground and only pushes: it is a strut")]
    NotAStrut,
    /// What was asked of a chain's legs, and it has none.
    #[error("the chain has no legs that yield")]
    NoLegs,
    /// Numbers ran out of range.
    #[error("the chain's motion is not a finite number at {time} s")]
    NonFinite {
        /// Seconds since the touch.
        time: f64,
    },
    /// The chain's own vibration is too fast for the length of the record.
    #[error(
        "more than {pieces} pieces of motion at {time} s: a mass is too small, or a damper too weak, for its spring"
    )]
    TooStiff {
        /// How many pieces were made.
        pieces: usize,
        /// Seconds since the touch.
        time: f64,
    },
    /// No leg force stops the rider within the stroke asked for.
    #[error("no force of the legs up to {most} body weights stops the rider within {stroke} m")]
    NoForce {
        /// The highest force tried, body weights.
        most: f64,
        /// The stroke, m.
        stroke: f64,
    },
    /// Samples of a shock that do not make a record.
    #[error("a record wants at least two times that rise, each with an acceleration: {reason}")]
    Record {
        /// What is wrong with them.
        reason: String,
    },
}
