//! Many passes over one takeoff at once, as arrays.

use crate::air::Air;
use crate::arrays;
use crate::drop::Drop;
use crate::errors::Failure;
use crate::ground::Ground;
use crate::line::lean_from;
use crate::lip::Lip;
use crate::rider::Rider;
use crate::units::degrees;
use crate::wall::Wall;
use crate::watch;
use loamline::passes::batch::{Batch, BatchError, Columns, Entries, Status};
use loamline::site::Takeoff;
use numpy::{PyArray1, PyArray2, PyArrayMethods, PyUntypedArrayMethods};
use pyo3::prelude::*;
use pyo3::types::{PyDict, PyTuple};

macro_rules! passes {
    ($($(#[$doc:meta])* $name:ident: $column:ident;)*) => {
        /// Many passes over one takeoff: entry, edge, launch and the same fields as a touchdown's as arrays; a row per pass.
        ///
        /// Made by `passes(...)`. A number that a pass does not have is NaN, and its `status` says why.
        #[pyclass(frozen, module = "loamline")]
        #[derive(Debug)]
        pub struct BatchPasses {
            $($(#[$doc])*
            #[pyo3(get)]
            $name: Py<PyArray1<f64>>,)*
            /// The centre of mass at the launch, m, (n, 3).
            #[pyo3(get)]
            launch_position: Py<PyArray2<f64>>,
            /// Its velocity there, m/s, (n, 3).
            #[pyo3(get)]
            launch_velocity: Py<PyArray2<f64>>,
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

        impl BatchPasses {
            fn empty(py: Python<'_>, n: usize) -> Self {
                let row = || PyArray1::zeros(py, n, false).unbind();
                let table = || PyArray2::zeros(py, [n, 3], false).unbind();
                Self {
                    $($name: row(),)*
                    launch_position: table(),
                    launch_velocity: table(),
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
                let mut launch_position =
                    self.launch_position.bind(py).try_readwrite().map_err(busy)?;
                let mut launch_velocity =
                    self.launch_velocity.bind(py).try_readwrite().map_err(busy)?;
                let mut mark = self.mark.bind(py).try_readwrite().map_err(busy)?;
                let mut velocity = self.velocity.bind(py).try_readwrite().map_err(busy)?;
                let mut normal = self.normal.bind(py).try_readwrite().map_err(busy)?;
                let mut status = self.status.bind(py).try_readwrite().map_err(busy)?;
                Ok(write(Columns {
                    $($column: $name.as_slice_mut().map_err(torn)?,)*
                    launch_position: launch_position
                        .as_slice_mut()
                        .map_err(torn)?
                        .as_chunks_mut()
                        .0,
                    launch_velocity: launch_velocity
                        .as_slice_mut()
                        .map_err(torn)?
                        .as_chunks_mut()
                        .0,
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
                    launch_position: column("launch_position")?.extract()?,
                    launch_velocity: column("launch_velocity")?.extract()?,
                    mark: column("mark")?.extract()?,
                    velocity: column("velocity")?.extract()?,
                    normal: column("normal")?.extract()?,
                    status: column("status")?.extract()?,
                })
            }

            fn columns<'py>(&self, py: Python<'py>) -> PyResult<Bound<'py, PyDict>> {
                let dict = PyDict::new(py);
                $(dict.set_item(stringify!($name), &self.$name)?;)*
                dict.set_item("launch_position", &self.launch_position)?;
                dict.set_item("launch_velocity", &self.launch_velocity)?;
                dict.set_item("mark", &self.mark)?;
                dict.set_item("velocity", &self.velocity)?;
                dict.set_item("normal", &self.normal)?;
                dict.set_item("status", &self.status)?;
                Ok(dict)
            }
        }
    };
}

passes! {
    /// The tyres' speed at the takeoff's start, m/s, (n,).
    entry_speed: entry_speed;
    /// The tyres' speed at the edge, m/s, (n,).
    exit_speed: exit_speed;
    /// Time from the launch to the touch, s, (n,).
    time: time;
    /// Speed into the surface, m/s, (n,).
    normal_speed: normal_speed;
    /// Equivalent fall height, m, (n,).
    fall_height: fall_height;
    /// Angle between path and surface, degrees, (n,).
    angle_deg: angle;
    /// Level distance from the tyres' point at the launch to the mark, m, (n,).
    distance: distance;
    /// How far the mark is below that point, m, (n,).
    drop: drop;
    /// Speed over the surface, forward, m/s, (n,).
    along_speed: along_speed;
    /// Speed over the surface to the left of forward, m/s, (n,).
    sideways_speed: sideways_speed;
    /// Grip that stopping the sideways speed would take, (n,).
    grip_demand: grip_demand;
    /// Lean still owed at the touch, degrees, (n,).
    lean_owed_deg: lean_owed;
    /// Distance to the ground less reach, m, (n,).
    residual: residual;
}

#[pymethods]
impl BatchPasses {
    /// What `status` says, by its place.
    #[classattr]
    fn statuses(py: Python<'_>) -> PyResult<Bound<'_, PyTuple>> {
        PyTuple::new(py, Status::ALL.map(Status::word))
    }

    /// How each came out, (n,) of str: "landed"; on a landing "caught", "short", "long" or "wide";
    /// else "rolled_off", "off_survey", "no_touchdown"; who does not leave the edge "slid", "stalled",
    /// "did_not_start", "left_surface", "unbalanced" or "hung_up"; "bad_input" (a number that is not
    /// finite or out of its range) or "failed" (what numbers do not hold).
    #[getter]
    fn outcome<'py>(&self, py: Python<'py>) -> PyResult<Bound<'py, PyAny>> {
        let status = self.status.bind(py).try_readonly()?;
        let word = |code: &u8| Status::from_code(*code).unwrap_or(Status::Failed).word();
        arrays::words(py, status.as_array().iter().map(word))
    }

    /// A `pandas.DataFrame` with a row per pass; needs pandas.
    fn to_pandas<'py>(&self, py: Python<'py>) -> PyResult<Bound<'py, PyAny>> {
        crate::frames::to_pandas(py, self.told(py)?, "pass")
    }

    /// An `xarray.Dataset` along `pass`; needs xarray.
    fn to_xarray<'py>(&self, py: Python<'py>) -> PyResult<Bound<'py, PyAny>> {
        crate::frames::to_xarray(py, self.told(py)?, "pass")
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
        format!("<BatchPasses: {}>", self.__len__(py))
    }

    fn _repr_html_<'py>(slf: &Bound<'py, Self>) -> PyResult<Bound<'py, PyAny>> {
        crate::cards::html(slf.as_any())
    }

    fn __reduce__<'py>(&self, py: Python<'py>) -> PyResult<Remade<'py>> {
        let remake = py.import("loamline._native")?.getattr("_batch_passes")?;
        Ok((remake, (self.columns(py)?,)))
    }
}

