//! The moment of landing.

use crate::arrays::{self, vector};
use crate::pickle::pickled;
use crate::text;
use crate::units::degrees;
use loamline::touchdown::{Contact, Touchdown as Core, Turn};
use nalgebra::Vector3;
use numpy::{PyArray1, PyArray2};
use pyo3::prelude::*;

/// The moment of landing and what it says: where, how fast, how hard.
///
/// Made by `flight.touchdown`. Where there was no touch, numbers are NaN and `outcome` says why.
#[pyclass(frozen, eq, module = "loamline")]
#[derive(Debug, Clone, PartialEq)]
pub struct Touchdown {
    /// The core's touchdown.
    pub core: Core,
}

#[pymethods]
impl Touchdown {
    /// How the flight came out: "landed"; on a landing "caught", "short", "long" or "wide"; else
    /// "rolled_off", "off_survey" or "no_touchdown".
    #[getter]
    fn outcome(&self) -> &'static str {
        self.core.outcome.word()
    }

    /// Time from the launch to the end, s.
    #[getter]
    fn time(&self) -> f64 {
        self.core.time
    }

    /// The tyres' mark: where a flag would be planted, m, an array of three.
    #[getter]
    fn mark<'py>(&self, py: Python<'py>) -> Bound<'py, PyArray1<f64>> {
        self.vector(py, |contact| contact.mark)
    }

    /// The centre of mass, m, an array of three.
    #[getter]
    fn position<'py>(&self, py: Python<'py>) -> Bound<'py, PyArray1<f64>> {
        self.vector(py, |contact| contact.position)
    }

    /// Velocity of the centre of mass, m/s, an array of three.
    #[getter]
    fn velocity<'py>(&self, py: Python<'py>) -> Bound<'py, PyArray1<f64>> {
        self.vector(py, |contact| contact.velocity)
    }

    /// Unit vector from the touched place to the centre of mass, an array of three.
    #[getter]
    fn normal<'py>(&self, py: Python<'py>) -> Bound<'py, PyArray1<f64>> {
        self.vector(py, |contact| contact.normal)
    }

    /// Speed into the surface, m/s.
    #[getter]
    fn normal_speed(&self) -> f64 {
        self.number(|contact| contact.normal_speed)
    }

    /// Equivalent fall height, m: the drop onto level ground that comes down as hard,
    /// `normal_speed**2 / (2 g)`.
    #[getter]
    fn fall_height(&self) -> f64 {
        self.number(|contact| contact.fall_height)
    }

    /// Angle between path and surface, degrees.
    #[getter]
    fn angle_deg(&self) -> f64 {
        self.number(|contact| degrees(contact.angle))
    }

    /// Speed over the surface, forward, m/s.
    #[getter]
    fn along_speed(&self) -> f64 {
        self.number(|contact| contact.along_speed)
    }

    /// Speed over the surface to the left of forward, m/s.
    ///
    /// Forward is the landing's heading where there is a landing, else where the bike pointed at
    /// the launch, else where the path goes.
    #[getter]
    fn sideways_speed(&self) -> f64 {
        self.number(|contact| contact.sideways_speed)
    }

    /// Grip that stopping the sideways speed in the landing would take.
    #[getter]
    fn grip_demand(&self) -> f64 {
        self.number(|contact| contact.grip_demand)
    }

    /// Level distance from the tyres' point at the launch to the mark, m; from the centre of mass
    /// for a launch by hand.
    #[getter]
    fn distance(&self) -> f64 {
        self.number(|contact| contact.distance)
    }

    /// How far the mark is below that point, m.
    #[getter]
    fn drop(&self) -> f64 {
        self.number(|contact| contact.drop)
    }

    /// Lean still owed, degrees: above 0 the rider touches before he is upright.
    #[getter]
    fn lean_owed_deg(&self) -> f64 {
        self.number(|contact| degrees(contact.lean_owed))
    }

    /// Whether the rider is upright when he touches; None where he does not touch.
    #[getter]
    fn upright(&self) -> Option<bool> {
        self.core.contact.map(|contact| contact.is_upright())
    }

    /// Distance to the ground less reach, m: at most 1e-9 on planes, 1e-7 on grids and surveys.
    #[getter]
    fn residual(&self) -> f64 {
        self.number(|contact| contact.residual)
    }

    /// Which way the bike points, if the rider did nothing in the air but what his torque did: unit
    /// vectors forward, left and up, (3, 3) in rows; None but for a rigid flight that touches.
    #[getter]
    fn attitude<'py>(&self, py: Python<'py>) -> PyResult<Option<Bound<'py, PyArray2<f64>>>> {
        let axes = self.core.turn.as_ref().map(|turn| turn.attitude);
        axes.map(|a| arrays::vectors(py, &[a.t, a.l, a.u])).transpose()
    }

    /// The attitude that the landing wants, (3, 3) in rows: forward along the velocity over the surface,
    /// upright on it; None but for a rigid flight that touches.
    #[getter]
    fn wanted_attitude<'py>(&self, py: Python<'py>) -> PyResult<Option<Bound<'py, PyArray2<f64>>>> {
        let axes = self.core.turn.as_ref().map(|turn| turn.wanted);
        axes.map(|a| arrays::vectors(py, &[a.t, a.l, a.u])).transpose()
    }

    /// How the bike turns at the touch, roll, pitch and yaw, degrees/s, an array of three; None but for
    /// a rigid flight that touches.
    #[getter]
    fn rates_deg<'py>(&self, py: Python<'py>) -> Option<Bound<'py, PyArray1<f64>>> {
        self.turn(|turn| turn.rates.map(f64::to_degrees), py)
    }

    /// The turn still owed in roll, pitch and yaw, degrees, an array of three; None but for a rigid
    /// flight that touches.
    ///
    /// The shortest turn from `attitude` to `wanted_attitude`, its axis times its angle, about the
    /// bike's axes: positive leans right, turns the nose down, turns left.
    #[getter]
    fn turn_owed_deg<'py>(&self, py: Python<'py>) -> Option<Bound<'py, PyArray1<f64>>> {
        self.turn(|turn| turn.owed.map(degrees), py)
    }

    /// The constant rate that would pay the turn over the whole time of flight, on top of what turns
    /// anyway, degrees/s, an array of three; None but for a rigid flight that touches.
    #[getter]
    fn rate_to_pay_deg<'py>(&self, py: Python<'py>) -> Option<Bound<'py, PyArray1<f64>>> {
        self.turn(|turn| turn.rate_to_pay.map(f64::to_degrees), py)
    }

    /// The constant torque that would pay the turn over that time, each axis by itself, N m, an array of
    /// three; None but for a rigid flight that touches.
    #[getter]
    fn torque_to_pay<'py>(&self, py: Python<'py>) -> Option<Bound<'py, PyArray1<f64>>> {
        self.turn(|turn| turn.torque_to_pay, py)
    }

    /// Angle between bike and surface, degrees, nose up positive; None but for a rigid flight that
    /// touches.
    #[getter]
    fn pitch_to_surface_deg(&self) -> Option<f64> {
        self.core.turn.as_ref().map(|turn| degrees(turn.pitch_to_surface))
    }

    /// The wheel that touches first, "front", "rear" or "both"; None but for a rigid flight that
    /// touches.
    #[getter]
    fn first_wheel(&self) -> Option<&'static str> {
        self.core.turn.as_ref().map(|turn| turn.first_wheel.word())
    }

    /// How much higher the other wheel is then, m; None but for a rigid flight that touches.
    #[getter]
    fn wheel_gap(&self) -> Option<f64> {
        self.core.turn.as_ref().map(|turn| turn.gap)
    }

    /// Time until the other wheel touches at the speed into the surface, s; None but for a rigid flight
    /// that touches.
    #[getter]
    fn between_wheels(&self) -> Option<f64> {
        self.core.turn.as_ref().map(|turn| turn.between_wheels)
    }

    /// What is not wrong but unwise, or past what the model is good for, in words.
    #[getter]
    fn warnings(&self) -> Vec<String> {
        self.core.warnings.iter().map(ToString::to_string).collect()
    }

    /// The model behind the numbers, what went in, its sources and its limits, in paragraphs.
    fn explain(&self) -> String {
        self.core.explain().to_string()
    }

    fn __repr__(&self) -> String {
        let outcome = self.outcome();
        let Some(contact) = &self.core.contact else {
            return format!("<Touchdown: {outcome} after {:.3} s>", self.core.time);
        };
        format!(
            "<Touchdown: {outcome} at {}, fall height {:.3} m, {:.2} m out and {:.2} m down>",
            text::tuple(&contact.mark.map(|x| (x * 1e3).round() / 1e3)),
            contact.fall_height,
            contact.distance,
            contact.drop,
        )
    }
}

impl Touchdown {
    fn turn<'py>(
        &self,
        of: impl Fn(&Turn) -> Vector3<f64>,
        py: Python<'py>,
    ) -> Option<Bound<'py, PyArray1<f64>>> {
        self.core.turn.as_ref().map(|turn| vector(py, &of(turn)))
    }

    fn number(&self, of: impl Fn(&Contact) -> f64) -> f64 {
        self.core.contact.as_ref().map_or(f64::NAN, of)
    }

    fn vector<'py>(
        &self,
        py: Python<'py>,
        of: impl Fn(&Contact) -> Vector3<f64>,
    ) -> Bound<'py, PyArray1<f64>> {
        let nowhere = || Vector3::repeat(f64::NAN);
        vector(py, &self.core.contact.as_ref().map_or_else(nowhere, of))
    }
}

pickled!(Touchdown, Core);
