//! What is wrong with a value, before its line is known.

use super::document::Document;
use super::error::FileError;
use super::raw::SiteFile;
use crate::math::range::OutOfRange;
use crate::site::SiteError;

/// A field, from the table at hand on, and what is wrong with it.
#[derive(Debug, Clone, PartialEq)]
pub(super) struct Fault {
    field: String,
    what: What,
}

#[derive(Debug, Clone, PartialEq)]
enum What {
    Range { value: f64, allowed: String },
    Unfit { reason: String },
}

impl Fault {
    /// Values that do not fit together.
    pub(super) fn unfit(field: impl Into<String>, reason: impl Into<String>) -> Self {
        Self { field: field.into(), what: What::Unfit { reason: reason.into() } }
    }

    /// A number outside its range.
    pub(super) fn range(field: &str, value: f64, allowed: impl Into<String>) -> Self {
        Self { field: field.into(), what: What::Range { value, allowed: allowed.into() } }
    }

    /// The same, told from the table that holds the one at hand.
    pub(super) fn within(self, table: &str) -> Self {
        let field = match self.field.as_str() {
            "" => table.to_owned(),
            field => format!("{table}.{field}"),
        };
        Self { field, ..self }
    }

    /// The same at its line of a document.
    pub(super) fn placed(self, document: &Document<'_>) -> FileError {
        let (at, field) = (document.find(&self.field), self.field);
        match self.what {
            What::Range { value, allowed } => FileError::OutOfRange { at, field, value, allowed },
            What::Unfit { reason } => FileError::Unfit { at, field, reason },
        }
    }

    /// What a site says is wrong with itself, by the field of the file it was read from.
    pub(super) fn of_site(error: SiteError, file: &SiteFile) -> Self {
        match error {
            SiteError::OutOfRange(error) => {
                let field = field_of(&error.field);
                Self::range(&field, error.value, error.allowed)
            }
            SiteError::Outline { field, source } => {
                Self::unfit(format!("landing.{field}"), source.to_string())
            }
            SiteError::SlopeTooSteep { .. } => {
                Self::unfit("landing.slope_deg[0]", error.to_string())
            }
            SiteError::Class { class, source } => {
                let at = file.riders.iter().position(|riders| riders.name == class);
                Self::from(source).within(&format!("riders[{}]", at.unwrap_or_default()))
            }
            error @ SiteError::Weights { .. } => {
                let last = file.riders.len().saturating_sub(1);
                Self::unfit(format!("riders[{last}].weight"), error.to_string())
            }
            SiteError::Unnamed { kind, number } => {
                let field = format!("{}[{}].name", list_of(kind), number - 1);
                Self::unfit(field, "expected a name")
            }
            SiteError::Repeated { kind, ref name } => {
                let at =
                    file.names(kind).iter().rposition(|other| other == name).unwrap_or_default();
                Self::unfit(format!("{}[{at}].name", list_of(kind)), error.to_string())
            }
            SiteError::Survey(error) => Self::unfit("survey.points", error.to_string()),
            SiteError::RunIn(error) => Self::unfit("run_in", error.to_string()),
            SiteError::Wall(error) => Self::unfit("wall", error.to_string()),
            SiteError::Ramp(error) => {
                let table = if file.lip.is_some() { "lip" } else { "drop" };
                Self::unfit(table, error.to_string())
            }
            other => Self::unfit("site", other.to_string()),
        }
    }
}

impl From<OutOfRange> for Fault {
    fn from(error: OutOfRange) -> Self {
        Self::range(&error.field, error.value, error.allowed)
    }
}

/// The list of a file that holds a kind of named things.
fn list_of(kind: &str) -> &'static str {
    match kind {
        "mark" => "mark",
        "class" => "riders",
        "keep-out" => "landing.keep_out",
        _ => "landing.obstacle",
    }
}

/// The field of a file that holds a number of a site.
fn field_of(name: &str) -> String {
    match name {
        "enter" => "ride.enter".into(),
        "barrow_count" => "barrows.count".into(),
        "mark.position" => "mark".into(),
        _ if name.starts_with("wind") => format!("air.{name}"),
        _ => format!("landing.{name}"),
    }
}
