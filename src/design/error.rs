//! Why there is no landing to propose.

use crate::{
    earth::VolumeError,
    ground::LandingError,
    math::{parallel::CrewError, range::OutOfRange},
    passes::PassesError,
    site::SiteError,
};

/// Why there is no landing to propose.
#[derive(Debug, Clone, PartialEq, thiserror::Error)]
#[non_exhaustive]
pub enum FitError {
    /// A number outside its range.
    #[error(transparent)]
    OutOfRange(#[from] OutOfRange),
    /// The passes hold nobody who comes down on known ground.
    #[error("nobody comes down on the surveyed ground: there is nothing to fit a landing to")]
    NobodyLands,
    /// Every landing within the bounds takes more earth than there is.
    #[error(
        "volume = {volume:.3} m^3 is too little: the smallest landing that was tried takes about {:.2} m^3, one that keeps all bounds may take more; bring at least that, or allow a shorter, narrower or gentler face",
        enough(*least)
    )]
    TooLittleEarth {
        /// The budget, cubic metres.
        volume: f64,
        /// What the smallest landing found takes, cubic metres.
        least: f64,
    },
    /// No landing keeps within the bounds.
    #[error(
        "no landing near where the riders come down keeps to the site's bounds ({hint}): widen them or survey more ground"
    )]
    NoPlace {
        /// Which bound stood in the way most often.
        hint: &'static str,
    },
    /// A site that is none.
    #[error(transparent)]
    Site(#[from] SiteError),
    /// The passes could not be landed again.
    #[error(transparent)]
    Passes(#[from] PassesError),
    /// The landing could not be built.
    #[error(transparent)]
    Landing(#[from] LandingError),
    /// The volume could not be reckoned.
    #[error(transparent)]
    Volume(#[from] VolumeError),
    /// It was stopped.
    #[error(transparent)]
    Crew(#[from] CrewError),
}

/// What builds the smallest landing, cubic metres, rounded up: as built one takes up to a few percent more than as it is
/// searched for.
fn enough(least: f64) -> f64 {
    (105.0 * least).ceil() / 100.0
}
