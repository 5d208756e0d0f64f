//! The even landing across lines of flights that leave in different places and directions.

use crate::air::Air;
use crate::arrays;
use crate::errors::Failure;
use crate::even::{even_earth, less_than_square};
use crate::ground::Ground;
use crate::launch::Launch;
use crate::pickle::pickled;
use crate::rider::Rider;
use crate::text;
use crate::units::{degrees, radians};
use loamline::design::{EvenError, EvenLine, EvenSurface as Core, EvenSurfaceDesign};
use loamline::math::range::OutOfRange;
use nalgebra::Vector2;
use numpy::{IntoPyArray, PyArray2};
use pyo3::prelude::*;

/// Earth on which the flights of several lines, slow or fast, all land with the same fall height.
///
/// Made by `even_surface(...)`. Places are m along the landing's heading (`x`), to its left (`y`) and
/// up, from the centre of mass at the first line's launch.
#[pyclass(frozen, eq, module = "loamline")]
#[derive(Debug, Clone, PartialEq)]
pub struct EvenSurface {
    /// The core's surface.
    pub core: Core,
}

/// The earth on which flights of several lines, slow or fast, all land with the same fall height.
///
/// A line is all launches from one place in one direction, at any speed: off a wall, each height of
/// leaving has its own. Along every line the earth obeys the equation of `even_landing`, with the
/// cross slope that the other lines give it there; across, one polynomial goes through all lines, and
/// beside them the earth goes on straight. What is free to choose is its far end: straight, at
/// `cross_slope_deg`. From there all lines are followed inwards together. Flights of the lines land as
/// evenly as asked, those between nearly so, the better the more lines.
///
/// Args:
///     launches: 2 to 8 `Launch`es in their order across, a line each; their speeds do not count.
///     fall_height: equivalent fall height of every landing, m, at least 0.
///     far: (x, z) of the far end, m from the centre of mass at the first launch: along the landing,
///         above 0, and up at y = 0.
///     near: x at which it should begin, from 0 to below the far end's.
///     rider, air: who flies, through what; the rider comes upright.
///     heading_deg: of the landing; None takes the mean of the launches'.
///     cross_slope_deg: how its far end rises to the left, between -90 and 90.
///     steepest_deg: steepest that earth is let stand, between 0 and 90. 45 is for hard, dry and
///         clean earth (Newman 1890); wet earth stands at less than half.
///
/// Raises:
///     InputError: a number outside its range; a line that turns back from the landing; a far end where
///         no flight gets, where flights are too slow, or where the earth would be too steep or bend
///         too tightly, or lines that cross there.
#[pyfunction]
#[pyo3(signature = (
    launches, fall_height, far, near, rider, air, heading_deg=None, cross_slope_deg=0.0,
    steepest_deg=45.0,
))]
pub fn even_surface(
    py: Python<'_>,
    launches: Vec<PyRef<'_, Launch>>,
    fall_height: f64,
    far: &Bound<'_, PyAny>,
    near: f64,
    rider: &Rider,
    air: &Air,
    heading_deg: Option<f64>,
    cross_slope_deg: f64,
    steepest_deg: f64,
) -> Result<EvenSurface, Failure> {
    let lines = launches.iter().map(|launch| EvenLine::of(&launch.core));
    let lines = lines.collect::<Result<Vec<EvenLine>, OutOfRange>>()?;
    let heading = match heading_deg {
        Some(heading) => radians("heading_deg", heading)?,
        None => mean_heading(&lines),
    };
    let far = Vector2::from(arrays::pair("far", far)?);
    let design = EvenSurfaceDesign::new(lines, heading, fall_height, far, near)?
        .with_cross_slope(less_than_square("cross_slope_deg", cross_slope_deg, -90.0)?)?
        .with_steepest(less_than_square("steepest_deg", steepest_deg, 0.0)?)?;
    let (rider, air) = (&rider.core, &air.core);
    let core = py.detach(|| design.surface(rider, air)).map_err(|error| {
        let begins = matches!(error, EvenError::FarEnd { .. });
        let failure = Failure::from(error);
        if begins { failure.about("far") } else { failure }
    })?;
    Ok(EvenSurface { core })
}

fn mean_heading(lines: &[EvenLine]) -> f64 {
    let sum: Vector2<f64> = lines.iter().map(|line| line.direction().xy()).sum();
    sum.y.atan2(sum.x)
}

