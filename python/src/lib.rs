//! Python bindings of `loamline`: the extension module `loamline._native`.

use pyo3::prelude::*;

/// Native part of loamline.
#[pymodule]
mod _native {
    use super::{Bound, PyModule, PyModuleMethods, PyResult};

    #[pymodule_init]
    fn init(m: &Bound<'_, PyModule>) -> PyResult<()> {
        m.add("__version__", env!("CARGO_PKG_VERSION"))
    }
}
