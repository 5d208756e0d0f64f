//! What a free landing is asked to be.

use super::error::FreeLandingError;
use crate::earth::Soil;
use crate::math::range::{OutOfRange, positive, within};
use serde::{Deserialize, Serialize};

/// What a free landing is asked to be: so much earth, no steeper and no more bent than said.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize)]
pub struct FreeOptions {
    volume: f64,
    spacing: f64,
    radius: f64,
    steepest: Option<f64>,
    margin: f64,
    steps: usize,
}

impl FreeOptions {
    /// At most this much earth in place, cubic metres, above 0.
    ///
    /// Nodes 0.3 m apart, a quarter of a wheelbase; bent no tighter than a radius of 2.5 m, over which a wheelbase of 1.2 m
    /// spans a dip of 7 cm (an assumption); no steeper than the site's soil is built ([`Soil::stand_up`]); earth up to
    /// 1.5 m from a touchdown; 40 steps.
    pub fn new(volume: f64) -> Result<Self, OutOfRange> {
        let volume = positive("volume", volume)?;
        Ok(Self { volume, spacing: 0.3, radius: 2.5, steepest: None, margin: 1.5, steps: 40 })
    }

    /// The same with nodes so far apart, metres, above 0.
    pub fn with_spacing(self, spacing: f64) -> Result<Self, OutOfRange> {
        Ok(Self { spacing: positive("spacing", spacing)?, ..self })
    }

    /// The same, bent no tighter than a radius, metres, above 0: along both axes of the grid, and twisted.
    pub fn with_radius(self, radius: f64) -> Result<Self, OutOfRange> {
        Ok(Self { radius: positive("radius", radius)?, ..self })
    }

    /// The same, no steeper than an angle, radians from 0.01 to 1.4; at most what the site's soil stands at hard and dry.
    pub fn with_steepest(self, steepest: f64) -> Result<Self, OutOfRange> {
        Ok(Self { steepest: Some(within("steepest", steepest, 0.01, 1.4)?), ..self })
    }

    /// The same with its steepest slope settled for a soil; an error where it asks for more than the soil stands at.
    pub(super) fn with_soil(self, soil: &Soil) -> Result<Self, FreeLandingError> {
        let stands = soil.stand_up();
        let steepest = self.steepest.unwrap_or_else(|| stands.value());
        if steepest <= stands.high() + 1e-9 {
            return Ok(Self { steepest: Some(steepest), ..self });
        }
        let [steepest_deg, stands_deg] = [steepest, stands.high()].map(f64::to_degrees);
        Err(FreeLandingError::TooSteep { steepest_deg, stands_deg, soil: soil.name().to_owned() })
    }

    /// The same with earth up to so far from a touchdown, metres, above 0.
    pub fn with_margin(self, margin: f64) -> Result<Self, OutOfRange> {
        Ok(Self { margin: positive("margin", margin)?, ..self })
    }

    /// The same with at most so many steps of the search, from 1 to 1000.
    pub fn with_steps(self, steps: usize) -> Result<Self, OutOfRange> {
        within("steps", steps as f64, 1.0, 1000.0)?;
        Ok(Self { steps, ..self })
    }

    /// The most earth, cubic metres.
    pub const fn volume(&self) -> f64 {
        self.volume
    }

    /// How far nodes are apart, metres.
    pub const fn spacing(&self) -> f64 {
        self.spacing
    }

    /// The tightest radius, metres.
    pub const fn radius(&self) -> f64 {
        self.radius
    }

    /// The steepest slope, radians; where none was asked for, and no site's soil told it, what loam is built at.
    pub fn steepest(&self) -> f64 {
        self.steepest.unwrap_or_else(|| Soil::loam().stand_up().value())
    }

    /// How far from a touchdown earth may lie, metres.
    pub const fn margin(&self) -> f64 {
        self.margin
    }

    /// The most steps.
    pub const fn steps(&self) -> usize {
        self.steps
    }
}
