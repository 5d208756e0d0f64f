//! Where in a file something stands.

use std::fmt;
use std::path::{Path, PathBuf};

/// A file and, where it is known, the line and column in it, both counted from 1.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Spot(Box<Place>);

#[derive(Debug, Clone, PartialEq, Eq)]
struct Place {
    file: PathBuf,
    line: Option<u64>,
    column: Option<u64>,
}

impl Spot {
    /// The whole of a file.
    pub fn of_file(file: &Path) -> Self {
        Self(Box::new(Place { file: file.to_path_buf(), line: None, column: None }))
    }

    /// A line of a file.
    pub fn of_line(file: &Path, line: u64) -> Self {
        Self(Box::new(Place { file: file.to_path_buf(), line: Some(line), column: None }))
    }

    /// The same line at a column of it.
    pub fn with_column(mut self, column: u64) -> Self {
        self.0.column = Some(column);
        self
    }

    /// The file, as it was named to the loader.
    pub fn file(&self) -> &Path {
        &self.0.file
    }

    /// The line.
    pub fn line(&self) -> Option<u64> {
        self.0.line
    }

    /// The column: a letter of the line in a TOML file, a field of the row in a CSV file.
    pub fn column(&self) -> Option<u64> {
        self.0.column
    }
}

impl fmt::Display for Spot {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(f, "{}", self.file().display())?;
        if let Some(line) = self.line() {
            write!(f, ", line {line}")?;
        }
        if let Some(column) = self.column() {
            write!(f, ", column {column}")?;
        }
        Ok(())
    }
}
