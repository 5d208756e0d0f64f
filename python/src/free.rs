//! The free line: what one was made of, and how it ends.

use crate::errors::Failure;
use crate::text;
use crate::units::degrees;
use crate::{air, rider, wall};
use loamline::feature::{FreeEnd, FreeEntry, FreeLine, FreeOutcome, Wall};
use loamline::{Air, Rider};
use pyo3::prelude::*;
use pyo3::types::PyDict;
use serde::{Deserialize, Serialize};

/// Where a free line has to end to be given.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize)]
#[serde(rename_all = "lowercase")]
pub enum Wanted {
    /// At the end edge.
    Edge,
    /// Wherever it does.
    Any,
}

/// What a free line was made of.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct Given {
    /// Ridden on.
    pub wall: Wall,
    /// Who rides.
    pub rider: Rider,
    /// Through what.
    pub air: Air,
    /// From where, how fast and which way.
    pub entry: FreeEntry,
    /// Where it has to end.
    pub wanted: Wanted,
}

impl Wanted {
    /// The word of Python's `end`.
    pub fn from_word(word: &str) -> Result<Self, Failure> {
        match word {
            "edge" => Ok(Self::Edge),
            "any" => Ok(Self::Any),
            _ => {
                let message = format!("end = \"{word}\" is not known: \"edge\" and \"any\" are");
                Err(Failure::input(&message).about("end"))
            }
        }
    }

    const fn word(self) -> &'static str {
        match self {
            Self::Edge => "edge",
            Self::Any => "any",
        }
    }
}

impl Given {
    /// The line, where it ends as it has to.
    pub fn build(&self) -> Result<FreeLine, Failure> {
        let free = self.wall.free_line(&self.rider, &self.air, &self.entry)?;
        Ok(match self.wanted {
            Wanted::Edge => free.at_edge()?,
            Wanted::Any => free,
        })
    }

    /// What `repr` shows.
    pub fn text(&self) -> String {
        let FreeEntry { height, speed, heading } = self.entry;
        let numbers = [height, speed, degrees(heading)].map(text::float);
        format!(
            "{}.free_line({}, {}, enter={}, speed={}, heading_deg={}, end={})",
            wall::text(&self.wall),
            rider::text(&self.rider),
            air::text(&self.air),
            numbers[0],
            numbers[1],
            numbers[2],
            text::quoted(self.wanted.word())
        )
    }
}

/// One word for how a free line ends.
pub fn word(outcome: FreeOutcome) -> &'static str {
    match outcome {
        FreeOutcome::Edge => "edge",
        FreeOutcome::Top => "top",
        FreeOutcome::Foot => "foot",
        FreeOutcome::Start => "start",
        FreeOutcome::Stalled => "stalled",
        FreeOutcome::LeftSurface => "left_surface",
        _ => "other",
    }
}

/// The dict that says how a free line ends.
pub fn dict<'py>(py: Python<'py>, end: &FreeEnd) -> PyResult<Bound<'py, PyDict>> {
    let dict = PyDict::new(py);
    dict.set_item("outcome", word(end.outcome))?;
    dict.set_item("station", end.station)?;
    dict.set_item("height", end.height)?;
    dict.set_item("speed", end.speed)?;
    dict.set_item("heading_deg", degrees(end.heading))?;
    dict.set_item("time", end.time)?;
    Ok(dict)
}
