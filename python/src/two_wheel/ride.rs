//! The ride on two wheels.

use super::marks;
use super::terrain::Terrain;
use crate::arrays;
use crate::pickle::pickled;
use crate::rider::Rider;
use crate::units::degrees;
use loamline::two_wheel::{Stored, TwoWheelOutcome, TwoWheelRide as Core, WheelSamples};
use nalgebra::Vector2;
use numpy::{IntoPyArray, PyArray1, PyArray2};
use pyo3::prelude::*;
use pyo3::types::PyDict;

/// A ride on two wheels: moment by moment, how it ended, its longest hop, and its energy.
///
/// Made by `rider.two_wheel_ride(...)`. Level distances and heights are the terrain's; pitch is
/// from level, positive nose down. Every event has a moment of its own.
#[pyclass(frozen, eq, module = "loamline")]
#[derive(Debug, Clone, PartialEq)]
pub struct TwoWheelRide {
    /// The core's ride.
    pub core: Core,
}

/// An array of numbers.
fn column<'py>(py: Python<'py>, values: &[f64]) -> Bound<'py, PyArray1<f64>> {
    values.to_vec().into_pyarray(py)
}

/// An array of angles in degrees.
fn angles<'py>(py: Python<'py>, values: &[f64]) -> Bound<'py, PyArray1<f64>> {
    values.iter().map(|angle| angle.to_degrees()).collect::<Vec<f64>>().into_pyarray(py)
}

/// An array of places or velocities, `(n, 2)`.
fn plane<'py>(py: Python<'py>, values: &[Vector2<f64>]) -> PyResult<Bound<'py, PyArray2<f64>>> {
    arrays::rows(py, values.iter().map(|p| [p.x, p.y]))
}

