//! How the two rides before a launch answer to what goes into them.
//!
//! Rides are solved to about 1e-11, and smooth in what goes into them, so their derivatives are taken from rides close by:
//! good to about 1e-8 with steps of millimetres a second. From the launch on, derivatives are those of the equations.

use super::course::{Arrival, Course, Crossing, Down, Over};
use super::miss::Miss;
use crate::ride::Lean;
use nalgebra::{DMatrix, SMatrix, SVector};

/// Steps for resistance, drag area, brake, start, speed and place of leaving.
const CRR_STEP: f64 = 3e-4;
const CDA_STEP: f64 = 4e-3;
const BRAKE_STEP: f64 = 2e-3;
const START_STEP: f64 = 4e-3;
const SPEED_STEP: f64 = 1e-3;
const LEAVE_STEP: f64 = 7e-4;

/// Numbers of a crossing: place, velocity, up, and the attitude's up, three each; speed, time.
pub(super) const CROSSED: usize = 14;
/// How they answer to speed, place of leaving, resistance, drag area.
pub(super) type Crossed = SMatrix<f64, CROSSED, 4>;

/// A range that a number must not be moved out of.
struct Range {
    low: f64,
    high: f64,
}

const UP_FROM_ZERO: Range = Range { low: 0.0, high: f64::INFINITY };

/// The derivative of `f` at `x`, from both sides where there is room, otherwise from one, to the same order.
fn slope<T>(x: f64, step: f64, range: &Range, f: impl Fn(f64) -> Result<T, Miss>) -> Result<T, Miss>
where
    T: Clone + std::ops::Sub<Output = T> + std::ops::Mul<f64, Output = T>,
{
    if x - step >= range.low && x + step <= range.high {
        return Ok((f(x + step)? - f(x - step)?) * (0.5 / step));
    }
    let way = if x - step < range.low { step } else { -step };
    let (here, near, far) = (f(x)?, f(x + way)?, f(x + 2.0 * way)?);
    // (4 near - 3 here - far) / 2: exact for a parabola, as from both sides.
    Ok(((near.clone() - here.clone()) * 3.0 - (far - near)) * (0.5 / way))
}

/// How an arrival answers to resistance, drag area, brake and start: rows are its numbers.
pub(super) fn of_arrival(
    course: &Course,
    down: &Down,
    leave: f64,
    gates: &[f64],
) -> Result<DMatrix<f64>, Miss> {
    let numbers =
        |down: Down| Ok(nalgebra::DVector::from_vec(course.arrive(&down, leave, gates)?.numbers()));
    let top =
        Range { low: gates.iter().fold(START_STEP, |a: f64, b| a.max(*b)), high: course.top() };
    let columns = [
        slope(down.crr, CRR_STEP, &UP_FROM_ZERO, |crr| numbers(Down { crr, ..*down }))?,
        slope(down.cda, CDA_STEP, &UP_FROM_ZERO, |cda| numbers(Down { cda, ..*down }))?,
        slope(down.brake, BRAKE_STEP, &UP_FROM_ZERO, |brake| numbers(Down { brake, ..*down }))?,
        slope(down.start, START_STEP, &top, |start| numbers(Down { start, ..*down }))?,
    ];
    Ok(DMatrix::from_columns(&columns))
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
    let columns = [
        slope(over.speed, SPEED_STEP, &UP_FROM_ZERO, |speed| numbers(Over { speed, ..*over }))?,
        slope(over.leave, LEAVE_STEP, &places, |leave| numbers(Over { leave, ..*over }))?,
        slope(over.crr, CRR_STEP, &UP_FROM_ZERO, |crr| numbers(Over { crr, ..*over }))?,
        slope(over.cda, CDA_STEP, &UP_FROM_ZERO, |cda| numbers(Over { cda, ..*over }))?,
    ];
    Ok(Crossed::from_columns(&columns))
}

impl Arrival {
    /// Speed, time, then time and speed at each gate.
    fn numbers(&self) -> Vec<f64> {
        let gates = self.gates.iter().flat_map(|(time, speed)| [*time, *speed]);
        [self.speed, self.time].into_iter().chain(gates).collect()
    }
}

impl Crossing {
    fn numbers(&self) -> SVector<f64, CROSSED> {
        let u = self.launch.attitude.as_ref().map_or(self.up, |attitude| attitude.u);
        let vectors = [self.launch.position, self.launch.velocity, self.up, u];
        let mut all = SVector::<f64, CROSSED>::zeros();
        for (i, vector) in vectors.iter().enumerate() {
            all.fixed_rows_mut::<3>(3 * i).copy_from(vector);
        }
        all[12] = self.speed;
        all[13] = self.time;
        all
    }
}
