//! The demo: an invented site to try everything on.

use super::error::FileError;
use super::load;
use crate::site::Site;
use std::path::Path;

/// The demo's files: name and text of each, the TOML first.
const FILES: [(&str, &str); 3] = [
    ("heath.toml", include_str!("demo/heath.toml")),
    ("heath-run-in.csv", include_str!("demo/heath-run-in.csv")),
    ("heath-survey.csv", include_str!("demo/heath-survey.csv")),
];

/// The names and texts of the demo's files, the site file first: written into one folder they are a site to load.
pub const fn demo_files() -> [(&'static str, &'static str); 3] {
    FILES
}

/// The demo site: an invented heath with a right-hand wall that steepens, before a gully.
pub fn demo_site() -> Result<Site, FileError> {
    let [(name, text), ..] = FILES;
    load::site(Path::new(name), text, |wanted| {
        let found = FILES.iter().find(|(name, _)| Path::new(name) == wanted);
        found.map(|(_, text)| (*text).to_owned()).ok_or_else(|| FileError::Lacks {
            what: "the demo".into(),
            wanted: wanted.display().to_string(),
        })
    })
}
