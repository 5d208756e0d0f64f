//! Many flights of rider and bike as one rigid body, as arrays.

use crate::air::Air;
use crate::arrays::{self, Table, Triple};
use crate::columns::columns_class;
use crate::errors::Failure;
use crate::flight::Flight;
use crate::ground::Ground;
use crate::rider::Rider;
use crate::units::degrees;
use crate::watch::Crew;
use loamline::flight::RigidOptions;
use loamline::touchdown::batch::{RigidBatch, RigidColumns, RigidLaunches, Status};
use numpy::{AllowTypeChange, PyArrayLike3, PyUntypedArrayMethods};
use pyo3::prelude::*;

columns_class! {
    /// Many rigid flights, the same fields as a touchdown's as arrays; a row per flight.
    ///
    /// Made by `rigid_flights(...)`. A row that has no touch is NaN, and its `status` says why. Vectors of
    /// turning are roll, pitch and yaw: positive leans right, turns the nose down, turns left.
    class RigidFlights of RigidColumns, Status, "flight";
    /// How each came out, (n,) of str: "landed"; on a landing "caught", "short", "long" or "wide";
    /// else "rolled_off", "off_survey", "no_touchdown", "bad_input" (a number that is not finite or out
    /// of its range, or axes that are no attitude) or "failed" (what numbers do not hold).
    outcome;
    /// Time from the launch to the touch, s, (n,).
    time: f64 = time;
    /// Speed into the surface, m/s, (n,).
    normal_speed: f64 = normal_speed;
    /// Equivalent fall height, m, (n,).
    fall_height: f64 = fall_height;
    /// Angle between path and surface, degrees, (n,).
    angle_deg: f64 = angle by degrees;
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
    /// Lean still owed at the touch, degrees, (n,).
    lean_owed_deg: f64 = lean_owed by degrees;
    /// Distance to the ground less reach, m, (n,).
    residual: f64 = residual;
    /// The tyres' mark, m, (n, 3).
    mark: [f64; 3] = mark;
    /// Velocity of the centre of mass at the touch, m/s, (n, 3).
    velocity: [f64; 3] = velocity;
    /// Unit vector from the touched place to the centre of mass, (n, 3).
    normal: [f64; 3] = normal;
    /// Which way the bike points at the touch, if the rider did nothing but what his torque did: unit
    /// vectors forward, left and up, (n, 3, 3) in rows.
    attitude: [[f64; 3]; 3] = attitude;
    /// The attitude that the landing wants, (n, 3, 3) in rows: forward along the velocity over the
    /// surface, upright on it.
    wanted_attitude: [[f64; 3]; 3] = wanted;
    /// How the bike turns at the touch, degrees/s, (n, 3).
    rates_deg: [f64; 3] = rates by to_degrees;
    /// The turn still owed, degrees, (n, 3): its axis times its angle.
    turn_owed_deg: [f64; 3] = owed by degrees;
    /// The constant rate that would pay it over the whole time of flight, degrees/s, (n, 3).
    rate_to_pay_deg: [f64; 3] = rate_to_pay by to_degrees;
    /// The constant torque that would pay it over that time, each axis by itself, N m, (n, 3).
    torque_to_pay: [f64; 3] = torque_to_pay;
    /// Angle between bike and surface, degrees, nose up positive, (n,): above 0 the rear wheel touches
    /// first, below it the front one.
    pitch_to_surface_deg: f64 = pitch_to_surface by degrees;
    /// How much higher the other wheel is then, m, (n,).
    wheel_gap: f64 = gap;
    /// Time until the other wheel touches at the speed into the surface, s, (n,).
    between_wheels: f64 = between_wheels;
}

fn to_degrees(radians: f64) -> f64 {
    radians.to_degrees()
}

