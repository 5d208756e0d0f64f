//! The landing on which every flight of one launch lands with the same fall height.

use crate::air::Air;
use crate::arrays;
use crate::errors::Failure;
use crate::pickle::pickled;
use crate::rider::Rider;
use crate::text;
use crate::units::degrees;
use loamline::design::{EvenDesign, EvenError, EvenForm, EvenLanding as Core, EvenPoint};
use loamline::math::range::OutOfRange;
use nalgebra::Vector2;
use numpy::{IntoPyArray, PyArray3, PyArrayMethods};
use pyo3::prelude::*;
use pyo3::types::{PyDict, PyFloat};

/// A right angle, degrees.
const SQUARE: f64 = 90.0;

/// A column of the profile: its name and what it takes of a place.
type Column = (&'static str, fn(&EvenPoint) -> f64);

const COLUMNS: [Column; 8] = [
    ("distance", |point| point.distance),
    ("height", |point| point.height),
    ("slope_deg", |point| degrees(point.slope)),
    ("curvature", |point| point.curvature),
    ("com_distance", |point| point.com_distance),
    ("com_height", |point| point.com_height),
    ("launch_speed", |point| point.launch_speed),
    ("time", |point| point.time),
];

/// Earth on which every flight of one launch, slow or fast, lands with the same fall height.
///
/// Made by `even_landing(...)`. Distances are level, m, from the centre of mass at the launch along
/// the landing's heading; heights count from there too. With a cross slope the profile is the cut
/// by the vertical plane through the launch along the heading; the earth goes on straight to both
/// sides.
#[pyclass(frozen, eq, module = "loamline")]
#[derive(Debug, Clone, PartialEq)]
pub struct EvenLanding {
    /// The core's even landing.
    pub core: Core,
}

/// The earth on which every flight of one launch, slow or fast, lands with the same fall height.
///
/// Flights leave from one place at one angle and differ in speed. The surface's slope obeys an
/// equation of first order, so there is one such landing for every far end; it is followed from
/// there inwards, as that way errors shrink. All places are the earth's, `x` level and `z` up, m,
/// from the centre of mass at the launch; the rider comes upright, `rider.com_height_landing` over
/// the tyres. It is even only for this launch: who pops or leaves elsewhere lands harder or softer.
///
/// Args:
///     launch_angle_deg: above the level, between -90 and 90.
///     fall_height: equivalent fall height of every landing, m, at least 0.
///     far: (x, z) of the far end; x above 0.
///     near: x at which it should begin, from 0 to below the far end's.
///     rider, air: who flies, through what; the wind's x blows along the landing, its y to the left.
///     sideways_deg: heading of the flights, from the landing's to the left, between -90 and 90.
///     cross_slope_deg: how the earth rises to the left, between -90 and 90.
///     steepest_deg: steepest that earth is let stand, between 0 and 90. 45 is for hard, dry and
///         clean earth (Newman 1890); wet earth stands at less than half.
///     form: "distance", "launch_speed" or "root": three forms of the one equation that check one
///         another; heights agree to 1e-8 m.
///
/// Raises:
///     InputError: a number outside its range; a far end where no flight gets, where flights are too
///         slow, or where the earth would be too steep or bend too tightly.
///
/// >>> import loamline as ll
/// >>> even = ll.even_landing(launch_angle_deg=20.0, fall_height=0.5, far=(9.0, -2.0), near=3.0,
/// ...                        rider=ll.Rider(), air=ll.Air())
/// >>> even.reach, even.stopped_by
/// ((3.0, 9.0), 'near_end')
/// >>> [round(even.slope_deg(x)) for x in (3.0, 6.0, 9.0)]
/// [-1, 7, 15]
#[pyfunction]
#[pyo3(signature = (
    launch_angle_deg, fall_height, far, near, rider, air, sideways_deg=0.0, cross_slope_deg=0.0,
    steepest_deg=45.0, form="distance",
))]
pub fn even_landing(
    py: Python<'_>,
    launch_angle_deg: f64,
    fall_height: f64,
    far: &Bound<'_, PyAny>,
    near: f64,
    rider: &Rider,
    air: &Air,
    sideways_deg: f64,
    cross_slope_deg: f64,
    steepest_deg: f64,
    form: &str,
) -> Result<EvenLanding, Failure> {
    let launch_angle = less_than_square("launch_angle_deg", launch_angle_deg, -SQUARE)?;
    let far = Vector2::from(arrays::pair("far", far)?);
    let design = EvenDesign::new(launch_angle, fall_height, far, near)?
        .with_sideways(less_than_square("sideways_deg", sideways_deg, -SQUARE)?)?
        .with_cross_slope(less_than_square("cross_slope_deg", cross_slope_deg, -SQUARE)?)?
        .with_steepest(less_than_square("steepest_deg", steepest_deg, 0.0)?)?;
    let form = form_named(form)?;
    let (rider, air) = (&rider.core, &air.core);
    let core = py.detach(|| design.landing_in(rider, air, form)).map_err(|error| {
        let begins = matches!(error, EvenError::FarEnd { .. });
        let failure = Failure::from(error);
        if begins { failure.about("far") } else { failure }
    })?;
    Ok(EvenLanding { core })
}

