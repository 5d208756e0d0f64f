//! A piece of a curve as a site file writes it: of a wall's foot line, or of a lip seen from the side.

use crate::files::angle::degrees;
use crate::files::fault::Fault;
use crate::files::quantity::{CurveRadius, Length, Sweep};
use crate::geometry;
use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

/// A piece of a curve: a straight (`length`), an arc (`radius`, `sweep_deg`) or a curve that tightens or opens
/// evenly (`length`, `radius_start`, `radius_end`; `inf` is straight).
#[derive(Debug, Clone, Default, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub(in crate::files) struct Piece {
    /// The length of a straight or of a curve that tightens or opens.
    #[serde(skip_serializing_if = "Option::is_none")]
    length: Option<Length>,
    /// The radius of an arc.
    #[serde(skip_serializing_if = "Option::is_none")]
    radius: Option<Length>,
    /// How far an arc turns.
    #[serde(skip_serializing_if = "Option::is_none")]
    sweep_deg: Option<Sweep>,
    /// The radius at the start of a curve that tightens or opens.
    #[serde(skip_serializing_if = "Option::is_none")]
    radius_start: Option<CurveRadius>,
    /// The radius at its end.
    #[serde(skip_serializing_if = "Option::is_none")]
    radius_end: Option<CurveRadius>,
}

impl Piece {
    pub(super) fn of(piece: &geometry::Piece) -> Self {
        let mut keys = Self::default();
        match *piece {
            geometry::Piece::Straight { length } => keys.length = Some(Length(length)),
            geometry::Piece::Arc { radius, angle } => {
                keys.radius = Some(Length(radius));
                keys.sweep_deg = Some(Sweep(degrees(angle)));
            }
            geometry::Piece::Clothoid { length, radius_start, radius_end } => {
                keys.length = Some(Length(length));
                keys.radius_start = Some(CurveRadius(radius_start));
                keys.radius_end = Some(CurveRadius(radius_end));
            }
        }
        keys
    }

    pub(super) fn piece(&self) -> Result<geometry::Piece, Fault> {
        let bend = (self.radius, self.sweep_deg, self.radius_start, self.radius_end);
        match (self.length.map(f64::from), bend) {
            (Some(length), (None, None, None, None)) => Ok(geometry::Piece::Straight { length }),
            (None, (Some(radius), Some(sweep), None, None)) => {
                Ok(geometry::Piece::Arc { radius: radius.0, angle: sweep.0.to_radians() })
            }
            (Some(length), (None, None, Some(start), Some(end))) => {
                let (radius_start, radius_end) = (start.0, end.0);
                Ok(geometry::Piece::Clothoid { length, radius_start, radius_end })
            }
            _ => Err(Fault::unfit(
                "",
                "expected length, or radius and sweep_deg, or length, radius_start and radius_end",
            )),
        }
    }
}

/// What each piece of a list tells, with the place in the list where one does not hold.
pub(super) fn each<P, T>(
    pieces: &[P],
    tells: impl Fn(&P) -> Result<T, Fault>,
) -> Result<Vec<T>, Fault> {
    let named = |(at, piece): (usize, &P)| {
        tells(piece).map_err(|fault| fault.within(&format!("pieces[{at}]")))
    };
    pieces.iter().enumerate().map(named).collect()
}
