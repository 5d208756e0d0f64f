//! A flight from its launch to the ground.

use crate::air::Air;
use crate::arrays::{self, vector};
use crate::errors::Failure;
use crate::ground::Ground;
use crate::launch::Launch;
use crate::pickle::pickled;
use crate::rider::Rider;
use crate::touchdown::Touchdown;
use crate::units::{degrees, radians};
use loamline::flight::{Flight as Core, FlightOptions};
use numpy::{PyArray1, PyArray2};
use pyo3::prelude::*;
use pyo3::types::PyDict;

/// A flight from its launch to the ground, or to where it is known to find none.
///
/// Made by `launch.flight(...)`.
#[pyclass(frozen, eq, module = "loamline")]
#[derive(Debug, Clone, PartialEq)]
pub struct Flight {
    /// The core's flight.
    pub core: Core,
}

#[pymethods]
impl Flight {
    /// The moment of landing.
    #[getter]
    fn touchdown(&self) -> Touchdown {
        Touchdown { core: self.core.touchdown() }
    }

    /// Time from the launch to the end, s.
    #[getter]
    fn time(&self) -> f64 {
        self.core.time()
    }

    /// The centre of mass at the highest moment, m, an array of three.
    #[getter]
    fn apex<'py>(&self, py: Python<'py>) -> Bound<'py, PyArray1<f64>> {
        vector(py, &self.core.apex().position)
    }

    /// Time of the highest moment, s.
    #[getter]
    fn apex_time(&self) -> f64 {
        self.core.apex().time
    }

    /// `n` places of the centre of mass, evenly spaced in time from launch to end, m, (n, 3).
    #[pyo3(signature = (n=200))]
    fn path<'py>(&self, py: Python<'py>, n: usize) -> Result<Bound<'py, PyArray2<f64>>, Failure> {
        Ok(arrays::vectors(py, &self.core.path(arrays::places("n", n)?))?)
    }

    /// The centre of mass at a time since the launch, m, an array of three.
    ///
    /// Args:
    ///     time: s; outside the flight the nearest end counts.
    fn position<'py>(&self, py: Python<'py>, time: f64) -> Bound<'py, PyArray1<f64>> {
        vector(py, &self.core.position(time))
    }

    /// Velocity of the centre of mass at a time since the launch, m/s, an array of three.
    ///
    /// Args:
    ///     time: s; outside the flight the nearest end counts.
    fn velocity<'py>(&self, py: Python<'py>, time: f64) -> Bound<'py, PyArray1<f64>> {
        vector(py, &self.core.velocity(time))
    }

    /// Where it began.
    #[getter]
    fn launch(&self) -> Launch {
        Launch { core: self.core.launch().clone() }
    }

    /// What it was flown onto.
    #[getter]
    fn ground(&self) -> Ground {
        Ground::from(self.core.ground().clone())
    }

    /// How far the rider leaves leaning off the nearest ground's normal, degrees.
    #[getter]
    fn lean_deg(&self) -> f64 {
        degrees(self.core.reach().lean())
    }

    /// Where the energy went, J/kg: a dict of `start`, `gravity`, `drag`, `end` and `residual`, with
    /// end = start + gravity - drag + residual.
    #[getter]
    fn energy<'py>(&self, py: Python<'py>) -> PyResult<Bound<'py, PyDict>> {
        let ledger = self.core.ledger();
        let dict = PyDict::new(py);
        dict.set_item("start", ledger.start)?;
        dict.set_item("gravity", ledger.gravity)?;
        dict.set_item("drag", ledger.drag)?;
        dict.set_item("end", ledger.end)?;
        dict.set_item("residual", ledger.residual())?;
        Ok(dict)
    }

    /// Where the momentum went, per mass, m/s: a dict of `start`, `gravity`, `drag`, `end` and
    /// `residual`, arrays of three, with end = start + gravity + drag + residual.
    #[getter]
    fn momentum<'py>(&self, py: Python<'py>) -> PyResult<Bound<'py, PyDict>> {
        let ledger = self.core.momentum();
        let dict = PyDict::new(py);
        dict.set_item("start", vector(py, &ledger.start))?;
        dict.set_item("gravity", vector(py, &ledger.gravity))?;
        dict.set_item("drag", vector(py, &ledger.drag))?;
        dict.set_item("end", vector(py, &ledger.end))?;
        dict.set_item("residual", vector(py, &ledger.residual()))?;
        Ok(dict)
    }

    /// The model behind the numbers, what went in, its sources and its limits, in paragraphs.
    fn explain(&self) -> String {
        self.core.explain().to_string()
    }

    /// The same flight onto another ground: the path is kept, the touch looked for again.
    ///
    /// Raises:
    ///     FlightError: the path cannot be carried on.
    fn on(&self, ground: &Ground) -> Result<Self, Failure> {
        Ok(Self { core: self.core.on(&ground.core)? })
    }

    fn __repr__(&self) -> String {
        let word = self.core.touchdown().outcome.word();
        format!("<Flight: {:.3} s, {word}>", self.core.time())
    }
}

impl Flight {
    /// The assumptions; `righting_rate_deg` of nothing takes the core's.
    pub fn options(righting_rate_deg: Option<f64>) -> Result<FlightOptions, Failure> {
        let mut options = FlightOptions::default();
        if let Some(rate) = righting_rate_deg {
            options.righting_rate = radians("righting_rate_deg", rate)?;
        }
        Ok(options)
    }

    /// The flight of a launch; `righting_rate_deg` of nothing takes the core's.
    pub fn of(
        launch: &Launch,
        ground: &Ground,
        rider: &Rider,
        air: &Air,
        righting_rate_deg: Option<f64>,
    ) -> Result<Self, Failure> {
        let options = Self::options(righting_rate_deg)?;
        let (launch, ground) = (&launch.core, &ground.core);
        Ok(Self { core: launch.flight_with(ground, &rider.core, &air.core, options)? })
    }
}

pickled!(Flight, Core);