#[pymethods]
impl EvenSurface {
    /// Height of the earth at places, m; beside the outer lines it goes on straight.
    ///
    /// Args:
    ///     x, y: m along and to the left, x within `reach`; numbers, or arrays (n,).
    ///
    /// Returns:
    ///     An array (n,); (1,) for numbers.
    ///
    /// Raises:
    ///     InputError: a place beyond its reach.
    fn height<'py>(
        &self,
        x: &Bound<'py, PyAny>,
        y: &Bound<'py, PyAny>,
    ) -> Result<Bound<'py, PyAny>, Failure> {
        let each = |(x, y): (f64, f64)| self.core.height(x, y);
        let heights = places(x, y)?.into_iter().map(each).collect::<Result<Vec<f64>, _>>()?;
        Ok(heights.into_pyarray(x.py()).into_any())
    }

    /// Rise of the earth along and to the left at places, (n, 2), m a metre.
    ///
    /// Args:
    ///     x, y: m along and to the left, x within `reach`; numbers, or arrays (n,).
    ///
    /// Raises:
    ///     InputError: a place beyond its reach.
    fn gradient<'py>(
        &self,
        x: &Bound<'py, PyAny>,
        y: &Bound<'py, PyAny>,
    ) -> Result<Bound<'py, PyArray2<f64>>, Failure> {
        let each = |(x, y): (f64, f64)| Ok(<[f64; 2]>::from(self.core.gradient(x, y)?));
        let rows = places(x, y)?.into_iter().map(each).collect::<Result<Vec<_>, OutOfRange>>()?;
        Ok(arrays::rows(x.py(), rows)?)
    }

    /// From where to where the lines lie across a distance out, right end first, m.
    ///
    /// Raises:
    ///     InputError: a distance beyond its reach.
    fn width(&self, x: f64) -> Result<(f64, f64), Failure> {
        Ok(self.core.width(x)?)
    }

    /// Points of the earth in the site's frame, m, (n, 3): a survey to set out and build.
    ///
    /// Args:
    ///     spacing: m between points at most, above 0.
    ///     beside: how far past the outer lines on both sides, m, at least 0.
    ///
    /// Raises:
    ///     InputError: a number outside its range, more than 200 000 points.
    #[pyo3(signature = (spacing=0.25, beside=0.5))]
    fn points<'py>(
        &self,
        py: Python<'py>,
        spacing: f64,
        beside: f64,
    ) -> Result<Bound<'py, PyArray2<f64>>, Failure> {
        let points = py.detach(|| self.core.points(spacing, beside))?;
        Ok(arrays::vectors(py, &points)?)
    }

    /// The earth as a `Ground`, triangulated between `points`; `site.ground.higher(...)` sets it on a site.
    ///
    /// Args:
    ///     spacing, beside: as in `points`; half the spacing times the curvature is what the facets'
    ///         angle is off.
    ///
    /// Raises:
    ///     InputError: a number outside its range, more than 200 000 points.
    #[pyo3(signature = (spacing=0.1, beside=0.5))]
    fn ground(&self, py: Python<'_>, spacing: f64, beside: f64) -> Result<Ground, Failure> {
        Ok(Ground::from(py.detach(|| self.core.ground(spacing, beside))?))
    }

    /// Launch speeds of each line's flights that land on it, slowest and fastest, m/s, (lines, 2).
    #[getter]
    fn launch_speeds<'py>(&self, py: Python<'py>) -> PyResult<Bound<'py, PyArray2<f64>>> {
        arrays::rows(py, self.core.launch_speeds().into_iter().map(|(slow, fast)| [slow, fast]))
    }

    /// The landing's heading, degrees.
    #[getter]
    fn heading_deg(&self) -> f64 {
        degrees(self.core.design().heading())
    }

    fn __repr__(&self) -> String {
        let (near, far) = self.core.reach();
        format!(
            "<EvenSurface: {} lines, fall height {} m from {near:.2} to {far:.2} m out, stopped by {}>",
            self.core.design().lines().len(),
            text::float(self.fall_height()),
            self.stopped_by(),
        )
    }
}

/// Places as pairs: two numbers, or two arrays of one length.
fn places(x: &Bound<'_, PyAny>, y: &Bound<'_, PyAny>) -> Result<Vec<(f64, f64)>, Failure> {
    if let (Ok(x), Ok(y)) = (x.extract(), y.extract()) {
        return Ok(vec![(x, y)]);
    }
    let (x, y) = (arrays::row("x", x)?, arrays::row("y", y)?);
    if x.len() != y.len() {
        let why = format!("x has {} places and y has {}: give as many of both", x.len(), y.len());
        return Err(Failure::input(&why).about("y"));
    }
    Ok(x.into_iter().zip(y).collect())
}

even_earth!(EvenSurface);
pickled!(EvenSurface, Core);
