//! The exceptions, and what core error becomes which.

mod design;

use crate::free;
use loamline::earth::{EarthworkError, PondingError, PressureError, SoilError, VolumeError};
use loamline::feature::{FreeError, RampError, WallError};
use loamline::files::{FileError, Spot};
use loamline::flight::FlightError;
use loamline::geometry::GeometryError;
use loamline::ground::{GroundError, LandingError};
use loamline::launch::LaunchError;
use loamline::load::LoadError;
use loamline::load::batch::BatchError as LoadBatchError;
use loamline::math::parallel::CrewError;
use loamline::math::range::OutOfRange;
use loamline::passes::PassesError;
use loamline::passes::batch::BatchError as PassBatchError;
use loamline::ride::RideError;
use loamline::site::SiteError;
use loamline::touchdown::batch::BatchError;
use loamline::two_wheel::TwoWheelError;
use loamline::{AirError, RiderError};
use pyo3::exceptions::{PyException, PyValueError};
use pyo3::prelude::*;
use pyo3::sync::PyOnceLock;
use pyo3::types::{PyDict, PyTuple, PyType};
use std::fmt::Display;

/// The kinds of exceptions, root first: name, parents among them, whether a `ValueError` too, doc.
const KINDS: [(Kind, &str, Option<Kind>, bool, &str); 8] = [
    (Kind::Loamline, "LoamlineError", None, false, "Any error that loamline raises by itself."),
    (
        Kind::Input,
        "InputError",
        Some(Kind::Loamline),
        true,
        "A wrong input; where one number is wrong: `field`, `value` and what is `allowed`.",
    ),
    (
        Kind::Ride,
        "RideError",
        Some(Kind::Loamline),
        false,
        "A ride that cannot be computed, or that ended before what was asked of it.",
    ),
    (Kind::Flight, "FlightError", Some(Kind::Loamline), false, "A flight that cannot be computed."),
    (
        Kind::Passes,
        "PassesError",
        Some(Kind::Loamline),
        false,
        "An ensemble that gives no passes, such as one of which nobody leaves the edge.",
    ),
    (Kind::Fit, "FitError", Some(Kind::Loamline), false, "No landing within the bounds given."),
    (
        Kind::File,
        "FileError",
        Some(Kind::Input),
        false,
        "A file that cannot be read or written; names the file, the line and the key.",
    ),
    (
        Kind::Cancelled,
        "Cancelled",
        Some(Kind::Loamline),
        false,
        "Long work that its own progress function stopped by returning False.",
    ),
];

/// One class of the exceptions' tree.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Kind {
    /// The root.
    Loamline,
    /// Wrong input.
    Input,
    /// The ride did not go as asked.
    Ride,
    /// The flight cannot be computed.
    Flight,
    /// An ensemble without passes.
    Passes,
    /// No landing found.
    Fit,
    /// Files.
    File,
    /// Stopped by its own progress function.
    Cancelled,
}

static TREE: PyOnceLock<Vec<(Kind, Py<PyType>)>> = PyOnceLock::new();

impl Kind {
    fn class(self, py: Python<'_>) -> PyResult<Bound<'_, PyType>> {
        let tree = TREE.get_or_try_init(py, || grow(py))?;
        find(tree, self)
            .map(|class| class.bind(py).clone())
            .ok_or_else(|| PyException::new_err("the tree of exceptions is not complete"))
    }

    /// The exception of this kind that says `message`.
    fn says(self, py: Python<'_>, message: &str) -> PyErr {
        match self.class(py) {
            Ok(class) => PyErr::from_type(class, (message.to_owned(),)),
            Err(error) => error,
        }
    }
}

fn find(tree: &[(Kind, Py<PyType>)], kind: Kind) -> Option<&Py<PyType>> {
    tree.iter().find(|(k, _)| *k == kind).map(|(_, class)| class)
}

fn grow(py: Python<'_>) -> PyResult<Vec<(Kind, Py<PyType>)>> {
    let mut tree = Vec::new();
    for (kind, name, parent, is_value, doc) in KINDS {
        let mut bases = match parent.and_then(|p| find(&tree, p)) {
            Some(class) => vec![class.bind(py).clone()],
            None => vec![py.get_type::<PyException>()],
        };
        if is_value {
            bases.push(py.get_type::<PyValueError>());
        }
        let body = PyDict::new(py);
        body.set_item("__module__", "loamline")?;
        body.set_item("__doc__", doc)?;
        let class = py.get_type::<PyType>().call1((name, PyTuple::new(py, bases)?, body))?;
        tree.push((kind, class.cast_into::<PyType>()?.unbind()));
    }
    Ok(tree)
}

/// Adds every class of the tree to the module.
pub fn register(m: &Bound<'_, PyModule>) -> PyResult<()> {
    for (kind, name, ..) in KINDS {
        m.add(name, kind.class(m.py())?)?;
    }
    Ok(())
}

/// A failure on its way to Python. Each core error has one `From` here that says its class.
#[derive(Debug)]
pub struct Failure(PyErr);

impl Failure {
    /// An exception of `kind` with `message` and `attributes` on it.
    pub fn new(kind: Kind, message: &str) -> Self {
        Python::attach(|py| Self(kind.says(py, message)))
    }

