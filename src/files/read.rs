//! From a text to the keys of a site file, checked.

use super::check::check;
use super::document::{Document, entry};
use super::error::FileError;
use super::raw::{SiteFile, VERSION};
use super::rules::Rules;
use super::schema;
use super::spot::Spot;
use std::fs;
use std::path::Path;
use toml::de::DeValue;

/// The text of a file.
pub(super) fn read_text(path: &Path) -> Result<String, FileError> {
    fs::read_to_string(path).map_err(|error| FileError::Unreadable {
        file: path.to_path_buf(),
        reason: error.to_string(),
    })
}

/// The document in a text and its keys, each known, of its kind and in its range.
pub(super) fn read<'t>(file: &Path, text: &'t str) -> Result<(Document<'t>, SiteFile), FileError> {
    let document = Document::parse(file, text)?;
    // Of another version's keys nothing can be said: its number comes first.
    check_version(&document)?;
    check(&document, Rules::new(schema::tree()))?;
    let raw = toml::from_str(text).map_err(|error| FileError::Syntax {
        at: error.span().map_or_else(|| Spot::of_file(file), |span| document.spot(&span)),
        reason: error.message().into(),
    })?;
    Ok((document, raw))
}

fn check_version(document: &Document<'_>) -> Result<(), FileError> {
    let Some(value) = entry(document.root(), "version") else { return Ok(()) };
    let DeValue::Integer(whole) = value.get_ref() else { return Ok(()) };
    match whole.as_str().parse::<i64>() {
        Ok(found) if found != VERSION => {
            let at = document.spot(&value.span());
            Err(FileError::Version { at, found, known: VERSION })
        }
        _ => Ok(()),
    }
}
