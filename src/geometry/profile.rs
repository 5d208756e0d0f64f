//! A trail seen from the side: heights over level distances.

use super::corners::{Stretch, rounded};
use super::error::GeometryError;
use super::frame::Contact;
use super::line::{Line, Track, Uphill};
use crate::math::jet::{Jet, Jet3};
use crate::math::range::{OutOfRange, coordinate, finite, positive, within};
use crate::math::spline::{Spline, check_points};
use crate::math::{Vec2, Vec3};
use serde::{Deserialize, Serialize};

/// No trail goes up or down by more than the highest mountains of the earth, metres (rounded up): beyond, rides only take
/// long to fail.
const HIGHEST: f64 = 1e4;

/// How the points of a profile are joined.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
enum Shape {
    Smooth(Spline),
    Cornered { breaks: Vec<f64>, stretches: Vec<Stretch> },
}

/// The curve that makes one piece of a profile: for who needs closed forms.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(crate) enum ProfileCurve {
    /// A straight through a point, at a gradient.
    Straight { at: Vec2, gradient: f64 },
    /// Part of a circle: the lower half of a hollow's, the upper half of a crest's.
    Arc { centre: Vec2, radius: f64, is_hollow: bool },
    /// A polynomial in the distance from `from`, coefficients from the constant up.
    Cubic { from: f64, terms: [f64; 4] },
}

/// Heights over level distances along a straight course, distance growing along the travel.
///
/// Metres throughout. Placed with its zero of distance and height at the origin, along `+x`, unless said otherwise.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct Profile {
    shape: Shape,
    origin: Vec3,
    heading: f64,
}

impl Profile {
    /// The smooth profile through the points: a cubic spline with continuous curvature.
    ///
    /// At least two points, distances rising, heights within 10 km of the first. Between points it may overshoot them: look at the curve.
    pub fn smooth(distance: &[f64], height: &[f64]) -> Result<Self, GeometryError> {
        let spline = Spline::through(distance, height)?;
        check_range(distance, height)?;
        Ok(Self::of(Shape::Smooth(spline)))
    }

    /// Straight pieces between the points, each inner corner rounded by a true arc of `radius` metres.
    pub fn cornered(distance: &[f64], height: &[f64], radius: f64) -> Result<Self, GeometryError> {
        check_points(distance, height)?;
        check_range(distance, height)?;
        positive("radius", radius)?;
        let (breaks, stretches) = rounded(distance, height, radius)?;
        Ok(Self::of(Shape::Cornered { breaks, stretches }))
    }

    fn of(shape: Shape) -> Self {
        Self { shape, origin: Vec3::zeros(), heading: 0.0 }
    }

    /// The same profile with its zero of distance and height at `origin`, along `heading` (radians from `+x`).
    pub fn placed(self, origin: Vec3, heading: f64) -> Result<Self, GeometryError> {
        for (field, value) in [("x", origin.x), ("y", origin.y), ("z", origin.z)] {
            coordinate(field, value)?;
        }
        finite("heading", heading)?;
        Ok(Self { origin, heading, ..self })
    }

    /// The same profile moved so that its last point lies at `point`, along `heading` (radians from `+x`).
    pub fn ending_at(self, point: Vec3, heading: f64) -> Result<Self, GeometryError> {
        let (_, end) = self.span();
        let (sin, cos) = heading.sin_cos();
        let height = self.height_jet(self.pieces() - 1, end).value();
        self.placed(point - Vec3::new(end * cos, end * sin, height), heading)
    }

    /// The first and last level distance, metres.
    pub fn span(&self) -> (f64, f64) {
        let breaks = self.breaks();
        (breaks[0], breaks[breaks.len() - 1])
    }

    /// The height at a level distance within the span, metres, relative to the profile's own zero.
    pub fn height(&self, distance: f64) -> Result<f64, GeometryError> {
        let (start, end) = self.span();
        within("distance", distance, start, end)?;
        let piece = self.breaks().partition_point(|b| *b <= distance).clamp(1, self.pieces()) - 1;
        Ok(self.height_jet(piece, distance).value())
    }

    /// The tyres' line along the whole profile.
    pub fn line(&self) -> Line {
        Line::along(self.clone(), Uphill::Nowhere)
    }

    /// The tyres' line from `start` metres before the profile's end, measured level, to its end.
    pub fn run_in(&self, start: f64) -> Result<Line, GeometryError> {
        let (first, last) = self.span();
        within("start", start, f64::MIN_POSITIVE, last - first)?;
        Ok(self.line().between(last - start, last))
    }

    fn pieces(&self) -> usize {
        self.breaks().len() - 1
    }

    /// The curve that makes a piece (from 0), in the profile's own distances and heights.
    pub(crate) fn curve(&self, piece: usize) -> ProfileCurve {
        match &self.shape {
            Shape::Smooth(spline) => {
                let from = self.breaks()[piece];
                let jet = spline.at(piece, from);
                let terms = [jet.value(), jet.d1(), jet.d2() / 2.0, jet.d3() / 6.0];
                ProfileCurve::Cubic { from, terms }
            }
            Shape::Cornered { stretches, .. } => match stretches[piece] {
                Stretch::Straight { x, z, gradient } => {
                    ProfileCurve::Straight { at: Vec2::new(x, z), gradient }
                }
                Stretch::Arc { x, z, radius, bend } => {
                    ProfileCurve::Arc { centre: Vec2::new(x, z), radius, is_hollow: bend > 0.0 }
                }
            },
        }
    }

    fn height_jet(&self, piece: usize, distance: f64) -> Jet {
        match &self.shape {
            Shape::Smooth(spline) => spline.at(piece, distance),
            Shape::Cornered { stretches, .. } => {
                stretches.get(piece).map_or(Jet::default(), |stretch| stretch.height(distance))
            }
        }
    }
}

impl Track for Profile {
    fn breaks(&self) -> &[f64] {
        match &self.shape {
            Shape::Smooth(spline) => spline.knots(),
            Shape::Cornered { breaks, .. } => breaks,
        }
    }

    fn contact(&self, piece: usize, distance: f64) -> Contact {
        let (sin, cos) = self.heading.sin_cos();
        let out = Jet::variable(distance);
        let height = self.height_jet(piece, distance);
        let along = |x: Jet, z: Jet| Jet3::new(x * cos, x * sin, z);
        let mut point = along(out, height);
        point = point + constant(self.origin);
        let gradient = height.derivative();
        let one = Jet::constant(1.0);
        let scale = (one + gradient * gradient).sqrt().recip();
        Contact { point, normal: along(-gradient * scale, scale) }
    }
}

fn constant(vector: Vec3) -> Jet3 {
    let [x, y, z] = [vector.x, vector.y, vector.z].map(Jet::constant);
    Jet3::new(x, y, z)
}

/// Nothing where all distances and heights are coordinates.
fn check_range(distance: &[f64], height: &[f64]) -> Result<(), GeometryError> {
    for (field, values) in [("distance", distance), ("height", height)] {
        for value in values {
            coordinate(field, *value)?;
        }
    }
    let first = height.first().copied().unwrap_or_default();
    match height.iter().find(|value| (**value - first).abs() > HIGHEST) {
        Some(value) => Err(OutOfRange::new(
            "height",
            *value,
            format!("within {HIGHEST} m of the first point's, {first}"),
        )
        .into()),
        None => Ok(()),
    }
}
