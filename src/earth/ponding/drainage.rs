//! What is asked of a surface that should shed its water.

use crate::math::Vec2;
use crate::math::range::{OutOfRange, finite, non_negative, positive};
use serde::{Deserialize, Serialize};

/// What is asked of a surface that should shed its water, and how closely it is looked at.
///
/// By default: an outslope of 5 %, the least for a full bench, and a drain that falls by 2 %, the least for a crown (USDA
/// Forest Service, *Trail Construction and Maintenance Notebook*); a trench 0.3 m wide, a spade's (common practice);
/// no pond under 5 mm; points 0.25 m apart.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize)]
pub struct Drainage {
    area: Option<(Vec2, Vec2)>,
    spacing: f64,
    shallowest: f64,
    outslope: f64,
    fall: f64,
    trench_width: f64,
}

impl Default for Drainage {
    fn default() -> Self {
        Self {
            area: None,
            spacing: 0.25,
            shallowest: 0.005,
            outslope: 0.05,
            fall: 0.02,
            trench_width: 0.3,
        }
    }
}

impl Drainage {
    /// The same for a rectangle of the plan only, `low` below `high` along both axes.
    pub fn with_area(self, low: Vec2, high: Vec2) -> Result<Self, OutOfRange> {
        finite("area", low.sum())?;
        positive("area", (high - low).min())?;
        finite("area", high.sum())?;
        Ok(Self { area: Some((low, high)), ..self })
    }

    /// The same with points so far apart, metres, above 0.
    pub fn with_spacing(self, spacing: f64) -> Result<Self, OutOfRange> {
        Ok(Self { spacing: positive("spacing", spacing)?, ..self })
    }

    /// The same with ponds left out that are not this deep, metres, at least 0.
    pub fn with_shallowest(self, shallowest: f64) -> Result<Self, OutOfRange> {
        Ok(Self { shallowest: non_negative("shallowest", shallowest)?, ..self })
    }

    /// The same with another slope that sheds water, rise over run, at least 0.
    pub fn with_outslope(self, outslope: f64) -> Result<Self, OutOfRange> {
        Ok(Self { outslope: non_negative("outslope", outslope)?, ..self })
    }

    /// The same with drains that fall by this, rise over run, at least 0.
    pub fn with_fall(self, fall: f64) -> Result<Self, OutOfRange> {
        Ok(Self { fall: non_negative("fall", fall)?, ..self })
    }

    /// The same with drains of another width, metres, above 0.
    pub fn with_trench_width(self, width: f64) -> Result<Self, OutOfRange> {
        Ok(Self { trench_width: positive("trench_width", width)?, ..self })
    }

    /// The part of the plan to look at; all of it where there is none.
    pub fn area(&self) -> Option<(Vec2, Vec2)> {
        self.area
    }

    /// How far apart points are taken, metres.
    pub fn spacing(&self) -> f64 {
        self.spacing
    }

    /// The depth of the shallowest pond, metres.
    pub fn shallowest(&self) -> f64 {
        self.shallowest
    }

    /// The slope that sheds water, rise over run.
    pub fn outslope(&self) -> f64 {
        self.outslope
    }

    /// How drains fall, rise over run.
    pub fn fall(&self) -> f64 {
        self.fall
    }

    /// How wide drains are, metres.
    pub fn trench_width(&self) -> f64 {
        self.trench_width
    }
}