#[pymethods]
impl TwoWheelRide {
    /// Time from the start, s, (n,).
    #[getter]
    fn time<'py>(&self, py: Python<'py>) -> Bound<'py, PyArray1<f64>> {
        column(py, &self.core.samples.time)
    }

    /// Centre of the sprung mass, level distance and height, m, (n, 2).
    #[getter]
    fn centre<'py>(&self, py: Python<'py>) -> PyResult<Bound<'py, PyArray2<f64>>> {
        plane(py, &self.core.samples.centre)
    }

    /// Velocity of that centre, m/s, (n, 2).
    #[getter]
    fn velocity<'py>(&self, py: Python<'py>) -> PyResult<Bound<'py, PyArray2<f64>>> {
        plane(py, &self.core.samples.velocity)
    }

    /// Pitch from level, degrees, nose down positive, (n,).
    #[getter]
    fn pitch_deg<'py>(&self, py: Python<'py>) -> Bound<'py, PyArray1<f64>> {
        angles(py, &self.core.samples.pitch)
    }

    /// Pitch rate, degrees/s, (n,).
    #[getter]
    fn pitch_rate_deg<'py>(&self, py: Python<'py>) -> Bound<'py, PyArray1<f64>> {
        angles(py, &self.core.samples.pitch_rate)
    }

    /// Rear hub, level distance and height, m, (n, 2).
    #[getter]
    fn rear_hub<'py>(&self, py: Python<'py>) -> PyResult<Bound<'py, PyArray2<f64>>> {
        plane(py, &self.core.samples.rear.hub)
    }

    /// Front hub, level distance and height, m, (n, 2).
    #[getter]
    fn front_hub<'py>(&self, py: Python<'py>) -> PyResult<Bound<'py, PyArray2<f64>>> {
        plane(py, &self.core.samples.front.hub)
    }

    /// The ground's force on the rear tyre, N, (n,).
    #[getter]
    fn rear_load<'py>(&self, py: Python<'py>) -> Bound<'py, PyArray1<f64>> {
        column(py, &self.core.samples.rear.load)
    }

    /// The ground's force on the front tyre, N, (n,).
    #[getter]
    fn front_load<'py>(&self, py: Python<'py>) -> Bound<'py, PyArray1<f64>> {
        column(py, &self.core.samples.front.load)
    }

    /// Force of the rear suspension, N, (n,).
    #[getter]
    fn rear_suspension<'py>(&self, py: Python<'py>) -> Bound<'py, PyArray1<f64>> {
        column(py, &self.core.samples.rear.strut)
    }

    /// Force of the front suspension, N, (n,).
    #[getter]
    fn front_suspension<'py>(&self, py: Python<'py>) -> Bound<'py, PyArray1<f64>> {
        column(py, &self.core.samples.front.strut)
    }

    /// Compression of the rear suspension from full extension, m, (n,).
    #[getter]
    fn rear_travel<'py>(&self, py: Python<'py>) -> Bound<'py, PyArray1<f64>> {
        column(py, &self.core.samples.rear.travel)
    }

    /// Compression of the front suspension from full extension, m, (n,).
    #[getter]
    fn front_travel<'py>(&self, py: Python<'py>) -> Bound<'py, PyArray1<f64>> {
        column(py, &self.core.samples.front.travel)
    }

    /// Whether the rear tyre touches, (n,).
    #[getter]
    fn rear_touching<'py>(&self, py: Python<'py>) -> Bound<'py, PyArray1<bool>> {
        self.core.samples.rear.is_touching.clone().into_pyarray(py)
    }

    /// Whether the front tyre touches, (n,).
    #[getter]
    fn front_touching<'py>(&self, py: Python<'py>) -> Bound<'py, PyArray1<bool>> {
        self.core.samples.front.is_touching.clone().into_pyarray(py)
    }

    /// How it ended: "rode_out", "pitched_over", "looped_out", "rear_caught", "stalled",
    /// "hung_up", "off_terrain", "crushed" or "time_up".
    #[getter]
    fn outcome(&self) -> &'static str {
        word(&self.core.outcome)
    }

    /// How it ended, in words and numbers.
    #[getter]
    fn reason(&self) -> String {
        self.core.outcome.to_string()
    }

    /// Longest time in the air with both wheels off, s; None where a wheel was always down.
    #[getter]
    fn airtime(&self) -> Option<f64> {
        self.core.hop.as_ref().map(|hop| hop.to - hop.from)
    }

    /// Where each wheel left before that time: a dict of `rear` and `front`, each a dict of `time`
    /// (s), `distance`, `height` (m), `normal_speed` (m/s, into the ground) and `pitch_deg`, or
    /// None; None without a time in the air.
    #[getter]
    fn left<'py>(&self, py: Python<'py>) -> PyResult<Option<Bound<'py, PyDict>>> {
        self.core.hop.as_ref().map(|hop| marks::both(py, &hop.left)).transpose()
    }

    /// Where each wheel came down after it, as `left`.
    #[getter]
    fn touchdown<'py>(&self, py: Python<'py>) -> PyResult<Option<Bound<'py, PyDict>>> {
        self.core.hop.as_ref().map(|hop| marks::both(py, &hop.touched)).transpose()
    }

    /// Which wheel came down first, "rear", "front" or "together"; None where not both came down.
    #[getter]
    fn first_down(&self) -> Option<&'static str> {
        self.core.hop.as_ref().and_then(marks::first)
    }

    /// How long before the other it came down, s.
    #[getter]
    fn first_by(&self) -> Option<f64> {
        self.core.hop.as_ref().and_then(|hop| hop.first().map(|(_, by)| by))
    }

    /// Hardest moments, a dict of pairs (value, time): `rear_load`, `front_load` (N),
    /// `rear_travel`, `front_travel`, `rear_tyre`, `front_tyre` (m) and `body` (body weights).
    #[getter]
    fn peaks<'py>(&self, py: Python<'py>) -> PyResult<Bound<'py, PyDict>> {
        let (peaks, dict) = (&self.core.peaks, PyDict::new(py));
        for (end, name) in ["rear", "front"].into_iter().enumerate() {
            dict.set_item(format!("{name}_load"), marks::at(peaks.load[end]))?;
            dict.set_item(format!("{name}_travel"), marks::at(peaks.travel[end]))?;
            dict.set_item(format!("{name}_tyre"), marks::at(peaks.tyre[end]))?;
        }
        dict.set_item("body", marks::at(peaks.body))?;
        Ok(dict)
    }

    /// Where the energy went, J/kg: a dict of `start` and `end` (each of `kinetic`, `height`,
    /// `springs`, `tyres`), `dampers`, `rolling`, `drag`, `brake` and `residual`.
    #[getter]
    fn energy<'py>(&self, py: Python<'py>) -> PyResult<Bound<'py, PyDict>> {
        let (ledger, dict) = (&self.core.ledger, PyDict::new(py));
        dict.set_item("start", stored(py, &ledger.start)?)?;
        dict.set_item("end", stored(py, &ledger.end)?)?;
        dict.set_item("dampers", ledger.dampers)?;
        dict.set_item("rolling", ledger.rolling)?;
        dict.set_item("drag", ledger.drag)?;
        dict.set_item("brake", ledger.brake)?;
        dict.set_item("residual", ledger.residual())?;
        Ok(dict)
    }

    /// Where the momentum went, per mass of rider and bike, m/s: a dict of `start`, `gravity`, `drag`,
    /// `rear` and `front` (the ground on the tyres, square to it), `rolling`, `brake`, `end` and
    /// `residual`, each level and up, (2,), with end = start + all between + residual.
    #[getter]
    fn momentum<'py>(&self, py: Python<'py>) -> PyResult<Bound<'py, PyDict>> {
        let (ledger, dict) = (&self.core.momentum, PyDict::new(py));
        for (name, part) in [
            ("start", ledger.start),
            ("gravity", ledger.gravity),
            ("drag", ledger.drag),
            ("rear", ledger.rear),
            ("front", ledger.front),
            ("rolling", ledger.rolling),
            ("brake", ledger.brake),
            ("end", ledger.end),
            ("residual", ledger.residual()),
        ] {
            dict.set_item(name, column(py, &[part.x, part.y]))?;
        }
        Ok(dict)
    }

    /// What was ridden.
    #[getter]
    fn terrain(&self) -> Terrain {
        Terrain { core: self.core.terrain.clone() }
    }

    /// Who rode.
    #[getter]
    fn rider(&self) -> Rider {
        Rider { core: self.core.rider.clone() }
    }

    /// What the rider should know, in words.
    #[getter]
    fn warnings(&self) -> Vec<String> {
        self.core.warnings.iter().map(ToString::to_string).collect()
    }

    /// The model, what went in, its sources and its limits, in words.
    fn explain(&self) -> String {
        self.core.explain().to_string()
    }

    /// A `pandas.DataFrame` with a row per moment; needs pandas.
    fn to_pandas<'py>(&self, py: Python<'py>) -> PyResult<Bound<'py, PyAny>> {
        crate::frames::to_pandas(py, self.columns(py)?, "sample")
    }

    /// An `xarray.Dataset` along `sample`; needs xarray.
    fn to_xarray<'py>(&self, py: Python<'py>) -> PyResult<Bound<'py, PyAny>> {
        crate::frames::to_xarray(py, self.columns(py)?, "sample")
    }

    fn __repr__(&self) -> String {
        let air =
            self.airtime().map_or_else(String::new, |time| format!(", {time:.2} s in the air"));
        let load = self.core.peaks.body.value;
        format!("<TwoWheelRide: {}{air}, up to {load:.1} body weights>", self.core.outcome)
    }
}

