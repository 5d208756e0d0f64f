//! An entrance: a ramp of earth from the trail up to a deck.

use super::ramp::{Drawing, Ramp, RampError};
use super::surface::SurfacePoint;
use crate::geometry::{Bend, Line, Piece, VerticalCurve};
use crate::math::Vec3;
use crate::math::range::{OutOfRange, positive, within};
use crate::rider::Rider;
use serde::{Deserialize, Serialize};

/// A straight shorter than this is none, metres.
const NO_STRAIGHT: f64 = 1e-9;

/// The shape of an entrance seen from the side: grades are rise over run, radii and heights metres.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize)]
pub struct EntranceShape {
    /// How much higher the deck begins than the entrance does, above 0.
    pub height: f64,
    /// The grade of the trail that comes in, -1 to 1.
    pub trail_grade: f64,
    /// The grade of the straight ramp, steeper than trail and deck, above 0 and at most 1.
    pub ramp_grade: f64,
    /// The grade of the deck, -1 to 1.
    pub deck_grade: f64,
    /// The radius of the hollow at its foot, above 0.
    pub sag_radius: f64,
    /// The radius of the crest at its top, above 0.
    pub crest_radius: f64,
}

impl EntranceShape {
    /// The curve: a hollow, a straight as long as the height wants, a crest.
    fn curve(&self) -> Result<VerticalCurve, RampError> {
        positive("height", self.height)?;
        within("trail_grade", self.trail_grade, -1.0, 1.0)?;
        within("deck_grade", self.deck_grade, -1.0, 1.0)?;
        positive("sag_radius", self.sag_radius)?;
        positive("crest_radius", self.crest_radius)?;
        let gentlest = self.trail_grade.max(self.deck_grade).max(0.0);
        if !(self.ramp_grade > gentlest && self.ramp_grade <= 1.0) {
            let allowed = format!("above {gentlest} (trail, deck and level) and at most 1");
            return Err(OutOfRange::new("ramp_grade", self.ramp_grade, allowed).into());
        }
        let [trail, ramp, deck] =
            [self.trail_grade, self.ramp_grade, self.deck_grade].map(f64::atan);
        let needed = self.sag_radius * (trail.cos() - ramp.cos())
            + self.crest_radius * (deck.cos() - ramp.cos());
        let length = (self.height - needed) / ramp.sin();
        if length < 0.0 {
            return Err(RampError::TooLow { height: self.height, needed });
        }
        let sag = Piece::Arc { radius: self.sag_radius, angle: ramp - trail };
        let crest = Piece::Arc { radius: self.crest_radius, angle: ramp - deck };
        let mut pieces = vec![(Bend::Up, sag), (Bend::Down, crest)];
        if length > NO_STRAIGHT {
            pieces.insert(1, (Bend::Up, Piece::Straight { length }));
        }
        Ok(VerticalCurve::new(self.trail_grade, pieces)?)
    }
}

/// What an entrance is given by.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
struct Given {
    shape: EntranceShape,
    width: f64,
    position: Vec3,
    heading: f64,
}

/// A ramp of earth from the trail up to a deck: a hollow, a straight, a crest; level across.
///
/// Places on it are `s` metres along its curve and `y` metres across, from its middle to the left.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[serde(try_from = "Given", into = "Given")]
pub struct Entrance {
    shape: EntranceShape,
    ramp: Ramp,
}

impl TryFrom<Given> for Entrance {
    type Error = RampError;
    fn try_from(given: Given) -> Result<Self, RampError> {
        Self::new(given.shape, given.width)?.placed(given.position, given.heading)
    }
}

impl From<Entrance> for Given {
    fn from(entrance: Entrance) -> Self {
        let (width, position) = (entrance.width(), entrance.position());
        Self { shape: entrance.shape, width, position, heading: entrance.heading() }
    }
}

impl Entrance {
    /// The entrance of this shape, so wide (metres, above 0).
    ///
    /// With the middle of its start at the origin, along `+x`, unless said otherwise.
    pub fn new(shape: EntranceShape, width: f64) -> Result<Self, RampError> {
        let ramp = Drawing::new(shape.curve()?, width).try_into()?;
        Ok(Self { shape, ramp })
    }

    /// The same entrance with the middle of its start at `position`, along `heading` (radians from `+x`).
    pub fn placed(self, position: Vec3, heading: f64) -> Result<Self, RampError> {
        let change = |d: &mut Drawing| (d.position, d.heading) = (position, heading);
        Ok(Self { ramp: self.ramp.with(change)?, ..self })
    }

    /// What it is given by, seen from the side.
    pub fn shape(&self) -> &EntranceShape {
        &self.shape
    }

    /// Its curve seen from the side.
    pub fn curve(&self) -> &VerticalCurve {
        self.ramp.curve()
    }

    /// The length along it, metres.
    pub fn length(&self) -> f64 {
        self.curve().length()
    }

    /// Its level length, metres.
    pub fn run(&self) -> f64 {
        self.curve().run()
    }

    /// Its width, metres.
    pub fn width(&self) -> f64 {
        self.ramp.drawing().width
    }

    /// The middle of its start, metres.
    pub fn position(&self) -> Vec3 {
        self.ramp.drawing().position
    }

    /// Its heading, radians from `+x`.
    pub fn heading(&self) -> f64 {
        self.ramp.drawing().heading
    }

    /// The point of its top `y` across, where the deck begins, metres.
    pub fn edge(&self, y: f64) -> Vec3 {
        self.ramp.edge(y)
    }

    /// The surface at station `s` along its curve and `y` across, continued as it bends beyond its edges.
    pub fn surface(&self, s: f64, y: f64) -> SurfacePoint {
        self.ramp.surface(s, y)
    }

    /// Points of its surface for a picture: `rows` along by `columns` across from right to left, row after row, at least
    /// two of each.
    pub fn mesh(&self, rows: usize, columns: usize) -> Vec<Vec3> {
        self.ramp.mesh(rows, columns)
    }

    /// The line that runs `offset` metres to the left of its middle, from the trail to the deck.
    pub fn line(&self, offset: f64) -> Result<Line, RampError> {
        self.ramp.line(offset)
    }

    /// Nothing where the rider's wheels fit into the hollow at its foot; else an error with both radii.
    pub fn check_rider(&self, rider: &Rider) -> Result<(), RampError> {
        self.ramp.check_rider(rider)
    }
}
