//! Why no bargain is struck.

use super::Change;
use crate::{
    design::FitError, feature::RampError, feature::WallError, geometry::GeometryError,
    math::range::OutOfRange, passes::PassesError,
};

/// Why no bargain is struck.
#[derive(Debug, Clone, PartialEq, thiserror::Error)]
#[non_exhaustive]
pub enum BargainError {
    /// A number outside its range.
    #[error(transparent)]
    OutOfRange(#[from] OutOfRange),
    /// A change that this kind of takeoff cannot have.
    #[error("{change}: a {takeoff} has none to change")]
    NotOfThis {
        /// The change.
        change: Change,
        /// What the takeoff is: "wall", "lip" or "drop".
        takeoff: &'static str,
    },
    /// A change after which the takeoff is none.
    #[error("{change}: {reason}")]
    Impossible {
        /// The change.
        change: Change,
        /// What is wrong with what it gives.
        reason: String,
    },
    /// Passes that cannot be ridden, or nobody who leaves.
    #[error(transparent)]
    Passes(Box<PassesError>),
    /// No landing.
    #[error(transparent)]
    Fit(#[from] FitError),
}

/// Why a changed takeoff is none.
pub(super) enum Unfit {
    NotOfThis,
    Reason(String),
}

macro_rules! unfit {
    ($($error:ty),+) => {$(
        impl From<$error> for Unfit {
            fn from(error: $error) -> Self {
                Self::Reason(error.to_string())
            }
        }
    )+};
}

unfit!(WallError, RampError, GeometryError, OutOfRange);
