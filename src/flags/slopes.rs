//! How the two rides before a launch answer to what goes into them.
//!
//! A ride square to the surface answers by its energy equation made linear along it, a leaning one by the theorem of implicit
//! functions on the equations that it solves; so they do to the place of leaving, which moves the whole line of the takeoff and
//! puts into these equations what lines close by say. All is exact to about 1e-9. How far the bike has turned at the edge, some
//! degrees by which the rider is not upright when he leaves, is taken from launches close by. From there on, derivatives are
//! those of the equations.

use super::course::{Course, Down, Over, Track};
use super::miss::Miss;
use crate::force::Forces;
use crate::launch::Launch;
use crate::ride::{Cause, Exit, ExitAnswer, Lean, Ride, Row, Samples};
use crate::rider::Rider;
use nalgebra::{DMatrix, SMatrix, SVector, Vector3};

/// How far the speed at the edge is moved to see how far the bike turns there, m/s.
const SPEED_STEP: f64 = 1e-3;

/// Numbers of a crossing: place, velocity, up, and the attitude's up, three each; speed, time.
pub(super) const CROSSED: usize = 14;
/// How they answer to speed, place of leaving, resistance, drag area.
pub(super) type Crossed = SMatrix<f64, CROSSED, 4>;
/// How they answer to one of these.
type Column = SVector<f64, CROSSED>;

/// Drag per mass over the square of the air speed, of a square metre of drag area.
fn drag_of_one(course: &Course, rider: &Rider) -> Result<f64, Miss> {
    Ok(Forces::new(&rider.clone().with_cda(1.0)?, &course.air).k())
}

/// How an arrival answers to resistance, drag area, brake and start: rows are its numbers, speed and time, then time and
/// speed at each gate.
pub(super) fn of_arrival(
    course: &Course,
    down: &Down,
    leave: f64,
    gates: &[f64],
) -> Result<DMatrix<f64>, Miss> {
    let Track { rider, line, options } = course.down(down, !gates.is_empty())?;
    let stations = course.stations(&line, gates)?;
    let (ride, answers) = line.answers(&rider, &course.air, &options, &stations)?;
    let entry = course.entry(leave)?;
    let speed = ride.carry_to(&entry, &rider, &course.air)?;
    // Whom the speed check brakes comes as fast whatever he did before.
    let mut rows = if course.checked(speed) < speed {
        vec![Row::default()]
    } else {
        vec![answers.carried(&entry, &rider, speed)]
    };
    rows.push(answers.time);
    rows.extend(answers.seen.iter().flat_map(|seen| [seen.time_by, seen.speed_by]));
    let drag = drag_of_one(course, &rider)?;
    // A start farther up the hill is earlier on the line.
    let causes =
        [(Cause::Rolling, 1.0), (Cause::Drag, drag), (Cause::Brake, 1.0), (Cause::Start, -1.0)];
    Ok(DMatrix::from_fn(rows.len(), causes.len(), |i, j| {
        let (cause, factor) = causes[j];
        rows[i].by(cause) * factor
    }))
}

/// How a crossing answers to speed, place of leaving, resistance and drag area.
pub(super) fn of_crossing(
    course: &Course,
    over: &Over,
    lean: Lean,
    timed: bool,
) -> Result<Crossed, Miss> {
    let rider = course.rider(over.crr, over.cda)?;
    let (line, options) = course.onto_takeoff(over, lean, timed)?;
    let causes = [Cause::Speed, Cause::Rolling, Cause::Drag];
    let beside = course.beside(over)?;
    let (ride, answers) = line.exit_answers(&rider, &course.air, &options, &causes, &beside)?;
    let exit = ride.reached()?;
    let columns = answers.by_cause.iter().map(|answer| at_edge(&ride, exit, answer));
    let columns = columns.collect::<Result<Vec<Column>, Miss>>()?;
    let mut leave = Column::zeros();
    if let Some(moved) = &answers.moved {
        for (weight, exit) in &moved.exits {
            leave += at_exit(&ride, exit)? * *weight;
        }
        leave[13] = moved.time;
    }
    let drag = drag_of_one(course, &rider)?;
    Ok(Crossed::from_columns(&[columns[0], leave, columns[1], columns[2] * drag]))
}

/// The numbers of a crossing that comes to this exit, but for its time.
fn at_exit(ride: &Ride, exit: &Exit) -> Result<Column, Miss> {
    let launch = launched(ride, exit)?;
    let u = launch.attitude.as_ref().map_or(exit.up, |attitude| attitude.u);
    let mut all = Column::zeros();
    for (i, vector) in [launch.position, launch.velocity, exit.up, u].iter().enumerate() {
        all.fixed_rows_mut::<3>(3 * i).copy_from(vector);
    }
    all[12] = exit.speed;
    Ok(all)
}

/// The launch of a ride that had come to another exit.
fn launched(ride: &Ride, exit: &Exit) -> Result<Launch, Miss> {
    let ride = Ride { samples: Samples::default(), exit: Some(*exit), ..ride.clone() };
    Ok(ride.launch(0.0)?)
}

/// How a crossing's numbers answer to what the rider at the edge answers so to. How far the bike has turned there while only its
/// rear wheel was on is taken from launches close by.
fn at_edge(ride: &Ride, exit: &Exit, answer: &ExitAnswer) -> Result<Column, Miss> {
    let up = |by: f64| -> Result<Vector3<f64>, Miss> {
        let (speed, up) = (exit.speed + by * answer.speed, exit.up + answer.up * by);
        let launch = launched(ride, &Exit { up, speed, ..*exit })?;
        Ok(launch.attitude.map_or(up, |attitude| attitude.u))
    };
    let mut column = Column::zeros();
    let size = answer.speed.abs() + answer.up.norm();
    if size > 0.0 {
        let step = SPEED_STEP / size;
        column.fixed_rows_mut::<3>(9).copy_from(&((up(step)? - up(-step)?) * (0.5 / step)));
    }
    column.fixed_rows_mut::<3>(0).copy_from(&answer.position);
    column.fixed_rows_mut::<3>(3).copy_from(&answer.velocity);
    column.fixed_rows_mut::<3>(6).copy_from(&answer.up);
    column[12] = answer.speed;
    column[13] = answer.time;
    Ok(column)
}
