//! A flight in short steps, checked in between: through rest in the air, where the drag has a kink, and under any
//! acceleration of time, place and velocity.

use super::error::FlightError;
use crate::math::Vec3;
use crate::math::ode::{Options, integrate};
use crate::math::path::{Motion, Piece};
use nalgebra::SVector;
use std::convert::Infallible;

/// Tolerance of a step, in metres and metres a second, of place and velocity since the stretch's start.
const TOLERANCE: f64 = 1e-12;
/// What the quintic between two steps may be off; metres.
const BETWEEN: f64 = 3e-11;
/// Steps are halved this often at most: past it they are shorter than rounding lets the error be seen.
const MOST_HALVINGS: usize = 12;

/// The acceleration at a time, place and velocity.
pub(super) type Pull<'a> = dyn Fn(f64, &Vec3, &Vec3) -> Vec3 + 'a;

type State = SVector<f64, 6>;

/// The pieces that follow a motion until a time.
pub(super) fn stretch(
    from: &Motion,
    pull: &Pull<'_>,
    until: f64,
) -> Result<Vec<Piece>, FlightError> {
    let mut pieces = Vec::new();
    let mut last = *from;
    for node in steps(from, pull, until, until - from.time)? {
        add(&mut pieces, &last, &node, pull, MOST_HALVINGS)?;
        last = node;
    }
    Ok(pieces)
}

/// Adds the piece between two motions, or finer ones where it is not good enough.
fn add(
    pieces: &mut Vec<Piece>,
    from: &Motion,
    to: &Motion,
    pull: &Pull<'_>,
    halvings: usize,
) -> Result<(), FlightError> {
    let piece = Piece::between(from, to);
    if halvings == 0 || error_of(&piece, from, to, pull) <= BETWEEN {
        pieces.push(piece);
        return Ok(());
    }
    let mut last = *from;
    for node in steps(from, pull, to.time, 0.5 * (to.time - from.time))? {
        add(pieces, &last, &node, pull, halvings - 1)?;
        last = node;
    }
    Ok(())
}

/// The accepted steps after a motion, the last at `until`.
fn steps(
    from: &Motion,
    pull: &Pull<'_>,
    until: f64,
    max_step: f64,
) -> Result<Vec<Motion>, FlightError> {
    let rhs = |time: f64, y: &State| {
        let (moved, v): (Vec3, Vec3) = (y.fixed_rows::<3>(0).into(), y.fixed_rows::<3>(3).into());
        let a = pull(time, &(from.position + moved), &v);
        Ok::<_, Infallible>(State::new(v.x, v.y, v.z, a.x, a.y, a.z))
    };
    let mut start = State::zeros();
    start.fixed_rows_mut::<3>(3).copy_from(&from.velocity);
    let options = Options::new(TOLERANCE, TOLERANCE).with_max_step(max_step);
    let steps = integrate(rhs, from.time, start, until, &options)?;
    let motions = steps.x.iter().zip(&steps.y).zip(&steps.dy).skip(1);
    Ok(motions
        .map(|((time, y), dy)| Motion {
            time: *time,
            position: from.position + y.fixed_rows::<3>(0),
            velocity: y.fixed_rows::<3>(3).into(),
            acceleration: dy.fixed_rows::<3>(3).into(),
        })
        .collect())
}

/// How far the quintic between two motions is off the path, by how badly its middle obeys the equation of motion.
///
/// Its error is `x'''''' (s (s - h))^3 / 720`: `h^6 x'''''' / 46080` in the middle, where its second derivative, the
/// defect, is 24 / h^2 times as large.
fn error_of(piece: &Piece, a: &Motion, b: &Motion, pull: &Pull<'_>) -> f64 {
    let h = b.time - a.time;
    let middle = piece.motion(a.time + 0.5 * h);
    let wanted = pull(middle.time, &middle.position, &middle.velocity);
    (middle.acceleration - wanted).norm() * h * h / 24.0
}
