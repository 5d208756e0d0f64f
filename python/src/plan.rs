//! A plan curve from one radius and sweep, or piece by piece.

use crate::errors::Failure;
use crate::text;
use crate::units::{degrees, radians};
use loamline::geometry::{Piece, Plan, Turn};
use pyo3::prelude::*;
use pyo3::types::PyDict;

/// The plan that Python gave.
pub fn from(
    radius: Option<f64>,
    sweep_deg: Option<f64>,
    pieces: Option<&Bound<'_, PyAny>>,
    turn: &str,
) -> Result<Plan, Failure> {
    let turn = match turn {
        "left" => Turn::Left,
        "right" => Turn::Right,
        _ => {
            let message = format!("turn = {turn:?}: \"left\" or \"right\" is wanted");
            return Err(Failure::input(&message).about("turn"));
        }
    };
    match (radius, sweep_deg, pieces) {
        (Some(radius), Some(sweep), None) => {
            Ok(Plan::arc(radius, radians("sweep_deg", sweep)?, turn)?)
        }
        (None, None, Some(pieces)) => {
            let pieces = pieces.try_iter()?.map(|one| piece(&one?)).collect::<Result<_, _>>()?;
            Ok(Plan::new(pieces, turn)?)
        }
        _ => Err(Failure::input("a wall wants radius and sweep_deg, or pieces")),
    }
}

/// "left" or "right".
pub const fn side(turn: Turn) -> &'static str {
    match turn {
        Turn::Left => "left",
        Turn::Right => "right",
    }
}

/// The piece that a dict tells.
pub fn piece(given: &Bound<'_, PyAny>) -> Result<Piece, Failure> {
    let wrong = || {
        let message = format!(
            "pieces: {given:?} is none of dict(length=), dict(radius=, sweep_deg=) and \
             dict(length=, radius_start=, radius_end=)"
        );
        Failure::input(&message).about("pieces")
    };
    let named = given.cast::<PyDict>().map_err(|_| wrong())?;
    let number = |key: &str| -> Result<Option<f64>, Failure> {
        Ok(named.get_item(key)?.map(|value| value.extract()).transpose()?)
    };
    let arc = (number("radius")?, number("sweep_deg")?);
    let clothoid = (number("length")?, number("radius_start")?, number("radius_end")?);
    match (named.len(), arc, clothoid) {
        (1, _, (Some(length), None, None)) => Ok(Piece::Straight { length }),
        (2, (Some(radius), Some(sweep)), _) => {
            Ok(Piece::Arc { radius, angle: radians("sweep_deg", sweep)? })
        }
        (3, _, (Some(length), Some(radius_start), Some(radius_end))) => {
            Ok(Piece::Clothoid { length, radius_start, radius_end })
        }
        _ => Err(wrong()),
    }
}

/// What `repr` shows of the pieces.
pub fn text(plan: &Plan) -> String {
    let parts: Vec<String> = plan.pieces().iter().map(piece_text).collect();
    format!("[{}]", parts.join(", "))
}

/// What `repr` shows of a piece.
pub fn piece_text(piece: &Piece) -> String {
    match *piece {
        Piece::Straight { length } => text::call("dict", &[("length", text::float(length))]),
        Piece::Arc { radius, angle } => text::call(
            "dict",
            &[("radius", text::float(radius)), ("sweep_deg", text::float(degrees(angle)))],
        ),
        Piece::Clothoid { length, radius_start, radius_end } => text::call(
            "dict",
            &[
                ("length", text::float(length)),
                ("radius_start", text::float(radius_start)),
                ("radius_end", text::float(radius_end)),
            ],
        ),
        _ => "None".into(),
    }
}
