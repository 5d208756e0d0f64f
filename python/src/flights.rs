//! Many flights at once, by hand, as arrays.

use crate::air::Air;
use crate::arrays;
use crate::columns::columns_class;
use crate::errors::Failure;
use crate::ground::Ground;
use crate::rider::Rider;
use crate::watch::Crew;
use loamline::touchdown::batch::{Columns, Launches, Status};
use numpy::PyUntypedArrayMethods;
use pyo3::prelude::*;

/// Flights that a thread takes at a time.
const ONE_PIECE: usize = 1024;

columns_class! {
    /// Many flights, the same fields as a touchdown's as arrays; a row per flight.
    ///
    /// Made by `flights(...)`. A row that has no touch is NaN, and its `status` says why.
    class Flights of Columns, Status, "flight";
    /// How each came out, (n,) of str: "landed"; on a landing "caught", "short", "long" or "wide";
    /// else "rolled_off", "off_survey", "no_touchdown", "bad_input" (a number that is not finite)
    /// or "failed" (a path that numbers do not hold).
    outcome;
    /// Time from the launch to the touch, s, (n,).
    time: f64 = time;
    /// Speed into the surface, m/s, (n,).
    normal_speed: f64 = normal_speed;
    /// Equivalent fall height, m, (n,).
    fall_height: f64 = fall_height;
    /// Angle between path and surface, degrees, (n,).
    angle_deg: f64 = angle by f64::to_degrees;
    /// Level distance from the centre of mass at the launch to the mark, m, (n,).
    distance: f64 = distance;
    /// How far the mark is below that, m, (n,).
    drop: f64 = drop;
    /// Speed over the surface, forward, m/s, (n,).
    along_speed: f64 = along_speed;
    /// Speed over the surface to the left of forward, m/s, (n,).
    sideways_speed: f64 = sideways_speed;
    /// Grip that stopping the sideways speed would take, (n,).
    grip_demand: f64 = grip_demand;
    /// Distance to the ground less reach, m, (n,).
    residual: f64 = residual;
    /// The tyres' mark, m, (n, 3).
    mark: [f64; 3] = mark;
    /// Velocity of the centre of mass at the touch, m/s, (n, 3).
    velocity: [f64; 3] = velocity;
    /// Unit vector from the touched place to the centre of mass, (n, 3).
    normal: [f64; 3] = normal;
}

/// Many flights at once: as `Launch(position, velocity).flight(...)` row by row, in parallel.
///
/// Onto a plane within 1e-8 m of that, onto a grid or a survey, and the landings on it, within 1e-6 m;
/// onto all other grounds exactly that. The same numbers to the last bit on any number of threads of one machine. A row with a
/// number that is not finite gives NaN and the status "bad_input", and the other rows as ever.
///
/// Args:
///     position: of the centre of mass, m, (n, 3).
///     velocity: of the centre of mass, m/s, (n, 3).
///     ground, rider, air: onto what, who, through what.
///     threads: how many; None takes as many as the machine has.
///     out: Flights of the same n whose arrays are written over and given back.
///     progress: True for a line on standard error, or a function of (done, total) that may
///         return False to stop.
///
/// Raises:
///     InputError: arrays whose shapes do not fit.
///     Cancelled: stopped by the progress function.
///
/// >>> import loamline as ll
/// >>> many = ll.flights([(0, 0, 2)], [(6, 0, 0)], ll.Ground.plane(), ll.Rider(cda=0.0), ll.Air())
/// >>> many.fall_height.round(9).tolist()
/// [1.0]
#[pyfunction]
#[pyo3(signature = (position, velocity, ground, rider, air, threads=None, out=None, progress=None))]
pub fn flights<'py>(
    py: Python<'py>,
    position: &Bound<'py, PyAny>,
    velocity: &Bound<'py, PyAny>,
    ground: &Ground,
    rider: &Rider,
    air: &Air,
    threads: Option<usize>,
    out: Option<Bound<'py, Flights>>,
    progress: Option<Bound<'py, PyAny>>,
) -> Result<Bound<'py, Flights>, Failure> {
    let from = arrays::table("position", position, 3)?;
    let with = arrays::table("velocity", velocity, 3)?;
    let n = from.shape()[0];
    if with.shape()[0] != n {
        return Err(Failure::shape("velocity", velocity, &format!("({n}, 3)")));
    }
    let out = Flights::over(py, out, n)?;
    let (from, with) = (arrays::in_rows(&from), arrays::in_rows(&with));
    let launches = Launches { position: from.as_chunks().0, velocity: with.as_chunks().0 };
    let batch = ground.batch(&rider.core, &air.core)?;
    let work =
        |columns: &mut Columns<'_>, crew: &Crew<'_>| batch.flights_into(launches, columns, crew);
    // One piece of work is one thread's, whatever the machine has.
    let threads = threads.or((n <= ONE_PIECE).then_some(1));
    out.get().write(py, threads, progress, work)?;
    Ok(out)
}
