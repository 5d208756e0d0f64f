//! Rides of who leans as balance asks: the contact force passes through the centre of mass at every station.
//!
//! Lean and energy are solved together as a boundary-value problem by Gauss collocation, never by marching: a lean
//! that is a little off falls over. What is bound at the start is the static lean, at the edge no swing across
//! (balanced) or the static lean again (settled).

mod answers;
mod chain;
mod edge;
mod footing;
mod joint;
mod mesh;
mod motion;
mod outing;
mod panel;
mod search;
mod solved;

use super::answers::Cause;
use super::beside::{Beside, ExitAnswers};
use super::equation::Equation;
use super::error::RideError;
use super::options::RideOptions;
use super::result::Ride;
use super::station::Body;
use crate::geometry::Line;
use motion::Model;
use outing::Outing;

/// The ride of who leans.
pub(super) fn ride(
    line: &Line,
    body: Body,
    equation: Equation,
    options: &RideOptions,
) -> Result<Ride, RideError> {
    Ok(outing(line, body, equation, options).ride(None)?.0)
}

/// The same with how its exit answers to some causes, of entry speed, rolling and drag, and to what moves the line; nothing where
/// it does not come there.
pub(super) fn answers(
    line: &Line,
    body: Body,
    equation: Equation,
    options: &RideOptions,
    asked: (&[Cause], &Beside),
) -> Result<(Ride, ExitAnswers), RideError> {
    outing(line, body, equation, options).ride(Some(asked))
}

fn outing<'a>(
    line: &'a Line,
    body: Body,
    equation: Equation,
    options: &'a RideOptions,
) -> Outing<'a> {
    let Body { com_height, rotating, bike } = body;
    let model = Model { equation, com_height, rotating, datum: 0.0 };
    Outing::new(line, model, bike, options)
}
