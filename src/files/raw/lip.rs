//! A lip as a site file writes it.

use super::{Piece, piece};
use crate::feature::{self, RampError};
use crate::files::angle::degrees;
use crate::files::fault::Fault;
use crate::files::quantity::{EdgeAngle, Grade, Heading, Length, Metres, Skew};
use crate::geometry::{self, GeometryError, VerticalCurve};
use crate::math::Vec3;
use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

/// A lip: a takeoff that rises in one vertical plane up to an edge; set across the trail it is a hip.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub(in crate::files) struct Lip {
    /// The radius of its arc, with `end_angle_deg`; or give `height` and `end_angle_deg`, or `pieces`.
    #[serde(skip_serializing_if = "Option::is_none")]
    radius: Option<Length>,
    /// The height of its edge over its start, with `end_angle_deg`, instead of `radius`.
    #[serde(skip_serializing_if = "Option::is_none")]
    height: Option<Length>,
    /// The angle from level at its edge, with `radius` or `height`.
    #[serde(skip_serializing_if = "Option::is_none")]
    end_angle_deg: Option<EdgeAngle>,
    /// Its shape seen from the side, piece by piece, instead of one arc.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pieces: Vec<BentPiece>,
    /// The grade at its start; 0 where it is not given.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    grade: Option<Grade>,
    /// Its width across the travel, along the surface.
    width: Length,
    /// The middle of its start: x, y, z.
    position: [Metres; 3],
    /// The heading of the travel over it.
    heading_deg: Heading,
    /// The angle from the travel to its own direction, to the left positive; 0 where it is not given.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    hip_deg: Option<Skew>,
    /// How far its edge is off square, positive where the left side reaches on; 0 where it is not given.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    end_skew_deg: Option<Skew>,
    /// How far its surface is banked sideways, positive where the left side is higher: all along, or at the start and at the
    /// end, even between; level across where it is not given.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    tilt_deg: Option<Tilt>,
}

/// A piece of a lip's shape: a straight, an arc or a clothoid, and which way it bends.
#[derive(Debug, Clone, Default, PartialEq, Serialize, Deserialize, JsonSchema)]
pub(in crate::files) struct BentPiece {
    /// Which way it bends; up where it is not given.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    bend: Option<Bend>,
    #[serde(flatten)]
    piece: Piece,
}

/// The way a piece bends.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize, JsonSchema)]
#[serde(rename_all = "lowercase")]
pub(in crate::files) enum Bend {
    Up,
    Down,
}

/// How far a lip is banked sideways.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(untagged)]
pub(in crate::files) enum Tilt {
    /// All along.
    Even(Skew),
    /// At the start and at the end.
    Ends([Skew; 2]),
}

impl Lip {
    /// The keys for a lip.
    pub(in crate::files) fn of(lip: &feature::Lip) -> Self {
        let curve = lip.curve();
        let arc = Self::as_arc(curve);
        let pieces = if arc.is_some() { &[] } else { curve.pieces() };
        let unless_none = |angle: f64| (angle != 0.0).then(|| Skew(degrees(angle)));
        Self {
            radius: arc.map(|(radius, _)| Length(radius)),
            height: None,
            end_angle_deg: arc.map(|(_, end)| EdgeAngle(end)),
            pieces: pieces.iter().map(BentPiece::of).collect(),
            grade: (curve.grade() != 0.0).then_some(Grade(curve.grade())),
            width: Length(lip.width()),
            position: <[f64; 3]>::from(lip.position()).map(Metres),
            heading_deg: Heading(degrees(lip.heading())),
            hip_deg: unless_none(lip.hip()),
            end_skew_deg: unless_none(lip.end_skew()),
            tilt_deg: Tilt::of(lip.tilt()),
        }
    }

    /// Radius and end angle in degrees, where those two give the curve to the last bit.
    fn as_arc(curve: &VerticalCurve) -> Option<(f64, f64)> {
        let [(geometry::Bend::Up, geometry::Piece::Arc { radius, .. })] = curve.pieces() else {
            return None;
        };
        let end = degrees(curve.end_angle());
        let again = VerticalCurve::arc(curve.grade(), *radius, end.to_radians()).ok()?;
        (again == *curve).then_some((*radius, end))
    }

    /// The lip.
    pub(in crate::files) fn lip(&self) -> Result<feature::Lip, Fault> {
        let [start, end] = self.tilt_deg.map_or([0.0; 2], Tilt::ends);
        let angle = |given: Option<Skew>| given.map_or(0.0, f64::from).to_radians();
        let position = Vec3::from(self.position.map(f64::from));
        feature::Lip::new(self.curve()?, self.width.0)
            .and_then(|lip| lip.placed(position, self.heading_deg.0.to_radians()))
            .and_then(|lip| lip.with_hip(angle(self.hip_deg)))
            .and_then(|lip| lip.with_end_skew(angle(self.end_skew_deg)))
            .and_then(|lip| lip.with_tilt(start.to_radians(), end.to_radians()))
            .map_err(fault)
    }

    fn curve(&self) -> Result<VerticalCurve, Fault> {
        let grade = self.grade.map_or(0.0, f64::from);
        let end = self.end_angle_deg.map(|angle| angle.0.to_radians());
        let curve = match (self.radius, self.height, end, self.pieces.as_slice()) {
            (Some(radius), None, Some(end), []) => VerticalCurve::arc(grade, radius.0, end),
            (None, Some(height), Some(end), []) => {
                VerticalCurve::arc_of_height(grade, height.0, end)
            }
            (None, None, None, [_, ..]) => {
                VerticalCurve::new(grade, piece::each(&self.pieces, BentPiece::piece)?)
            }
            _ => {
                let wanted =
                    "expected radius and end_angle_deg, or height and end_angle_deg, or pieces";
                return Err(Fault::unfit("", wanted));
            }
        };
        curve.map_err(|error| fault(error.into()))
    }
}

impl BentPiece {
    fn of((bend, piece): &(geometry::Bend, geometry::Piece)) -> Self {
        let down = matches!(bend, geometry::Bend::Down);
        Self { bend: down.then_some(Bend::Down), piece: Piece::of(piece) }
    }

    fn piece(&self) -> Result<(geometry::Bend, geometry::Piece), Fault> {
        let bend = match self.bend {
            Some(Bend::Down) => geometry::Bend::Down,
            Some(Bend::Up) | None => geometry::Bend::Up,
        };
        Ok((bend, self.piece.piece()?))
    }
}

impl Tilt {
    fn of((start, end): (f64, f64)) -> Option<Self> {
        let [start_deg, end_deg] = [start, end].map(|angle| Skew(degrees(angle)));
        if start.to_bits() == end.to_bits() {
            return (start != 0.0).then_some(Self::Even(start_deg));
        }
        Some(Self::Ends([start_deg, end_deg]))
    }

    fn ends(self) -> [f64; 2] {
        match self {
            Self::Even(tilt) => [tilt.0; 2],
            Self::Ends(ends) => ends.map(f64::from),
        }
    }
}

/// What is wrong with a lip or a drop, by its field.
pub(super) fn fault(error: RampError) -> Fault {
    match error {
        RampError::Range(error) | RampError::Curve(GeometryError::Range(error)) => error.into(),
        RampError::Curve(GeometryError::Piece { index, source }) => {
            Fault::from(source).within(&format!("pieces[{index}]"))
        }
        other => Fault::unfit("", other.to_string()),
    }
}
