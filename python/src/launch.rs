//! Leaving the edge.

use crate::air::Air;
use crate::arrays::{self, Triple, vector};
use crate::errors::Failure;
use crate::flight::Flight;
use crate::ground::Ground;
use crate::pickle::{Reduced, pickled, reduce};
use crate::rider::Rider;
use crate::text;
use loamline::launch::Launch as Core;
use numpy::{PyArray1, PyArray2};
use pyo3::prelude::*;

/// The moment of leaving: position and velocity of the centre of mass, and how the bike points.
///
/// Made by `ride.launch(pop)`, or by hand from position and velocity; a launch by hand has no
/// attitude, and its distance and drop count from the centre of mass.
///
/// Args:
///     position: of the centre of mass, (x, y, z), m.
///     velocity: of the centre of mass, (vx, vy, vz), m/s.
///
/// Raises:
///     InputError: a number that is not finite.
///
/// >>> import loamline as ll
/// >>> ll.Launch(position=(0, 0, 1.5), velocity=(7, 0, 2)).velocity.tolist()
/// [7.0, 0.0, 2.0]
#[pyclass(frozen, eq, module = "loamline")]
#[derive(Debug, Clone, PartialEq)]
pub struct Launch {
    /// The core's launch.
    pub core: Core,
}

#[pymethods]
impl Launch {
    #[new]
    fn new(position: Triple, velocity: Triple) -> Result<Self, Failure> {
        let (position, velocity) = (position.named("position")?, velocity.named("velocity")?);
        Ok(Self { core: Core::by_hand(position, velocity)? })
    }

    /// The flight from here to the ground.
    ///
    /// The rider is a point that flies under gravity and drag; touchdown is the first time its
    /// distance to the ground comes down to `rider.com_height_landing`, less while it leans.
    ///
    /// Args:
    ///     ground, rider, air: onto what, who, through what.
    ///     righting_rate_deg: how fast a rider who leaves leaning rights himself, degrees/s; None
    ///         takes 250, an assumption.
    ///
    /// Raises:
    ///     FlightError: a path that numbers do not hold.
    ///
    /// >>> import loamline as ll
    /// >>> launch = ll.Launch(position=(0, 0, 2), velocity=(6, 0, 0))
    /// >>> flight = launch.flight(ll.Ground.plane(), ll.Rider(cda=0.0), ll.Air())
    /// >>> round(flight.touchdown.fall_height, 9)
    /// 1.0
    #[pyo3(signature = (ground, rider, air, righting_rate_deg=None))]
    fn flight(
        &self,
        ground: &Ground,
        rider: &Rider,
        air: &Air,
        righting_rate_deg: Option<f64>,
    ) -> Result<Flight, Failure> {
        Flight::of(self, ground, rider, air, righting_rate_deg)
    }

    /// Centre of mass, m, an array of three.
    #[getter]
    fn position<'py>(&self, py: Python<'py>) -> Bound<'py, PyArray1<f64>> {
        vector(py, &self.core.position)
    }

    /// Velocity of the centre of mass, m/s, an array of three.
    #[getter]
    fn velocity<'py>(&self, py: Python<'py>) -> Bound<'py, PyArray1<f64>> {
        vector(py, &self.core.velocity)
    }

    /// Which way the bike points: unit vectors forward, left and up, (3, 3) in rows; None for a
    /// launch by hand.
    #[getter]
    fn attitude<'py>(&self, py: Python<'py>) -> PyResult<Option<Bound<'py, PyArray2<f64>>>> {
        let axes = self.core.attitude.map(|a| [a.t, a.l, a.u]);
        axes.map(|axes| arrays::vectors(py, &axes)).transpose()
    }

    /// Angular velocity, rad/s, an array of three in the site's axes; zero for a launch by hand.
    ///
    /// About the bike's forward, left and up axes: positive leans right, turns the nose down,
    /// turns left.
    #[getter]
    fn angular_velocity<'py>(&self, py: Python<'py>) -> Bound<'py, PyArray1<f64>> {
        vector(py, &self.core.angular_velocity)
    }

    /// The tyres' point at the edge, m, an array of three; None for a launch by hand.
    #[getter]
    fn tyre_point<'py>(&self, py: Python<'py>) -> Option<Bound<'py, PyArray1<f64>>> {
        self.core.tyre_point.map(|point| vector(py, &point))
    }

    /// What came up on the ride, in words.
    #[getter]
    fn warnings(&self) -> Vec<String> {
        self.core.warnings.iter().map(ToString::to_string).collect()
    }

    fn __repr__(&self) -> String {
        let (position, velocity) =
            (text::tuple(self.core.position.iter()), text::tuple(self.core.velocity.iter()));
        if self.core.attitude.is_some() {
            return format!("<Launch off a ride: position {position}, velocity {velocity}>");
        }
        text::call("Launch", &[("position", position), ("velocity", velocity)])
    }

    fn __reduce__<'py>(&self, py: Python<'py>) -> Result<Reduced<'py>, Failure> {
        reduce::<Self>(py, &self.core)
    }
}

pickled!(Launch, Core);
