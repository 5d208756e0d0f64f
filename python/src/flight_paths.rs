//! The ways of many flights, as one array.

use crate::air::Air;
use crate::arrays;
use crate::errors::Failure;
use crate::rider::Rider;
use crate::watch::{self, Crew};
use loamline::flight::batch::Batch;
use loamline::ground::Ground;
use loamline::math::Vec3;
use loamline::touchdown::batch::Launches;
use numpy::{PyArray3, PyArrayMethods, PyUntypedArrayMethods};
use pyo3::prelude::*;

/// Places on the way of many flights: as `Launch(position, velocity).flight(...).path(n)` row by
/// row, in parallel, within 1e-8 m.
///
/// A flight's places are evenly spaced in time from the launch to its `time`, both included. A row
/// whose time is NaN, below 0 or over 60 s, or whose launch is not finite, is NaN. The same numbers
/// to the last bit on any number of threads of one machine.
///
/// Args:
///     position: of the centre of mass, m, (m, 3).
///     velocity: of the centre of mass, m/s, (m, 3).
///     time: until when, s, (m,): the times of `flights(...)` end each at its touch.
///     rider, air: who, through what.
///     n: places of each flight.
///     threads: how many; None takes as many as the machine has.
///     out: an array (m, n, 3) of float64, row after row, that is written over and given back.
///     progress: True for a line on standard error, or a function of (done, total) that may
///         return False to stop.
///
/// Returns:
///     Places of the centre of mass, m, (m, n, 3).
///
/// Raises:
///     InputError: arrays whose shapes do not fit.
///     Cancelled: stopped by the progress function.
///
/// >>> import loamline as ll
/// >>> rider, air = ll.Rider(cda=0.0), ll.Air(gravity=10.0)
/// >>> ll.flight_paths([(0, 0, 2)], [(6, 0, 0)], [0.5], rider, air, n=3)[0].round(9).tolist()
/// [[0.0, 0.0, 2.0], [1.5, 0.0, 1.6875], [3.0, 0.0, 0.75]]
#[pyfunction]
#[pyo3(signature = (position, velocity, time, rider, air, n=200, threads=None, out=None, progress=None))]
pub fn flight_paths<'py>(
    py: Python<'py>,
    position: &Bound<'py, PyAny>,
    velocity: &Bound<'py, PyAny>,
    time: &Bound<'py, PyAny>,
    rider: &Rider,
    air: &Air,
    n: usize,
    threads: Option<usize>,
    out: Option<Bound<'py, PyAny>>,
    progress: Option<Bound<'py, PyAny>>,
) -> Result<Bound<'py, PyArray3<f64>>, Failure> {
    let from = arrays::table("position", position, 3)?;
    let with = arrays::table("velocity", velocity, 3)?;
    let rows = from.shape()[0];
    if with.shape()[0] != rows {
        return Err(Failure::shape("velocity", velocity, &format!("({rows}, 3)")));
    }
    let time = arrays::column("time", time, rows)?;
    let out = places(py, out, [rows, n, 3])?;
    let (from, with) = (arrays::in_rows(&from), arrays::in_rows(&with));
    let launches = Launches { position: from.as_chunks().0, velocity: with.as_chunks().0 };
    // A way through the air does not ask what is below it.
    let anywhere = Ground::plane(Vec3::zeros(), 0.0, 0.0)?;
    let batch = Batch::new(&anywhere, &rider.core, &air.core)?;
    let progress = watch::listener(progress)?;
    let busy = |_| Failure::input("out: it is in use or read-only").about("out");
    let mut written = out.try_readwrite().map_err(busy)?;
    let torn = |_| Failure::input("out: it is not contiguous").about("out");
    let to = written.as_slice_mut().map_err(torn)?.as_chunks_mut().0;
    watch::crewed(py, threads, progress.as_ref(), |crew: &Crew<'_>| {
        batch.paths_into(launches, &time, to, crew)
    })??;
    Ok(out)
}

/// The array to be written over: the one given, if it fits, or a new one.
fn places<'py>(
    py: Python<'py>,
    given: Option<Bound<'py, PyAny>>,
    shape: [usize; 3],
) -> Result<Bound<'py, PyArray3<f64>>, Failure> {
    let [rows, n, _] = shape;
    let Some(given) = given else {
        arrays::places("n", rows.saturating_mul(n))?;
        return Ok(PyArray3::zeros(py, shape, false));
    };
    let wrong = || Failure::shape("out", &given, &format!("({rows}, {n}, 3) of float64"));
    let out = given.cast::<PyArray3<f64>>().map_err(|_| wrong())?;
    if out.shape() == shape && out.is_c_contiguous() { Ok(out.clone()) } else { Err(wrong()) }
}
