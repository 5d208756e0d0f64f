//! Classes that hold the columns of a batch: an array a column, a row a case, written over in place.

use crate::errors::Failure;
use numpy::{PyArray1, PyArray2, PyArray3, PyArrayMethods};
use numpy::{PyReadwriteArray1, PyReadwriteArray2, PyReadwriteArray3};
use pyo3::prelude::*;
use pyo3::types::PyDict;

/// What stands in one row of a column, and the array that has a column of it.
pub trait Cell: Sized {
    /// The array.
    type Array;
    /// The array, held so that nobody else may.
    type Held<'py>;

    /// An array of so many rows.
    fn zeros(py: Python<'_>, rows: usize) -> Py<Self::Array>;
    /// Takes hold of it.
    fn hold<'py>(array: &Bound<'py, Self::Array>) -> Result<Self::Held<'py>, Failure>;
    /// Its rows.
    fn rows<'a>(held: &'a mut Self::Held<'_>) -> Result<&'a mut [Self], Failure>;
}

macro_rules! cells {
    ($($item:ty: $array:ty, $held:ident<$of:ty>, $lengths:expr, $chunks:expr;)*) => {$(
        impl Cell for $item {
            type Array = $array;
            type Held<'py> = $held<'py, $of>;

            fn zeros(py: Python<'_>, rows: usize) -> Py<Self::Array> {
                <$array>::zeros(py, $lengths(rows), false).unbind()
            }

            fn hold<'py>(array: &Bound<'py, Self::Array>) -> Result<Self::Held<'py>, Failure> {
                array.try_readwrite().map_err(|_| wrong("in use or read-only"))
            }

            fn rows<'a>(held: &'a mut Self::Held<'_>) -> Result<&'a mut [Self], Failure> {
                held.as_slice_mut().map($chunks).map_err(|_| wrong("not contiguous"))
            }
        }
    )*};
}

cells! {
    f64: PyArray1<f64>, PyReadwriteArray1<f64>, |n| [n], |all| all;
    u8: PyArray1<u8>, PyReadwriteArray1<u8>, |n| [n], |all| all;
    bool: PyArray1<bool>, PyReadwriteArray1<bool>, |n| [n], |all| all;
    [f64; 3]: PyArray2<f64>, PyReadwriteArray2<f64>, |n| [n, 3], |all| all.as_chunks_mut().0;
    [[f64; 3]; 3]: PyArray3<f64>, PyReadwriteArray3<f64>, |n| [n, 3, 3],
        |all| all.as_chunks_mut().0.as_chunks_mut().0;
}

fn wrong(how: &str) -> Failure {
    Failure::input(&format!("out: its arrays are {how}")).about("out")
}

/// Numbers that are turned into another unit where they stand.
pub trait Turned {
    /// Turns each.
    fn turn(&mut self, by: impl Fn(f64) -> f64);
}

impl Turned for f64 {
    fn turn(&mut self, by: impl Fn(f64) -> f64) {
        *self = by(*self);
    }
}

impl Turned for [f64; 3] {
    fn turn(&mut self, by: impl Fn(f64) -> f64) {
        for part in self {
            *part = by(*part);
        }
    }
}

/// Whether all columns are the same, nothing counted as nothing.
pub fn same<'py>(
    py: Python<'py>,
    mine: &Bound<'py, PyDict>,
    others: &Bound<'py, PyDict>,
) -> PyResult<bool> {
    let numpy = py.import("numpy")?;
    let named = PyDict::new(py);
    named.set_item("equal_nan", true)?;
    for (name, column) in mine {
        let theirs = others.as_any().get_item(name)?;
        let same = numpy.call_method("array_equal", (column, theirs), Some(&named))?;
        if !same.extract::<bool>()? {
            return Ok(false);
        }
    }
    Ok(true)
}

/// What makes a class of columns again, and from what.
pub type Remade<'py> = (Bound<'py, PyAny>, (&'static str, Bound<'py, PyDict>));

