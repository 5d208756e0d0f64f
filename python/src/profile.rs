//! A trail seen from the side.

use crate::air::Air;
use crate::arrays::{self, Triple};
use crate::brake;
use crate::errors::Failure;
use crate::line::{Line, Recipe};
use crate::pickle::{Pickled, Reduced, reduce};
use crate::rider::Rider;
use crate::text;
use crate::units::{degrees, radians};
use loamline::geometry::Profile as Core;
use loamline::ride::RideOptions;
use nalgebra::Vector3;
use numpy::{IntoPyArray, PyArray1};
use pyo3::prelude::*;
use serde::{Deserialize, Serialize};

/// What a profile was made of.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct Given {
    distance: Vec<f64>,
    height: Vec<f64>,
    radius: Option<f64>,
    position: Vector3<f64>,
    heading: f64,
}

impl Given {
    fn build(&self) -> Result<Core, Failure> {
        let core = match self.radius {
            None => Core::smooth(&self.distance, &self.height)?,
            Some(radius) => Core::cornered(&self.distance, &self.height, radius)?,
        };
        Ok(core.placed(self.position, self.heading)?)
    }
}

/// Heights over level distances along a straight course, distance growing along the travel.
///
/// Args:
///     distance: level distances, m, (n,), rising.
///     height: m, (n,).
///     radius: None joins the points by one smooth curve (a cubic spline); a radius, m, joins them
///         by straights rounded at the corners.
///     position: (x, y, z), m, of the profile's zero of distance and height.
///     heading_deg: of the course, counter-clockwise from +x, degrees.
///
/// Raises:
///     InputError: points that do not rise or are not finite, or a radius that does not fit.
///
/// >>> import loamline as ll
/// >>> hill = ll.Profile([0, 10, 20], [3, 1, 0], radius=2.0)
/// >>> round(hill.line().length, 3)
/// 20.248
#[pyclass(frozen, eq, module = "loamline")]
#[derive(Debug, Clone, PartialEq)]
pub struct Profile {
    /// What it was made of.
    pub given: Given,
    /// The core's profile.
    pub core: Core,
}

#[pymethods]
impl Profile {
    #[new]
    #[pyo3(
        signature = (distance, height, radius=None, position=Triple::zero(), heading_deg=0.0),
        text_signature = "(distance, height, radius=None, position=(0, 0, 0), heading_deg=0.0)"
    )]
    fn new(
        distance: &Bound<'_, PyAny>,
        height: &Bound<'_, PyAny>,
        radius: Option<f64>,
        position: Triple,
        heading_deg: f64,
    ) -> Result<Self, Failure> {
        Self::from_core(Given {
            distance: arrays::row("distance", distance)?,
            height: arrays::row("height", height)?,
            radius,
            position: position.named("position")?,
            heading: radians("heading_deg", heading_deg)?,
        })
    }

    /// The tyres' line along the whole profile.
    fn line(&self) -> Line {
        Line::of_profile(self.clone())
    }

    /// The tyres' line from a start mark to the profile's end.
    ///
    /// Args:
    ///     start: level metres before the profile's end.
    ///
    /// Raises:
    ///     InputError: a start mark off the profile.
    fn run_in(&self, start: f64) -> Result<Line, Failure> {
        Line::from_core(Recipe::RunIn(self.given.clone(), start))
    }

    /// The nearest start mark that gives a wanted speed at the profile's end.
    ///
    /// Args:
    ///     speed: the tyres', m/s, above 0.
    ///     rider, air: who rides, through what.
    ///     brake: as in `Line.ride`; zones by stations along the whole profile's line.
    ///     roll_in: speed at the mark, m/s; 0 starts from rest.
    ///
    /// Returns:
    ///     Level metres before the profile's end; the speed is met to 1e-7 m/s.
    ///
    /// Raises:
    ///     RideError: no mark gives that speed; says the fastest.
    #[pyo3(signature = (speed, rider, air, brake=None, roll_in=0.0))]
    fn start_mark(
        &self,
        speed: f64,
        rider: &Rider,
        air: &Air,
        brake: Option<&Bound<'_, PyAny>>,
        roll_in: f64,
    ) -> Result<f64, Failure> {
        let options = RideOptions::new(roll_in).with_brake(brake::from(brake)?);
        Ok(self.core.start_mark(speed, &rider.core, &air.core, &options)?)
    }

    /// Height at a level distance along the profile, m, over its zero.
    ///
    /// Raises:
    ///     InputError: a distance off the profile.
    #[pyo3(name = "height_at")]
    fn height_at(&self, distance: f64) -> Result<f64, Failure> {
        Ok(self.core.height(distance)?)
    }

    /// Level distances given, m, (n,).
    #[getter]
    fn distance<'py>(&self, py: Python<'py>) -> Bound<'py, PyArray1<f64>> {
        self.given.distance.clone().into_pyarray(py)
    }

    /// Heights given, m, (n,).
    #[getter]
    fn height<'py>(&self, py: Python<'py>) -> Bound<'py, PyArray1<f64>> {
        self.given.height.clone().into_pyarray(py)
    }

    /// Radius at the corners, m; None for a smooth curve.
    #[getter]
    fn radius(&self) -> Option<f64> {
        self.given.radius
    }

    fn __repr__(&self) -> String {
        self.given.text()
    }

    fn _repr_html_<'py>(slf: &Bound<'py, Self>) -> PyResult<Bound<'py, PyAny>> {
        crate::cards::html(slf.as_any())
    }

    fn __reduce__<'py>(&self, py: Python<'py>) -> Result<Reduced<'py>, Failure> {
        reduce::<Self>(py, &self.given)
    }
}

impl Given {
    /// What `repr` shows.
    pub fn text(&self) -> String {
        text::call(
            "Profile",
            &[
                ("distance", text::list(&self.distance)),
                ("height", text::list(&self.height)),
                ("radius", text::maybe(self.radius)),
                ("position", text::tuple(self.position.iter())),
                ("heading_deg", text::float(degrees(self.heading))),
            ],
        )
    }
}

impl Profile {
    /// The profile of a run-in as a site has it.
    pub fn plain(
        distance: Vec<f64>,
        height: Vec<f64>,
        radius: Option<f64>,
    ) -> Result<Self, Failure> {
        Self::from_core(Given {
            distance,
            height,
            radius,
            position: Vector3::zeros(),
            heading: 0.0,
        })
    }
}

impl Pickled for Profile {
    const NAME: &'static str = "Profile";
    type Core = Given;

    fn from_core(given: Given) -> Result<Self, Failure> {
        Ok(Self { core: given.build()?, given })
    }
}
