//! Rides of who leans as balance asks: the contact force passes through the centre of mass at every station.
//!
//! Lean and energy are solved together as a boundary-value problem by Gauss collocation, never by marching: a lean
//! that is a little off falls over. What is bound at the start is the static lean, at the edge no swing across
//! (balanced) or the static lean again (settled).

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
    let Body { com_height, rotating, bike } = body;
    let model = Model { equation, com_height, rotating, datum: 0.0 };
    Outing::new(line, model, bike, options).ride()
}
