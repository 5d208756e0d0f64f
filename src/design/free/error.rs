//! Why there is no free landing.

use crate::ground::GroundError;
use crate::math::parallel::CrewError;
use crate::math::range::OutOfRange;
use crate::passes::PassesError;

/// Why there is no free landing.
#[derive(Debug, Clone, PartialEq, thiserror::Error)]
#[non_exhaustive]
pub enum FreeLandingError {
    /// A number outside its range.
    #[error(transparent)]
    OutOfRange(#[from] OutOfRange),
    /// Nobody touches the ground upright.
    #[error("nobody comes down upright on the ground: there is nothing to shape it by")]
    NobodyLands,
    /// There is no node where earth may be put.
    #[error(
        "no place around the touchdowns is known ground: survey more of it, or take a narrower spacing than {spacing} m"
    )]
    NoRoom {
        /// The spacing asked for, metres.
        spacing: f64,
    },
    /// Slopes are asked for at which the soil does not stand.
    #[error(
        "a slope of {steepest_deg:.1} degrees is steeper than {soil} stands even hard and dry, {stands_deg:.1}: ask for no more than that, or hold the earth with logs"
    )]
    TooSteep {
        /// The slope asked for, degrees.
        steepest_deg: f64,
        /// The steepest at which the soil stands, degrees.
        stands_deg: f64,
        /// The soil's name.
        soil: String,
    },
    /// There is known ground, but no earth may lie on it.
    #[error(
        "no place within {margin} m of the touchdowns may take earth: they lie outside the allowed area, on keep-outs, or too near the edge or an obstacle; move those bounds, or take a wider margin"
    )]
    Kept {
        /// How far from touchdowns earth may lie, metres.
        margin: f64,
    },
    /// The grid would have too many nodes.
    #[error(
        "nodes every {spacing} m make {nodes} unknowns, more than {most}: take a wider spacing"
    )]
    TooFine {
        /// The spacing asked for, metres.
        spacing: f64,
        /// How many nodes that makes.
        nodes: f64,
        /// How many there may be.
        most: usize,
    },
    /// A step's convex program could not be solved.
    #[error("the program of step {step} was not solved: {status}")]
    Program {
        /// Which step.
        step: usize,
        /// What the solver said.
        status: String,
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