    /// Wrong input that is not about a single number.
    pub fn input(message: &str) -> Self {
        Self::new(Kind::Input, message)
    }

    /// An argument that is no array of numbers in the shape wanted.
    pub fn shape(field: &str, argument: &Bound<'_, PyAny>, wanted: &str) -> Self {
        let numpy =
            argument.py().import("numpy").and_then(|np| np.call_method1("shape", (argument,)));
        let shape =
            numpy.map_or_else(|_| "no regular shape".into(), |shape| format!("shape {shape}"));
        Self::input(&format!("{field} has {shape}; numbers in shape {wanted} are wanted"))
            .about(field)
    }

    /// The same failure, with the name of the field that it is about.
    pub fn about(self, field: &str) -> Self {
        self.set("field", field.to_owned())
    }

    /// A pickle that does not read.
    pub fn pickle(class: &str, why: &dyn Display) -> Self {
        Self::input(&format!("the pickle of {class} does not hold: {why}"))
    }

    /// Stopped by its own progress function.
    pub fn cancelled() -> Self {
        Self::new(Kind::Cancelled, "stopped by the progress function")
    }

    fn at(self, spot: &Spot) -> Self {
        self.set("path", spot.file().to_path_buf()).set("line", spot.line())
    }

    fn set(self, name: &str, value: impl for<'py> IntoPyObject<'py>) -> Self {
        // An attribute that cannot be set must not hide the error that carries it.
        Python::attach(|py| self.0.value(py).setattr(name, value).unwrap_or_default());
        self
    }
}

impl From<PyErr> for Failure {
    fn from(error: PyErr) -> Self {
        Self(error)
    }
}

impl From<Failure> for PyErr {
    fn from(failure: Failure) -> Self {
        failure.0
    }
}

impl From<OutOfRange> for Failure {
    fn from(error: OutOfRange) -> Self {
        Self::input(&error.to_string())
            .set("field", error.field.into_owned())
            .set("value", error.value)
            .set("allowed", error.allowed.into_owned())
    }
}

/// Core errors that hold an [`OutOfRange`] in one variant, each with the kind of all others.
macro_rules! failures {
    ($($error:ident { $range:ident } => $kind:ident,)*) => {
        $(impl From<$error> for Failure {
            fn from(error: $error) -> Self {
                match error {
                    $error::$range(number) => number.into(),
                    other => Self::new(Kind::$kind, &other.to_string()),
                }
            }
        })*
    };
}

failures! {
    AirError { OutOfRange } => Input,
    RiderError { OutOfRange } => Input,
    GeometryError { Range } => Input,
    GroundError { Value } => Input,
    LandingError { OutOfRange } => Input,
    LoadError { Value } => Input,
    CrewError { OutOfRange } => Cancelled,
}

impl From<WallError> for Failure {
    fn from(error: WallError) -> Self {
        match error {
            WallError::Range(number) => number.into(),
            WallError::Plan(curve) => curve.into(),
            other => Self::input(&other.to_string()),
        }
    }
}

impl From<RampError> for Failure {
    fn from(error: RampError) -> Self {
        match error {
            RampError::Range(number) => number.into(),
            RampError::Curve(curve) => curve.into(),
            RampError::TooLow { .. } => Self::input(&error.to_string()).about("height"),
            other => Self::new(Kind::Ride, &other.to_string()),
        }
    }
}

impl From<FreeError> for Failure {
    fn from(error: FreeError) -> Self {
        let message = error.to_string();
        match error {
            FreeError::Range(number) => number.into(),
            FreeError::EndsAtStart { end } | FreeError::NotAtEdge { end } => {
                Self::new(Kind::Ride, &message)
                    .set("outcome", free::word(end.outcome))
                    .set("station", end.station)
                    .set("height", end.height)
            }
            _ => Self::new(Kind::Ride, &message),
        }
    }
}

impl From<RideError> for Failure {
    fn from(error: RideError) -> Self {
        match error {
            RideError::Range(number) => number.into(),
            RideError::Geometry(curve) => curve.into(),
            RideError::Zone { .. } | RideError::ZonesOverlap { .. } => {
                Self::input(&error.to_string()).about("brake")
            }
            other => Self::new(Kind::Ride, &other.to_string()),
        }
    }
}

impl From<TwoWheelError> for Failure {
    fn from(error: TwoWheelError) -> Self {
        match error {
            TwoWheelError::Range(number) => number.into(),
            TwoWheelError::Geometry(curve) => curve.into(),
            TwoWheelError::RunInTooShort { .. } => Self::input(&error.to_string()).about("start"),
            TwoWheelError::HollowTooTight { .. } => {
                Self::input(&error.to_string()).about("wheel_radius")
            }
            TwoWheelError::InertiaTooSmall { .. } => {
                Self::input(&error.to_string()).about("inertia")
            }
            TwoWheelError::NotSettled { .. } | TwoWheelError::Unresolved { .. } => {
                Self::new(Kind::Ride, &error.to_string())
            }
            other => Self::input(&other.to_string()),
        }
    }
}

impl From<SoilError> for Failure {
    fn from(error: SoilError) -> Self {
        match error {
            SoilError::OutOfRange(number) => number.into(),
            other => Self::input(&other.to_string()).about("soil"),
        }
    }
}

impl From<EarthworkError> for Failure {
    fn from(error: EarthworkError) -> Self {
        match error {
            EarthworkError::OutOfRange(number) => number.into(),
            other => Self::input(&other.to_string()),
        }
    }
}

impl From<PondingError> for Failure {
    fn from(error: PondingError) -> Self {
        match error {
            PondingError::OutOfRange(number) => number.into(),
            PondingError::Ground(ground) => ground.into(),
            PondingError::Unbounded | PondingError::NoGround { .. } => {
                Self::input(&error.to_string()).about("area")
            }
            other => Self::input(&other.to_string()),
        }
    }
}

impl From<PressureError> for Failure {
    fn from(error: PressureError) -> Self {
        match error {
            PressureError::OutOfRange(number) => number.into(),
            other => Self::input(&other.to_string()).about("slope_deg"),
        }
    }
}

impl From<VolumeError> for Failure {
    fn from(error: VolumeError) -> Self {
        Self::input(&error.to_string())
    }
}

impl From<SiteError> for Failure {
    fn from(error: SiteError) -> Self {
        match error {
            SiteError::OutOfRange(number) => number.into(),
            SiteError::Air(air) => air.into(),
            SiteError::Rider(rider) => rider.into(),
            SiteError::Ride(ride) => ride.into(),
            other => Self::input(&other.to_string()),
        }
    }
}

impl From<PassesError> for Failure {
    fn from(error: PassesError) -> Self {
        match error {
            PassesError::OutOfRange(number) => number.into(),
            PassesError::Site(site) => site.into(),
            PassesError::Crew(crew) => crew.into(),
            other => Self::new(Kind::Passes, &other.to_string()),
        }
    }
}

impl From<FileError> for Failure {
    fn from(error: FileError) -> Self {
        let said = Self::new(Kind::File, &error.to_string());
        match error {
            FileError::OutOfRange { at, field, value, allowed } => {
                said.about(&field).set("value", value).set("allowed", allowed).at(&at)
            }
            FileError::Unfit { at, field, .. } | FileError::WrongType { at, field, .. } => {
                said.about(&field).at(&at)
            }
            FileError::UnknownKey { at, key, .. }
            | FileError::WrongUnit { at, key, .. }
            | FileError::MissingKey { at, key, .. } => said.about(&key).at(&at),
            FileError::Syntax { at, .. } => said.at(&at),
            _ => said,
        }
    }
}

impl From<FlightError> for Failure {
    fn from(error: FlightError) -> Self {
        match error {
            FlightError::Value(number) => number.into(),
            FlightError::NoAttitude => {
                Self::new(Kind::Flight, &error.to_string()).about("attitude")
            }
            other => Self::new(Kind::Flight, &other.to_string()),
        }
    }
}

impl From<PassBatchError> for Failure {
    fn from(error: PassBatchError) -> Self {
        match error {
            PassBatchError::Site(site) => site.into(),
            PassBatchError::Flight(flight) => flight.into(),
            PassBatchError::Crew(stopped) => stopped.into(),
            other => Self::input(&other.to_string()),
        }
    }
}

impl From<LoadBatchError> for Failure {
    fn from(error: LoadBatchError) -> Self {
        match error {
            LoadBatchError::Load(load) => load.into(),
            LoadBatchError::Crew(stopped) => stopped.into(),
            other => Self::input(&other.to_string()),
        }
    }
}

impl From<BatchError> for Failure {
    fn from(error: BatchError) -> Self {
        match error {
            BatchError::Value(number) => number.into(),
            BatchError::Crew(stopped) => stopped.into(),
            other => Self::input(&other.to_string()),
        }
    }
}

impl From<LaunchError> for Failure {
    fn from(error: LaunchError) -> Self {
        match error {
            LaunchError::Range(number) => number.into(),
            LaunchError::Attitude { .. } => Self::input(&error.to_string()).about("attitude"),
            other => Self::new(Kind::Ride, &other.to_string()),
        }
    }
}
