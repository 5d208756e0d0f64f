//! Tables of numbers in CSV: one header, one row a line, `#` for comments.

use super::error::FileError;
use super::spot::Spot;
use crate::math::range::FARTHEST;
use csv::{ReaderBuilder, StringRecord, Trim};
use std::path::Path;

/// A row of numbers and the line it stands on.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) struct Row<const N: usize> {
    pub(super) line: u64,
    pub(super) numbers: [f64; N],
}

/// The rows of a CSV text under a header of the names wanted, each number finite and in metres.
pub(super) fn rows<const N: usize>(
    file: &Path,
    text: &str,
    header: [&str; N],
) -> Result<Vec<Row<N>>, FileError> {
    // Spreadsheets put a byte order mark before the header.
    let text = text.trim_start_matches('\u{feff}');
    // One by one, for the reader's own count of lines leaves comments out.
    let mut lines = (1..).zip(text.lines()).filter(|(_, text)| says_something(text));
    let Some((line, first)) = lines.next() else {
        let wanted = header.join(",");
        return Err(FileError::Header { at: Spot::of_file(file), found: String::new(), wanted });
    };
    let found = fields(file, line, first)?;
    if !found.iter().eq(header) {
        let (at, wanted) = (Spot::of_line(file, line), header.join(","));
        return Err(FileError::Header { at, found: first.trim().into(), wanted });
    }
    lines.map(|(line, text)| row(file, line, &fields(file, line, text)?, header)).collect()
}

fn says_something(line: &str) -> bool {
    let text = line.trim();
    !text.is_empty() && !text.starts_with('#')
}

fn fields(file: &Path, line: u64, text: &str) -> Result<StringRecord, FileError> {
    let mut reader =
        ReaderBuilder::new().has_headers(false).trim(Trim::All).from_reader(text.as_bytes());
    let mut record = StringRecord::new();
    reader.read_record(&mut record).map_err(|error| FileError::Syntax {
        at: Spot::of_line(file, line),
        reason: error.to_string(),
    })?;
    Ok(record)
}

fn row<const N: usize>(
    file: &Path,
    line: u64,
    fields: &StringRecord,
    header: [&str; N],
) -> Result<Row<N>, FileError> {
    if fields.len() != N {
        let at = Spot::of_line(file, line);
        return Err(FileError::RowLength { at, found: fields.len(), wanted: N });
    }
    let mut numbers = [0.0; N];
    for (at, (number, field)) in numbers.iter_mut().zip(fields).enumerate() {
        let finite = field.parse::<f64>().ok().filter(|value| value.is_finite());
        *number = finite.ok_or_else(|| FileError::NotANumber {
            at: Spot::of_line(file, line).with_column(at as u64 + 1),
            name: header[at].into(),
            found: field.into(),
            unit: "metres",
        })?;
        if number.abs() > FARTHEST {
            return Err(FileError::OutOfRange {
                at: Spot::of_line(file, line).with_column(at as u64 + 1),
                field: header[at].into(),
                value: *number,
                allowed: format!("from -{FARTHEST} to {FARTHEST}"),
            });
        }
    }
    Ok(Row { line, numbers })
}

/// A CSV text of rows of numbers under a header, each number as short as reads back the same.
pub(super) fn text<const N: usize>(
    header: [&str; N],
    rows: impl IntoIterator<Item = [f64; N]>,
) -> String {
    let lines = rows.into_iter().map(|row| row.map(|number| number.to_string()).join(","));
    [header.join(",")].into_iter().chain(lines).map(|line| line + "\n").collect()
}

#[cfg(test)]
mod tests {
    use super::*;

    fn read(text: &str) -> Result<Vec<Row<2>>, FileError> {
        rows(Path::new("p.csv"), text, ["distance", "height"])
    }

    #[test]
    fn comments_and_empty_lines_keep_the_count_of_lines() {
        let found = read("# by tape\n\ndistance, height\n0, 1.5\n# a stump\n2.5,1\n").unwrap();
        assert_eq!(found[0], Row { line: 4, numbers: [0.0, 1.5] });
        assert_eq!(found[1], Row { line: 6, numbers: [2.5, 1.0] });
    }

    #[test]
    fn numbers_read_back_as_they_were() {
        let numbers = [[0.1 + 0.2, -1e-300], [12345678.901234567, 5.0]];
        let back: Vec<_> = read(&text(["distance", "height"], numbers)).unwrap();
        assert_eq!(back.iter().map(|row| row.numbers).collect::<Vec<_>>(), numbers);
    }

    #[test]
    fn a_mark_before_the_header_is_no_part_of_it() {
        assert!(read("\u{feff}distance,height\n0,1\n").is_ok());
    }
}
