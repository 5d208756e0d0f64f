//! The survey and the profile of a site as tables in files of their own.

use super::error::FileError;
use super::spot::Spot;
use super::table::{Row, rows, text};
use crate::math::Vec3;
use std::collections::HashMap;
use std::path::Path;

const SURVEY: [&str; 3] = ["x", "y", "z"];
const PROFILE: [&str; 2] = ["distance", "height"];

/// How far one survey point must lie off the line through the others: a tape reads to a centimetre.
const OFF_THE_LINE: f64 = 0.01;

/// The points of a survey: at least three, each at a place of its own, not all on one line.
pub(super) fn survey(file: &Path, source: &str) -> Result<Vec<Vec3>, FileError> {
    let rows = rows(file, source, SURVEY)?;
    enough(file, rows.len(), 3, "survey points")?;
    distinct(file, &rows)?;
    let points: Vec<Vec3> = rows.iter().map(|row| Vec3::from(row.numbers)).collect();
    let spread = spread(&points);
    if spread < OFF_THE_LINE {
        let (at, points) = (Spot::of_file(file), points.len());
        return Err(FileError::OnALine { at, points, spread, least: OFF_THE_LINE });
    }
    Ok(points)
}

/// The distances and heights of a profile: at least two, distances growing.
pub(super) fn profile(file: &Path, source: &str) -> Result<(Vec<f64>, Vec<f64>), FileError> {
    let rows = rows(file, source, PROFILE)?;
    enough(file, rows.len(), 2, "points of the profile")?;
    for pair in rows.windows(2) {
        let ([before, distance], first) = ([pair[0].numbers[0], pair[1].numbers[0]], pair[0].line);
        if distance <= before {
            let at = Spot::of_line(file, pair[1].line);
            return Err(FileError::GoesBack { at, distance, before, first });
        }
    }
    Ok(rows.iter().map(|row| (row.numbers[0], row.numbers[1])).unzip())
}

/// The table of a survey.
pub(super) fn survey_text(points: &[Vec3]) -> String {
    text(SURVEY, points.iter().map(|point| (*point).into()))
}

/// The table of a profile.
pub(super) fn profile_text(distance: &[f64], height: &[f64]) -> String {
    text(PROFILE, distance.iter().zip(height).map(|(x, z)| [*x, *z]))
}

fn enough(file: &Path, found: usize, least: usize, what: &'static str) -> Result<(), FileError> {
    if found >= least {
        return Ok(());
    }
    Err(FileError::TooFewRows { at: Spot::of_file(file), found, least, what })
}

fn distinct(file: &Path, rows: &[Row<3>]) -> Result<(), FileError> {
    let mut seen = HashMap::new();
    for row in rows {
        let [x, y, _] = row.numbers;
        // Adding zero makes one of the two zeros.
        let place = ((x + 0.0).to_bits(), (y + 0.0).to_bits());
        if let Some(first) = seen.insert(place, row.line) {
            let at = Spot::of_line(file, row.line);
            return Err(FileError::DuplicatePoint { at, first, x, y });
        }
    }
    Ok(())
}

/// How far the farthest point lies, seen from above, off the line from the first point to the one farthest from it.
fn spread(points: &[Vec3]) -> f64 {
    let Some(first) = points.first() else { return 0.0 };
    let arms = || points.iter().map(|point| (point - first).xy());
    let Some(along) = arms().max_by(|a, b| a.norm().total_cmp(&b.norm())) else { return 0.0 };
    arms().map(|arm| (along.perp(&arm) / along.norm()).abs()).fold(0.0, f64::max)
}