/// An angle between a bound and a right angle, both left out, in radians.
pub fn less_than_square(field: &'static str, angle_deg: f64, over: f64) -> Result<f64, OutOfRange> {
    if angle_deg > over && angle_deg < SQUARE {
        return Ok(angle_deg.to_radians());
    }
    let allowed = format!("between {over} and {SQUARE}, both left out");
    Err(OutOfRange::new(field, angle_deg, allowed))
}

fn form_named(name: &str) -> Result<EvenForm, Failure> {
    match name {
        "distance" => Ok(EvenForm::Distance),
        "launch_speed" => Ok(EvenForm::LaunchSpeed),
        "root" => Ok(EvenForm::Root),
        _ => {
            let why = format!("form = {name:?} is not one of distance, launch_speed, root");
            Err(Failure::input(&why).about("form"))
        }
    }
}

#[pymethods]
impl EvenLanding {
    /// Height of the earth a distance out, m.
    ///
    /// Args:
    ///     x: m, within `reach`; a number, or an array (n,).
    ///
    /// Returns:
    ///     A float, or an array (n,).
    ///
    /// Raises:
    ///     InputError: a distance beyond its reach.
    fn height<'py>(&self, x: &Bound<'py, PyAny>) -> Result<Bound<'py, PyAny>, Failure> {
        each(x, |x| self.core.height(x))
    }

    /// Slope of the earth along the heading a distance out, positive downhill, degrees.
    ///
    /// Args:
    ///     x: m, within `reach`; a number, or an array (n,).
    ///
    /// Returns:
    ///     A float, or an array (n,).
    ///
    /// Raises:
    ///     InputError: a distance beyond its reach.
    fn slope_deg<'py>(&self, x: &Bound<'py, PyAny>) -> Result<Bound<'py, PyAny>, Failure> {
        each(x, |x| self.core.slope(x).map(f64::to_degrees))
    }

    /// Launch speed of the flight that lands a distance out, m/s.
    ///
    /// Args:
    ///     x: m, within `reach`; a number, or an array (n,).
    ///
    /// Returns:
    ///     A float, or an array (n,).
    ///
    /// Raises:
    ///     InputError: a distance beyond its reach.
    fn launch_speed<'py>(&self, x: &Bound<'py, PyAny>) -> Result<Bound<'py, PyAny>, Failure> {
        each(x, |x| self.core.launch_speed(x))
    }

    /// Launch speeds of the flights that land on it, slowest and fastest, m/s.
    #[getter]
    fn launch_speeds(&self) -> (f64, f64) {
        self.core.launch_speeds()
    }

    /// Angle above the level at which flights leave, degrees.
    #[getter]
    fn launch_angle_deg(&self) -> f64 {
        degrees(self.core.design().launch_angle())
    }

    /// Heading of the flights, from the landing's to the left, degrees.
    #[getter]
    fn sideways_deg(&self) -> f64 {
        degrees(self.core.design().sideways())
    }

    /// Its places, near end first, as arrays (n,) by name, at most 0.1 m apart.
    ///
    /// `distance`, `height`, `slope_deg` and `curvature` (1/m, positive over a crest) of the earth;
    /// `com_distance`, `com_height` of the centre of mass that touches there; `launch_speed` and
    /// `time` of its flight.
    fn profile<'py>(&self, py: Python<'py>) -> PyResult<Bound<'py, PyDict>> {
        let (points, columns) = (self.core.profile(), PyDict::new(py));
        for (name, of) in COLUMNS {
            let column: Vec<f64> = points.iter().map(of).collect();
            columns.set_item(name, column.into_pyarray(py))?;
        }
        Ok(columns)
    }

    /// Paths of the centre of mass of some flights that land on it, out and up, m,
    /// (count, points, 2), spread evenly from the near end to the far one.
    #[pyo3(signature = (count=8, points=60))]
    fn paths<'py>(
        &self,
        py: Python<'py>,
        count: usize,
        points: usize,
    ) -> Result<Bound<'py, PyArray3<f64>>, Failure> {
        arrays::places("count", count.saturating_mul(points))?;
        let paths = self.core.paths(count, points);
        let flat: Vec<f64> = paths.iter().flatten().flat_map(|at| [at.x, at.y]).collect();
        Ok(flat.into_pyarray(py).reshape([count, points, 2])?)
    }

    /// A `pandas.DataFrame` of the profile; needs pandas.
    fn to_pandas<'py>(&self, py: Python<'py>) -> PyResult<Bound<'py, PyAny>> {
        crate::frames::to_pandas(py, self.profile(py)?, "place")
    }

    fn __repr__(&self) -> String {
        let (near, far) = self.core.reach();
        format!(
            "<EvenLanding: fall height {} m from {near:.2} to {far:.2} m out, stopped by {}>",
            text::float(self.fall_height()),
            self.stopped_by(),
        )
    }
}

