//! How the two rides before a launch answer to what goes into them.
//!
//! A ride square to the surface answers by its energy equation made linear along it, a leaning one by the theorem of implicit
//! functions on the equations that it solves: exact to about 1e-9. Two things are taken from close by instead: the place of
//! leaving, which moves the whole line of the takeoff, from rides (solved to about 1e-11, and smooth in what goes into them: good
//! to about 1e-7), and how far the bike has turned at the edge from launches. From there on, derivatives are those of the
//! equations.

use super::course::{Course, Crossing, Down, Over, Track};
use super::miss::Miss;
use crate::force::Forces;
use crate::ride::{Cause, Exit, ExitAnswer, Lean, Ride, Row, Samples};
use crate::rider::Rider;
use nalgebra::{DMatrix, SMatrix, SVector, Vector3};

/// Steps for speed and place of leaving.
const SPEED_STEP: f64 = 1e-3;
const LEAVE_STEP: f64 = 7e-4;

/// Numbers of a crossing: place, velocity, up, and the attitude's up, three each; speed, time.
pub(super) const CROSSED: usize = 14;
/// How they answer to speed, place of leaving, resistance, drag area.
pub(super) type Crossed = SMatrix<f64, CROSSED, 4>;
/// How they answer to one of these.
type Column = SVector<f64, CROSSED>;

/// A range that a number must not be moved out of.
struct Range {
    low: f64,
    high: f64,
}

/// The derivative of `f` at `x`, from both sides where there is room, otherwise from one, to the same order.
fn slope(
    x: f64,
    step: f64,
    range: &Range,
    f: impl Fn(f64) -> Result<Column, Miss>,
) -> Result<Column, Miss> {
    if x - step >= range.low && x + step <= range.high {
        return Ok((f(x + step)? - f(x - step)?) * (0.5 / step));
    }
    let way = if x - step < range.low { step } else { -step };
    let (here, near, far) = (f(x)?, f(x + way)?, f(x + 2.0 * way)?);
    // (4 near - 3 here - far) / 2: exact for a parabola, as from both sides.
    Ok(((near - here) * 3.0 - (far - near)) * (0.5 / way))
}

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
    let numbers = |leave| Ok(course.over(&Over { leave, ..*over }, lean, timed)?.numbers());
    let places = Range { low: course.places.low, high: course.places.high };
    let leave = slope(over.leave, LEAVE_STEP, &places, numbers)?;
    let rider = course.rider(over.crr, over.cda)?;
    let (line, options) = course.onto_takeoff(over, lean, timed)?;
    let causes = [Cause::Speed, Cause::Rolling, Cause::Drag];
    let (ride, answers) = line.exit_answers(&rider, &course.air, &options, &causes)?;
    let exit = ride.reached()?;
    let columns = answers.iter().map(|answer| at_edge(&ride, exit, answer));
    let columns = columns.collect::<Result<Vec<Column>, Miss>>()?;
    let drag = drag_of_one(course, &rider)?;
    Ok(Crossed::from_columns(&[columns[0], leave, columns[1], columns[2] * drag]))
}

/// How a crossing's numbers answer to what the rider at the edge answers so to. How far the bike has turned there while only its
/// rear wheel was on is taken from launches close by.
fn at_edge(ride: &Ride, exit: &Exit, answer: &ExitAnswer) -> Result<Column, Miss> {
    let up = |by: f64| -> Result<Vector3<f64>, Miss> {
        let (speed, up) = (exit.speed + by * answer.speed, exit.up + answer.up * by);
        let exit = Some(Exit { up, speed, ..*exit });
        let ride = Ride { samples: Samples::default(), exit, ..ride.clone() };
        Ok(ride.launch(0.0)?.attitude.map_or(up, |attitude| attitude.u))
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

impl Crossing {
    fn numbers(&self) -> Column {
        let u = self.launch.attitude.as_ref().map_or(self.up, |attitude| attitude.u);
        let vectors = [self.launch.position, self.launch.velocity, self.up, u];
        let mut all = Column::zeros();
        for (i, vector) in vectors.iter().enumerate() {
            all.fixed_rows_mut::<3>(3 * i).copy_from(vector);
        }
        all[12] = self.speed;
        all[13] = self.time;
        all
    }
}
