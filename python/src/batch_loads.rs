//! What bike and body take in many landings, as arrays.

use crate::arrays;
use crate::columns::columns_class;
use crate::errors::Failure;
use crate::loads::{chain_from, softness};
use crate::rider::Rider;
use crate::watch::Crew;
use loamline::load::batch::{Batch, BatchOptions, Columns, Impacts, Status};
use pyo3::prelude::*;

columns_class! {
    /// What bike and body take in many landings, the same numbers as of one as arrays; a row per landing.
    ///
    /// Made by `loads(...)`. A row that has no loads is NaN, and its `status` says why. The legs' stroke
    /// rules the result: look at the band (`Rider.loads(...).band`) beside it. Injury is not predicted.
    class BatchLoads of Columns, Status, "landing";
    /// How each came out, (n,) of str: "stopped"; "not_stopped" (still going down when the record ends),
    /// "bad_input" (a number that is not finite or out of its range) or "failed" (a motion that does not
    /// resolve).
    outcome;
    /// Highest force on the body, N, (n,).
    peak_force: f64 = peak_force;
    /// Highest force on the body in weights of the body (without the bike), (n,).
    peak_bodyweights: f64 = peak_bodyweights;
    /// Time to the highest force on the body, s, (n,).
    peak_time: f64 = peak_time;
    /// The force, in weights, that would have stopped the body over the same way had it been constant,
    /// (n,). NaN where it is not stopped.
    mean_bodyweights: f64 = mean_bodyweights;
    /// How far the body came down after the touch, m, (n,).
    stopping_distance: f64 = stopping_distance;
    /// Impulse that the ground gave over the record, N s, (n,).
    impulse: f64 = impulse;
    /// Highest force of the ground on tyres or feet, N, (n,).
    ground_force: f64 = ground_force;
    /// Highest force in the suspension, N, (n,); NaN where there is none.
    suspension_force: f64 = suspension_force;
    /// How far the suspension was pressed together at most, m, (n,); NaN where there is none.
    suspension_used: f64 = suspension_used;
    /// How far legs and arms were pressed together at most, m, (n,).
    legs_used: f64 = legs_used;
    /// How long the record runs, s, (n,).
    duration: f64 = duration;
    /// Whether the suspension came to its stop, (n,) of bool.
    suspension_bottomed: bool = suspension_bottomed;
    /// Whether legs and arms came to theirs, (n,) of bool.
    legs_bottomed: bool = legs_bottomed;
}

/// What bike and body take in many landings at once: as `rider.loads(normal_speed=..., ...)` row by row,
/// to the last bit, in parallel.
///
/// The same numbers on any number of threads. A row with a number that is not finite or out of its
/// range gives NaN and the status "bad_input", and the other rows as ever.
///
/// Args:
///     normal_speed: speed into the surface, m/s, at least 0, (n,): as `flights(...)` and `passes(...)`
///         give it.
///     rider: who lands.
///     slope_deg: of the surface, degrees, 0 to 90, (n,) or one number.
///     gravity: m/s^2; None is standard gravity.
///     chain: "bike", or "legs" for the body alone, landing on its feet.
///     ground_stiffness: of the ground, N/m, above 0; None is rigid.
///     crush_force: at which the ground is crushed and does not come back, N; None never.
///     threads: how many; None takes as many as the machine has.
///     out: BatchLoads of the same n whose arrays are written over and given back.
///     progress: True for a line on standard error, or a function of (done, total) that may
///         return False to stop.
///
/// Raises:
///     InputError: arrays whose shapes do not fit, a number outside its range, or a rider no heavier
///         than the bike.
///     Cancelled: stopped by the progress function.
///
/// >>> import loamline as ll
/// >>> many = ll.loads([1.0, 3.0, 5.0], ll.Rider())
/// >>> many.peak_bodyweights.round(2).tolist()
/// [2.02, 3.2, 8.64]
#[pyfunction]
#[pyo3(signature = (
    normal_speed, rider, slope_deg=None, *, gravity=None, chain="bike", ground_stiffness=None,
    crush_force=None, threads=None, out=None, progress=None,
), text_signature = "(normal_speed, rider, slope_deg=0.0, *, gravity=None, chain='bike', ground_stiffness=None, crush_force=None, threads=None, out=None, progress=None)")]
pub fn loads<'py>(
    py: Python<'py>,
    normal_speed: &Bound<'py, PyAny>,
    rider: &Rider,
    slope_deg: Option<&Bound<'py, PyAny>>,
    gravity: Option<f64>,
    chain: &str,
    ground_stiffness: Option<f64>,
    crush_force: Option<f64>,
    threads: Option<usize>,
    out: Option<Bound<'py, BatchLoads>>,
    progress: Option<Bound<'py, PyAny>>,
) -> Result<Bound<'py, BatchLoads>, Failure> {
    let normal_speed = arrays::row("normal_speed", normal_speed)?;
    let n = normal_speed.len();
    let slope = slope_deg.map(|slope| arrays::column_or_one("slope_deg", slope, n)).transpose()?;
    let mut slope = slope.unwrap_or_else(|| vec![0.0; n]);
    for slope in &mut slope {
        *slope = slope.to_radians();
    }
    let common = BatchOptions::default();
    let options = BatchOptions {
        onto: chain_from(chain)?,
        gravity: gravity.unwrap_or(common.gravity),
        ground: softness(ground_stiffness, crush_force)?,
    };
    let out = BatchLoads::over(py, out, n)?;
    let batch = Batch::new(&rider.core, options)?;
    let impacts = Impacts { normal_speed: &normal_speed, slope: &slope };
    let work =
        |columns: &mut Columns<'_>, crew: &Crew<'_>| batch.loads_into(impacts, columns, crew);
    out.get().write(py, threads, progress, work)?;
    Ok(out)
}
