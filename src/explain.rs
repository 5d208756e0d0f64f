//! What stands behind a result: its model, what went in, where the model comes from, and where it ends.

use serde::{Deserialize, Serialize};
use std::fmt;

/// Stands under every explanation: what no number here can do.
const CAUTION: &str = "The numbers guide a first build and the next test; they certify nothing. Start slow, wear \
     protection, never test alone, and let local codes, the land manager and a licensed engineer decide.";

/// One number that went into a result.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct Input {
    /// Its name, as the type that carries it has it.
    pub name: String,
    /// Its value.
    pub value: f64,
    /// Its unit; empty for a plain number.
    pub unit: String,
}

/// The model behind a result, what went in, its sources and its limits, in words. Prints as paragraphs.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[non_exhaustive]
pub struct Explanation {
    /// What was computed, and how.
    pub model: String,
    /// The numbers that it rests on.
    pub inputs: Vec<Input>,
    /// Where the model and its constants come from.
    pub sources: Vec<String>,
    /// What the model leaves out, and past what it does not hold.
    pub limits: String,
}

impl Explanation {
    /// An explanation of a model with these limits, without inputs and sources yet.
    pub fn new(model: impl Into<String>, limits: impl Into<String>) -> Self {
        let (inputs, sources) = (Vec::new(), Vec::new());
        Self { model: model.into(), inputs, sources, limits: limits.into() }
    }

    /// The same with one more input.
    pub fn with_input(mut self, name: &str, value: f64, unit: &str) -> Self {
        self.inputs.push(Input { name: name.to_owned(), value, unit: unit.to_owned() });
        self
    }

    /// The same with one more source.
    pub fn with_source(mut self, source: impl Into<String>) -> Self {
        self.sources.push(source.into());
        self
    }
}

impl fmt::Display for Input {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(f, "{} = {}", self.name, self.value)?;
        if self.unit.is_empty() { Ok(()) } else { write!(f, " {}", self.unit) }
    }
}

impl fmt::Display for Explanation {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        writeln!(f, "Model: {}", self.model)?;
        if !self.inputs.is_empty() {
            let inputs: Vec<String> = self.inputs.iter().map(ToString::to_string).collect();
            writeln!(f, "Inputs: {}.", inputs.join(", "))?;
        }
        if !self.sources.is_empty() {
            writeln!(f, "Sources: {}.", self.sources.join("; "))?;
        }
        write!(f, "Limits: {} {CAUTION}", self.limits)
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn it_prints_as_paragraphs_and_always_with_the_caution() {
        let bare = Explanation::new("A stone falls.", "No air.");
        assert!(bare.to_string().starts_with("Model: A stone falls.\nLimits: No air. The numbers"));
        let full = bare
            .with_input("mass", 90.0, "kg")
            .with_input("grip", 0.6, "")
            .with_source("a textbook");
        assert!(
            full.to_string().contains("Inputs: mass = 90 kg, grip = 0.6.\nSources: a textbook.")
        );
        assert!(full.to_string().ends_with("decide."));
    }
}
