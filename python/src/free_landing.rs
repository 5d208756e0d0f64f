//! The free landing.

use crate::arrays;
use crate::errors::Failure;
use crate::ground::Ground;
use crate::passes::Passes;
use crate::pickle::pickled;
use crate::units::{degrees, radians};
use crate::watch;
use loamline::design::{self, FreeLanding as Core, FreeLandingError, FreeOptions, FreeStop};
use numpy::{IntoPyArray, PyArray1, PyArray2, PyArrayMethods};
use pyo3::prelude::*;

/// The landing, of any shape that earth stands at, on which touchdowns are softest for a volume.
///
/// Made by `free_landing(...)`. A grid of depths of earth on the present ground, bilinear between.
#[pyclass(frozen, eq, module = "loamline")]
#[derive(Debug, Clone, PartialEq)]
pub struct FreeLanding {
    /// The core's landing.
    pub core: Core,
}

/// The shape of earth on the passes' ground that makes their touchdowns softest.
///
/// Least is the severity: the weighted mean of `(fall height / fall_limit)**2` over all who touch the
/// ground. Starts from the ground as it is, also a half-built one; earth is only added, within the
/// site's allowed area, off its keep-outs, clear of obstacles and of the edge. After each step all
/// riders are landed again.
///
/// Args:
///     passes: who comes down, on the ground as it is.
///     fall_limit: fall height up to which a touchdown counts as soft, m, above 0.
///     volume: at most so much earth in place, m^3, above 0.
///     spacing: between the nodes, m, above 0; much narrower ones get the search stuck on facets.
///     radius: bent no tighter than this, m, above 0, along the grid's axes; the default is an
///         assumption: a wheelbase of 1.2 m spans a dip of 7 cm.
///     steepest_deg: no steeper than this, from 0.6 degrees to what the site's soil stands at hard and
///         dry; None takes what that soil is built at.
///     margin: earth lies up to so far from a touchdown, m, above 0.
///     steps: at most so many, 1 to 1000.
///     threads: how many; None takes as many as the machine has.
///     progress: True for a line on standard error, or a function of (done, total) that may
///         return False to stop.
///
/// Raises:
///     InputError: a number outside its range, a grid too fine.
///     PassesError: nobody who comes down upright, no known ground around the touchdowns, none of
///         it free for earth.
///     Cancelled: stopped by the progress function.
#[pyfunction]
#[pyo3(signature = (
    passes, fall_limit, volume, spacing=0.3, radius=2.5, steepest_deg=None, margin=1.5, steps=40,
    threads=None, progress=None,
))]
pub fn free_landing(
    py: Python<'_>,
    passes: &Passes,
    fall_limit: f64,
    volume: f64,
    spacing: f64,
    radius: f64,
    steepest_deg: Option<f64>,
    margin: f64,
    steps: usize,
    threads: Option<usize>,
    progress: Option<Bound<'_, PyAny>>,
) -> Result<FreeLanding, Failure> {
    let mut options = FreeOptions::new(volume)?
        .with_spacing(spacing)?
        .with_radius(radius)?
        .with_margin(margin)?
        .with_steps(steps)?;
    if let Some(steepest) = steepest_deg {
        options = options.with_steepest(radians("steepest_deg", steepest)?)?;
    }
    let (passes, progress) = (&passes.core, watch::listener(progress)?);
    let found = watch::crewed(py, threads, progress.as_ref(), |crew| {
        design::free_landing(passes, fall_limit, &options, crew)
    })?;
    match found {
        Err(error @ FreeLandingError::TooSteep { .. }) => {
            Err(Failure::input(&error.to_string()).about("steepest_deg"))
        }
        found => Ok(FreeLanding { core: found? }),
    }
}

#[pymethods]
impl FreeLanding {
    /// The ground with the earth on it.
    #[getter]
    fn built(&self) -> Ground {
        Ground::from(self.core.built().clone())
    }

    /// Nodes along x, m, (nx,).
    #[getter]
    fn x<'py>(&self, py: Python<'py>) -> Bound<'py, PyArray1<f64>> {
        arrays::axis(py, self.core.origin().x, self.core.spacing(), self.core.size().0)
    }

    /// Nodes along y, m, (ny,).
    #[getter]
    fn y<'py>(&self, py: Python<'py>) -> Bound<'py, PyArray1<f64>> {
        arrays::axis(py, self.core.origin().y, self.core.spacing(), self.core.size().1)
    }

    /// Depth of the earth on the present ground at each node, m, (ny, nx).
    #[getter]
    fn earth<'py>(&self, py: Python<'py>) -> PyResult<Bound<'py, PyArray2<f64>>> {
        self.table(py, self.core.earth().to_vec())
    }

    /// Height of the finished ground at each node, m, (ny, nx).
    #[getter]
    fn height<'py>(&self, py: Python<'py>) -> PyResult<Bound<'py, PyArray2<f64>>> {
        let nodes = self.core.bare().iter().zip(self.core.earth());
        self.table(py, nodes.map(|(bare, earth)| bare + earth).collect())
    }

    /// Earth in place, m^3.
    #[getter]
    fn volume(&self) -> f64 {
        self.core.volume()
    }

    /// Severity at the start and after each step, all riders landed again.
    #[getter]
    fn severities<'py>(&self, py: Python<'py>) -> Bound<'py, PyArray1<f64>> {
        self.core.severities().to_vec().into_pyarray(py)
    }

    /// Severity of the present ground.
    #[getter]
    fn severity_before(&self) -> f64 {
        self.core.severity().before
    }

    /// Severity with the earth.
    #[getter]
    fn severity(&self) -> f64 {
        self.core.severity().after
    }

    /// How much lower the severity might still be, were every touchdown's answer the same 0.2 m away: an
    /// estimate of how far the shape is from the best near by.
    #[getter]
    fn promised(&self) -> f64 {
        self.core.promised()
    }

    /// Share of touchdowns that the shape was led by; the others touch before they are upright or
    /// off the grid.
    #[getter]
    fn share_told(&self) -> f64 {
        self.core.share_told()
    }

    /// Why the search ended: "no better", "no progress" or "steps".
    #[getter]
    fn stopped_by(&self) -> &'static str {
        match self.core.stopped() {
            FreeStop::NoBetter => "no better",
            FreeStop::NoProgress => "no progress",
            _ => "steps",
        }
    }

    /// The steepest slope that was allowed, degrees.
    #[getter]
    fn steepest_deg(&self) -> f64 {
        degrees(self.core.options().steepest())
    }

    /// The model behind the shape, what went in, its sources and its limits, in paragraphs.
    fn explain(&self) -> String {
        self.core.explain().to_string()
    }

    fn __repr__(&self) -> String {
        let (change, volume) = (self.core.severity(), self.core.volume());
        let (before, after) = (change.before, change.after);
        format!("<FreeLanding: {volume:.2} m3 take the severity from {before:.3} to {after:.3}>")
    }
}

impl FreeLanding {
    fn table<'py>(&self, py: Python<'py>, values: Vec<f64>) -> PyResult<Bound<'py, PyArray2<f64>>> {
        let (columns, rows) = self.core.size();
        values.into_pyarray(py).reshape([rows, columns])
    }
}

pickled!(FreeLanding, Core);
