//! Cards for notebooks, written in Python.

use pyo3::prelude::*;

/// The card of an object.
pub fn html<'py>(object: &Bound<'py, PyAny>) -> PyResult<Bound<'py, PyAny>> {
    object.py().import("loamline._cards")?.call_method1("html", (object,))
}
