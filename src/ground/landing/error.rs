//! What can be wrong with a landing.

use crate::{ground::MeshError, math::range::OutOfRange};
use serde::{Deserialize, Serialize};
use std::borrow::Cow;

/// Why a landing cannot be built as asked for. Angles are in degrees, as their users say them.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, thiserror::Error)]
#[non_exhaustive]
pub enum LandingError {
    /// A number is out of its range.
    #[error(transparent)]
    OutOfRange(#[from] OutOfRange),
    /// The face is as steep as the earth stands, or steeper.
    #[error("slope_deg = {slope_deg} is out of range: below batter_deg = {batter_deg}")]
    SlopeNotBelowBatter {
        /// The slope of the face.
        slope_deg: f64,
        /// The batter.
        batter_deg: f64,
    },
    /// Rounding takes all of the face.
    #[error("length = {length} is out of range: above {needs}, which {field} takes off the face")]
    FaceTooShort {
        /// The radius that is too large.
        field: Cow<'static, str>,
        /// The level length of face that the roundings take.
        needs: f64,
        /// The level length of the face.
        length: f64,
    },
    /// A height was to be taken from the ground where there is none.
    #[error("there is no ground under the landing's {what} at ({x}, {y})")]
    NoGround {
        /// Which part of the landing.
        what: Cow<'static, str>,
        /// Site coordinate.
        x: f64,
        /// Site coordinate.
        y: f64,
    },
    /// Earth of the landing would come down where there is no ground.
    #[error("the landing runs off the survey at ({x}, {y})")]
    OffSurvey {
        /// Site coordinate.
        x: f64,
        /// Site coordinate.
        y: f64,
    },
    /// The facets make no surface.
    #[error(transparent)]
    Mesh(#[from] MeshError),
    /// The crest would lie in the ground.
    #[error("crest_height = {crest_height} is out of range: above the ground under it, {ground}")]
    CrestBelowGround {
        /// The height of the crest line, as rounded.
        crest_height: f64,
        /// The height of the ground under the middle of the crest line.
        ground: f64,
    },
    /// The ground falls away as steeply as the earth stands, so that no toe is found.
    #[error(
        "the earth at batter_deg = {batter_deg} meets no ground down to {depth} m under the crest"
    )]
    NoToe {
        /// The batter.
        batter_deg: f64,
        /// How far under the crest was looked.
        depth: f64,
    },
}