impl TwoWheelRide {
    fn columns<'py>(&self, py: Python<'py>) -> PyResult<Bound<'py, PyDict>> {
        let (samples, dict) = (&self.core.samples, PyDict::new(py));
        let (mut flat, degree) = (Vec::new(), |values: &[f64]| -> Vec<f64> {
            values.iter().copied().map(degrees).collect()
        });
        flat.push(("time".to_owned(), samples.time.clone()));
        split(&mut flat, "centre", &samples.centre);
        split(&mut flat, "velocity", &samples.velocity);
        flat.push(("pitch_deg".to_owned(), degree(&samples.pitch)));
        flat.push(("pitch_rate_deg".to_owned(), degree(&samples.pitch_rate)));
        for (name, values) in flat {
            dict.set_item(name, values.into_pyarray(py))?;
        }
        wheel(&dict, "rear", &samples.rear)?;
        wheel(&dict, "front", &samples.front)?;
        Ok(dict)
    }
}

/// Level distances and heights as two columns.
fn split(columns: &mut Vec<(String, Vec<f64>)>, name: &str, values: &[Vector2<f64>]) {
    columns.push((format!("{name}_x"), values.iter().map(|p| p.x).collect()));
    columns.push((format!("{name}_z"), values.iter().map(|p| p.y).collect()));
}

fn wheel(dict: &Bound<'_, PyDict>, name: &str, samples: &WheelSamples) -> PyResult<()> {
    let (py, mut flat) = (dict.py(), Vec::new());
    split(&mut flat, &format!("{name}_hub"), &samples.hub);
    flat.push((format!("{name}_load"), samples.load.clone()));
    flat.push((format!("{name}_suspension"), samples.strut.clone()));
    flat.push((format!("{name}_travel"), samples.travel.clone()));
    for (name, values) in flat {
        dict.set_item(name, values.into_pyarray(py))?;
    }
    dict.set_item(format!("{name}_touching"), samples.is_touching.clone().into_pyarray(py))
}

fn stored<'py>(py: Python<'py>, stored: &Stored) -> PyResult<Bound<'py, PyDict>> {
    let dict = PyDict::new(py);
    dict.set_item("kinetic", stored.kinetic)?;
    dict.set_item("height", stored.height)?;
    dict.set_item("springs", stored.springs)?;
    dict.set_item("tyres", stored.tyres)?;
    Ok(dict)
}

/// One word for how a two-wheel ride ended.
fn word(outcome: &TwoWheelOutcome) -> &'static str {
    match outcome {
        TwoWheelOutcome::RodeOut(_) => "rode_out",
        TwoWheelOutcome::PitchedOver(_) => "pitched_over",
        TwoWheelOutcome::LoopedOut(_) => "looped_out",
        TwoWheelOutcome::RearCaught { .. } => "rear_caught",
        TwoWheelOutcome::Stalled(_) => "stalled",
        TwoWheelOutcome::HungUp { .. } => "hung_up",
        TwoWheelOutcome::OffTerrain(_) => "off_terrain",
        TwoWheelOutcome::Crushed { .. } => "crushed",
        TwoWheelOutcome::TimeUp(_) => "time_up",
        _ => "other",
    }
}

pickled!(TwoWheelRide, Core);
