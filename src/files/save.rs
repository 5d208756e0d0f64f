//! Site files written: the TOML, and the tables beside it.

use super::atomic::Pending;
use super::error::FileError;
use super::load;
use super::points;
use super::raw::SiteFile;
use crate::site::Site;
use std::path::{Path, PathBuf};

/// What a site file says of itself in its first lines.
const HEAD: &str = "\
# A site for Loamline. Lengths in metres, masses in kilograms, times in seconds; angles in degrees,
# in keys that end in _deg; headings counter-clockwise from the x axis.

";

/// A site as texts, each with the place it goes to; the TOML last.
struct Texts {
    tables: [(PathBuf, String); 2],
    site: (PathBuf, String),
}

/// Writes a site to a TOML file, and its tables to `NAME-survey.csv` and `NAME-run-in.csv` beside it.
///
/// What [`load_site`](super::load_site) makes of it is the same site: numbers to the last bit, angles too where they
/// came from degrees. A site that could not be read back is refused as the loader would refuse it. Each file appears
/// whole or not at all, the TOML last; where one cannot be written, none is put in its place.
pub fn save_site(path: impl AsRef<Path>, site: &Site) -> Result<(), FileError> {
    let texts = Texts::of(path.as_ref(), site)?;
    texts.read_back()?;
    let [survey, profile] = &texts.tables;
    let pending = [survey, profile, &texts.site]
        .map(|(path, text)| Pending::write(path, |out| out.write_all(text.as_bytes())));
    let pending: Vec<Pending> = pending.into_iter().collect::<Result<_, _>>()?;
    pending.into_iter().try_for_each(Pending::persist)
}

impl Texts {
    fn of(path: &Path, site: &Site) -> Result<Self, FileError> {
        let stem = path.file_stem().map(|stem| stem.to_string_lossy().into_owned());
        let stem = stem.unwrap_or_else(|| "site".into());
        let (survey, profile) = (format!("{stem}-survey.csv"), format!("{stem}-run-in.csv"));
        let keys = toml::to_string(&SiteFile::of(site, &survey, &profile));
        let keys = keys.map_err(|error| FileError::Unwritable {
            file: path.to_path_buf(),
            reason: error.to_string(),
        })?;
        let run_in = &site.run_in;
        Ok(Self {
            tables: [
                (path.with_file_name(survey), points::survey_text(&site.survey)),
                (
                    path.with_file_name(profile),
                    points::profile_text(&run_in.distance, &run_in.height),
                ),
            ],
            site: (path.to_path_buf(), format!("{HEAD}{keys}")),
        })
    }

    /// An error where the loader would not take the texts.
    fn read_back(&self) -> Result<(), FileError> {
        let (path, text) = &self.site;
        load::site(path, text, |wanted| {
            let table = self.tables.iter().find(|(path, _)| path == wanted);
            table.map(|(_, text)| text.clone()).ok_or_else(|| FileError::Lacks {
                what: path.display().to_string(),
                wanted: wanted.display().to_string(),
            })
        })
        .map(drop)
    }
}
