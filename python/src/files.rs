//! Files other than site files: the schema, and earth for other programs.

use crate::errors::Failure;
use crate::ground::Ground;
use loamline::files::{self, Lattice};
use nalgebra::Vector2;
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

/// Write the heights of a ground as an Esri ASCII grid, m; -9999 where the ground is not known.
///
/// Args:
///     path: the file; written whole or not at all.
///     ground: the ground.
///     spacing: how far apart heights are taken, m, above 0.
///     area: (x0, y0, x1, y1), m; None takes all of the ground.
///
/// Raises:
///     FileError: a number out of its range, or a file that cannot be written.
///     InputError: a ground without end and no area.
#[pyfunction]
#[pyo3(signature = (path, ground, *, spacing=0.1, area=None))]
pub fn write_ascii_grid(
    path: PathBuf,
    ground: &Ground,
    spacing: f64,
    area: Option<(f64, f64, f64, f64)>,
) -> Result<(), Failure> {
    let whole = ground.core.bounds().map(|b| (b.low.x, b.low.y, b.high.x, b.high.y));
    let Some((x0, y0, x1, y1)) = area.or(whole) else {
        let message = "the ground has no end: name the area to write";
        return Err(Failure::input(message).about("area"));
    };
    let (low, high) = (Vector2::new(x0, y0), Vector2::new(x1, y1));
    Ok(files::write_ascii_grid(path, &ground.core, &Lattice { low, high, spacing })?)
}

/// The JSON Schema of a site file, as text.
#[pyfunction]
pub fn site_schema() -> String {
    files::site_schema()
}
