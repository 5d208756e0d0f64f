//! Files other than site files: the schema, and earth for other programs.

use crate::errors::Failure;
use crate::ground::Ground;
use loamline::files;
use pyo3::prelude::*;
use std::path::PathBuf;

/// Write the earth of the landing on a ground as Wavefront OBJ, m, z up.
///
/// Args:
///     path: the file; written whole or not at all.
///     ground: a ground with a landing.
///
/// Raises:
///     FileError: no landing on the ground, or a file that cannot be written.
#[pyfunction]
pub fn write_obj(path: PathBuf, ground: &Ground) -> Result<(), Failure> {
    Ok(files::write_obj(path, &ground.core)?)
}

/// Write the earth of the landing on a ground as ASCII PLY, m, z up.
///
/// Args:
///     path: the file; written whole or not at all.
///     ground: a ground with a landing.
///
/// Raises:
///     FileError: no landing on the ground, or a file that cannot be written.
#[pyfunction]
pub fn write_ply(path: PathBuf, ground: &Ground) -> Result<(), Failure> {
    Ok(files::write_ply(path, &ground.core)?)
}

/// The JSON Schema of a site file, as text.
#[pyfunction]
pub fn site_schema() -> String {
    files::site_schema()
}
