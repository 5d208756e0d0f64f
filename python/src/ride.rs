//! A ride along a line.

use crate::arrays;
use crate::errors::Failure;
use crate::launch::Launch;
use crate::pickle::pickled;
use loamline::ride::{Outcome, Ride as Core};
use numpy::{IntoPyArray, PyArray1, PyArray2};
use pyo3::prelude::*;
use pyo3::types::PyDict;

/// A ride along a line: station by station, how it ended, and where its energy went.
///
/// Made by `line.ride(...)`. Where curvature jumps, a station stands twice, before and after.
#[pyclass(frozen, eq, module = "loamline")]
#[derive(Debug, Clone, PartialEq)]
pub struct Ride {
    /// The core's ride.
    pub core: Core,
}

/// An array from a vector of the samples.
fn column<'py>(py: Python<'py>, values: &[f64]) -> Bound<'py, PyArray1<f64>> {
    values.to_vec().into_pyarray(py)
}

#[pymethods]
impl Ride {
    /// Stations along the tyres' line, m, (n,).
    #[getter]
    fn station<'py>(&self, py: Python<'py>) -> Bound<'py, PyArray1<f64>> {
        column(py, &self.core.samples.station)
    }

    /// Speed of the tyres, m/s, (n,).
    #[getter]
    fn speed<'py>(&self, py: Python<'py>) -> Bound<'py, PyArray1<f64>> {
        column(py, &self.core.samples.speed)
    }

    /// Load on the surface, g's, (n,): 1 standing still on the level.
    #[getter]
    fn normal_load<'py>(&self, py: Python<'py>) -> Bound<'py, PyArray1<f64>> {
        column(py, &self.core.samples.normal_load)
    }

    /// Side load over load on the surface, (n,).
    #[getter]
    fn grip_demand<'py>(&self, py: Python<'py>) -> Bound<'py, PyArray1<f64>> {
        column(py, &self.core.samples.grip_demand)
    }

    /// Lean off the surface's normal, degrees, (n,), to the left positive: 0 all along with
    /// lean="deck".
    #[getter]
    fn lean_deg<'py>(&self, py: Python<'py>) -> Bound<'py, PyArray1<f64>> {
        let degrees = self.core.samples.lean.iter().map(|lean| lean.to_degrees());
        degrees.collect::<Vec<f64>>().into_pyarray(py)
    }

    /// Time from the start, s, (n,).
    #[getter]
    fn time<'py>(&self, py: Python<'py>) -> Bound<'py, PyArray1<f64>> {
        column(py, &self.core.samples.time)
    }

    /// Where the tyres are, m, (n, 3).
    #[getter]
    fn tyres<'py>(&self, py: Python<'py>) -> PyResult<Bound<'py, PyArray2<f64>>> {
        arrays::vectors(py, &self.core.samples.tyres)
    }

    /// Where the centre of mass is, m, (n, 3).
    #[getter]
    fn centre<'py>(&self, py: Python<'py>) -> PyResult<Bound<'py, PyArray2<f64>>> {
        arrays::vectors(py, &self.core.samples.centre)
    }

    /// How it ended: "reached", "slid" (to the end, on paper), "stalled", "did_not_start" or
    /// "left_surface".
    #[getter]
    fn outcome(&self) -> &'static str {
        word(&self.core.outcome)
    }

    /// How it ended, in words and numbers.
    #[getter]
    fn reason(&self) -> String {
        self.core.outcome.to_string()
    }

    /// Station that the outcome tells, m; None where it tells none.
    #[getter]
    fn outcome_station(&self) -> Option<f64> {
        self.core.outcome.station()
    }

    /// Where the tyres first slid, a dict of `station` (m), `slide` ("up", "down", "left",
    /// "right") and `grip_needed`; None where they held.
    #[getter]
    fn slip<'py>(&self, py: Python<'py>) -> PyResult<Option<Bound<'py, PyDict>>> {
        let Some(slip) = self.core.slip else {
            return Ok(None);
        };
        let said = slip.slide.to_string();
        let dict = PyDict::new(py);
        dict.set_item("station", slip.station)?;
        dict.set_item("slide", said.trim_start_matches("to the "))?;
        dict.set_item("grip_needed", slip.grip_needed)?;
        Ok(Some(dict))
    }

    /// The tyres' speed at the line's end, m/s; None where the ride ended before.
    #[getter]
    fn exit_speed(&self) -> Option<f64> {
        self.core.exit_speed()
    }

    /// The highest grip demand of the ride.
    #[getter]
    fn peak_grip_demand(&self) -> f64 {
        self.core.peak.demand
    }

    /// Where the energy went, J/kg: a dict of `start`, `gravity`, `drag`, `rolling`, `brake`,
    /// `pedal`, `end` and `residual`, with end = start + gravity + pedal - drag - rolling - brake
    /// + residual.
    #[getter]
    fn energy<'py>(&self, py: Python<'py>) -> PyResult<Bound<'py, PyDict>> {
        let ledger = &self.core.ledger;
        let dict = PyDict::new(py);
        dict.set_item("start", ledger.start)?;
        dict.set_item("gravity", ledger.gravity)?;
        dict.set_item("drag", ledger.drag)?;
        dict.set_item("rolling", ledger.rolling)?;
        dict.set_item("brake", ledger.brake)?;
        dict.set_item("pedal", ledger.pedal)?;
        dict.set_item("end", ledger.end)?;
        dict.set_item("residual", ledger.residual())?;
        Ok(dict)
    }

    /// Where the momentum went, per mass, m/s: a dict of `start`, `gravity`, `drag`, `normal`, `side`,
    /// `rolling`, `brake`, `pedal`, `spin` (of the wheels), `joints` (where curvature jumps), `end`
    /// and `residual`, each (3,), with end = start + all between + residual; None where only the exit was
    /// asked for.
    #[getter]
    fn momentum<'py>(&self, py: Python<'py>) -> PyResult<Option<Bound<'py, PyDict>>> {
        let Some(ledger) = &self.core.momentum else {
            return Ok(None);
        };
        let dict = PyDict::new(py);
        for (name, part) in [
            ("start", ledger.start),
            ("gravity", ledger.gravity),
            ("drag", ledger.drag),
            ("normal", ledger.normal),
            ("side", ledger.side),
            ("rolling", ledger.rolling),
            ("brake", ledger.brake),
            ("pedal", ledger.pedal),
            ("spin", ledger.spin),
            ("joints", ledger.joints),
            ("end", ledger.end),
            ("residual", ledger.residual()),
        ] {
            dict.set_item(name, arrays::vector(py, &part))?;
        }
        Ok(Some(dict))
    }

    /// What the rider should know, in words.
    #[getter]
    fn warnings(&self) -> Vec<String> {
        self.core.warnings.iter().map(ToString::to_string).collect()
    }

    /// How the rider leant: "deck", "balanced" or "settled".
    #[getter]
    fn lean(&self) -> &'static str {
        self.core.lean.name()
    }

    /// The model behind the numbers, with what its lean means, its sources and limits, in words.
    fn explain(&self) -> String {
        self.core.explain().to_string()
    }

    /// The launch off the line's end.
    ///
    /// Args:
    ///     pop: m/s along "up through the bike", -5 to 5; negative soaks the edge up.
    ///
    /// Raises:
    ///     RideError: the ride ended before the edge, or is so slow that it hangs up there; says
    ///         how and where.
    #[pyo3(signature = (pop=0.0))]
    fn launch(&self, pop: f64) -> Result<Launch, Failure> {
        Ok(Launch { core: self.core.launch(pop)? })
    }

    /// A `pandas.DataFrame` with a row per station; needs pandas.
    fn to_pandas<'py>(&self, py: Python<'py>) -> PyResult<Bound<'py, PyAny>> {
        crate::frames::to_pandas(py, self.columns(py)?, "sample")
    }

    /// An `xarray.Dataset` along `sample`; needs xarray.
    fn to_xarray<'py>(&self, py: Python<'py>) -> PyResult<Bound<'py, PyAny>> {
        crate::frames::to_xarray(py, self.columns(py)?, "sample")
    }

    fn __repr__(&self) -> String {
        let exit = self.core.exit_speed().map_or_else(String::new, |v| format!(" at {v:.2} m/s"));
        let demand = self.core.peak.demand;
        format!("<Ride: {}{exit}, grip demand up to {demand:.2}>", self.core.outcome)
    }
}

impl Ride {
    fn columns<'py>(&self, py: Python<'py>) -> PyResult<Bound<'py, PyDict>> {
        let dict = PyDict::new(py);
        dict.set_item("station", self.station(py))?;
        dict.set_item("time", self.time(py))?;
        dict.set_item("speed", self.speed(py))?;
        dict.set_item("normal_load", self.normal_load(py))?;
        dict.set_item("grip_demand", self.grip_demand(py))?;
        dict.set_item("lean_deg", self.lean_deg(py))?;
        dict.set_item("tyres", self.tyres(py)?)?;
        dict.set_item("centre", self.centre(py)?)?;
        Ok(dict)
    }
}

/// One word for how a ride ended.
pub fn word(outcome: &Outcome) -> &'static str {
    match outcome {
        Outcome::Reached => "reached",
        Outcome::Slid(_) => "slid",
        Outcome::Stalled { .. } => "stalled",
        Outcome::DidNotStart => "did_not_start",
        Outcome::LeftSurface { .. } => "left_surface",
        Outcome::Unbalanced { .. } => "unbalanced",
        Outcome::HungUp { .. } => "hung_up",
        _ => "other",
    }
}

pickled!(Ride, Core);
