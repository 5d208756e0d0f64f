//! How a two-wheel ride starts and what is braked, from what Python gives.

use crate::errors::Failure;
use crate::units::radians;
use loamline::two_wheel::{Braking, Pose, Start, TwoWheelOptions};
use nalgebra::Vector2;
use pyo3::prelude::*;
use pyo3::types::PyDict;

/// The options of a ride: `start` is where the front wheel stands, or a pose.
pub fn options(
    start: &Bound<'_, PyAny>,
    speed: f64,
    brake: Option<&Bound<'_, PyAny>>,
    tolerance: f64,
) -> Result<TwoWheelOptions, Failure> {
    let start = if let Ok(front) = start.extract::<f64>() {
        Start::Settled { front, speed }
    } else if let Ok(given) = start.cast::<PyDict>() {
        Start::Given(pose(given)?)
    } else {
        return Err(wrong_start());
    };
    let options = TwoWheelOptions::new(start).with_tolerance(tolerance);
    let Some(given) = brake else { return Ok(options) };
    let [from, to, deceleration] = given.extract().map_err(|_| {
        Failure::input("brake wants three numbers: from (m), to (m), deceleration (m/s^2)")
            .about("brake")
    })?;
    Ok(options.with_braking(Braking { from, to, deceleration }))
}

fn pose(given: &Bound<'_, PyDict>) -> Result<Pose, Failure> {
    let known = ["centre", "pitch_deg", "velocity", "pitch_rate_deg", "travel"];
    let words: Vec<String> = given.keys().extract().map_err(|_| wrong_start())?;
    if words.iter().any(|word| !known.contains(&word.as_str())) {
        return Err(wrong_start());
    }
    let pair = |key: &str| -> Result<[f64; 2], Failure> {
        let value = given.get_item(key)?;
        value.map_or(Ok([0.0; 2]), |value| value.extract().map_err(|_| wrong_start()))
    };
    let number = |key: &str| -> Result<f64, Failure> {
        let value = given.get_item(key)?;
        value.map_or(Ok(0.0), |value| value.extract().map_err(|_| wrong_start()))
    };
    if !given.contains("centre")? {
        return Err(wrong_start());
    }
    Ok(Pose {
        centre: Vector2::from(pair("centre")?),
        pitch: radians("pitch_deg", number("pitch_deg")?)?,
        velocity: Vector2::from(pair("velocity")?),
        pitch_rate: radians("pitch_rate_deg", number("pitch_rate_deg")?)?,
        travel: pair("travel")?,
    })
}

fn wrong_start() -> Failure {
    Failure::input(
        "start wants the front wheel's level distance, m, or a dict of centre (x, z), pitch_deg, velocity (x, z), \
         pitch_rate_deg and travel (rear, front), of which only centre is needed",
    )
    .about("start")
}
