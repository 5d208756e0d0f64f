//! What can be wrong with a site file, its tables, or a place to write to.

use super::spot::Spot;
use std::path::PathBuf;

/// Why a file was not read or not written: which file, which line or field, what was found and what may stand there.
#[derive(Debug, Clone, PartialEq, thiserror::Error)]
#[non_exhaustive]
pub enum FileError {
    /// A file that could not be read.
    #[error("{file}: cannot be read: {reason}", file = file.display())]
    Unreadable {
        /// The file.
        file: PathBuf,
        /// What the system said.
        reason: String,
    },
    /// A file that could not be written; nothing of it was left behind.
    #[error("{file}: cannot be written: {reason}", file = file.display())]
    Unwritable {
        /// The file.
        file: PathBuf,
        /// What the system said, or what stood in the way.
        reason: String,
    },
    /// Text that is not TOML, or a row that is not CSV.
    #[error("{at}: cannot be read: {reason}")]
    Syntax {
        /// Where reading stopped.
        at: Spot,
        /// What the reader said.
        reason: String,
    },
    /// A site file for another version of the format.
    #[error("{at}: version = {found}: this release reads version {known} of the site file")]
    Version {
        /// Where it stands.
        at: Spot,
        /// The version named in the file.
        found: i64,
        /// The version this release reads.
        known: i64,
    },
    /// A key that a site file does not have.
    #[error("{at}: unknown key `{key}` in {table}; {}", hint(nearest.as_deref(), known))]
    UnknownKey {
        /// Where it stands.
        at: Spot,
        /// The key as written.
        key: String,
        /// The table it stands in.
        table: String,
        /// The known key most like it, where one is.
        nearest: Option<String>,
        /// The keys the table may have.
        known: Vec<String>,
    },
    /// A key whose ending asks for another unit than the one the file is kept in.
    #[error("{at}: `{key}` in {table}: write `{right}`, in {unit}")]
    WrongUnit {
        /// Where it stands.
        at: Spot,
        /// The key as written.
        key: String,
        /// The table it stands in.
        table: String,
        /// The key to write.
        right: String,
        /// The unit of its value.
        unit: String,
    },
    /// A key that must be there and is not.
    #[error("{at}: {table} lacks `{key}`{}", described(about))]
    MissingKey {
        /// Where the table starts.
        at: Spot,
        /// The table.
        table: String,
        /// The key to add.
        key: String,
        /// What the key says, in a sentence.
        about: String,
    },
    /// A value of another kind than the one wanted, such as text for a number.
    #[error("{at}: {field} = {found}: expected {wanted}")]
    WrongType {
        /// Where it stands.
        at: Spot,
        /// The field, with the tables that lead to it.
        field: String,
        /// The value as written.
        found: String,
        /// What may stand there.
        wanted: String,
    },
    /// A number outside its range.
    #[error("{at}: {field} = {value} is out of range: {allowed}")]
    OutOfRange {
        /// Where it stands.
        at: Spot,
        /// The field, with the tables that lead to it.
        field: String,
        /// The number as read.
        value: f64,
        /// The allowed range, in words.
        allowed: String,
    },
    /// Values that each may stand but that do not fit together.
    #[error("{at}: {field}: {reason}")]
    Unfit {
        /// Where the field stands.
        at: Spot,
        /// The field, with the tables that lead to it.
        field: String,
        /// What does not fit, with its numbers.
        reason: String,
    },
    /// A table of points with another first row than its own.
    #[error("{at}: the header is `{found}`: expected `{wanted}`")]
    Header {
        /// Where it stands.
        at: Spot,
        /// The header as written.
        found: String,
        /// The header wanted.
        wanted: String,
    },
    /// A row of a table with too many or too few fields.
    #[error("{at}: {found} fields in the row: expected {wanted}")]
    RowLength {
        /// The row.
        at: Spot,
        /// Fields found.
        found: usize,
        /// Fields wanted.
        wanted: usize,
    },
    /// A field of a table that is not a number.
    #[error("{at}: {name} = `{found}`: expected a finite number, in {unit}")]
    NotANumber {
        /// The row, and the field in it.
        at: Spot,
        /// The field's name in the header.
        name: String,
        /// The text found.
        found: String,
        /// The unit of the number.
        unit: &'static str,
    },
    /// A table with too few rows.
    #[error("{at}: {found} {what}: expected at least {least}")]
    TooFewRows {
        /// The table.
        at: Spot,
        /// Rows found.
        found: usize,
        /// The fewest that serve.
        least: usize,
        /// What a row is.
        what: &'static str,
    },
    /// Two survey points at one place.
    #[error(
        "{at}: the survey point (x, y) = ({x}, {y}) stands already in line {first}: each point must have a place of its own"
    )]
    DuplicatePoint {
        /// The second point.
        at: Spot,
        /// The line of the first.
        first: u64,
        /// Their place.
        x: f64,
        /// Their place.
        y: f64,
    },
    /// A survey whose points span no surface.
    #[error(
        "{at}: all {points} survey points lie within {spread} m of one line seen from above: expected points that span an area, at least {least} m off the line"
    )]
    OnALine {
        /// The survey.
        at: Spot,
        /// How many points there are.
        points: usize,
        /// How far the farthest lies off the line.
        spread: f64,
        /// How far off a line one point must lie.
        least: f64,
    },
    /// A profile that does not run onward.
    #[error(
        "{at}: distance = {distance} goes back from {before} in line {first}: expected distances that grow from row to row, in the direction of travel"
    )]
    GoesBack {
        /// The row that goes back.
        at: Spot,
        /// Its distance.
        distance: f64,
        /// The distance in the row before.
        before: f64,
        /// The line of the row before.
        first: u64,
    },
    /// A thing that lacks what a file of it would say.
    #[error("{what} has no {wanted}")]
    Lacks {
        /// The thing to be written.
        what: String,
        /// What it would have to have.
        wanted: String,
    },
}

fn hint(nearest: Option<&str>, known: &[String]) -> String {
    match nearest {
        Some(key) => format!("did you mean `{key}`?"),
        None => format!("known here: {}", known.join(", ")),
    }
}

fn described(about: &str) -> String {
    if about.is_empty() { String::new() } else { format!(": {about}") }
}
