//! Arrays in as read-only views, out as numpy arrays that own their numbers.

use crate::errors::Failure;
use loamline::math::range::OutOfRange;
use nalgebra::Vector3;
use numpy::{
    AllowTypeChange, IntoPyArray, PyArray1, PyArray2, PyArray3, PyArrayLike1, PyArrayLike2,
    PyArrayMethods, PyUntypedArrayMethods,
};
use pyo3::prelude::*;
use pyo3::types::{PyList, PyString};
use std::borrow::Cow;

/// The most places that a picture or a path takes: some 400 MB of them.
const MOST_PLACES: usize = 1 << 24;

/// A read-only table of float64, converted where it has to be.
pub type Table<'py> = PyArrayLike2<'py, f64, AllowTypeChange>;

/// Evenly spaced places, (count,).
pub fn axis(py: Python<'_>, first: f64, spacing: f64, count: usize) -> Bound<'_, PyArray1<f64>> {
    let places: Vec<f64> = (0..count).map(|i| first + spacing * i as f64).collect();
    places.into_pyarray(py)
}

/// Three numbers, or what was wrong with them; [`Triple::named`] says whose they were.
#[derive(Debug, Clone)]
pub struct Triple(Result<[f64; 3], String>);

impl Triple {
    /// The zero vector.
    pub const fn zero() -> Self {
        Self(Ok([0.0; 3]))
    }

    /// The vector, or an error that names `field`.
    pub fn named(self, field: &str) -> Result<Vector3<f64>, Failure> {
        self.0.map(Vector3::from).map_err(|why| {
            Failure::input(&format!("{field} wants three numbers: {why}")).about(field)
        })
    }
}

impl<'py> FromPyObject<'_, 'py> for Triple {
    type Error = PyErr;

    fn extract(object: Borrowed<'_, 'py, PyAny>) -> PyResult<Self> {
        if let Some(numbers) = of_array(&object) {
            return Ok(Self(Ok(numbers)));
        }
        Ok(Self(object.extract::<[f64; 3]>().map_err(|error| error.to_string())))
    }
}

/// The numbers of an array of three float64. As a sequence it would make an object of each number.
fn of_array(object: &Bound<'_, PyAny>) -> Option<[f64; 3]> {
    let array = object.cast::<PyArray1<f64>>().ok()?;
    let number = |i: usize| array.get_owned(i);
    if array.len() == 3 { Some([number(0)?, number(1)?, number(2)?]) } else { None }
}

/// The numbers of the one-dimensional argument `field`.
pub fn row(field: &str, argument: &Bound<'_, PyAny>) -> Result<Vec<f64>, Failure> {
    let array: PyArrayLike1<'_, f64, AllowTypeChange> =
        argument.extract().map_err(|_| Failure::shape(field, argument, "(n,)"))?;
    Ok(array.as_array().to_vec())
}

/// The argument `field` as a table whose rows have `width` numbers.
pub fn table<'py>(
    field: &str,
    argument: &Bound<'py, PyAny>,
    width: usize,
) -> Result<Table<'py>, Failure> {
    let wrong = || Failure::shape(field, argument, &format!("(n, {width})"));
    let array: Table<'py> = argument.extract().map_err(|_| wrong())?;
    if array.shape()[1] == width { Ok(array) } else { Err(wrong()) }
}

/// The numbers of a table, row after row.
pub fn in_rows<'a>(table: &'a Table<'_>) -> Cow<'a, [f64]> {
    // Not the array's own `as_slice`: that gives columns after one another for an array in Fortran's order.
    let view = table.as_array();
    view.to_slice().map_or_else(|| view.iter().copied().collect(), Cow::Borrowed)
}

/// The numbers of a column of so many rows.
pub fn column(field: &str, argument: &Bound<'_, PyAny>, rows: usize) -> Result<Vec<f64>, Failure> {
    let column = row(field, argument)?;
    if column.len() == rows {
        return Ok(column);
    }
    Err(Failure::shape(field, argument, &format!("({rows},)")))
}

/// A column of so many rows, or one number for all of them.
pub fn column_or_one(
    field: &str,
    argument: &Bound<'_, PyAny>,
    rows: usize,
) -> Result<Vec<f64>, Failure> {
    argument.extract().map_or_else(|_| column(field, argument, rows), |one| Ok(vec![one; rows]))
}