/// Many flights of rider and bike as one rigid body: as `Launch(position, velocity, attitude,
/// ...).rigid_flight(...)` and its touchdown row by row, to the last bit, in parallel.
///
/// The same numbers on any number of threads. A row with a number that is not finite or out of its
/// range, or with axes that are no attitude, gives NaN and the status "bad_input", and the other rows
/// as ever.
///
/// Args:
///     position: of the centre of mass, m, (n, 3).
///     velocity: of the centre of mass, m/s, (n, 3).
///     attitude: unit vectors forward, left and up through the bike, (n, 3, 3) in rows.
///     ground, rider, air: onto what, who, through what.
///     angular_velocity: rad/s in the site's axes, (n, 3); None is none.
///     tyre_speed: with which the wheels spin, m/s, (n,) or one number; None takes the velocity's part
///         forward.
///     torque: the rider's own constant torque about the bike's forward, left and up axes, N m.
///     righting_rate_deg: how fast a rider who leaves leaning rights himself, degrees/s; None takes 250.
///     threads: how many; None takes as many as the machine has.
///     out: RigidFlights of the same n whose arrays are written over and given back.
///     progress: True for a line on standard error, or a function of (done, total) that may
///         return False to stop.
///
/// Raises:
///     InputError: arrays whose shapes do not fit, or a torque that is not finite.
///     FlightError: a righting rate that is not above 0.
///     Cancelled: stopped by the progress function.
///
/// >>> import loamline as ll
/// >>> scene = (ll.Ground.plane(slope_deg=20), ll.Rider(), ll.Air())
/// >>> level = [[(1, 0, 0), (0, 1, 0), (0, 0, 1)]]
/// >>> many = ll.rigid_flights([(0, 0, 2)], [(6, 0, 0)], level, *scene)
/// >>> many.turn_owed_deg.round(6).tolist()
/// [[0.0, 20.0, 0.0]]
#[pyfunction]
#[pyo3(signature = (
    position, velocity, attitude, ground, rider, air, angular_velocity=None, tyre_speed=None,
    torque=Triple::zero(), righting_rate_deg=None, threads=None, out=None, progress=None,
), text_signature = "(position, velocity, attitude, ground, rider, air, angular_velocity=None, tyre_speed=None, torque=(0, 0, 0), righting_rate_deg=None, threads=None, out=None, progress=None)")]
pub fn rigid_flights<'py>(
    py: Python<'py>,
    position: &Bound<'py, PyAny>,
    velocity: &Bound<'py, PyAny>,
    attitude: &Bound<'py, PyAny>,
    ground: &Ground,
    rider: &Rider,
    air: &Air,
    angular_velocity: Option<&Bound<'py, PyAny>>,
    tyre_speed: Option<&Bound<'py, PyAny>>,
    torque: Triple,
    righting_rate_deg: Option<f64>,
    threads: Option<usize>,
    out: Option<Bound<'py, RigidFlights>>,
    progress: Option<Bound<'py, PyAny>>,
) -> Result<Bound<'py, RigidFlights>, Failure> {
    let from = arrays::table("position", position, 3)?;
    let n = from.shape()[0];
    let with = of_rows("velocity", velocity, n)?;
    let axes = axes("attitude", attitude, n)?;
    let turning =
        angular_velocity.map(|rates| of_rows("angular_velocity", rates, n)).transpose()?;
    let turning = turning.as_ref().map_or_else(|| vec![0.0; 3 * n].into(), arrays::in_rows);
    let spin = tyre_speed.map(|speed| arrays::column_or_one("tyre_speed", speed, n)).transpose()?;
    let flight = Flight::options(righting_rate_deg)?;
    let options = RigidOptions { flight, torque: torque.named("torque")? };
    let out = RigidFlights::over(py, out, n)?;
    let (from, with) = (arrays::in_rows(&from), arrays::in_rows(&with));
    let launches = RigidLaunches {
        position: from.as_chunks().0,
        velocity: with.as_chunks().0,
        attitude: axes.as_chunks().0.as_chunks().0,
        angular_velocity: turning.as_chunks().0,
        tyre_speed: spin.as_deref(),
    };
    let batch = RigidBatch::new(&ground.core, &rider.core, &air.core, options)?;
    let work = |columns: &mut RigidColumns<'_>, crew: &Crew<'_>| {
        batch.flights_into(launches, columns, crew)
    };
    out.get().write(py, threads, progress, work)?;
    Ok(out)
}

/// A table of so many rows of three.
fn of_rows<'py>(
    field: &str,
    argument: &Bound<'py, PyAny>,
    rows: usize,
) -> Result<Table<'py>, Failure> {
    let table = arrays::table(field, argument, 3)?;
    if table.shape()[0] == rows {
        return Ok(table);
    }
    Err(Failure::shape(field, argument, &format!("({rows}, 3)")))
}

/// The numbers of so many sets of three axes, row after row.
fn axes(field: &str, argument: &Bound<'_, PyAny>, rows: usize) -> Result<Vec<f64>, Failure> {
    let wrong = || Failure::shape(field, argument, &format!("({rows}, 3, 3)"));
    let array: PyArrayLike3<'_, f64, AllowTypeChange> = argument.extract().map_err(|_| wrong())?;
    if array.shape() == [rows, 3, 3] {
        Ok(array.as_array().iter().copied().collect())
    } else {
        Err(wrong())
    }
}
