//! Why there is no such site.

use crate::air::AirError;
use crate::feature::{RampError, WallError};
use crate::geometry::GeometryError;
use crate::ground::GroundError;
use crate::math::outline::OutlineError;
use crate::math::range::OutOfRange;
use crate::ride::RideError;
use crate::rider::RiderError;

/// How far the classes' weights may be off 1.
const WEIGHT_SLACK: f64 = 1e-6;

/// Why there is no such site, or nothing of the kind on it.
#[derive(Debug, Clone, PartialEq, thiserror::Error)]
#[non_exhaustive]
pub enum SiteError {
    /// A number outside its range.
    #[error(transparent)]
    OutOfRange(#[from] OutOfRange),
    /// Corners that go around no area.
    #[error("{field}: {source}")]
    Outline {
        /// The corners' name, as a site file counts it.
        field: String,
        /// What is wrong with them.
        source: OutlineError,
    },
    /// The gentlest face that is allowed is steeper than the soil stands.
    #[error(
        "the gentlest face allowed, {slope_deg:.1} degrees, is too steep for {soil}: its batters stand at {stands_deg:.1}, and the face must be {below_deg:.0} gentler; allow gentler faces, or name a soil that stands steeper"
    )]
    SlopeTooSteep {
        /// The gentlest face, degrees.
        slope_deg: f64,
        /// What the soil is built at, degrees.
        stands_deg: f64,
        /// How much gentler a face has to be, degrees.
        below_deg: f64,
        /// The soil's name.
        soil: String,
    },
    /// A number of a rider class outside its range.
    #[error("class \"{class}\": {source}")]
    Class {
        /// The class's name.
        class: String,
        /// The number, its value and its range.
        source: OutOfRange,
    },
    /// No class of riders.
    #[error("no class of riders: at least one is needed")]
    NoClasses,
    /// Weights of the classes that do not add up to 1.
    #[error("the weights of the rider classes add up to {total}, not to 1")]
    Weights {
        /// What they add up to.
        total: f64,
    },
    /// Something without a name.
    #[error("{kind} number {number} has no name")]
    Unnamed {
        /// What it is: a mark, a class, a keep-out or an obstacle.
        kind: &'static str,
        /// Which one, from 1.
        number: usize,
    },
    /// Two things of a kind with one name.
    #[error("two of kind {kind} are called \"{name}\": names must differ")]
    Repeated {
        /// What they are: marks, classes, keep-outs or obstacles.
        kind: &'static str,
        /// Their name.
        name: String,
    },
    /// A survey that makes no ground.
    #[error("survey: {0}")]
    Survey(#[from] GroundError),
    /// A run-in that makes no profile.
    #[error("run-in: {0}")]
    RunIn(#[from] GeometryError),
    /// A line that the wall does not have.
    #[error("wall: {0}")]
    Wall(#[from] WallError),
    /// A lip or a drop that cannot be ridden so.
    #[error("takeoff: {0}")]
    Ramp(#[from] RampError),
    /// A rider that cannot be.
    #[error(transparent)]
    Rider(#[from] RiderError),
    /// Air that cannot be.
    #[error(transparent)]
    Air(#[from] AirError),
    /// A ride that cannot be computed.
    #[error(transparent)]
    Ride(#[from] RideError),
    /// A class that is not on the site.
    #[error("there is no rider class \"{name}\"; there are: {}", known.join(", "))]
    NoSuchClass {
        /// The name asked for.
        name: String,
        /// The names there are.
        known: Vec<String>,
    },
}

/// Nothing where each of a kind has a name of its own.
pub(super) fn check_names<'a>(
    kind: &'static str,
    names: impl Iterator<Item = &'a str>,
) -> Result<(), SiteError> {
    check_numbered(kind, names.enumerate())
}

/// The same where some of a kind have none; each with its place, from 0.
pub(super) fn check_numbered<'a>(
    kind: &'static str,
    names: impl Iterator<Item = (usize, &'a str)>,
) -> Result<(), SiteError> {
    let mut seen = std::collections::BTreeSet::new();
    for (place, name) in names {
        if name.trim().is_empty() {
            return Err(SiteError::Unnamed { kind, number: place + 1 });
        }
        if !seen.insert(name) {
            return Err(SiteError::Repeated { kind, name: name.to_owned() });
        }
    }
    Ok(())
}

/// Nothing where weights add up to 1 but for rounding in their writing, 1e-6.
pub(super) fn check_weights(weights: impl Iterator<Item = f64>) -> Result<(), SiteError> {
    let total: f64 = weights.sum();
    if (total - 1.0).abs() <= WEIGHT_SLACK {
        return Ok(());
    }
    Err(SiteError::Weights { total })
}
