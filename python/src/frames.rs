//! Columns handed to pandas and xarray, which Python imports only then.

use pyo3::prelude::*;
use pyo3::types::PyDict;

/// A `pandas.DataFrame` of the columns.
pub fn to_pandas<'py>(
    py: Python<'py>,
    columns: Bound<'py, PyDict>,
    index: &str,
) -> PyResult<Bound<'py, PyAny>> {
    py.import("loamline._frames")?.call_method1("to_pandas", (columns, index))
}

/// An `xarray.Dataset` of the columns along `dim`.
pub fn to_xarray<'py>(
    py: Python<'py>,
    columns: Bound<'py, PyDict>,
    dim: &str,
) -> PyResult<Bound<'py, PyAny>> {
    py.import("loamline._frames")?.call_method1("to_xarray", (columns, dim))
}
