//! A curve seen from the side, piece by piece along its own length: the shape of a lip or of a ramp.

use super::bends::{Bends, Spot};
use super::error::GeometryError;
use super::plan::Piece;
use crate::math::jet::Jet;
use crate::math::range::{OutOfRange, positive, within};
use serde::{Deserialize, Serialize};
use std::f64::consts::FRAC_PI_2;

/// Room for the rounding of degrees turned into radians.
const ROUNDING: f64 = 1e-12;

/// Which way a piece of a vertical curve bends.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, Default, Serialize, Deserialize)]
#[serde(rename_all = "lowercase")]
pub enum Bend {
    /// It gets steeper: a hollow, or sag.
    #[default]
    Up,
    /// It gets flatter, or falls: a crest.
    Down,
}

impl Bend {
    const fn sign(self) -> f64 {
        match self {
            Self::Up => 1.0,
            Self::Down => -1.0,
        }
    }
}

/// A place on a vertical curve, with derivatives by the length along it.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct VerticalPoint {
    /// Level distance from the curve's start, metres.
    pub distance: Jet,
    /// Height over its start, metres.
    pub height: Jet,
    /// The angle of the tangent from level, radians, positive uphill.
    pub angle: Jet,
}

/// What a vertical curve is given by.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
struct Drawing {
    grade: f64,
    pieces: Vec<(Bend, Piece)>,
}

/// A curve in a vertical plane made of straights, true arcs and clothoids, followed from its start at the origin.
///
/// Its slope is continuous, its curvature may jump between pieces, and nowhere does it lean past vertical. Positions are
/// exact to about `1e-14` of the length.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[serde(try_from = "Drawing", into = "Drawing")]
pub struct VerticalCurve {
    drawing: Drawing,
    bends: Bends,
}

impl TryFrom<Drawing> for VerticalCurve {
    type Error = GeometryError;
    fn try_from(drawing: Drawing) -> Result<Self, GeometryError> {
        Self::new(drawing.grade, drawing.pieces)
    }
}

impl From<VerticalCurve> for Drawing {
    fn from(curve: VerticalCurve) -> Self {
        curve.drawing
    }
}

impl VerticalCurve {
    /// The curve that begins at `grade` (rise over run, -1 to 1) and is made of `pieces`, at least one, each with the way
    /// it bends; a straight bends neither way.
    pub fn new(grade: f64, pieces: Vec<(Bend, Piece)>) -> Result<Self, GeometryError> {
        within("grade", grade, -1.0, 1.0)?;
        let signed = pieces.iter().map(|(bend, piece)| (bend.sign(), piece));
        let bends = Bends::new(grade.atan(), signed)?;
        let curve = Self { drawing: Drawing { grade, pieces }, bends };
        // Within a piece the angle only rises or only falls: what counts stands at the joints.
        for (i, station) in curve.bends.joints().into_iter().enumerate().skip(1) {
            curve.check_angle(i - 1, station)?;
        }
        Ok(curve)
    }

    /// One arc of `radius` metres from `grade` (rise over run) up to `end_angle` (radians from level).
    pub fn arc(grade: f64, radius: f64, end_angle: f64) -> Result<Self, GeometryError> {
        within("grade", grade, -1.0, 1.0)?;
        positive("radius", radius)?;
        let angle = steeper(grade.atan(), end_angle)?;
        Self::new(grade, vec![(Bend::Up, Piece::Arc { radius, angle })])
    }

    /// One arc from `grade` (rise over run) up to `end_angle` (radians from level) that rises by `height` metres.
    ///
    /// From a start that falls it must come out higher than it began: `end_angle` above the angle of the fall.
    pub fn arc_of_height(grade: f64, height: f64, end_angle: f64) -> Result<Self, GeometryError> {
        within("grade", grade, -1.0, 1.0)?;
        positive("height", height)?;
        steeper(grade.atan().abs(), end_angle)?;
        // An arc rises by its radius times what the cosine loses.
        let (half, middle) = (0.5 * (end_angle - grade.atan()), 0.5 * (end_angle + grade.atan()));
        Self::arc(grade, height / (2.0 * half.sin() * middle.sin()), end_angle)
    }

    /// The grade at its start, rise over run.
    pub fn grade(&self) -> f64 {
        self.drawing.grade
    }

    /// The pieces it is made of, each with the way it bends.
    pub fn pieces(&self) -> &[(Bend, Piece)] {
        &self.drawing.pieces
    }

    /// The length along it, metres.
    pub fn length(&self) -> f64 {
        self.bends.length()
    }

    /// Its level length, metres.
    pub fn run(&self) -> f64 {
        self.end().x.value()
    }

    /// The height of its end over its start, metres.
    pub fn height(&self) -> f64 {
        self.end().y.value()
    }

    /// The angle at its end from level, radians, positive uphill.
    pub fn end_angle(&self) -> f64 {
        self.end().angle.value()
    }

    /// The smallest radius with which it bends upwards up to `station`, also beyond its end; none where it does not.
    pub fn tightest_hollow(&self, station: f64) -> Option<f64> {
        let joints = self.bends.joints();
        let last = joints.len() - 2;
        let most = joints.windows(2).enumerate().fold(0.0, |most: f64, (piece, ends)| {
            // Curvature changes evenly along a piece: its ends say all.
            let to = if piece == last { ends[1].max(station) } else { ends[1] };
            let curvature = |at| self.bends.at(piece, at).angle.d1();
            most.max(curvature(ends[0])).max(curvature(to))
        });
        (most > 0.0).then(|| most.recip())
    }

    /// The stations where pieces meet, both ends included, metres.
    pub fn joints(&self) -> Vec<f64> {
        self.bends.joints()
    }

    /// The piece that holds `station`: the first or last one beyond the ends.
    pub fn piece(&self, station: f64) -> usize {
        self.bends.piece(station)
    }

    /// The place at `station` on the given piece, continued as it bends beyond its ends.
    pub fn at(&self, piece: usize, station: f64) -> VerticalPoint {
        let Spot { x, y, angle, .. } = self.bends.at(piece, station);
        VerticalPoint { distance: x, height: y, angle }
    }

    /// Nothing where the curve, continued to `station`, does not lean past vertical.
    pub(crate) fn check_reach(&self, station: f64) -> Result<(), GeometryError> {
        let last = self.drawing.pieces.len() - 1;
        let (length, over) = (self.length(), station - self.length());
        // Beyond its end a clothoid may straighten and bend the other way: its ends do not say all.
        (1..=16).try_for_each(|i| self.check_angle(last, length + over * f64::from(i) / 16.0))
    }

    fn check_angle(&self, piece: usize, station: f64) -> Result<(), GeometryError> {
        let angle = self.bends.at(piece, station).angle.value();
        if angle.abs() <= FRAC_PI_2 + ROUNDING {
            return Ok(());
        }
        Err(GeometryError::PastVertical { station, angle_deg: angle.to_degrees() })
    }

    fn end(&self) -> Spot {
        self.bends.at(self.drawing.pieces.len() - 1, self.length())
    }
}

/// The angle from `start` up to `end`, radians: above zero, and not past vertical.
fn steeper(start: f64, end: f64) -> Result<f64, OutOfRange> {
    if end > start && end <= FRAC_PI_2 + ROUNDING {
        return Ok(end - start);
    }
    let allowed = format!("above {:.3} (so that the arc rises) and at most 90", start.to_degrees());
    Err(OutOfRange::new("end_angle_deg", end.to_degrees(), allowed))
}
