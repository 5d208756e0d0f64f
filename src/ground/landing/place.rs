//! Where on a landing a tyre came down.

use super::Landing;
use crate::math::Vec2;
use serde::{Deserialize, Serialize};

/// Where a mark lies, seen in plan.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, Serialize, Deserialize)]
pub enum Place {
    /// Before the crest line: on the back, or on the flat behind it.
    Short,
    /// Between crest line and foot, within the width.
    Caught,
    /// Past the foot.
    Long,
    /// Between crest line and foot, but off a side.
    Wide,
}

impl Landing {
    /// Where a mark lies on the landing, in plan; its own lines belong to the face.
    pub fn place(&self, mark: &Vec2) -> Place {
        let at = self.along_across(mark);
        if at.x < 0.0 {
            Place::Short
        } else if at.x > self.length() {
            Place::Long
        } else if at.y.abs() > 0.5 * self.width() {
            Place::Wide
        } else {
            Place::Caught
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use std::f64::consts::FRAC_PI_2;

    #[test]
    fn places_around_a_turned_face() {
        let landing = Landing::new(Vec2::new(10.0, 5.0), FRAC_PI_2, 0.4, 4.0, 2.0).expect("valid");
        for (along, across, place) in [
            (-0.01, 0.0, Place::Short),
            (-0.01, 9.0, Place::Short),
            (0.01, 0.99, Place::Caught),
            (3.99, -0.99, Place::Caught),
            (2.0, -1.01, Place::Wide),
            (4.01, 0.0, Place::Long),
            (4.01, 5.0, Place::Long),
        ] {
            assert_eq!(landing.place(&landing.plan(along, across)), place, "{along} {across}");
        }
        assert_eq!(landing.place(&Vec2::new(10.5, 8.0)), Place::Caught);
    }
}
