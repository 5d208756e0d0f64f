//! A class of riders on a site.

use crate::errors::Failure;
use crate::pickle::pickled;
use crate::rider::Rider;
use loamline::site::{Dist, RiderClass as Core};
use pyo3::prelude::*;
use pyo3::types::PyDict;

/// A class of riders: who they are and how they come down the hill.
///
/// Made by `site.classes`. A number that spreads is a dict: `fixed`; or `low` and `high`
/// (anything between alike); with `mode` (triangular); or `mean` and `sd`, with `low` and `high`
/// where it is cut off (normal).
#[pyclass(frozen, eq, module = "loamline")]
#[derive(Debug, Clone, PartialEq)]
pub struct RiderClass {
    /// The core's class.
    pub core: Core,
}

#[pymethods]
impl RiderClass {
    /// What the class is called.
    #[getter]
    fn name(&self) -> &str {
        &self.core.name
    }

    /// Share of all riders.
    #[getter]
    fn weight(&self) -> f64 {
        self.core.weight
    }

    /// Where they start: level distance up the hill from the run-in's end, m.
    #[getter]
    fn start<'py>(&self, py: Python<'py>) -> PyResult<Bound<'py, PyDict>> {
        dist(py, &self.core.start)
    }

    /// Where they leave the edge at the middle rider's entry speed, m: up a wall's panel, or to the
    /// left of the middle of a lip or a drop.
    #[getter]
    fn leave<'py>(&self, py: Python<'py>) -> PyResult<Bound<'py, PyDict>> {
        dist(py, &self.core.leave)
    }

    /// How much farther up, or to the left, they leave for each m/s of entry speed above that, m per
    /// m/s.
    #[getter]
    fn leave_per_speed(&self) -> f64 {
        self.core.leave_per_speed
    }

    /// Push off at the edge, m/s; negative soaks it up.
    #[getter]
    fn pop<'py>(&self, py: Python<'py>) -> PyResult<Bound<'py, PyDict>> {
        dist(py, &self.core.pop)
    }

    /// Mass of rider and bike, kg.
    #[getter]
    fn mass<'py>(&self, py: Python<'py>) -> PyResult<Bound<'py, PyDict>> {
        dist(py, &self.core.mass)
    }

    /// Drag area, m^2.
    #[getter]
    fn cda<'py>(&self, py: Python<'py>) -> PyResult<Bound<'py, PyDict>> {
        dist(py, &self.core.cda)
    }

    /// Brake held all the way down the run-in, m/s^2.
    #[getter]
    fn brake<'py>(&self, py: Python<'py>) -> PyResult<Bound<'py, PyDict>> {
        dist(py, &self.core.brake)
    }

    /// The class's middle rider: mass and drag area at their medians.
    ///
    /// Raises:
    ///     InputError: a class that has none.
    #[getter]
    fn rider(&self) -> Result<Rider, Failure> {
        Ok(Rider { core: self.core.middle_rider()? })
    }

    fn __repr__(&self) -> String {
        format!(
            "<RiderClass {:?}: {:.0} % of riders, start at {:.1} m, leave at {:.2} m in the middle>",
            self.core.name,
            100.0 * self.core.weight,
            self.core.start.median(),
            self.core.leave.median(),
        )
    }
}

/// A distribution as a dict of its numbers.
fn dist<'py>(py: Python<'py>, dist: &Dist) -> PyResult<Bound<'py, PyDict>> {
    let numbers: Vec<(&str, Option<f64>)> = match *dist {
        Dist::Fixed(value) => vec![("fixed", Some(value))],
        Dist::Uniform { low, high } => vec![("low", Some(low)), ("high", Some(high))],
        Dist::Triangular { low, mode, high } => {
            vec![("low", Some(low)), ("mode", Some(mode)), ("high", Some(high))]
        }
        Dist::Normal { mean, sd, low, high } => {
            vec![("mean", Some(mean)), ("sd", Some(sd)), ("low", low), ("high", high)]
        }
        _ => vec![("median", Some(dist.median()))],
    };
    let dict = PyDict::new(py);
    for (name, number) in numbers {
        if let Some(number) = number {
            dict.set_item(name, number)?;
        }
    }
    Ok(dict)
}

pickled!(RiderClass, Core);
