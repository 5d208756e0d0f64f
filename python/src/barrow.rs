//! Where the next barrow of earth helps most.

use crate::arrays;
use crate::errors::Failure;
use crate::passes::Passes;
use crate::pickle::pickled;
use crate::watch;
use loamline::design::{self, BarrowMap as Core, Mound};
use numpy::{IntoPyArray, PyArray1, PyArray2, PyArrayMethods};
use pyo3::prelude::*;
use pyo3::types::PyDict;

/// How much one barrow of earth helps, by where its middle is put.
///
/// Made by `barrow_map(...)`. To first order: for the present ground and the present touchdowns.
#[pyclass(frozen, eq, module = "loamline")]
#[derive(Debug, Clone, PartialEq)]
pub struct BarrowMap {
    /// The core's map.
    pub core: Core,
}

/// The map of the next barrow: how much a mound of earth lowers the severity, by where it is put.
///
/// Severity is the weighted mean of `(fall height / fall_limit)**2` over all who touch the ground: 1
/// where everybody comes down at the limit. Each touchdown answers to the height and the slope of
/// the mound under it. The mound is round and runs out smoothly. It may lie only within the site's
/// allowed area, off its keep-outs, clear of obstacles and of the edge.
///
/// Args:
///     passes: who comes down, on the ground as it is.
///     fall_limit: fall height up to which a touchdown counts as soft, m, above 0.
///     volume: placed earth of one barrow, m^3, above 0; no more than makes a mound as high as `radius`.
///     radius: of the mound, m, above 0; about a wheelbase.
///     spacing: between the places of the map, m, above 0.
///
/// Raises:
///     InputError: a number outside its range, a map too fine.
///     PassesError: nobody who comes down where a change of the ground can be told, no room for a
///         barrow near the touchdowns.
#[pyfunction]
#[pyo3(signature = (passes, fall_limit, volume, radius=1.2, spacing=0.25))]
pub fn barrow_map(
    py: Python<'_>,
    passes: &Passes,
    fall_limit: f64,
    volume: f64,
    radius: f64,
    spacing: f64,
) -> Result<BarrowMap, Failure> {
    let (passes, mound) = (&passes.core, Mound::new(volume, radius)?);
    let core = py.detach(|| design::barrow_map(passes, fall_limit, &mound, spacing))?;
    Ok(BarrowMap { core })
}

/// Where the next barrows go, one after the other, each where it helps most.
///
/// Greedy: for each barrow the map's best places are tried, all riders landed again on the ground
/// with it. The list ends early where no barrow helps any more. No barrow comes onto a keep-out or
/// over the allowed area's sides.
///
/// Args:
///     passes: who comes down, on the ground as it is.
///     fall_limit: fall height up to which a touchdown counts as soft, m, above 0.
///     volume: placed earth of one barrow, m^3, above 0; no more than makes a mound as high as `radius`.
///     count: how many barrows at most.
///     radius: of each mound, m, above 0; about a wheelbase.
///     threads: how many; None takes as many as the machine has.
///     progress: True for a line on standard error, or a function of (done, total) that may
///         return False to stop.
///
/// Returns:
///     A dict of arrays: `place` (n, 2), m; `expected` (n,), by how much each should lower the
///     severity; `severity` (n,), with it.
///
/// Raises:
///     InputError: a number outside its range.
///     PassesError: nobody who comes down where a change of the ground can be told, no room for a
///         barrow near the touchdowns.
///     Cancelled: stopped by the progress function.
#[pyfunction]
#[pyo3(signature = (
    passes, fall_limit, volume, count, radius=1.2, threads=None, progress=None,
))]
pub fn next_barrows<'py>(
    py: Python<'py>,
    passes: &Passes,
    fall_limit: f64,
    volume: f64,
    count: usize,
    radius: f64,
    threads: Option<usize>,
    progress: Option<Bound<'py, PyAny>>,
) -> Result<Bound<'py, PyDict>, Failure> {
    let progress = watch::listener(progress)?;
    let (passes, mound) = (&passes.core, Mound::new(volume, radius)?);
    let list = watch::crewed(py, threads, progress.as_ref(), |crew| {
        design::next_barrows(passes, fall_limit, &mound, count, crew)
    })??;
    let dict = PyDict::new(py);
    dict.set_item("place", arrays::rows(py, list.iter().map(|b| [b.place.x, b.place.y]))?)?;
    let column = |of: fn(&design::NextBarrow) -> f64| {
        list.iter().map(of).collect::<Vec<f64>>().into_pyarray(py)
    };
    dict.set_item("expected", column(|barrow| barrow.expected))?;
    dict.set_item("severity", column(|barrow| barrow.severity))?;
    Ok(dict)
}

#[pymethods]
impl BarrowMap {
    /// Places along x, m, (nx,).
    #[getter]
    fn x<'py>(&self, py: Python<'py>) -> Bound<'py, PyArray1<f64>> {
        arrays::axis(py, self.core.origin().x, self.core.spacing(), self.core.size().0)
    }

    /// Places along y, m, (ny,).
    #[getter]
    fn y<'py>(&self, py: Python<'py>) -> Bound<'py, PyArray1<f64>> {
        arrays::axis(py, self.core.origin().y, self.core.spacing(), self.core.size().1)
    }

    /// By how much a barrow at each place lowers the severity, (ny, nx); negative makes it worse.
    #[getter]
    fn gain<'py>(&self, py: Python<'py>) -> PyResult<Bound<'py, PyArray2<f64>>> {
        let (columns, rows) = self.core.size();
        self.core.gain().to_vec().into_pyarray(py).reshape([rows, columns])
    }

    /// Whether a barrow may be put at each place, (ny, nx), bool: within the allowed area, off
    /// keep-outs, clear of obstacles and of the edge.
    #[getter]
    fn free<'py>(&self, py: Python<'py>) -> PyResult<Bound<'py, PyArray2<bool>>> {
        let (columns, rows) = self.core.size();
        self.core.free().to_vec().into_pyarray(py).reshape([rows, columns])
    }

    /// The severity as it is.
    #[getter]
    fn severity(&self) -> f64 {
        self.core.severity()
    }

    /// Share of touchdowns whose answer to a change of the ground is told; the others touch edges
    /// of the ground, or before they are upright.
    #[getter]
    fn share_told(&self) -> f64 {
        self.core.share_told()
    }

    /// Where a barrow helps most of where it may be put, (x, y), m.
    #[getter]
    fn best(&self) -> (f64, f64) {
        let (place, _) = self.core.best();
        (place.x, place.y)
    }

    /// The model behind the map, what went in, its sources and its limits, in paragraphs.
    fn explain(&self) -> String {
        self.core.explain().to_string()
    }

    fn __repr__(&self) -> String {
        let (place, gain) = self.core.best();
        format!(
            "<BarrowMap: severity {:.3}, a barrow at ({:.2}, {:.2}) lowers it by {gain:.4}>",
            self.core.severity(),
            place.x,
            place.y,
        )
    }
}

pickled!(BarrowMap, Core);
