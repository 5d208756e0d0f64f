//! Where on a landing a tyre came down.

use super::Landing;
use crate::math::Vec2;
use serde::{Deserialize, Serialize};

/// A mark this near a side's edge is on the edge, metres: a rider beside the face touches it all along its length.
const EDGE: f64 = 1e-6;

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
    /// Where a mark lies on the landing, in plan: the lines of crest and foot belong to the face, the edges of its sides do
    /// not, for who touches one of them with nothing beyond it is not on the face.
    pub fn place(&self, mark: &Vec2) -> Place {
        let at = self.along_across(mark);
        if at.x < 0.0 {
            Place::Short
        } else if at.x > self.length() {
            Place::Long
        } else if at.y.abs() > 0.5 * self.width() - EDGE {
            Place::Wide
        } else {
            Place::Caught
        }
    }
}

impl Landing {
    /// How far inside the face's borders a mark lies in plan, metres; below nothing outside.
    pub fn inside(&self, mark: &Vec2) -> f64 {
        let at = self.along_across(mark);
        at.x.min(self.length() - at.x).min(0.5 * self.width() - at.y.abs())
    }
}

impl Place {
    /// Where a mark lies among landings side by side: caught where it is on any face, else as that landing has it whose
    /// borders are nearest; none where there are no landings.
    pub fn among<'a>(landings: impl IntoIterator<Item = &'a Landing>, mark: &Vec2) -> Option<Self> {
        let inside = |landing: &'a Landing| (landing.inside(mark), landing);
        let nearest = landings.into_iter().map(inside).max_by(|a, b| a.0.total_cmp(&b.0));
        nearest.map(|(_, landing)| landing.place(mark))
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
            (2.0, -1.0, Place::Wide),
            (2.0, -1.01, Place::Wide),
            (4.01, 0.0, Place::Long),
            (4.01, 5.0, Place::Long),
        ] {
            assert_eq!(landing.place(&landing.plan(along, across)), place, "{along} {across}");
        }
        assert_eq!(landing.place(&Vec2::new(10.5, 8.0)), Place::Caught);
    }

    #[test]
    fn any_of_two_faces_catches_and_the_nearer_tells_of_a_miss() {
        let face = |across: f64| Landing::new(Vec2::new(0.0, across), 0.0, 0.4, 4.0, 2.0);
        let faces = [face(0.0).expect("valid"), face(5.0).expect("valid")];
        let place = |x, y| Place::among(&faces, &Vec2::new(x, y));
        assert_eq!(place(1.0, 0.5), Some(Place::Caught));
        assert_eq!(place(1.0, 5.5), Some(Place::Caught));
        assert_eq!(place(1.0, 2.0), Some(Place::Wide));
        assert_eq!(place(4.5, 5.0), Some(Place::Long));
        assert_eq!(place(-0.5, 0.0), Some(Place::Short));
        assert_eq!(Place::among([], &Vec2::zeros()), None);
    }
}
