//! Reads a file of printed values, runs each check and compares.

use std::collections::BTreeMap;

use serde::Deserialize;

use crate::Computed;

#[derive(Deserialize)]
struct File {
    check: Vec<Check>,
}

/// One source with its inputs and the values that it prints.
#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
struct Check {
    id: String,
    title: String,
    source: String,
    #[expect(dead_code, reason = "read by people; kept so that unknown keys can be refused")]
    note: Option<String>,
    inputs: Inputs,
    values: Vec<Printed>,
}

#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
struct Printed {
    name: String,
    value: f64,
    unit: String,
    tolerance: f64,
}

/// The numbers that a check starts from, by name.
#[derive(Deserialize)]
pub(crate) struct Inputs(BTreeMap<String, Input>);

#[derive(Deserialize)]
#[serde(untagged)]
enum Input {
    One(f64),
    Many(Vec<f64>),
}

impl Inputs {
    pub(crate) fn has(&self, name: &str) -> bool {
        self.0.contains_key(name)
    }

    /// The input of that name. Panics where the data has none.
    pub(crate) fn one(&self, name: &str) -> f64 {
        match self.0.get(name) {
            Some(Input::One(value)) => *value,
            _ => panic!("the check has no single input named {name}"),
        }
    }

    /// The list of that name. Panics where the data has none.
    pub(crate) fn many(&self, name: &str) -> &[f64] {
        match self.0.get(name) {
            Some(Input::Many(values)) => values,
            _ => panic!("the check has no list of inputs named {name}"),
        }
    }
}

/// Runs every check of a file and gives the number of printed values compared.
///
/// Panics, naming the source, where a check has no runner, a value is not computed, or one lies
/// outside its tolerance.
pub(crate) fn run(
    file: &str,
    text: &str,
    compute: impl Fn(&str, &Inputs) -> Option<Computed>,
) -> usize {
    let data: File = toml::from_str(text).unwrap_or_else(|error| panic!("{file}.toml: {error}"));
    let mut misses = Vec::new();
    let mut count = 0;
    for check in &data.check {
        let Check { id, title, source, .. } = check;
        let computed = compute(id, &check.inputs)
            .unwrap_or_else(|| panic!("{file} {id} ({title}) has no runner"))
            .unwrap_or_else(|error| panic!("{file} {id} ({title}): {error}"));
        for printed in &check.values {
            count += 1;
            if let Some(what) = miss(printed, &computed) {
                misses.push(format!("{file} {id} ({title}): {what}; {source}"));
            }
        }
    }
    assert!(misses.is_empty(), "{}", misses.join("\n"));
    say(&format!("{file}: {count} printed values from {} sources", data.check.len()));
    count
}

fn miss(printed: &Printed, computed: &[(&'static str, f64)]) -> Option<String> {
    let Printed { name, value, unit, tolerance } = printed;
    let Some((_, ours)) = computed.iter().find(|(of, _)| of == name) else {
        return Some(format!("{name} is not computed"));
    };
    let off = (ours - value).abs();
    // Written so that a NaN misses.
    let held = off <= *tolerance;
    (!held).then(|| format!("{name} = {ours} {unit}, printed {value}, tolerance {tolerance}"))
}

#[expect(clippy::print_stdout, reason = "the count is what a reader of the test log looks for")]
pub(crate) fn say(line: &str) {
    println!("{line}");
}
