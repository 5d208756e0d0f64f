//! The stakes of a built landing as a table for the field.

use super::atomic::write_bytes;
use super::error::FileError;
use super::spot::Spot;
use crate::ground::landing::{self, BuiltLanding, Stake};
use crate::math::Vec3;
use crate::site::{Mark, Site};
use std::path::Path;

/// How far apart in plan two marks must stand to tape from both, metres.
const APART: f64 = 0.1;

/// Writes the stakes of a landing, at most `spacing` metres apart, taped from two named marks of its site.
///
/// A row has what the stake marks, its station along the heading from the crest line, its offset to the left of the
/// centre line, the finished height and the ground's (both the site's z), the fill over the ground (or the cut below
/// it), and the level distance from each mark. Metres, to the millimetre. Two tapes cross on either side of the line
/// between the marks: station and offset tell which. Refused: a mark the site does not have, marks less than 0.1 m
/// apart, a spacing that is not above 0.
pub fn write_stakes(
    path: impl AsRef<Path>,
    built: &BuiltLanding,
    site: &Site,
    from: [&str; 2],
    spacing: f64,
) -> Result<(), FileError> {
    let path = path.as_ref();
    let marks = two_marks(path, site, from)?;
    let stakes = built.stakes(spacing).map_err(|error| FileError::OutOfRange {
        at: Spot::of_file(path),
        field: error.field.into_owned(),
        value: error.value,
        allowed: error.allowed.into_owned(),
    })?;
    write_bytes(path, &table(path, &stakes, marks)?)
}

fn two_marks<'s>(
    path: &Path,
    site: &'s Site,
    names: [&str; 2],
) -> Result<[&'s Mark; 2], FileError> {
    let [first, second] = names.map(|name| mark(site, name));
    let (first, second) = (first?, second?);
    let apart = level(&first.position, &second.position);
    if apart >= APART {
        return Ok([first, second]);
    }
    let reason = format!(
        "\"{}\" and \"{}\" stand {apart} m apart: expected at least {APART} m to tape from both",
        first.name, second.name
    );
    Err(FileError::Unfit { at: Spot::of_file(path), field: "marks".into(), reason })
}

fn mark<'s>(site: &'s Site, name: &str) -> Result<&'s Mark, FileError> {
    site.marks.iter().find(|mark| mark.name == name).ok_or_else(|| {
        let known: Vec<_> = site.marks.iter().map(|mark| format!("\"{}\"", mark.name)).collect();
        FileError::Lacks {
            what: format!("the site \"{}\"", site.name),
            wanted: format!("mark \"{name}\"; it has {}", known.join(", ")),
        }
    })
}

fn table(path: &Path, stakes: &[Stake], marks: [&Mark; 2]) -> Result<Vec<u8>, FileError> {
    let blocked = |reason: String| FileError::Unwritable { file: path.to_path_buf(), reason };
    let mut out = csv::Writer::from_writer(Vec::new());
    let taped = marks.map(|mark| format!("from {}", mark.name));
    let header = ["marks", "station", "offset", "height", "ground", "fill", "cut"];
    let header = header.into_iter().map(str::to_owned).chain(taped);
    out.write_record(header).map_err(|error| blocked(error.to_string()))?;
    for stake in stakes {
        out.write_record(row(stake, marks)).map_err(|error| blocked(error.to_string()))?;
    }
    out.into_inner().map_err(|error| blocked(error.to_string()))
}

fn row(stake: &Stake, marks: [&Mark; 2]) -> Vec<String> {
    let what = match stake.mark {
        landing::Mark::Toe => "toe",
        _ => "deck",
    };
    let (ground, fill) = (stake.ground.z, stake.fill.max(0.0));
    let cut = (-stake.fill).max(0.0);
    let numbers = [stake.along, stake.across, ground + stake.fill, ground, fill, cut];
    let tapes = marks.map(|mark| level(&mark.position, &stake.ground));
    let numbers = numbers.into_iter().chain(tapes).map(millimetres);
    [what.to_owned()].into_iter().chain(numbers).collect()
}

fn level(from: &Vec3, to: &Vec3) -> f64 {
    (to - from).xy().norm()
}

/// Metres to the millimetre, without a sign on nothing.
fn millimetres(metres: f64) -> String {
    let text = format!("{metres:.3}");
    if text == "-0.000" { "0.000".into() } else { text }
}
