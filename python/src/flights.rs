//! Many flights at once, by hand, as arrays.

use crate::air::Air;
use crate::arrays::{self, Table};
use crate::errors::Failure;
use crate::ground::Ground;
use crate::rider::Rider;
use crate::units::degrees;
use crate::watch;
use loamline::launch::Launch;
use loamline::touchdown::{Contact, TouchOutcome, Touchdown};
use nalgebra::Vector3;
use numpy::ndarray::ArrayView2;
use numpy::{PyArray1, PyArray2, PyArrayMethods, PyUntypedArrayMethods};
use pyo3::prelude::*;
use pyo3::types::{PyDict, PyTuple};

/// After so many flights a watch is told: well under a millisecond each.
const STRIDE: usize = 64;

/// What a status of [`Flights`] says, by its place.
const STATUSES: [&str; 10] = [
    "landed",
    "caught",
    "short",
    "long",
    "wide",
    "rolled_off",
    "off_survey",
    "no_touchdown",
    "bad_input",
    "failed",
];
const BAD_INPUT: u8 = 8;
const FAILED: u8 = 9;

/// One row: numbers of the classes' columns in their order, vectors, status.
#[derive(Debug, Clone, Copy)]
struct Flown {
    numbers: [f64; NUMBERS],
    vectors: [Vector3<f64>; 3],
    status: u8,
}

macro_rules! flights {
    ($($(#[$doc:meta])* $name:ident: $value:expr;)*) => {
        const NUMBERS: usize = [$(stringify!($name)),*].len();

        fn numbers(contact: &Contact) -> [f64; NUMBERS] {
            [$({
                let of: fn(&Contact) -> f64 = $value;
                of(contact)
            }),*]
        }

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

            fn number_columns(&self) -> [&Py<PyArray1<f64>>; NUMBERS] {
                [$(&self.$name),*]
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
    time: |contact| contact.time;
    /// Speed into the surface, m/s, (n,).
    normal_speed: |contact| contact.normal_speed;
    /// Equivalent fall height, m, (n,).
    fall_height: |contact| contact.fall_height;
    /// Angle between path and surface, degrees, (n,).
    angle_deg: |contact| degrees(contact.angle);
    /// Level distance from the centre of mass at the launch to the mark, m, (n,).
    distance: |contact| contact.distance;
    /// How far the mark is below that, m, (n,).
    drop: |contact| contact.drop;
    /// Speed over the surface, forward, m/s, (n,).
    along_speed: |contact| contact.along_speed;
    /// Speed over the surface to the left of forward, m/s, (n,).
    sideways_speed: |contact| contact.sideways_speed;
    /// Grip that stopping the sideways speed would take, (n,).
    grip_demand: |contact| contact.grip_demand;
    /// Distance to the ground less reach, m, (n,).
    residual: |contact| contact.residual;
}

#[pymethods]
impl Flights {
    /// What `status` says, by its place.
    #[classattr]
    fn statuses(py: Python<'_>) -> PyResult<Bound<'_, PyTuple>> {
        PyTuple::new(py, STATUSES)
    }

    /// How each came out, (n,) of str: "landed"; on a landing "caught", "short", "long" or "wide";
    /// else "rolled_off", "off_survey", "no_touchdown", "bad_input" (a number that is not finite)
    /// or "failed" (a path that numbers do not hold).
    #[getter]
    fn outcome<'py>(&self, py: Python<'py>) -> PyResult<Bound<'py, PyAny>> {
        let status = self.status.bind(py).try_readonly()?;
        let word = |code: &u8| STATUSES.get(usize::from(*code)).copied().unwrap_or("failed");
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
/// The same numbers to the last bit on any number of threads. A row with a number that is not
/// finite gives NaN and the status "bad_input", and the other rows as ever.
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
    let n = rows(&from);
    if rows(&with) != n {
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
    let (from, with) = (from.as_array(), with.as_array());
    let (ground, rider, air) = (&ground.core, &rider.core, &air.core);
    let one = |i: usize| {
        let launch = Launch::by_hand(vector(&from, i), vector(&with, i));
        launch.map_or(Flown::none(BAD_INPUT), |launch| {
            let flight = launch.flight(ground, rider, air);
            flight.map_or(Flown::none(FAILED), |flight| Flown::of(&flight.touchdown()))
        })
    };
    let progress = watch::listener(progress)?;
    let flown = watch::crewed(py, threads, progress.as_ref(), |crew| crew.map(n, STRIDE, one))??;
    out.get().fill(py, &flown)?;
    Ok(out)
}

fn rows(table: &Table<'_>) -> usize {
    table.shape()[0]
}

fn vector(table: &ArrayView2<'_, f64>, i: usize) -> Vector3<f64> {
    Vector3::new(table[[i, 0]], table[[i, 1]], table[[i, 2]])
}

impl Flown {
    fn none(status: u8) -> Self {
        let vectors = [Vector3::repeat(f64::NAN); 3];
        Self { numbers: [f64::NAN; NUMBERS], vectors, status }
    }

    fn of(touchdown: &Touchdown) -> Self {
        let status = code(touchdown.outcome);
        touchdown.contact.as_ref().map_or(Self::none(status), |contact| Self {
            numbers: numbers(contact),
            vectors: [contact.mark, contact.velocity, contact.normal],
            status,
        })
    }
}

fn code(outcome: TouchOutcome) -> u8 {
    let place = STATUSES.iter().position(|word| *word == outcome.word());
    place.and_then(|place| u8::try_from(place).ok()).unwrap_or(FAILED)
}

impl Flights {
    fn fill(&self, py: Python<'_>, flown: &[Flown]) -> Result<(), Failure> {
        let busy = |_| Failure::input("out: its arrays are in use or read-only").about("out");
        for (column, array) in self.number_columns().into_iter().enumerate() {
            let mut array = array.bind(py).try_readwrite().map_err(busy)?;
            for (to, row) in array.as_array_mut().iter_mut().zip(flown) {
                *to = row.numbers[column];
            }
        }
        for (column, array) in [&self.mark, &self.velocity, &self.normal].into_iter().enumerate() {
            let mut array = array.bind(py).try_readwrite().map_err(busy)?;
            for (mut to, row) in array.as_array_mut().rows_mut().into_iter().zip(flown) {
                to.iter_mut().zip(row.vectors[column].iter()).for_each(|(to, from)| *to = *from);
            }
        }
        let mut status = self.status.bind(py).try_readwrite().map_err(busy)?;
        status.as_array_mut().iter_mut().zip(flown).for_each(|(to, row)| *to = row.status);
        Ok(())
    }

    /// The columns with the status in words, as tables show it.
    fn told<'py>(&self, py: Python<'py>) -> PyResult<Bound<'py, PyDict>> {
        let columns = self.columns(py)?;
        columns.del_item("status")?;
        columns.set_item("outcome", self.outcome(py)?)?;
        Ok(columns)
    }
}
