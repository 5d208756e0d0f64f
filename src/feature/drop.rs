//! A drop: a straight deck that ends at an edge without rising to it.

use super::ramp::{Drawing, Ramp, RampError};
use super::surface::SurfacePoint;
use crate::geometry::{Bend, Line, Piece, VerticalCurve};
use crate::math::Vec3;
use crate::math::range::positive;
use serde::{Deserialize, Serialize};

/// A straight deck at a grade, level across, that ends at an edge.
///
/// Places on it are `s` metres along it and `y` metres across, from its middle to the left.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[serde(transparent)]
pub struct Drop(Ramp);

impl Drop {
    /// The deck so long and so wide, metres, above 0, falling or rising at `grade` (rise over run, -1 to 1).
    ///
    /// With the middle of its start at the origin, ridden along `+x`, its edge square to the travel, unless said otherwise.
    pub fn new(length: f64, width: f64, grade: f64) -> Result<Self, RampError> {
        positive("length", length)?;
        let curve = VerticalCurve::new(grade, vec![(Bend::Up, Piece::Straight { length })])?;
        Ok(Self(Drawing::new(curve, width).try_into()?))
    }

    /// The same deck with the middle of its start at `position`, along `heading` (radians from `+x`).
    pub fn placed(self, position: Vec3, heading: f64) -> Result<Self, RampError> {
        let change = |d: &mut Drawing| (d.position, d.heading) = (position, heading);
        Ok(Self(self.0.with(change)?))
    }

    /// The same deck with its end edge skewed by an angle, radians: positive where the left side reaches further on; to
    /// 60 degrees either way.
    pub fn with_end_skew(self, end_skew: f64) -> Result<Self, RampError> {
        Ok(Self(self.0.with(|d| d.end_skew = end_skew)?))
    }

    /// The length along its middle, metres.
    pub fn length(&self) -> f64 {
        self.0.curve().length()
    }

    /// Its width, metres.
    pub fn width(&self) -> f64 {
        self.0.drawing().width
    }

    /// Its rise over its run.
    pub fn grade(&self) -> f64 {
        self.0.curve().grade()
    }

    /// The middle of its start, metres.
    pub fn position(&self) -> Vec3 {
        self.0.drawing().position
    }

    /// Its heading, radians from `+x`.
    pub fn heading(&self) -> f64 {
        self.0.drawing().heading
    }

    /// The skew of its end edge, radians.
    pub fn end_skew(&self) -> f64 {
        self.0.drawing().end_skew
    }

    /// The station of the end edge `y` across, metres along the deck.
    pub fn end_station(&self, y: f64) -> f64 {
        self.0.end_station(y)
    }

    /// The point of the end edge `y` across, metres.
    pub fn edge(&self, y: f64) -> Vec3 {
        self.0.edge(y)
    }

    /// The surface at station `s` along it and `y` across, continued beyond its edges.
    pub fn surface(&self, s: f64, y: f64) -> SurfacePoint {
        self.0.surface(s, y)
    }

    /// Points of the deck for a picture: `rows` along by `columns` across from right to left, row after row, at least two
    /// of each.
    pub fn mesh(&self, rows: usize, columns: usize) -> Vec<Vec3> {
        self.0.mesh(rows, columns)
    }

    /// The line that runs `offset` metres to the left of its middle, from its start to its edge.
    pub fn line(&self, offset: f64) -> Result<Line, RampError> {
        self.0.line(offset)
    }
}
