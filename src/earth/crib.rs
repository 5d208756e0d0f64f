//! A back of logs or cribs: a block of timber and earth that holds fill by its weight.

use crate::math::range::{OutOfRange, non_negative, positive, within};
use serde::{Deserialize, Serialize};

/// What a crib stands on: how much of its weight holds it from sliding, and how much pressure the ground bears.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize)]
pub struct Footing {
    friction: f64,
    bearing: f64,
}

/// A metre of a crib in section: a block with an upright or leaning back.
///
/// The foot is at the front; the back is the side that holds the fill.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize)]
pub struct Crib {
    height: f64,
    width: f64,
    top_width: f64,
    lean: f64,
    unit_weight: f64,
    footing: Footing,
}

/// Weight of a crib of logs filled with earth, newtons per cubic metre: a quarter logs of 6 kN/m3, the rest moist
/// earth of 15.5 (an assumption; from memory of timber handbooks, weigh what you build of).
const FILLED_LOGS: f64 = 13.0e3;

/// The steepest lean of a back, radians: 30 degrees.
const MOST_LEAN: f64 = std::f64::consts::FRAC_PI_6;

const POUND_PER_SQUARE_FOOT: f64 = 47.880_258_98;

impl Footing {
    /// A ground with a coefficient of `friction` under the crib that bears a pressure, pascals.
    pub fn new(friction: f64, bearing: f64) -> Result<Self, OutOfRange> {
        let friction = positive("footing_friction", friction)?;
        Ok(Self { friction, bearing: positive("footing_bearing", bearing)? })
    }

    /// Gravel: friction 0.35, 3000 lb/ft2, *International Building Code*, table of presumptive load-bearing values.
    pub fn gravel() -> Self {
        Self { friction: 0.35, bearing: 3000.0 * POUND_PER_SQUARE_FOOT }
    }

    /// Sand, silty sand, loam: friction 0.25, 2000 lb/ft2, the same table.
    pub fn sand() -> Self {
        Self { friction: 0.25, bearing: 2000.0 * POUND_PER_SQUARE_FOOT }
    }

    /// Stiff clay: 1500 lb/ft2 by the same table; friction 0.30 as the low end for masonry on stiff clay in NAVFAC
    /// DM 7.02, table 1, for the code gives an adhesion instead. Soft clay, mud and fill bear nothing by the code.
    pub fn clay() -> Self {
        Self { friction: 0.30, bearing: 1500.0 * POUND_PER_SQUARE_FOOT }
    }

    /// The coefficient of friction under the crib.
    pub fn friction(&self) -> f64 {
        self.friction
    }

    /// The pressure that the ground bears, pascals.
    pub fn bearing(&self) -> f64 {
        self.bearing
    }
}

impl Crib {
    /// A rectangular crib of a height and a width front to back, metres, of logs filled with earth, on sand or loam.
    pub fn new(height: f64, width: f64) -> Result<Self, OutOfRange> {
        let (height, width) = (positive("height", height)?, positive("width", width)?);
        let (lean, unit_weight, footing) = (0.0, FILLED_LOGS, Footing::sand());
        Ok(Self { height, width, top_width: width, lean, unit_weight, footing })
    }

    /// The same with another width at the top, metres: the front slopes, the back stays as it is.
    pub fn with_top_width(self, top_width: f64) -> Result<Self, OutOfRange> {
        Ok(Self { top_width: positive("top_width", top_width)?, ..self })
    }

    /// The same leaning back into the fill by an angle from upright, radians, up to 30 degrees.
    pub fn with_lean(self, lean: f64) -> Result<Self, OutOfRange> {
        Ok(Self { lean: within("lean", lean, 0.0, MOST_LEAN)?, ..self })
    }

    /// The same of another weight, newtons per cubic metre of the whole block.
    pub fn with_unit_weight(self, unit_weight: f64) -> Result<Self, OutOfRange> {
        Ok(Self { unit_weight: non_negative("crib_weight", unit_weight)?, ..self })
    }

    /// The same on another ground.
    pub fn with_footing(self, footing: Footing) -> Self {
        Self { footing, ..self }
    }

    /// Its height, metres.
    pub fn height(&self) -> f64 {
        self.height
    }

    /// Its width at the foot, front to back, metres.
    pub fn width(&self) -> f64 {
        self.width
    }

    /// How far its back leans into the fill, radians.
    pub fn lean(&self) -> f64 {
        self.lean
    }

    /// What it stands on.
    pub fn footing(&self) -> Footing {
        self.footing
    }

    /// The weight of a metre of it, newtons.
    pub fn weight(&self) -> f64 {
        0.5 * self.height * (self.width + self.top_width) * self.unit_weight
    }

    /// How far behind the foot its weight acts, metres.
    pub(super) fn middle(&self) -> f64 {
        let Self { width: base, top_width: top, .. } = *self;
        let lean_of_back = self.height * self.lean.tan();
        // Two triangles: on the base up to the front's top, and on the top down to the heel.
        let front = base + lean_of_back - top;
        let lower = (base + front) / 3.0;
        let upper = (base + base + lean_of_back + front) / 3.0;
        (base * lower + top * upper) / (base + top)
    }

    /// How far behind the foot its back is at a height, metres.
    pub(super) fn back(&self, height: f64) -> f64 {
        self.width + height * self.lean.tan()
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn weight_acts_in_the_middle_of_the_section() {
        let upright = Crib::new(1.2, 0.8).expect("a crib");
        assert!((upright.middle() - 0.4).abs() < 1e-15);
        assert!((upright.weight() - 1.2 * 0.8 * 13e3).abs() < 1e-9);
        let lean = 0.2_f64;
        let leaning = upright.with_lean(lean).expect("a crib");
        assert!((leaning.middle() - (0.4 + 0.6 * lean.tan())).abs() < 1e-15);
        // Upright back, sloping front: rectangle 1.5 behind and a triangle in front of it.
        let gravity = Crib::new(6.0, 3.5).and_then(|c| c.with_top_width(1.5)).expect("a crib");
        let by_hand = (9.0 * 2.75 + 6.0 * 2.0 * 2.0 / 3.0) / 15.0;
        assert!((gravity.middle() - by_hand).abs() < 1e-12);
    }

    #[test]
    fn numbers_that_cannot_be_are_named() {
        let crib = Crib::new(1.0, 0.8).expect("a crib");
        assert!(Crib::new(0.0, 0.8).is_err_and(|e| e.field == "height"));
        assert!(crib.with_lean(0.6).is_err_and(|e| e.field == "lean"));
        assert!(crib.with_top_width(f64::INFINITY).is_err());
        assert!(crib.with_unit_weight(-1.0).is_err());
        assert!(Footing::new(0.0, 1.0).is_err() && Footing::new(0.3, 0.0).is_err());
    }
}
