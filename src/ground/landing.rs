//! The earth landing: what is asked for, and the shape that is built of it.
//!
//! A landing is a *deck* (a straight face under a crest line, rounded at the crest and, where asked,
//! at the foot) of full width, and the earth that stands around it at the *batter*. The built surface
//! is the highest of the cones of slope `tan(batter)` that stand on the deck's points, so nothing in
//! it is steeper than the batter. Arcs and cones are built as facets at most [`FACET`] apart: the
//! facets are the shape, not a picture of it.

mod built;
mod deck;
mod error;
mod facets;
mod place;
mod shape;
mod stakes;
mod toe;
mod union;

pub use built::{BuiltLanding, HalfSpace};
pub use error::LandingError;
pub use place::Place;
pub use shape::{Facet, Part, Shape};
pub use stakes::{Mark, Stake};

use crate::math::{Vec2, range};
use serde::{Deserialize, Serialize};
use std::f64::consts::{FRAC_PI_2, PI};

/// The largest turn from one facet of an arc or a cone to the next: 4 degrees.
pub const FACET: f64 = PI / 45.0;

/// The batter where none is given: 34 degrees, 1 in 1.5, which gravel and loose sand stand at
/// (J. Newman, *Earthwork Slips and Subsidences*, 1890).
pub const BATTER: f64 = 34.0 * PI / 180.0;

/// The radius of the crest's rounding where none is given, metres.
pub const CREST_RADIUS: f64 = 1.0;
/// The longest and widest that a landing of earth may be, metres: its toe is walked in steps of decimetres.
const LONGEST: f64 = 200.0;

/// An earth landing as asked for: lengths in metres, angles in radians, level lengths in plan.
///
/// The *crest line* is where the face, carried up, meets the back, carried up: the corner before
/// it is rounded. The *foot* is where the face, carried down, ends. Both are [`Landing::length`]
/// apart in plan, along the heading.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize)]
pub struct Landing {
    crest: Vec2,
    heading: f64,
    slope: f64,
    length: f64,
    width: f64,
    crest_height: Option<f64>,
    crest_radius: f64,
    foot_radius: f64,
    batter: f64,
}

impl Landing {
    /// A landing whose crest line has its middle over `crest` and whose face falls along `heading`.
    ///
    /// `slope` is the face's angle below level, from 0 to less than the batter; `length` the level
    /// distance from crest line to foot; `width` that of the face. The crest's height is set so that
    /// the foot meets the ground, its radius is [`CREST_RADIUS`], the foot has none, and the batter
    /// is [`BATTER`], until given otherwise.
    pub fn new(
        crest: Vec2,
        heading: f64,
        slope: f64,
        length: f64,
        width: f64,
    ) -> Result<Self, LandingError> {
        let landing = Self {
            crest,
            heading,
            slope,
            length,
            width,
            crest_height: None,
            crest_radius: CREST_RADIUS,
            foot_radius: 0.0,
            batter: BATTER,
        };
        landing.check_numbers()?;
        Ok(landing)
    }

    /// The same landing with its crest line at this height; `None` lets the foot meet the ground.
    pub fn with_crest_height(self, height: Option<f64>) -> Result<Self, LandingError> {
        Self { crest_height: height, ..self }.with_checked_numbers()
    }

    /// The same landing with this radius between back and face; 0 is a sharp crest.
    pub fn with_crest_radius(self, radius: f64) -> Result<Self, LandingError> {
        Self { crest_radius: radius, ..self }.with_checked_numbers()
    }

    /// The same landing with this radius between face and ground; 0 is a sharp foot.
    pub fn with_foot_radius(self, radius: f64) -> Result<Self, LandingError> {
        Self { foot_radius: radius, ..self }.with_checked_numbers()
    }

    /// The same landing with this batter, between 0 and 90 degrees.
    pub fn with_batter(self, batter: f64) -> Result<Self, LandingError> {
        Self { batter, ..self }.with_checked_numbers()
    }

    /// The plan position of the middle of the crest line.
    pub fn crest(&self) -> Vec2 {
        self.crest
    }

    /// The direction in which the face falls, counter-clockwise from `+x`.
    pub fn heading(&self) -> f64 {
        self.heading
    }

