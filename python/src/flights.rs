//! Many flights at once, by hand, as arrays.

use crate::air::Air;
use crate::arrays::{self, Table};
use crate::errors::Failure;
use crate::ground::Ground;
use crate::rider::Rider;
use crate::units::degrees;
use crate::watch;
use loamline::flight::batch::Batch;
use loamline::touchdown::batch::{BatchError, Columns, Launches, Status};
use numpy::{PyArray1, PyArray2, PyArrayMethods, PyUntypedArrayMethods};
use pyo3::prelude::*;
use pyo3::types::{PyDict, PyTuple};
use std::borrow::Cow;

macro_rules! flights {
    ($($(#[$doc:meta])* $name:ident: $column:ident;)*) => {
        /// Many flights, the same fields as a touchdown's as arrays; a row per flight.
        ///
        /// Made by `flights(...)`. A row that has no touch is NaN, and its `status` says why.
        #[pyclass(frozen, module = "loamline")]
        #[derive(Debug)]
        pub struct Flights {
            $($(#[$doc])*
            #[pyo3(get)]
            $name: Py<PyArray1<f64>>,)*
            /// The tyres' mark, m, (n, 3).
            #[pyo3(get)]
            mark: Py<PyArray2<f64>>,
            /// Velocity of the centre of mass at the touch, m/s, (n, 3).
            #[pyo3(get)]
            velocity: Py<PyArray2<f64>>,
            /// Unit vector from the touched place to the centre of mass, (n, 3).
            #[pyo3(get)]
            normal: Py<PyArray2<f64>>,
            /// How each came out, a place in `statuses`, (n,) of uint8.
            #[pyo3(get)]
            status: Py<PyArray1<u8>>,
        }

        impl Flights {
            fn empty(py: Python<'_>, n: usize) -> Self {
                let row = || PyArray1::zeros(py, n, false).unbind();
                let table = || PyArray2::zeros(py, [n, 3], false).unbind();
                Self {
                    $($name: row(),)*
                    mark: table(),
                    velocity: table(),
                    normal: table(),
                    status: PyArray1::zeros(py, n, false).unbind(),
                }
            }

            /// What `write` does to all columns, which nobody else may hold meanwhile.
            fn write<T>(
                &self,
                py: Python<'_>,
                write: impl FnOnce(Columns<'_>) -> T,
            ) -> Result<T, Failure> {
                let busy = |_| Failure::input("out: its arrays are in use or read-only").about("out");
                let torn = |_| Failure::input("out: its arrays are not contiguous").about("out");
                $(let mut $name = self.$name.bind(py).try_readwrite().map_err(busy)?;)*
                let mut mark = self.mark.bind(py).try_readwrite().map_err(busy)?;
                let mut velocity = self.velocity.bind(py).try_readwrite().map_err(busy)?;
                let mut normal = self.normal.bind(py).try_readwrite().map_err(busy)?;
                let mut status = self.status.bind(py).try_readwrite().map_err(busy)?;
                Ok(write(Columns {
                    $($column: $name.as_slice_mut().map_err(torn)?,)*
                    mark: mark.as_slice_mut().map_err(torn)?.as_chunks_mut().0,
                    velocity: velocity.as_slice_mut().map_err(torn)?.as_chunks_mut().0,
                    normal: normal.as_slice_mut().map_err(torn)?.as_chunks_mut().0,
                    status: status.as_slice_mut().map_err(torn)?,
                }))
            }

            fn from_columns(columns: &Bound<'_, PyDict>) -> PyResult<Self> {
                let column = |name: &str| columns.as_any().get_item(name);
                Ok(Self {
                    $($name: column(stringify!($name))?.extract()?,)*
                    mark: column("mark")?.extract()?,
                    velocity: column("velocity")?.extract()?,
                    normal: column("normal")?.extract()?,
                    status: column("status")?.extract()?,
                })
            }

            fn columns<'py>(&self, py: Python<'py>) -> PyResult<Bound<'py, PyDict>> {
                let dict = PyDict::new(py);
                $(dict.set_item(stringify!($name), &self.$name)?;)*
                dict.set_item("mark", &self.mark)?;
                dict.set_item("velocity", &self.velocity)?;
                dict.set_item("normal", &self.normal)?;
                dict.set_item("status", &self.status)?;
                Ok(dict)
            }
        }
    };
}

flights! {
    /// Time from the launch to the touch, s, (n,).
    time: time;
    /// Speed into the surface, m/s, (n,).
    normal_speed: normal_speed;
    /// Equivalent fall height, m, (n,).
    fall_height: fall_height;
    /// Angle between path and surface, degrees, (n,).
    angle_deg: angle;
    /// Level distance from the centre of mass at the launch to the mark, m, (n,).
    distance: distance;
    /// How far the mark is below that, m, (n,).
    drop: drop;
    /// Speed over the surface, forward, m/s, (n,).
    along_speed: along_speed;
    /// Speed over the surface to the left of forward, m/s, (n,).
    sideways_speed: sideways_speed;
    /// Grip that stopping the sideways speed would take, (n,).
    grip_demand: grip_demand;
    /// Distance to the ground less reach, m, (n,).
    residual: residual;
}

#[pymethods]
impl Flights {
    /// What `status` says, by its place.
    #[classattr]
    fn statuses(py: Python<'_>) -> PyResult<Bound<'_, PyTuple>> {
        PyTuple::new(py, Status::ALL.map(Status::word))
    }

    /// How each came out, (n,) of str: "landed"; on a landing "caught", "short", "long" or "wide";
    /// else "rolled_off", "off_survey", "no_touchdown", "bad_input" (a number that is not finite)
    /// or "failed" (a path that numbers do not hold).
    #[getter]
    fn outcome<'py>(&self, py: Python<'py>) -> PyResult<Bound<'py, PyAny>> {
        let status = self.status.bind(py).try_readonly()?;
        let word = |code: &u8| Status::from_code(*code).unwrap_or(Status::Failed).word();
        arrays::words(py, status.as_array().iter().map(word))
    }

    /// A `pandas.DataFrame` with a row per flight; needs pandas.
    fn to_pandas<'py>(&self, py: Python<'py>) -> PyResult<Bound<'py, PyAny>> {
        crate::frames::to_pandas(py, self.told(py)?, "flight")
    }

    /// An `xarray.Dataset` along `flight`; needs xarray.
    fn to_xarray<'py>(&self, py: Python<'py>) -> PyResult<Bound<'py, PyAny>> {
        crate::frames::to_xarray(py, self.told(py)?, "flight")
    }

    fn __len__(&self, py: Python<'_>) -> usize {
        self.status.bind(py).len()
    }

    fn __eq__(&self, py: Python<'_>, other: &Self) -> PyResult<bool> {
        let numpy = py.import("numpy")?;
        let others = other.columns(py)?;
        let named = PyDict::new(py);
        named.set_item("equal_nan", true)?;
        for (name, mine) in self.columns(py)? {
            let theirs = others.as_any().get_item(name)?;
            let same = numpy.call_method("array_equal", (mine, theirs), Some(&named))?;
            if !same.extract::<bool>()? {
                return Ok(false);
            }
        }
        Ok(true)
    }

    fn __repr__(&self, py: Python<'_>) -> String {
        format!("<Flights: {}>", self.__len__(py))
    }

    fn _repr_html_<'py>(slf: &Bound<'py, Self>) -> PyResult<Bound<'py, PyAny>> {
        crate::cards::html(slf.as_any())
    }

    fn __reduce__<'py>(&self, py: Python<'py>) -> PyResult<Remade<'py>> {
        let remake = py.import("loamline._native")?.getattr("_flights")?;
        Ok((remake, (self.columns(py)?,)))
    }
}

