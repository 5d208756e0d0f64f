//! Columns of passes: one value of each, NaN where a pass has none.

use super::Passes;
use crate::arrays;
use loamline::passes::Pass;
use loamline::touchdown::Contact;
use nalgebra::Vector3;
use numpy::IntoPyArray;
use pyo3::prelude::*;
use pyo3::types::PyDict;

/// The columns of a table, in their order.
const COLUMNS: [&str; 29] = [
    "who",
    "weight",
    "start",
    "leave",
    "pop",
    "mass",
    "cda",
    "brake",
    "wind",
    "scenario",
    "speed_factor",
    "entry_speed",
    "exit_speed",
    "ride_grip_demand",
    "ride_outcome",
    "hardest_lean",
    "outcome",
    "launch_position",
    "launch_velocity",
    "time",
    "mark",
    "velocity",
    "normal_speed",
    "sideways_speed",
    "fall_height",
    "angle_deg",
    "distance",
    "drop",
    "lean_owed_deg",
];

impl Passes {
    pub(super) fn numbers<'py>(
        &self,
        py: Python<'py>,
        of: impl Fn(&Pass) -> Option<f64>,
    ) -> PyResult<Bound<'py, PyAny>> {
        let column: Vec<f64> =
            self.core.members().iter().map(|pass| of(pass).unwrap_or(f64::NAN)).collect();
        Ok(column.into_pyarray(py).into_any())
    }

    pub(super) fn contacts<'py>(
        &self,
        py: Python<'py>,
        of: impl Fn(&Contact) -> f64,
    ) -> PyResult<Bound<'py, PyAny>> {
        self.numbers(py, |pass| pass.contact().map(&of))
    }

    pub(super) fn vectors<'py>(
        &self,
        py: Python<'py>,
        of: impl Fn(&Pass) -> Option<Vector3<f64>>,
    ) -> PyResult<Bound<'py, PyAny>> {
        let nowhere = Vector3::repeat(f64::NAN);
        let column: Vec<Vector3<f64>> =
            self.core.members().iter().map(|pass| of(pass).unwrap_or(nowhere)).collect();
        Ok(arrays::vectors(py, &column)?.into_any())
    }

    pub(super) fn places<'py>(
        &self,
        py: Python<'py>,
        of: impl Fn(&Pass) -> usize,
    ) -> PyResult<Bound<'py, PyAny>> {
        let column: Vec<usize> = self.core.members().iter().map(of).collect();
        Ok(column.into_pyarray(py).into_any())
    }

    pub(super) fn words<'py>(
        &self,
        py: Python<'py>,
        of: impl Fn(&Pass) -> &'static str,
    ) -> PyResult<Bound<'py, PyAny>> {
        arrays::words(py, self.core.members().iter().map(of))
    }
}

/// All columns by name.
pub(super) fn all<'py>(passes: &Bound<'py, Passes>) -> PyResult<Bound<'py, PyDict>> {
    let dict = PyDict::new(passes.py());
    for name in COLUMNS {
        dict.set_item(name, passes.getattr(name)?)?;
    }
    Ok(dict)
}
