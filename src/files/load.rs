//! Site files read: the TOML, and the tables beside it.

use super::document::Document;
use super::error::FileError;
use super::fault::Fault;
use super::points;
use super::read::{read, read_text};
use crate::site::{Site, SiteError};
use std::path::{Path, PathBuf};

/// The site in a TOML file, with the tables it names, found relative to its folder.
///
/// Lengths in metres, masses in kilograms, angles in degrees in keys that end in `_deg`; [`site_schema`](super::site_schema)
/// has every key with its unit and range. A file with any fault is refused as a whole: the error names the file, the
/// line, the field, its value and what may stand there.
pub fn load_site(path: impl AsRef<Path>) -> Result<Site, FileError> {
    let path = path.as_ref();
    site(path, &read_text(path)?, read_text)
}

/// The site in a text, its tables given by `table`.
pub(super) fn site(
    file: &Path,
    text: &str,
    table: impl Fn(&Path) -> Result<String, FileError>,
) -> Result<Site, FileError> {
    let (document, keys) = read(file, text)?;
    let placed = |fault: Fault| fault.placed(&document);
    let beside = Beside { document: &document, file, table };
    let survey = beside.read(&keys.survey.points, "survey.points", points::survey)?;
    let profile = beside.read(&keys.run_in.profile, "run_in.profile", points::profile)?;
    let site = keys.site(survey, profile).map_err(placed)?;
    check(&site).map_err(|error| placed(Fault::of_site(error, &keys)))?;
    Ok(site)
}

/// Where a site's tables are.
struct Beside<'d, 't, R> {
    document: &'d Document<'t>,
    file: &'d Path,
    table: R,
}

impl<R: Fn(&Path) -> Result<String, FileError>> Beside<'_, '_, R> {
    fn read<T>(
        &self,
        name: &str,
        field: &str,
        points: impl Fn(&Path, &str) -> Result<T, FileError>,
    ) -> Result<T, FileError> {
        let path = self.file.parent().map_or_else(|| PathBuf::from(name), |at| at.join(name));
        let text = (self.table)(&path).map_err(|error| match error {
            FileError::Unreadable { file, reason } => {
                let named = format!("{reason} ({field} in {})", self.document.find(field));
                FileError::Unreadable { file, reason: named }
            }
            other => other,
        })?;
        points(&path, &text)
    }
}

/// Whether the values make a site, its points a ground, and its run-in meets its takeoff.
fn check(site: &Site) -> Result<(), SiteError> {
    site.check()?;
    site.ground()?;
    site.run_in_profile().map(drop)
}