    /// The angle of the face below level.
    pub fn slope(&self) -> f64 {
        self.slope
    }

    /// The level distance from the crest line to the foot.
    pub fn length(&self) -> f64 {
        self.length
    }

    /// The width of the face.
    pub fn width(&self) -> f64 {
        self.width
    }

    /// The height of the crest line, where it was given.
    pub fn crest_height(&self) -> Option<f64> {
        self.crest_height
    }

    /// The radius between back and face.
    pub fn crest_radius(&self) -> f64 {
        self.crest_radius
    }

    /// The radius between face and ground.
    pub fn foot_radius(&self) -> f64 {
        self.foot_radius
    }

    /// The steepest angle the earth around the deck stands at.
    pub fn batter(&self) -> f64 {
        self.batter
    }

    /// The landing itself where its numbers fit each other, as well as each being in range.
    ///
    /// The slope has to be below the batter, and the face long enough for its roundings.
    pub fn checked(self) -> Result<Self, LandingError> {
        self.check_numbers()?;
        if self.slope >= self.batter {
            return Err(LandingError::SlopeNotBelowBatter {
                slope_deg: self.slope.to_degrees(),
                batter_deg: self.batter.to_degrees(),
            });
        }
        self.check_rounding("crest_radius", self.crest_tangent())?;
        Ok(self)
    }

    /// The plan position of a point `along` the heading from the crest line and `across` to the left.
    pub fn plan(&self, along: f64, across: f64) -> Vec2 {
        self.crest + along * self.ahead() + across * self.left()
    }

    /// How far a point of the plan lies along the heading from the crest line, and across to the left.
    pub fn along_across(&self, point: &Vec2) -> Vec2 {
        let d = point - self.crest;
        Vec2::new(d.dot(&self.ahead()), d.dot(&self.left()))
    }

    pub(crate) fn ahead(&self) -> Vec2 {
        Vec2::new(self.heading.cos(), self.heading.sin())
    }

    pub(crate) fn left(&self) -> Vec2 {
        Vec2::new(-self.heading.sin(), self.heading.cos())
    }

    /// The length of face, along itself, that the crest's rounding takes.
    pub(crate) fn crest_tangent(&self) -> f64 {
        self.crest_radius * (0.5 * (self.slope + self.batter)).tan()
    }

    /// An error where a rounding that takes `tangent` of the face, along itself, takes all of it.
    fn check_rounding(&self, field: &'static str, tangent: f64) -> Result<(), LandingError> {
        let needs = tangent * self.slope.cos();
        if needs < self.length {
            return Ok(());
        }
        Err(LandingError::FaceTooShort { field: field.into(), needs, length: self.length })
    }

    fn with_checked_numbers(self) -> Result<Self, LandingError> {
        self.check_numbers()?;
        Ok(self)
    }

    fn check_numbers(&self) -> Result<(), LandingError> {
        range::coordinate("crest", self.crest.x)?;
        range::coordinate("crest", self.crest.y)?;
        degrees("heading_deg", self.heading, "a finite number", f64::is_finite)?;
        let below = |angle: f64| (0.0..FRAC_PI_2).contains(&angle);
        degrees("slope_deg", self.slope, "at least 0 and below 90", below)?;
        degrees("batter_deg", self.batter, "above 0 and below 90", |b| b > 0.0 && below(b))?;
        range::within("length", range::positive("length", self.length)?, 0.0, LONGEST)?;
        range::within("width", range::positive("width", self.width)?, 0.0, LONGEST)?;
        range::coordinate("crest_height", self.crest_height.unwrap_or(0.0))?;
        range::non_negative("crest_radius", self.crest_radius)?;
        range::non_negative("foot_radius", self.foot_radius)?;
        Ok(())
    }
}

fn degrees(
    field: &'static str,
    angle: f64,
    allowed: &'static str,
    holds: impl Fn(f64) -> bool,
) -> Result<(), range::OutOfRange> {
    if holds(angle) {
        return Ok(());
    }
    Err(range::OutOfRange::new(field, angle.to_degrees(), allowed))
}

#[cfg(test)]
mod tests;
