//! Words that choose one of a few ways, and a soil by its name or its numbers.

use crate::earth_soil::Soil;
use crate::errors::Failure;
use loamline::earth::{Soil as Core, Tamping};
use pyo3::prelude::*;

/// The failure about a word that is none of those known.
pub fn unknown(field: &str, word: &str, known: &[&str]) -> Failure {
    let message = format!("{field} = {word:?} is not known: one of {}", known.join(", "));
    Failure::input(&message).about(field)
}

/// A soil as it is given: by its name, or by its numbers.
#[derive(Debug, FromPyObject)]
pub enum AnySoil<'py> {
    /// By its numbers.
    #[pyo3(transparent)]
    Soil(PyRef<'py, Soil>),
    /// By its name.
    #[pyo3(transparent)]
    Name(String),
}

impl AnySoil<'_> {
    /// The soil.
    pub fn core(&self) -> Result<Core, Failure> {
        match self {
            Self::Soil(soil) => Ok(soil.core.clone()),
            Self::Name(name) => Ok(Core::named(name)?),
        }
    }
}

/// What earth is tamped with.
pub fn tamping(word: &str) -> Result<Tamping, Failure> {
    match word {
        "hand" => Ok(Tamping::Hand),
        "rammer" => Ok(Tamping::Rammer),
        _ => Err(unknown("tamping", word, &["hand", "rammer"])),
    }
}