/// What makes flights again, and from what.
type Remade<'py> = (Bound<'py, PyAny>, (Bound<'py, PyDict>,));

/// Flights from their columns; only pickles call it.
#[pyfunction]
pub fn _flights(columns: &Bound<'_, PyDict>) -> PyResult<Flights> {
    Flights::from_columns(columns)
}

/// Many flights at once: as `Launch(position, velocity).flight(...)` row by row, in parallel.
///
/// Onto a plane within 1e-8 m of that, onto a grid within 1e-6 m; onto all other grounds exactly
/// that. The same numbers to the last bit on any number of threads of one machine. A row with a
/// number that is not finite gives NaN and the status "bad_input", and the other rows as ever.
///
/// Args:
///     position: of the centre of mass, m, (n, 3).
///     velocity: of the centre of mass, m/s, (n, 3).
///     ground, rider, air: onto what, who, through what.
///     threads: how many; None takes as many as the machine has.
///     out: Flights of the same n whose arrays are written over and given back.
///     progress: True for a line on standard error, or a function of (done, total) that may
///         return False to stop.
///
/// Raises:
///     InputError: arrays whose shapes do not fit.
///     Cancelled: stopped by the progress function.
///
/// >>> import loamline as ll
/// >>> many = ll.flights([(0, 0, 2)], [(6, 0, 0)], ll.Ground.plane(), ll.Rider(cda=0.0), ll.Air())
/// >>> many.fall_height.round(9).tolist()
/// [1.0]
#[pyfunction]
#[pyo3(signature = (position, velocity, ground, rider, air, threads=None, out=None, progress=None))]
pub fn flights<'py>(
    py: Python<'py>,
    position: &Bound<'py, PyAny>,
    velocity: &Bound<'py, PyAny>,
    ground: &Ground,
    rider: &Rider,
    air: &Air,
    threads: Option<usize>,
    out: Option<Bound<'py, Flights>>,
    progress: Option<Bound<'py, PyAny>>,
) -> Result<Bound<'py, Flights>, Failure> {
    let from = arrays::table("position", position, 3)?;
    let with = arrays::table("velocity", velocity, 3)?;
    let n = from.shape()[0];
    if with.shape()[0] != n {
        return Err(Failure::shape("velocity", velocity, &format!("({n}, 3)")));
    }
    let out = match out {
        Some(out) if out.get().__len__(py) == n => out,
        Some(out) => {
            let had = out.get().__len__(py);
            return Err(Failure::input(&format!("out has {had} rows: {n} are wanted")).about("out"));
        }
        None => Bound::new(py, Flights::empty(py, n))?,
    };
    let (from, with) = (in_rows(&from), in_rows(&with));
    let launches = Launches { position: from.as_chunks().0, velocity: with.as_chunks().0 };
    let batch = Batch::new(&ground.core, &rider.core, &air.core)?;
    let progress = watch::listener(progress)?;
    out.get().write(py, |mut columns| {
        watch::crewed(py, threads, progress.as_ref(), |crew| {
            batch.flights_into(launches, &mut columns, crew)?;
            columns.angle.iter_mut().for_each(|angle| *angle = degrees(*angle));
            Ok::<_, BatchError>(())
        })
    })???;
    Ok(out)
}

/// The numbers of a table, row after row.
fn in_rows<'a>(table: &'a Table<'_>) -> Cow<'a, [f64]> {
    // Not the array's own `as_slice`: that gives columns after one another for an array in Fortran's order.
    let view = table.as_array();
    view.to_slice().map_or_else(|| view.iter().copied().collect(), Cow::Borrowed)
}

impl Flights {
    /// The columns with the status in words, as tables show it.
    fn told<'py>(&self, py: Python<'py>) -> PyResult<Bound<'py, PyDict>> {
        let columns = self.columns(py)?;
        columns.del_item("status")?;
        columns.set_item("outcome", self.outcome(py)?)?;
        Ok(columns)
    }
}
