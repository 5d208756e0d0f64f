//! The flight with drag: integrated, and checked between the steps.

use super::error::FlightError;
use crate::force::Forces;
use crate::math::Vec3;
use crate::math::ode::{Options, integrate};
use crate::math::path::{Motion, Quintic};
use nalgebra::SVector;
use std::convert::Infallible;

/// The flight is integrated in stretches of this length, so that little is flown past the ground; seconds.
pub(super) const CHUNK: f64 = 0.5;
/// Tolerance of a step, in metres and metres a second, of place and velocity since the stretch's start.
const TOLERANCE: f64 = 1e-12;
/// What the quintic between two steps may be off; metres.
const BETWEEN: f64 = 3e-11;
/// Steps are halved this often at most: past it they are shorter than rounding lets the error be seen.
const MOST_HALVINGS: usize = 12;

type State = SVector<f64, 6>;

/// Flies on from the last node until a time, adding nodes.
pub(super) fn extend(
    nodes: &mut Vec<Motion>,
    forces: &Forces,
    until: f64,
) -> Result<(), FlightError> {
    let Some(from) = nodes.last().copied() else { return Ok(()) };
    let step = longest_step(&from, forces, until - from.time);
    for node in stretch(&from, forces, until, step)? {
        add(nodes, node, forces, MOST_HALVINGS)?;
    }
    Ok(())
}

/// Adds a node, and where the quintic up to it is not good enough, nodes before it.
fn add(
    nodes: &mut Vec<Motion>,
    node: Motion,
    forces: &Forces,
    halvings: usize,
) -> Result<(), FlightError> {
    let Some(before) = nodes.last().copied() else { return Ok(()) };
    if halvings == 0 || error_between(&before, &node, forces) <= BETWEEN {
        nodes.push(node);
        return Ok(());
    }
    for finer in stretch(&before, forces, node.time, 0.5 * (node.time - before.time))? {
        add(nodes, finer, forces, halvings - 1)?;
    }
    Ok(())
}

/// The accepted steps after a motion, the last at `until`.
fn stretch(
    from: &Motion,
    forces: &Forces,
    until: f64,
    max_step: f64,
) -> Result<Vec<Motion>, FlightError> {
    let rhs = |_: f64, y: &State| Ok::<_, Infallible>(rate(y, forces));
    let mut start = State::zeros();
    start.fixed_rows_mut::<3>(3).copy_from(&from.velocity);
    let options =
        Options::new(TOLERANCE, TOLERANCE).with_max_step(max_step).with_first_step(max_step);
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

fn rate(y: &State, forces: &Forces) -> State {
    let velocity: Vec3 = y.fixed_rows::<3>(3).into();
    let acceleration = forces.gravity() + forces.drag(velocity);
    let (v, a) = (velocity, acceleration);
    State::new(v.x, v.y, v.z, a.x, a.y, a.z)
}

/// How far the quintic between two motions is off the path, by how badly its middle obeys the equation of motion.
///
/// Its error is `x'''''' (s (s - h))^3 / 720`: `h^6 x'''''' / 46080` in the middle, where its second derivative, the
/// defect, is 24 / h^2 times as large.
fn error_between(a: &Motion, b: &Motion, forces: &Forces) -> f64 {
    let h = b.time - a.time;
    let middle = Quintic::between(a, b).motion(a.time + 0.5 * h);
    let wanted = forces.gravity() + forces.drag(middle.velocity);
    (middle.acceleration - wanted).norm() * h * h / 24.0
}

/// A step over which the quintic should be good enough, from the drag's distance to its kink at rest in the air.
///
/// With `u` the air speed, drag `k u^2` changes on the time scale `u / g`, so `x''''''` is about `24 k g^4 / u^2`.
fn longest_step(from: &Motion, forces: &Forces, duration: f64) -> f64 {
    let through_air = from.velocity - forces.wind();
    let later = through_air.z - forces.g() * duration;
    let climb =
        if through_air.z * later > 0.0 { through_air.z.abs().min(later.abs()) } else { 0.0 };
    let slowest = through_air.xy().norm_squared() + climb * climb;
    let sixth = 24.0 * forces.k() * forces.g().powi(4) / slowest.max(1e-3);
    (46080.0 * BETWEEN / sixth).powf(1.0 / 6.0).min(duration)
}
