//! What goes between earth, soft ground and timber: a base course, fabric in strips, a membrane.

use super::{Barrow, Loads, Soil, Trailer};
use crate::math::range::{OutOfRange, non_negative, positive};
use serde::{Deserialize, Serialize};

/// Fabric or membrane that comes in rolls.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize)]
pub struct Roll {
    width: f64,
    overlap: f64,
}

/// How much of a roll a rectangle takes.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize)]
pub struct Strips {
    /// How many strips lie side by side.
    pub count: u32,
    /// How long each is, metres.
    pub length: f64,
    /// What is cut off the roll in all, square metres.
    pub area: f64,
}

/// Stone over soft ground, on a fabric that keeps it from sinking in.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct BaseCourse {
    /// The stone: as placed, to be bought loose, in barrows, trailers and mass.
    pub stone: Loads,
    /// The fabric under it.
    pub fabric: Strips,
}

/// Strips overlap by 12 inches at least, metres: USDA Forest Service, *Geosynthetics for Trails in Wet Areas* (2008).
const OVERLAP: f64 = 0.3;
/// How high the finished tread of a raised way stands above the logs that hold it, metres: USDA Forest Service, *Trail
/// Construction and Maintenance Notebook*, trails in wet areas.
pub const CROWN: f64 = 0.05;
/// How far a membrane reaches past the timber that it keeps dry, metres (common practice).
const PAST_TIMBER: f64 = 0.15;

impl Roll {
    /// A roll of a width, metres, wider than the overlap of 0.3 m.
    pub fn new(width: f64) -> Result<Self, OutOfRange> {
        let width = positive("roll_width", width)?;
        if width <= OVERLAP {
            let allowed = format!("a finite number above the overlap, {OVERLAP}");
            return Err(OutOfRange::new("roll_width", width, allowed));
        }
        Ok(Self { width, overlap: OVERLAP })
    }

    /// How far strips overlap, metres.
    pub fn overlap(&self) -> f64 {
        self.overlap
    }

    /// The strips that cover a rectangle, laid along its length; metres.
    pub fn strips(&self, length: f64, width: f64) -> Result<Strips, OutOfRange> {
        let (length, width) = (positive("length", length)?, positive("width", width)?);
        let strips = (width - self.overlap) / (self.width - self.overlap);
        if strips > f64::from(u32::MAX) {
            return Err(OutOfRange::new("width", width, "what strips can be counted for"));
        }
        let whole = (strips - 1e-9).ceil().max(1.0);
        #[expect(
            clippy::cast_possible_truncation,
            clippy::cast_sign_loss,
            reason = "a whole number from 1 to the greatest count"
        )]
        let count = whole as u32;
        Ok(Strips { count, length, area: whole * self.width * length })
    }

    /// The membrane between earth and timber: on a face of logs of a length and height, metres, up over its top and
    /// down past its foot by 0.15 m (common practice). It keeps the logs dry enough to last; they still have to be
    /// treated for ground contact, and the fill drained.
    pub fn behind_timber(&self, length: f64, height: f64) -> Result<Strips, OutOfRange> {
        self.strips(length, positive("height", height)? + 2.0 * PAST_TIMBER)
    }
}

impl BaseCourse {
    /// A course of stone `depth` metres thick when tamped, over a rectangle of soft ground, on fabric from a roll.
    ///
    /// The fabric is turned up at both sides by the depth. Organic soil, silt and clay are no base: take `stone` from
    /// gravel or broken rock. Sources: USDA Forest Service, as for the overlap; how deep is common practice (10 inches
    /// under a first course of timbers; till a heel leaves no print).
    pub fn over(
        length: f64,
        width: f64,
        depth: f64,
        stone: &Soil,
        roll: &Roll,
    ) -> Result<Self, OutOfRange> {
        let (length, width) = (positive("length", length)?, positive("width", width)?);
        let depth = non_negative("depth", depth)?;
        let placed = length * width * depth;
        let stone = Loads::of(placed, stone, &Barrow::default(), &Trailer::default())?;
        Ok(Self { stone, fabric: roll.strips(length, width + 2.0 * depth)? })
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn strips_cover_with_their_overlaps() {
        let roll = Roll::new(2.0).expect("a roll");
        for (width, count) in [(0.5, 1), (2.0, 1), (2.01, 2), (3.7, 2), (3.71, 3), (5.4, 3)] {
            let strips = roll.strips(6.0, width).expect("strips");
            assert_eq!(strips.count, count, "{width}");
            let covered = f64::from(count) * 2.0 - f64::from(count - 1) * roll.overlap();
            assert!(covered >= width - 1e-9);
            assert!((strips.area - f64::from(count) * 12.0).abs() < 1e-12);
        }
        assert!(Roll::new(0.3).is_err() && roll.strips(0.0, 1.0).is_err());
        assert!(roll.strips(1.0, 1e300).is_err());
    }

    #[test]
    fn stone_is_bought_loose() {
        let roll = Roll::new(4.0).expect("a roll");
        let course = BaseCourse::over(5.0, 3.0, 0.25, &Soil::gravel(), &roll).expect("a course");
        assert!((course.stone.placed - 3.75).abs() < 1e-12);
        assert!((course.stone.loose - 3.75 / 0.88 * 1.12).abs() < 1e-12);
        assert_eq!(course.fabric.count, 1, "3.5 m with both sides turned up");
        let behind = roll.behind_timber(5.0, 1.1).expect("strips");
        assert_eq!((behind.count, behind.length), (1, 5.0));
    }
}
