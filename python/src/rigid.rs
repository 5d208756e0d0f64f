//! A flight of rider and bike as one rigid body.

use crate::air::Air;
use crate::arrays::{self, Triple, vector};
use crate::errors::Failure;
use crate::flight::Flight;
use crate::ground::Ground;
use crate::launch::Launch;
use crate::pickle::pickled;
use crate::rider::Rider;
use crate::touchdown::Touchdown;
use loamline::flight::{RigidFlight as Core, RigidOptions};
use numpy::{PyArray1, PyArray2};
use pyo3::prelude::*;
use pyo3::types::PyDict;

/// A flight of rider and bike as one rigid body: the path of the centre of mass, and how the body
/// turns about it.
///
/// Made by `launch.rigid_flight(...)`. The path, and with it mark and fall height, is that of
/// `launch.flight(...)`; the rider does nothing to right himself but what his torque does.
#[pyclass(frozen, eq, module = "loamline")]
#[derive(Debug, Clone, PartialEq)]
pub struct RigidFlight {
    /// The core's flight.
    pub core: Core,
}

#[pymethods]
impl RigidFlight {
    /// The flight of the centre of mass.
    #[getter]
    fn flight(&self) -> Flight {
        Flight { core: self.core.flight().clone() }
    }

    /// The moment of landing, with the bike's attitude and the turn it owes.
    #[getter]
    fn touchdown(&self) -> Touchdown {
        Touchdown { core: self.core.touchdown() }
    }

    /// Who flies.
    #[getter]
    fn rider(&self) -> Rider {
        Rider { core: self.core.rider().clone() }
    }

    /// Time from the launch to the end, s.
    #[getter]
    fn time(&self) -> f64 {
        self.core.flight().time()
    }

    /// The wheels' spin momentum to the left, held constant, kg m^2/s.
    #[getter]
    fn wheel_spin(&self) -> f64 {
        self.core.rotation().body().spin()
    }

    /// The rider's own torque about the bike's forward, left and up axes, N m, an array of three.
    #[getter]
    fn torque<'py>(&self, py: Python<'py>) -> Bound<'py, PyArray1<f64>> {
        vector(py, &self.core.rotation().body().torque())
    }

    /// `n` places of the centre of mass, evenly spaced in time from launch to end, m, (n, 3).
    #[pyo3(signature = (n=200))]
    fn path<'py>(&self, py: Python<'py>, n: usize) -> Result<Bound<'py, PyArray2<f64>>, Failure> {
        Ok(arrays::vectors(py, &self.core.flight().path(arrays::places("n", n)?))?)
    }

    /// Which way the bike points at a time since the launch: unit vectors forward, left and up,
    /// (3, 3) in rows.
    ///
    /// Args:
    ///     time: s; outside the flight the nearest end counts.
    fn attitude<'py>(&self, py: Python<'py>, time: f64) -> PyResult<Bound<'py, PyArray2<f64>>> {
        let axes = self.core.attitude(self.within(time));
        arrays::vectors(py, &[axes.t, axes.l, axes.u])
    }

    /// Angular velocity at a time since the launch, rad/s, an array of three in the site's axes.
    ///
    /// Args:
    ///     time: s; outside the flight the nearest end counts.
    fn angular_velocity<'py>(&self, py: Python<'py>, time: f64) -> Bound<'py, PyArray1<f64>> {
        vector(py, &self.core.angular_velocity(self.within(time)))
    }

    /// Roll, pitch and yaw rate at a time since the launch, degrees/s, an array of three: positive
    /// leans right, turns the nose down, turns left.
    ///
    /// Args:
    ///     time: s; outside the flight the nearest end counts.
    fn body_rates_deg<'py>(&self, py: Python<'py>, time: f64) -> Bound<'py, PyArray1<f64>> {
        vector(py, &self.core.body_rates(self.within(time)).map(f64::to_degrees))
    }

    /// Where the angular momentum about the centre of mass and the energy of rotation went.
    ///
    /// A dict of arrays of three in the site's axes, kg m^2/s: `start`, `torque`, `end` and `residual`,
    /// with end = start + torque + residual, the wheels' spin counted; and of J: `start_energy`,
    /// `work`, `end_energy` and `energy_residual`, the wheels' own spin left out.
    #[getter]
    fn spin<'py>(&self, py: Python<'py>) -> PyResult<Bound<'py, PyDict>> {
        let ledger = self.core.spin_ledger();
        let dict = PyDict::new(py);
        dict.set_item("start", vector(py, &ledger.start))?;
        dict.set_item("torque", vector(py, &ledger.torque))?;
        dict.set_item("end", vector(py, &ledger.end))?;
        dict.set_item("residual", vector(py, &ledger.residual()))?;
        dict.set_item("start_energy", ledger.start_energy)?;
        dict.set_item("work", ledger.work)?;
        dict.set_item("end_energy", ledger.end_energy)?;
        dict.set_item("energy_residual", ledger.energy_residual())?;
        Ok(dict)
    }

    /// The same flight onto another ground: path and turning are kept, the touch looked for again.
    ///
    /// Raises:
    ///     FlightError: the path cannot be carried on.
    fn on(&self, ground: &Ground) -> Result<Self, Failure> {
        Ok(Self { core: self.core.on(&ground.core)? })
    }

    /// The model behind the numbers, what went in, its sources and its limits, in paragraphs.
    fn explain(&self) -> String {
        self.core.explain().to_string()
    }

    fn __repr__(&self) -> String {
        let touchdown = self.core.touchdown();
        let word = touchdown.outcome.word();
        let first = touchdown.turn.map_or_else(String::new, |turn| match turn.first_wheel.word() {
            "both" => ", both wheels at once".to_owned(),
            wheel => format!(", {wheel} wheel first"),
        });
        format!("<RigidFlight: {:.3} s, {word}{first}>", self.time())
    }
}

impl RigidFlight {
    /// The rigid flight of a launch; `righting_rate_deg` of nothing takes the core's.
    pub fn of(
        launch: &Launch,
        ground: &Ground,
        rider: &Rider,
        air: &Air,
        torque: Triple,
        righting_rate_deg: Option<f64>,
    ) -> Result<Self, Failure> {
        let flight = Flight::options(righting_rate_deg)?;
        let options = RigidOptions { flight, torque: torque.named("torque")? };
        let (launch, ground) = (&launch.core, &ground.core);
        Ok(Self { core: launch.rigid_flight(ground, &rider.core, &air.core, options)? })
    }

    fn within(&self, time: f64) -> f64 {
        time.min(self.time())
    }
}

pickled!(RigidFlight, Core);