/// What all even earth says of itself alike.
macro_rules! even_earth {
    ($class:ident) => {
        #[pymethods]
        impl $class {
            /// From where to where it reaches, along all its lines, near end first, m out.
            #[getter]
            fn reach(&self) -> (f64, f64) {
                self.core.reach()
            }

            /// What ended it on its way inwards: "near_end"; "too_steep", steeper than earth is let
            /// stand; "no_flight", no flight gets there; "too_slow", who gets there is slower than the
            /// fall height asks for; "too_tight", it bends down more tightly than the rider's height
            /// over the tyres; "flights_cross", a place does not tell the flight.
            #[getter]
            fn stopped_by(&self) -> &'static str {
                self.core.stopped_by().word()
            }

            /// Equivalent fall height of every landing, m.
            #[getter]
            fn fall_height(&self) -> f64 {
                self.core.design().fall_height()
            }

            /// How the earth, at its far end, rises to the left, degrees.
            #[getter]
            fn cross_slope_deg(&self) -> f64 {
                crate::units::degrees(self.core.design().cross_slope())
            }

            /// What is not wrong but unwise about it, in words.
            #[getter]
            fn warnings(&self) -> Vec<String> {
                self.core.warnings().iter().map(ToString::to_string).collect()
            }

            /// The model behind the numbers, what went in, its sources and its limits, in paragraphs.
            fn explain(&self) -> String {
                self.core.explain().to_string()
            }
        }
    };
}
pub(crate) use even_earth;

/// A number for a number, an array for an array.
fn each<'py>(
    x: &Bound<'py, PyAny>,
    of: impl Fn(f64) -> Result<f64, OutOfRange>,
) -> Result<Bound<'py, PyAny>, Failure> {
    let py = x.py();
    if let Ok(x) = x.extract() {
        return Ok(PyFloat::new(py, of(x)?).into_any());
    }
    let values: Result<Vec<f64>, _> = arrays::row("x", x)?.into_iter().map(of).collect();
    Ok(values?.into_pyarray(py).into_any())
}

even_earth!(EvenLanding);
pickled!(EvenLanding, Core);
