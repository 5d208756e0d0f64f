//! The layers of the core point one way: no module uses one that stands below it in the list.
#![allow(clippy::expect_used, reason = "a test that cannot read the source fails by panicking")]

#[path = "sources/files.rs"]
mod files;

use files::rust_files;
use std::fs;
use std::path::Path;

/// Top first: a module may use those before it, never one after it.
const LAYERS: [&str; 20] = [
    "explain",
    "math",
    "geometry",
    "air",
    "rider",
    "force",
    "ground",
    "feature",
    "earth",
    "ride",
    "launch",
    "flight",
    "touchdown",
    "load",
    "two_wheel",
    "site",
    "passes",
    "design",
    "flags",
    "files",
];

#[test]
fn no_arrow_runs_back() {
    let source = Path::new(env!("CARGO_MANIFEST_DIR")).join("src");
    let mut back = Vec::new();
    for file in rust_files(&source) {
        let Some(from) = layer_of(&file, &source) else { continue };
        let text = fs::read_to_string(&file).expect("a source file reads");
        for (number, line) in text.lines().enumerate() {
            for used in modules_used(line, depth_of(&file, &source)) {
                if rank(&used).is_none_or(|to| to > from) {
                    back.push(format!("{}:{}: uses {used}", file.display(), number + 1));
                }
            }
        }
    }
    assert!(back.is_empty(), "arrows that run back:\n{}", back.join("\n"));
}

#[test]
fn every_module_of_the_crate_has_its_layer() {
    let lib = concat!(env!("CARGO_MANIFEST_DIR"), "/src/lib.rs");
    let text = fs::read_to_string(lib).expect("lib.rs reads");
    let modules: Vec<&str> = text
        .lines()
        .filter_map(|line| line.strip_prefix("pub mod ").or_else(|| line.strip_prefix("mod ")))
        .filter_map(|rest| rest.strip_suffix(';'))
        .collect();
    assert!(!modules.is_empty());
    for module in modules {
        assert!(rank(module).is_some(), "{module} stands in no layer");
    }
}

#[test]
fn a_back_arrow_is_found() {
    assert_eq!(modules_used("use crate::flight::Flight;", 1), ["flight"]);
    assert_eq!(modules_used("let x = crate::air::Air::standard();", 1), ["air"]);
    assert_eq!(modules_used("use super::super::passes::Passes;", 2), ["passes"]);
    assert_eq!(
        modules_used("use crate::{air::Air, math::{Vec2, Vec3}, rider::Rider};", 1),
        ["air", "math", "rider"]
    );
    assert!(modules_used("use super::roots::bracketed;", 2).is_empty());
}

fn rank(module: &str) -> Option<usize> {
    LAYERS.iter().position(|layer| *layer == module)
}

/// How many `super` lead from a file's module to the crate's root.
fn depth_of(file: &Path, source: &Path) -> usize {
    file.strip_prefix(source).map_or(0, |path| path.components().count())
}

fn layer_of(file: &Path, source: &Path) -> Option<usize> {
    let first = file.strip_prefix(source).ok()?.components().next()?;
    let name = first.as_os_str().to_str()?.trim_end_matches(".rs").to_owned();
    if name == "lib" {
        return None;
    }
    let found = rank(&name);
    assert!(found.is_some(), "{} stands in no layer", file.display());
    found
}

/// The crate's modules that a line of a file names, by `crate::` or by as many `super::` as reach the root.
fn modules_used(line: &str, depth: usize) -> Vec<String> {
    let code = line.split("//").next().unwrap_or("");
    let climb = "super::".repeat(depth);
    let mut used = Vec::new();
    for root in ["crate::", climb.as_str()].into_iter().filter(|root| !root.is_empty()) {
        for (at, _) in code.match_indices(root) {
            used.extend(heads(&code[at + root.len()..]));
        }
    }
    used
}

/// The first path segments of `a::b` or of a group `{a::b, c::{d, e}}`.
fn heads(path: &str) -> Vec<String> {
    let Some(group) = path.strip_prefix('{') else {
        return word(path).into_iter().collect();
    };
    let mut depth = 0_usize;
    let mut start = 0;
    let mut found = Vec::new();
    for (at, letter) in group.char_indices() {
        match letter {
            '{' => depth += 1,
            ',' | '}' if depth == 0 => {
                found.extend(word(group[start..at].trim()));
                start = at + 1;
                if letter == '}' {
                    return found;
                }
            }
            '}' => depth -= 1,
            _ => {}
        }
    }
    found.extend(word(group[start..].trim()));
    found
}

fn word(path: &str) -> Option<String> {
    let name: String = path.chars().take_while(|c| c.is_alphanumeric() || *c == '_').collect();
    let is_module = name.chars().next().is_some_and(char::is_lowercase);
    is_module.then_some(name)
}
