//! How the two rides before a launch answer to what goes into them.
//!
//! A ride square to the surface answers by its energy equation made linear along it: exact to about 1e-9. Two
//! things are taken from rides close by instead: the place of leaving, which moves the whole line of the takeoff, and on takeoffs
//! that are leant on everything. Such rides are solved to about 1e-11, and smooth in what goes into them: good to about
//! 1e-8. From the launch on, derivatives are those of the equations.

use super::course::{Course, Crossing, Down, Over, Track};
use super::miss::Miss;
use crate::force::Forces;
use crate::ride::{Answers, Cause, Exit, Lean, Ride, Row};
use crate::rider::Rider;
use nalgebra::{DMatrix, SMatrix, SVector, Vector3};

/// Steps for resistance, drag area, speed and place of leaving.
const CRR_STEP: f64 = 3e-4;
const CDA_STEP: f64 = 4e-3;
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

const UP_FROM_ZERO: Range = Range { low: 0.0, high: f64::INFINITY };

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
    let numbers = |over: Over| Ok(course.over(&over, lean, timed)?.numbers());
    let places = Range { low: course.places.low, high: course.places.high };
    let leave = slope(over.leave, LEAVE_STEP, &places, |leave| numbers(Over { leave, ..*over }))?;
    let [speed, crr, cda] = if lean == Lean::Deck {
        of_deck(course, over, timed)?
    } else {
        [
            slope(over.speed, SPEED_STEP, &UP_FROM_ZERO, |speed| numbers(Over { speed, ..*over }))?,
            slope(over.crr, CRR_STEP, &UP_FROM_ZERO, |crr| numbers(Over { crr, ..*over }))?,
            slope(over.cda, CDA_STEP, &UP_FROM_ZERO, |cda| numbers(Over { cda, ..*over }))?,
        ]
    };
    Ok(Crossed::from_columns(&[speed, leave, crr, cda]))
}

/// How a crossing square to the surface answers to speed, resistance and drag area.
fn of_deck(course: &Course, over: &Over, timed: bool) -> Result<[Column; 3], Miss> {
    let rider = course.rider(over.crr, over.cda)?;
    let (line, options) = course.onto_takeoff(over, Lean::Deck, timed)?;
    let (ride, answers) = line.answers(&rider, &course.air, &options, &[])?;
    let exit = ride.reached()?;
    let by_speed = by_exit_speed(&ride, exit)?;
    let Answers { energy, time, .. } = answers;
    // The line stays: all that changes at its end is the speed, and E goes with its square.
    let column = |cause: Cause, factor: f64| {
        let mut column = by_speed * (factor * energy.by(cause) * exit.speed / (2.0 * exit.energy));
        column[13] = factor * time.by(cause);
        column
    };
    let entry = 2.0 * ride.ledger.start / over.speed;
    Ok([
        column(Cause::Energy, entry),
        column(Cause::Rolling, 1.0),
        column(Cause::Drag, drag_of_one(course, &rider)?),
    ])
}

/// How a crossing's numbers, its time apart, change with the speed at the edge. How far the bike has turned there while only its
/// rear wheel was on is taken from launches at speeds close by.
fn by_exit_speed(ride: &Ride, exit: &Exit) -> Result<Column, Miss> {
    let up = |speed: f64| -> Result<Vector3<f64>, Miss> {
        let mut ride = Ride { samples: Default::default(), ..ride.clone() };
        ride.exit = Some(Exit { speed, ..*exit });
        Ok(ride.launch(0.0)?.attitude.map_or(exit.up, |attitude| attitude.u))
    };
    let step = SPEED_STEP;
    let turns = (up(exit.speed + step)? - up(exit.speed - step)?) * (0.5 / step);
    let mut column = Column::zeros();
    column.fixed_rows_mut::<3>(3).copy_from(&(exit.velocity() / exit.speed));
    column.fixed_rows_mut::<3>(9).copy_from(&turns);
    column[12] = 1.0;
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
