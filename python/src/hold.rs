//! The entry speeds at which a line holds.

use crate::pickle::pickled;
use loamline::ride::HoldSpeeds as Core;
use pyo3::prelude::*;
use pyo3::types::{PyIterator, PyTuple};

/// The entry speeds at which the tyres hold a line to its end; unpacks as `slow, fast`.
#[pyclass(frozen, eq, module = "loamline")]
#[derive(Debug, Clone, PartialEq)]
pub struct HoldSpeeds {
    /// The core's answer.
    pub core: Core,
}

#[pymethods]
impl HoldSpeeds {
    /// Slowest speed that holds, m/s; None where none does.
    #[getter]
    fn slowest(&self) -> Option<f64> {
        match self.core {
            Core::Between { slowest, .. } => Some(slowest),
            Core::Never { .. } => None,
        }
    }

    /// Fastest speed that holds, m/s, infinite where nothing limits it; None where none holds.
    #[getter]
    fn fastest(&self) -> Option<f64> {
        match self.core {
            Core::Between { fastest, .. } => Some(fastest),
            Core::Never { .. } => None,
        }
    }

    /// Grip with which one speed would hold; None where some do, or where no grip helps.
    #[getter]
    fn grip_needed(&self) -> Option<f64> {
        match self.core {
            Core::Between { .. } => None,
            Core::Never { grip_needed } => grip_needed,
        }
    }

    /// What holds, or why nothing does, in words.
    #[getter]
    fn reason(&self) -> String {
        self.core.to_string()
    }

    /// Whether an entry speed, m/s, holds.
    fn holds(&self, speed: f64) -> bool {
        self.core.holds(speed)
    }

    fn __iter__<'py>(&self, py: Python<'py>) -> PyResult<Bound<'py, PyIterator>> {
        PyTuple::new(py, [self.slowest(), self.fastest()])?.try_iter()
    }

    fn __repr__(&self) -> String {
        format!("<HoldSpeeds: {}>", self.core)
    }
}

pickled!(HoldSpeeds, Core);