/// A class that holds a batch's columns: each its array by its name, and `status`, whose words its type of statuses knows.
///
/// `by` says what a column goes through on its way out: degrees.
macro_rules! columns_class {
    (
        $(#[$class_doc:meta])*
        class $Class:ident of $Columns:ident, $Status:ident, $index:literal;
        $(#[$outcome_doc:meta])*
        outcome;
        $($(#[$doc:meta])* $name:ident: $item:ty = $column:ident $(by $turn:path)?;)*
    ) => {
        $(#[$class_doc])*
        #[pyclass(frozen, module = "loamline")]
        #[derive(Debug)]
        pub struct $Class {
            $($(#[$doc])*
            #[pyo3(get)]
            $name: Py<<$item as crate::columns::Cell>::Array>,)*
            /// How each came out, a place in `statuses`, (n,) of uint8.
            #[pyo3(get)]
            status: Py<numpy::PyArray1<u8>>,
        }

        #[pymethods]
        impl $Class {
            /// What `status` says, by its place.
            #[classattr]
            fn statuses(py: Python<'_>) -> PyResult<Bound<'_, pyo3::types::PyTuple>> {
                pyo3::types::PyTuple::new(py, $Status::ALL.map($Status::word))
            }

            $(#[$outcome_doc])*
            #[getter]
            fn outcome<'py>(&self, py: Python<'py>) -> PyResult<Bound<'py, PyAny>> {
                let status = numpy::PyArrayMethods::try_readonly(self.status.bind(py))?;
                let word = |code: &u8| $Status::from_code(*code).map_or("failed", $Status::word);
                crate::arrays::words(py, status.as_array().iter().map(word))
            }

            #[doc = concat!("A `pandas.DataFrame` with a row per ", $index, "; needs pandas.")]
            fn to_pandas<'py>(&self, py: Python<'py>) -> PyResult<Bound<'py, PyAny>> {
                crate::frames::to_pandas(py, self.told(py)?, $index)
            }

            #[doc = concat!("An `xarray.Dataset` along `", $index, "`; needs xarray.")]
            fn to_xarray<'py>(&self, py: Python<'py>) -> PyResult<Bound<'py, PyAny>> {
                crate::frames::to_xarray(py, self.told(py)?, $index)
            }

            fn __len__(&self, py: Python<'_>) -> usize {
                numpy::PyUntypedArrayMethods::len(self.status.bind(py))
            }

            fn __eq__(&self, py: Python<'_>, other: &Self) -> PyResult<bool> {
                crate::columns::same(py, &self.columns(py)?, &other.columns(py)?)
            }

            fn __repr__(&self, py: Python<'_>) -> String {
                format!(concat!("<", stringify!($Class), ": {}>"), self.__len__(py))
            }

            fn _repr_html_<'py>(slf: &Bound<'py, Self>) -> PyResult<Bound<'py, PyAny>> {
                crate::cards::html(slf.as_any())
            }

            fn __reduce__<'py>(&self, py: Python<'py>) -> PyResult<crate::columns::Remade<'py>> {
                let remake = py.import("loamline._native")?.getattr("_columns")?;
                Ok((remake, (stringify!($Class), self.columns(py)?)))
            }
        }

        impl $Class {
            /// The object of those columns.
            pub fn from_columns(columns: &Bound<'_, pyo3::types::PyDict>) -> PyResult<Self> {
                let column = |name: &str| columns.as_any().get_item(name);
                Ok(Self {
                    $($name: column(stringify!($name))?.extract()?,)*
                    status: column("status")?.extract()?,
                })
            }

            fn columns<'py>(&self, py: Python<'py>) -> PyResult<Bound<'py, pyo3::types::PyDict>> {
                let dict = pyo3::types::PyDict::new(py);
                $(dict.set_item(stringify!($name), &self.$name)?;)*
                dict.set_item("status", &self.status)?;
                Ok(dict)
            }

            /// The columns with the status in words, as tables show it.
            fn told<'py>(&self, py: Python<'py>) -> PyResult<Bound<'py, pyo3::types::PyDict>> {
                let columns = self.columns(py)?;
                columns.del_item("status")?;
                columns.set_item("outcome", self.outcome(py)?)?;
                Ok(columns)
            }

            /// What is written over: `out`, if it has so many rows, or columns of their own.
            fn over<'py>(
                py: Python<'py>,
                out: Option<Bound<'py, Self>>,
                rows: usize,
            ) -> Result<Bound<'py, Self>, Failure> {
                let Some(out) = out else {
                    return Ok(Bound::new(py, Self {
                        $($name: <$item as crate::columns::Cell>::zeros(py, rows),)*
                        status: <u8 as crate::columns::Cell>::zeros(py, rows),
                    })?);
                };
                let had = out.get().__len__(py);
                if had == rows {
                    return Ok(out);
                }
                Err(Failure::input(&format!("out has {had} rows: {rows} are wanted")).about("out"))
            }

            /// Lets a crew write all columns, which nobody else may hold meanwhile; one thread is this one where nobody
            /// listens.
            fn write<E: Send>(
                &self,
                py: Python<'_>,
                threads: Option<usize>,
                progress: Option<Bound<'_, PyAny>>,
                work: impl FnOnce(&mut $Columns<'_>, &crate::watch::Crew<'_>) -> Result<(), E> + Send,
            ) -> Result<(), Failure>
            where
                Failure: From<E>,
            {
                use crate::columns::Cell;
                let progress = crate::watch::listener(progress)?;
                $(let mut $name = <$item as Cell>::hold(self.$name.bind(py))?;)*
                let mut status = <u8 as Cell>::hold(self.status.bind(py))?;
                let mut columns = $Columns {
                    $($column: <$item as Cell>::rows(&mut $name)?,)*
                    status: <u8 as Cell>::rows(&mut status)?,
                };
                let all = |crew: &crate::watch::Crew<'_>| {
                    work(&mut columns, crew)?;
                    $($(
                        let turn = |cell: &mut $item| crate::columns::Turned::turn(cell, $turn);
                        columns.$column.iter_mut().for_each(turn);
                    )?)*
                    Ok::<_, E>(())
                };
                if threads == Some(1) && progress.is_none() {
                    crate::watch::alone(py, all)??;
                } else {
                    crate::watch::crewed(py, threads, progress.as_ref(), all)??;
                }
                Ok(())
            }
        }
    };
}
pub(crate) use columns_class;

macro_rules! remakers {
    ($($module:ident::$class:ident),* $(,)?) => {
        /// The object of class `name` with these columns; only pickles call it.
        #[pyfunction]
        pub fn _columns(
            py: Python<'_>,
            name: &str,
            columns: &Bound<'_, PyDict>,
        ) -> Result<Py<PyAny>, Failure> {
            match name {
                $(stringify!($class) => {
                    Ok(Py::new(py, crate::$module::$class::from_columns(columns)?)?.into_any())
                })*
                _ => Err(Failure::pickle(name, &"no such class in this version")),
            }
        }
    };
}

remakers!(
    batch_loads::BatchLoads,
    batch_passes::BatchPasses,
    flights::Flights,
    rigid_flights::RigidFlights,
);
