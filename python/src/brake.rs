//! What a rider brakes, from numbers, rows or dicts.

use crate::errors::Failure;
use loamline::ride::{Brake, Slowing, Zone};
use pyo3::prelude::*;
use pyo3::types::PyDict;

/// A brake from what Python gave: nothing, a deceleration, or zones.
pub fn from(given: Option<&Bound<'_, PyAny>>) -> Result<Brake, Failure> {
    let Some(given) = given else {
        return Ok(Brake::None);
    };
    if let Ok(deceleration) = given.extract::<f64>() {
        let none = deceleration == 0.0;
        return Ok(if none { Brake::None } else { Brake::Constant(deceleration) });
    }
    let rows = given.try_iter().map_err(|_| wrong(given))?;
    rows.map(|row| zone(&row?)).collect::<Result<_, _>>().map(Brake::Zones)
}

fn zone(row: &Bound<'_, PyAny>) -> Result<Zone, Failure> {
    if let Ok(named) = row.cast::<PyDict>() {
        return named_zone(named);
    }
    let [from, to, deceleration] = row.extract().map_err(|_| wrong(row))?;
    Ok(Zone { from, to, slowing: Slowing::By(deceleration) })
}

fn named_zone(named: &Bound<'_, PyDict>) -> Result<Zone, Failure> {
    let number = |key: &str| -> Result<Option<f64>, Failure> {
        Ok(named.get_item(key)?.map(|value| value.extract()).transpose()?)
    };
    let slowing = match (number("deceleration")?, number("speed")?) {
        (Some(value), None) => Slowing::By(value),
        (None, Some(speed)) => Slowing::To(speed),
        _ => return Err(wrong(named.as_any())),
    };
    match (number("from")?, number("to")?, named.len()) {
        (Some(from), Some(to), 3) => Ok(Zone { from, to, slowing }),
        _ => Err(wrong(named.as_any())),
    }
}

fn wrong(given: &Bound<'_, PyAny>) -> Failure {
    let message = format!(
        "brake = {given:?}: a deceleration, rows (from, to, deceleration), or dicts of from, to \
         and deceleration or speed are wanted"
    );
    Failure::input(&message).about("brake")
}
