//! Wheel marks and the hop between them as dicts.

use crate::units::degrees;
use loamline::two_wheel::{At, First, Hop, WheelMark};
use pyo3::prelude::*;
use pyo3::types::PyDict;

/// A wheel's mark as a dict.
fn mark<'py>(py: Python<'py>, mark: &WheelMark) -> PyResult<Bound<'py, PyDict>> {
    let dict = PyDict::new(py);
    dict.set_item("time", mark.time)?;
    dict.set_item("distance", mark.place.x)?;
    dict.set_item("height", mark.place.y)?;
    dict.set_item("normal_speed", mark.into)?;
    dict.set_item("pitch_deg", degrees(mark.pitch))?;
    Ok(dict)
}

/// A pair of marks as a dict of `rear` and `front`.
pub fn both<'py>(py: Python<'py>, marks: &[Option<WheelMark>; 2]) -> PyResult<Bound<'py, PyDict>> {
    let dict = PyDict::new(py);
    for (name, one) in ["rear", "front"].into_iter().zip(marks) {
        dict.set_item(name, one.as_ref().map(|one| mark(py, one)).transpose()?)?;
    }
    Ok(dict)
}

/// Which wheel came down first, in a word.
pub fn first(hop: &Hop) -> Option<&'static str> {
    hop.first().map(|(first, _)| match first {
        First::Rear => "rear",
        First::Front => "front",
        First::Together => "together",
    })
}

/// A value and its time as a pair.
pub fn at(peak: At) -> (f64, f64) {
    (peak.value, peak.time)
}