/// The points of the `(n, 3)` argument `field`.
pub fn points(field: &str, argument: &Bound<'_, PyAny>) -> Result<Vec<Vector3<f64>>, Failure> {
    let array = table(field, argument, 3)?;
    Ok(array.as_array().rows().into_iter().map(|p| Vector3::new(p[0], p[1], p[2])).collect())
}

/// The pairs of the `(n, 2)` argument `field`.
pub fn pairs(field: &str, argument: &Bound<'_, PyAny>) -> Result<Vec<(f64, f64)>, Failure> {
    let array = table(field, argument, 2)?;
    Ok(array.as_array().rows().into_iter().map(|p| (p[0], p[1])).collect())
}

/// The two numbers of the argument `field`.
pub fn pair(field: &str, argument: &Bound<'_, PyAny>) -> Result<[f64; 2], Failure> {
    argument.extract().map_err(|_| Failure::shape(field, argument, "(2,)"))
}

/// Rows, columns and numbers, row after row, of the two-dimensional argument `field`.
pub fn grid(field: &str, argument: &Bound<'_, PyAny>) -> Result<(usize, usize, Vec<f64>), Failure> {
    let wrong = |_| Failure::shape(field, argument, "(rows, columns)");
    let array: Table<'_> = argument.extract().map_err(wrong)?;
    let view = array.as_array();
    Ok((view.nrows(), view.ncols(), view.iter().copied().collect()))
}

/// A point or vector as an array of three.
pub fn vector<'py>(py: Python<'py>, value: &Vector3<f64>) -> Bound<'py, PyArray1<f64>> {
    PyArray1::from_slice(py, value.as_slice())
}

/// Rows of equal width as one array `(n, W)`, row after row.
pub fn rows<const W: usize>(
    py: Python<'_>,
    rows: impl IntoIterator<Item = [f64; W]>,
) -> PyResult<Bound<'_, PyArray2<f64>>> {
    let flat: Vec<f64> = rows.into_iter().flatten().collect();
    let count = flat.len() / W;
    flat.into_pyarray(py).reshape([count, W])
}

/// Points or vectors as one array `(n, 3)`.
pub fn vectors<'py, 'a>(
    py: Python<'py>,
    values: impl IntoIterator<Item = &'a Vector3<f64>>,
) -> PyResult<Bound<'py, PyArray2<f64>>> {
    rows(py, values.into_iter().map(|v| [v.x, v.y, v.z]))
}

/// How many places are asked for, where that is a number that a machine holds.
pub fn places(field: &str, count: usize) -> Result<usize, Failure> {
    if count > MOST_PLACES {
        let wrong = OutOfRange::new(field.to_owned(), count as f64, "at most 16777216 places");
        return Err(wrong.into());
    }
    Ok(count)
}

/// Points of a surface for pictures as one array `(n, m, 3)`, `n` and `m` at least 2 by the names of their arguments.
pub fn mesh<'py>(
    py: Python<'py>,
    [along, across]: [(&str, usize); 2],
    points: impl FnOnce(usize, usize) -> Vec<Vector3<f64>>,
) -> Result<Bound<'py, PyArray3<f64>>, Failure> {
    let counts = [along, across];
    if let Some((field, _)) = counts.iter().find(|(_, count)| *count < 2) {
        return Err(Failure::input(&format!("{field} wants at least 2")).about(field));
    }
    let [rows, columns] = counts.map(|(_, count)| count);
    places(along.0, rows.saturating_mul(columns))?;
    let flat: Vec<f64> = points(rows, columns).iter().flat_map(|p| [p.x, p.y, p.z]).collect();
    Ok(flat.into_pyarray(py).reshape([rows, columns, 3])?)
}

/// Words as one array of str, (n,).
pub fn words(
    py: Python<'_>,
    words: impl Iterator<Item = &'static str>,
) -> PyResult<Bound<'_, PyAny>> {
    let list = PyList::new(py, words.map(|word| PyString::intern(py, word)).collect::<Vec<_>>())?;
    py.import("numpy")?.call_method1("array", (list, "U13"))
}
