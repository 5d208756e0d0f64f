//! The deck's profile: crest rounding, face and foot rounding, as straight pieces.

use super::{FACET, Landing, LandingError};
use crate::math::Vec2;

/// The corners of the deck's profile, `x` along the heading from the crest line, `y` above the
/// crest line; and the first corner of the foot's rounding (the last corner where it has none).
#[derive(Debug, Clone, PartialEq)]
pub(super) struct Deck {
    pub(super) corners: Vec<Vec2>,
    pub(super) foot_from: usize,
}

impl Deck {
    /// The deck over ground that falls by `run_out` (an angle) along the heading at the foot.
    pub(super) fn new(landing: &Landing, run_out: f64) -> Result<Self, LandingError> {
        let mut corners = arc(landing.crest_radius(), -landing.batter(), landing.slope());
        let shift = crest_arc_start(landing);
        for corner in &mut corners {
            *corner += shift;
        }
        let foot = Vec2::new(landing.length(), -landing.length() * landing.slope().tan());
        let tangent = foot_tangent(landing, run_out);
        let face_end = foot - tangent * direction(landing.slope());
        let face_start = corners.last().map_or(0.0, |corner| corner.x);
        if face_end.x <= face_start {
            let needs = landing.length() - face_end.x + face_start;
            let length = landing.length();
            return Err(LandingError::FaceTooShort { field: "foot_radius".into(), needs, length });
        }
        let foot_from = corners.len();
        if tangent > 0.0 {
            let bend = arc(landing.foot_radius(), landing.slope(), run_out);
            corners.extend(bend.into_iter().map(|corner| face_end + corner));
        } else {
            corners.push(foot);
        }
        Ok(Self { corners, foot_from })
    }

    /// The height above the crest line at a distance along the heading, within the deck.
    pub(super) fn height(&self, along: f64) -> Option<f64> {
        let pairs = self.corners.iter().zip(self.corners.iter().skip(1));
        pairs
            .filter(|(a, b)| (a.x..=b.x).contains(&along))
            .map(|(a, b)| a.y + (b.y - a.y) * (along - a.x) / (b.x - a.x))
            .next()
    }

    /// The stations between which the deck lies.
    pub(super) fn span(&self) -> (f64, f64) {
        let along = |corner: Option<&Vec2>| corner.map_or(0.0, |corner| corner.x);
        (along(self.corners.first()), along(self.corners.last()))
    }

    /// Whether the deck bends down only: no rounding at the foot.
    pub(super) fn is_convex(&self) -> bool {
        self.foot_from + 1 == self.corners.len()
    }

    /// The parts that bend down only: crest and face, then each piece of the foot's rounding.
    pub(super) fn parts(&self) -> impl Iterator<Item = &[Vec2]> {
        let (face, foot) = self.corners.split_at(self.foot_from.min(self.corners.len()));
        let face_end = face.len();
        let upper = self.corners.get(..=face_end).unwrap_or(&self.corners);
        let pieces = foot.windows(2);
        std::iter::once(upper).chain(pieces)
    }
}

/// The rise over run of each straight piece between corners.
pub(super) fn grades(corners: &[Vec2]) -> impl Iterator<Item = f64> {
    corners.iter().zip(corners.iter().skip(1)).map(|(a, b)| (b.y - a.y) / (b.x - a.x))
}

/// The length of face that the foot's rounding takes; none where the ground is no flatter.
fn foot_tangent(landing: &Landing, run_out: f64) -> f64 {
    let turn = (landing.slope() - run_out).max(0.0);
    landing.foot_radius() * (0.5 * turn).tan()
}

/// Where the crest's rounding starts on the back.
fn crest_arc_start(landing: &Landing) -> Vec2 {
    -landing.crest_tangent() * direction(-landing.batter())
}

/// The unit vector that falls by an angle.
fn direction(fall: f64) -> Vec2 {
    Vec2::new(fall.cos(), -fall.sin())
}

/// The corners of an arc from the origin whose fall goes from one angle to another.
///
/// The chord of a turn points along the middle of the turn.
fn arc(radius: f64, from: f64, to: f64) -> Vec<Vec2> {
    let mut corners = vec![Vec2::zeros()];
    if radius <= 0.0 {
        return corners;
    }
    let turn = to - from;
    let pieces = (turn.abs() / FACET).ceil().max(1.0);
    let step = turn / pieces;
    let chord = 2.0 * radius * (0.5 * step.abs()).sin();
    let mut at = Vec2::zeros();
    let mut fall = from + 0.5 * step;
    while corners.len() as f64 <= pieces {
        at += chord * direction(fall);
        fall += step;
        corners.push(at);
    }
    corners
}

#[cfg(test)]
mod tests {
    use super::*;

    fn landing(crest_radius: f64, foot_radius: f64) -> Landing {
        Landing::new(Vec2::zeros(), 0.0, 0.45, 6.0, 3.0)
            .and_then(|l| l.with_crest_radius(crest_radius))
            .and_then(|l| l.with_foot_radius(foot_radius))
            .expect("a landing")
    }

    #[test]
    fn sharp_deck_is_the_face() {
        let deck = Deck::new(&landing(0.0, 0.0), 0.0).expect("a deck");
        assert_eq!(deck.corners.len(), 2);
        assert!((deck.corners[1] - Vec2::new(6.0, -6.0 * 0.45_f64.tan())).norm() < 1e-12);
    }

    #[test]
    fn roundings_touch_face_back_and_ground() {
        let landing = landing(1.5, 4.0);
        let deck = Deck::new(&landing, 0.1).expect("a deck");
        let first = deck.corners[0];
        assert!((first.y - first.x * landing.batter().tan()).abs() < 1e-12);
        for end in [deck.foot_from - 1, deck.foot_from] {
            let corner = deck.corners[end];
            assert!((corner.y + corner.x * landing.slope().tan()).abs() < 1e-12);
        }
        let last = deck.corners[deck.corners.len() - 1];
        let foot = landing.length() * landing.slope().tan();
        assert!((last.y + foot + (last.x - 6.0) * 0.1_f64.tan()).abs() < 1e-12);
    }

    #[test]
    fn face_must_outlast_its_roundings() {
        assert!(Deck::new(&landing(1.0, 40.0), 0.0).is_err());
    }
}
