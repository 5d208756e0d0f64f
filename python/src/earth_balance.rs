//! Where the earth of a fill comes from.

use crate::earth_soil::span;
use crate::errors::Failure;
use crate::pickle::pickled;
use crate::text;
use loamline::earth::{Balance as CoreBalance, Borrow as CoreBorrow};
use pyo3::prelude::*;
use pyo3::types::{PyDict, PyList};

/// A named place where earth may be dug.
///
/// Args:
///     name: what it is called.
///     available: earth there, measured in the ground before it is dug, m^3, at least 0.
///     distance: how far it is, m one way, at least 0.
///
/// Raises:
///     InputError: a number outside its range.
///
/// >>> import loamline as ll
/// >>> ll.Borrow("old ditch", available=8.0, distance=25.0)
/// Borrow("old ditch", available=8.0, distance=25.0)
#[pyclass(frozen, eq, module = "loamline")]
#[derive(Debug, Clone, PartialEq)]
pub struct Borrow {
    /// The core's place.
    pub core: CoreBorrow,
}

#[pymethods]
impl Borrow {
    #[new]
    fn new(name: String, available: f64, distance: f64) -> Result<Self, Failure> {
        Ok(Self { core: CoreBorrow::new(name, available, distance)? })
    }

    /// What it is called.
    #[getter]
    fn name(&self) -> &str {
        self.core.name()
    }

    /// Earth there, in the bank, m^3.
    #[getter]
    fn available(&self) -> f64 {
        self.core.available()
    }

    /// How far it is, m one way.
    #[getter]
    fn distance(&self) -> f64 {
        self.core.distance()
    }

    fn __repr__(&self) -> String {
        format!(
            "Borrow({}, available={}, distance={})",
            text::quoted(self.name()),
            text::float(self.available()),
            text::float(self.distance())
        )
    }
}

/// Where the earth of a fill comes from, and whether it is enough.
///
/// Made by `earthwork.balance(...)`. Volumes are measured in the ground before it is dug, m^3.
#[pyclass(frozen, eq, module = "loamline")]
#[derive(Debug, Clone, PartialEq)]
pub struct Balance {
    /// The core's balance.
    pub core: CoreBalance,
}

#[pymethods]
impl Balance {
    /// What the fill takes, m^3 in the bank.
    #[getter]
    fn needed(&self) -> f64 {
        self.core.needed
    }

    /// What is missing, m^3 in the bank.
    #[getter]
    fn short(&self) -> f64 {
        self.core.short
    }

    /// What is cut and not needed, m^3 in the bank.
    #[getter]
    fn spare(&self) -> f64 {
        self.core.spare
    }

    /// How far earth is carried on average, m one way; None where none is taken.
    #[getter]
    fn mean_distance(&self) -> Option<f64> {
        self.core.mean_distance()
    }

    /// What is taken where, in that order, as dictionaries: "place" (the fill's own cut is "cut"), "bank" and
    /// "loose" in m^3, "barrows", "distance" in m, and "hours" to dig, load and carry it (value, low, high).
    #[getter]
    fn draws<'py>(&self, py: Python<'py>) -> PyResult<Bound<'py, PyList>> {
        let rows = PyList::empty(py);
        for draw in &self.core.draws {
            let row = PyDict::new(py);
            row.set_item("place", &draw.from)?;
            row.set_item("bank", draw.bank)?;
            row.set_item("loose", draw.loose)?;
            row.set_item("barrows", draw.barrows)?;
            row.set_item("distance", draw.distance)?;
            row.set_item("hours", span(draw.hours))?;
            rows.append(row)?;
        }
        Ok(rows)
    }

    fn __repr__(&self) -> String {
        let core = &self.core;
        let draws =
            core.draws.iter().map(|draw| format!("{:.3} m^3 from {}", draw.bank, draw.from));
        let taken: Vec<String> = draws.collect();
        let taken = if taken.is_empty() { "nothing".to_owned() } else { taken.join(", ") };
        format!("<Balance: {:.3} m^3 needed; {taken}; {:.3} m^3 short>", core.needed, core.short)
    }
}

pickled!(Borrow, CoreBorrow);
pickled!(Balance, CoreBalance);
