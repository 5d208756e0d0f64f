//! Leaving the edge.

use crate::air::Air;
use crate::arrays::{self, Triple, vector};
use crate::errors::Failure;
use crate::flight::Flight;
use crate::ground::Ground;
use crate::pickle::pickled;
use crate::rider::Rider;
use crate::rigid::RigidFlight;
use crate::text;
use crate::units::degrees;
use loamline::launch::{Attitude, Launch as Core};
use nalgebra::Vector3;
use numpy::{PyArray1, PyArray2};
use pyo3::prelude::*;
use pyo3::types::PyDict;

/// The moment of leaving: position and velocity of the centre of mass, and how the bike points.
///
/// Made by `ride.launch(pop)`, or by hand; the distance and drop of a launch by hand count from the
/// centre of mass.
///
/// Args:
///     position: of the centre of mass, (x, y, z), m.
///     velocity: of the centre of mass, (vx, vy, vz), m/s.
///     attitude: which way the bike points: unit vectors forward, left and up, (3, 3) in rows;
///         None leaves it unknown.
///     angular_velocity: rad/s, in the site's axes; only with an attitude.
///     tyre_speed: with which the wheels spin on, m/s; None leaves it unknown.
///
/// Raises:
///     InputError: a number that is not finite, axes that are not right-handed unit vectors, an
///         angular velocity without an attitude.
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
    #[pyo3(
        signature = (
            position, velocity, attitude=None, angular_velocity=Triple::zero(), tyre_speed=None,
        ),
        text_signature = "(position, velocity, attitude=None, angular_velocity=(0, 0, 0), tyre_speed=None)"
    )]
    fn new(
        position: Triple,
        velocity: Triple,
        attitude: Option<Bound<'_, PyAny>>,
        angular_velocity: Triple,
        tyre_speed: Option<f64>,
    ) -> Result<Self, Failure> {
        let (position, velocity) = (position.named("position")?, velocity.named("velocity")?);
        let turning = angular_velocity.named("angular_velocity")?;
        let mut core = Core::by_hand(position, velocity)?;
        if let Some(axes) = attitude {
            core = core.with_attitude(pointing(&axes)?, turning)?;
        } else if turning != Vector3::zeros() {
            let said =
                "angular_velocity is given without an attitude: the bike's axes are not known";
            return Err(Failure::input(said).about("angular_velocity"));
        }
        if let Some(speed) = tyre_speed {
            core = core.with_tyre_speed(speed)?;
        }
        Ok(Self { core })
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

    /// The flight of rider and bike as one rigid body that leaves with this attitude and angular
    /// velocity.
    ///
    /// Path and touchdown are those of `flight`; the body turns on by itself, with the wheels'
    /// spin momentum, 2 wheel_inertia / wheel_radius times the tyres' speed, held constant in it (for a
    /// launch by hand without that speed, the velocity's part forward).
    ///
    /// Args:
    ///     ground, rider, air: onto what, who, through what.
    ///     torque: the rider's own constant torque about the bike's forward, left and up axes, N m.
    ///     righting_rate_deg: as for `flight`.
    ///
    /// Raises:
    ///     FlightError: a launch without attitude, or what numbers do not hold.
    ///     InputError: a torque that is not finite.
    ///
    /// >>> import loamline as ll
    /// >>> launch = ll.Launch((0, 0, 2), (6, 0, 0), attitude=[(1, 0, 0), (0, 1, 0), (0, 0, 1)])
    /// >>> rigid = launch.rigid_flight(ll.Ground.plane(slope_deg=20), ll.Rider(), ll.Air())
    /// >>> rigid.touchdown.turn_owed_deg.round(6).tolist()
    /// [0.0, 20.0, 0.0]
    #[pyo3(
        signature = (ground, rider, air, torque=Triple::zero(), righting_rate_deg=None),
        text_signature = "($self, ground, rider, air, torque=(0, 0, 0), righting_rate_deg=None)"
    )]
    fn rigid_flight(
        &self,
        ground: &Ground,
        rider: &Rider,
        air: &Air,
        torque: Triple,
        righting_rate_deg: Option<f64>,
    ) -> Result<RigidFlight, Failure> {
        RigidFlight::of(self, ground, rider, air, torque, righting_rate_deg)
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
    /// launch by hand without one.
    ///
    /// Off a ride it is turned in pitch so that turning on at `angular_velocity` gives the angle at
    /// which the rear wheel leaves.
    #[getter]
    fn attitude<'py>(&self, py: Python<'py>) -> PyResult<Option<Bound<'py, PyArray2<f64>>>> {
        let axes = self.core.attitude.map(|a| [a.t, a.l, a.u]);
        axes.map(|axes| arrays::vectors(py, &axes)).transpose()
    }

    /// Angular velocity, rad/s, an array of three in the site's axes.
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

    /// The tyres' speed, m/s, with which the wheels spin on; None for a launch by hand without one.
    #[getter]
    fn tyre_speed(&self) -> Option<f64> {
        self.core.tyre_speed
    }

    /// How the bike turned while only its rear wheel was on, nose down positive; None for a launch
    /// by hand.
    ///
    /// A dict of `angle_deg` (off the line at the edge) and `rate_deg` (degrees/s) when the rear
    /// wheel leaves, `duration` (s) since the front left, `after` (s) since the launch,
    /// `short_of_edge` (m, where the rear lifted off before), and, since the edge carries less of a
    /// rider who keeps still, `shift` (m) and `drift` (m/s): where his centre of mass is then and how
    /// it moves, from what this launch's flight has, arrays of three.
    #[getter]
    fn pitch<'py>(&self, py: Python<'py>) -> PyResult<Option<Bound<'py, PyDict>>> {
        let Some(pitch) = &self.core.pitch else {
            return Ok(None);
        };
        let dict = PyDict::new(py);
        dict.set_item("angle_deg", degrees(pitch.angle))?;
        dict.set_item("rate_deg", degrees(pitch.rate))?;
        dict.set_item("duration", pitch.duration)?;
        dict.set_item("after", pitch.after)?;
        dict.set_item("short_of_edge", pitch.short_of_edge)?;
        dict.set_item("shift", vector(py, &pitch.shift))?;
        dict.set_item("drift", vector(py, &pitch.drift))?;
        Ok(Some(dict))
    }

    /// The model behind the numbers, what went in, its sources and its limits, in paragraphs.
    fn explain(&self) -> String {
        self.core.explain().to_string()
    }

    /// What came up on the ride and at the edge, in words.
    #[getter]
    fn warnings(&self) -> Vec<String> {
        self.core.warnings.iter().map(ToString::to_string).collect()
    }

    fn __repr__(&self) -> String {
        let core = &self.core;
        let (position, velocity) =
            (text::tuple(core.position.iter()), text::tuple(core.velocity.iter()));
        if core.pitch.is_some() {
            return format!("<Launch off a ride: position {position}, velocity {velocity}>");
        }
        let mut said = vec![("position", position), ("velocity", velocity)];
        if let Some(Attitude { t, l, u }) = &core.attitude {
            let rows: Vec<String> = [t, l, u].map(|axis| text::tuple(axis.iter())).into();
            said.push(("attitude", format!("({})", rows.join(", "))));
            said.push(("angular_velocity", text::tuple(core.angular_velocity.iter())));
        }
        if let Some(speed) = core.tyre_speed {
            said.push(("tyre_speed", text::float(speed)));
        }
        text::call("Launch", &said)
    }
}

/// The attitude whose axes stand in the rows of the argument.
fn pointing(axes: &Bound<'_, PyAny>) -> Result<Attitude, Failure> {
    let rows = arrays::points("attitude", axes)?;
    let [t, l, u] = rows[..] else {
        return Err(Failure::shape("attitude", axes, "(3, 3)"));
    };
    Ok(Attitude { t, l, u })
}

pickled!(Launch, Core);