/// What makes passes again, and from what.
type Remade<'py> = (Bound<'py, PyAny>, (Bound<'py, PyDict>,));

/// Passes from their columns; only pickles call it.
#[pyfunction]
pub fn _batch_passes(columns: &Bound<'_, PyDict>) -> PyResult<BatchPasses> {
    BatchPasses::from_columns(columns)
}

/// What is ridden to leave the ground.
#[derive(Debug, FromPyObject)]
pub enum AnyTakeoff<'py> {
    /// A wall.
    Wall(PyRef<'py, Wall>),
    /// A lip.
    Lip(PyRef<'py, Lip>),
    /// A drop.
    Drop(PyRef<'py, Drop>),
}

impl AnyTakeoff<'_> {
    fn core(&self) -> Takeoff {
        match self {
            Self::Wall(wall) => wall.core.clone().into(),
            Self::Lip(lip) => lip.core.clone().into(),
            Self::Drop(drop) => drop.core.clone().into(),
        }
    }
}

/// Many passes over one takeoff at once: as the takeoff's line to each `leave`, its ride, launch,
/// flight and touchdown row by row, in parallel.
///
/// Onto a plane places are within 1e-8 m of that, onto all other grounds within 1e-6 m; speeds over
/// the surface are within 1e-6 m/s. Square to the takeoff in calm air ("deck") a pass that holds takes
/// less than a microsecond onto a plane and some five onto a grid, once the takeoff's lines are known
/// (some tens of milliseconds); in wind and with the other leans each is ridden by itself. The same numbers to the last bit on any number of threads of
/// one machine, and whatever the other rows. A row with a number that is not finite or out of its
/// range gives NaN and the status "bad_input".
///
/// A forecast is judged by the hardest of three leans (`Site.passes`): "deck" alone is soft on slow
/// riders. Numbers guide; they certify nothing.
///
/// Args:
///     takeoff: Wall, Lip or Drop.
///     speed: the tyres' at the takeoff's start, m/s, 0 to 100, (n,).
///     leave: where on the edge they leave, m, (n,): up a wall's panel, to the left of the middle of a
///         lip or a drop.
///     ground, rider, air: onto what, who, through what.
///     enter: how far up a wall's panel they come onto it, m.
///     pop: the push off the edge, m/s, -5 to 5, (n,) or one number.
///     lean: "deck", "balanced" or "settled".
///     threads: how many; None takes as many as the machine has.
///     out: BatchPasses of the same n whose arrays are written over and given back.
///     progress: True for a line on standard error, or a function of (done, total) that may
///         return False to stop.
///
/// Raises:
///     InputError: arrays whose shapes do not fit, or an `enter` off the panel.
///     Cancelled: stopped by the progress function.
///
/// >>> import loamline as ll
/// >>> wall = ll.Wall(radius=7.0, sweep_deg=55.0, bank_deg=(20.0, 68.0), width=2.4)
/// >>> scene = (ll.Ground.plane(), ll.Rider(grip=0.9), ll.Air())
/// >>> many = ll.passes(wall, [8.0, 9.0], [1.2, 1.6], *scene, enter=0.25)
/// >>> print(*many.outcome)
/// landed landed
#[pyfunction]
#[pyo3(signature = (
    takeoff, speed, leave, ground, rider, air, enter=0.0, pop=None, lean="deck", threads=None,
    out=None, progress=None,
), text_signature = "(takeoff, speed, leave, ground, rider, air, enter=0.0, pop=0.0, lean='deck', threads=None, out=None, progress=None)")]
pub fn passes<'py>(
    py: Python<'py>,
    takeoff: AnyTakeoff<'py>,
    speed: &Bound<'py, PyAny>,
    leave: &Bound<'py, PyAny>,
    ground: &Ground,
    rider: &Rider,
    air: &Air,
    enter: f64,
    pop: Option<&Bound<'py, PyAny>>,
    lean: &str,
    threads: Option<usize>,
    out: Option<Bound<'py, BatchPasses>>,
    progress: Option<Bound<'py, PyAny>>,
) -> Result<Bound<'py, BatchPasses>, Failure> {
    let fast = arrays::row("speed", speed)?;
    let n = fast.len();
    let high = column("leave", leave, n)?;
    let pop = match pop.map(|pop| (pop, pop.extract::<f64>())) {
        None => vec![0.0; n],
        Some((_, Ok(one))) => vec![one; n],
        Some((many, Err(_))) => column("pop", many, n)?,
    };
    let out = match out {
        Some(out) if out.get().__len__(py) == n => out,
        Some(out) => {
            let had = out.get().__len__(py);
            return Err(Failure::input(&format!("out has {had} rows: {n} are wanted")).about("out"));
        }
        None => Bound::new(py, BatchPasses::empty(py, n))?,
    };
    let lean = lean_from(lean)?;
    let batch = Batch::new(&takeoff.core(), enter, &ground.core, &rider.core, &air.core)?;
    let batch = batch.with_lean(lean);
    let entries = Entries { speed: &fast, leave: &high, pop: &pop };
    let progress = watch::listener(progress)?;
    out.get().write(py, |mut columns| {
        watch::crewed(py, threads, progress.as_ref(), |crew| {
            batch.passes_into(entries, &mut columns, crew)?;
            columns.angle.iter_mut().for_each(|angle| *angle = degrees(*angle));
            columns.lean_owed.iter_mut().for_each(|lean| *lean = degrees(*lean));
            Ok::<_, BatchError>(())
        })
    })???;
    Ok(out)
}

/// The numbers of a column of so many rows.
fn column(field: &str, argument: &Bound<'_, PyAny>, rows: usize) -> Result<Vec<f64>, Failure> {
    let column = arrays::row(field, argument)?;
    if column.len() == rows {
        return Ok(column);
    }
    Err(Failure::shape(field, argument, &format!("({rows},)")))
}

impl BatchPasses {
    /// The columns with the status in words, as tables show it.
    fn told<'py>(&self, py: Python<'py>) -> PyResult<Bound<'py, PyDict>> {
        let columns = self.columns(py)?;
        columns.del_item("status")?;
        columns.set_item("outcome", self.outcome(py)?)?;
        Ok(columns)
    }
}
