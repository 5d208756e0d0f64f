//! A TOML text that knows on which line each of its fields stands.

use super::error::FileError;
use super::spot::Spot;
use std::ops::Range;
use std::path::{Path, PathBuf};
use toml::Spanned;
use toml::de::{DeTable, DeValue};

/// A parsed TOML text, its file's name, and the way back from a field to its line.
pub(super) struct Document<'t> {
    file: PathBuf,
    text: &'t str,
    root: Spanned<DeTable<'t>>,
}

/// One step from a table or list to what it holds.
#[derive(Debug, Clone, PartialEq)]
pub(super) enum Step {
    /// The value of a key.
    Key(String),
    /// An item of a list, counted from 0.
    Item(usize),
}

impl<'t> Document<'t> {
    /// The document in a text.
    pub(super) fn parse(file: &Path, text: &'t str) -> Result<Self, FileError> {
        let root = DeTable::parse(text).map_err(|error| FileError::Syntax {
            at: error.span().map_or_else(|| Spot::of_file(file), |span| spot(file, text, &span)),
            reason: reason(text, &error),
        })?;
        Ok(Self { file: file.to_path_buf(), text, root })
    }

    /// The outermost table.
    pub(super) fn root(&self) -> &DeTable<'t> {
        self.root.get_ref()
    }

    /// The file as a whole.
    pub(super) fn whole(&self) -> Spot {
        Spot::of_file(&self.file)
    }

    /// The place of a span of the text.
    pub(super) fn spot(&self, span: &Range<usize>) -> Spot {
        spot(&self.file, self.text, span)
    }

    /// The place of a field given as `riders[1].mass.low`, or of the innermost table on the way that is there.
    pub(super) fn find(&self, field: &str) -> Spot {
        let mut table = Some(self.root());
        let mut list = None;
        let mut found = None;
        for step in steps(field) {
            let next = match &step {
                Step::Key(name) => table.and_then(|table| entry(table, name)),
                Step::Item(at) => list.and_then(|list: &toml::de::DeArray<'t>| list.get(*at)),
            };
            let Some(value) = next else { break };
            found = Some(value.span());
            table = value.get_ref().as_table();
            list = value.get_ref().as_array();
        }
        found.map_or_else(|| self.whole(), |span| self.spot(&span))
    }

    /// The text of a span, on one line and cut where it is long.
    pub(super) fn excerpt(&self, span: &Range<usize>) -> String {
        const LONGEST: usize = 60;
        let text = self.text.get(span.clone()).unwrap_or_default();
        let flat = text.split_whitespace().collect::<Vec<_>>().join(" ");
        if flat.chars().count() <= LONGEST {
            return flat;
        }
        flat.chars().take(LONGEST).chain("...".chars()).collect()
    }
}

/// The value of a key of a table.
pub(super) fn entry<'a, 't>(table: &'a DeTable<'t>, key: &str) -> Option<&'a Spanned<DeValue<'t>>> {
    table.iter().find(|(name, _)| name.get_ref() == key).map(|(_, value)| value)
}

/// The steps of a field's name.
fn steps(field: &str) -> Vec<Step> {
    let mut found = Vec::new();
    for part in field.split('.') {
        let mut pieces = part.split('[');
        found.extend(pieces.next().filter(|name| !name.is_empty()).map(|n| Step::Key(n.into())));
        found.extend(
            pieces.filter_map(|item| item.trim_end_matches(']').parse().ok()).map(Step::Item),
        );
    }
    found
}

/// What the reader said, and a hint where the line has a number with a comma in it.
fn reason(text: &str, error: &toml::de::Error) -> String {
    let said = error.message().trim_end().replace('\n', ", ");
    let at = error.span().map_or(0, |span| span.start);
    let (before, after) = text.split_at_checked(at).unwrap_or((text, ""));
    let line = before.rsplit('\n').next().unwrap_or_default().to_owned()
        + after.split('\n').next().unwrap_or_default();
    match comma_number(&line) {
        Some(found) => {
            let right = found.replace(',', ".");
            format!("{said}; decimals come after a point: write {right} for {found}")
        }
        None => said,
    }
}

/// The first number after a `=` whose decimals come after a comma.
fn comma_number(line: &str) -> Option<&str> {
    let digits = |text: &str| text.bytes().take_while(u8::is_ascii_digit).count();
    line.split('=').skip(1).find_map(|value| {
        let value = value.trim_start();
        let sign = usize::from(value.starts_with(['+', '-']));
        let whole = sign + digits(&value[sign..]);
        let decimals = digits(value[whole..].strip_prefix(',')?);
        (whole > sign && decimals > 0).then(|| &value[..=whole + decimals])
    })
}

fn spot(file: &Path, text: &str, span: &Range<usize>) -> Spot {
    let before = text.get(..span.start).unwrap_or(text);
    let line = before.matches('\n').count() + 1;
    let start = before.rfind('\n').map_or(0, |at| at + 1);
    let column = before[start..].chars().count() + 1;
    Spot::of_line(file, line as u64).with_column(column as u64)
}

#[cfg(test)]
mod tests {
    use super::*;

    const TEXT: &str = "a = 1\n[b]\nc = [1,\n 2]\n[[d]]\n[[d]]\ne.f = 3\n";

    fn line(field: &str) -> Option<u64> {
        Document::parse(Path::new("x.toml"), TEXT).unwrap().find(field).line()
    }

    #[test]
    fn fields_are_found_on_their_lines() {
        assert_eq!(line("a"), Some(1));
        assert_eq!(line("b"), Some(2));
        assert_eq!(line("b.c[1]"), Some(4));
        assert_eq!(line("d[1]"), Some(6));
        assert_eq!(line("d[1].e.f"), Some(7));
    }

    #[test]
    fn a_field_that_is_not_there_is_found_at_the_table_that_would_hold_it() {
        assert_eq!(line("b.x"), Some(2));
        assert_eq!(line("d[0].mass.low"), Some(5));
        assert_eq!(line("x"), None);
    }

    #[test]
    fn a_fault_of_syntax_names_its_line() {
        let error = Document::parse(Path::new("x.toml"), "a = 1\nb = = 2\n").err().unwrap();
        assert!(
            error.to_string().starts_with("x.toml, line 2, column 5: cannot be read"),
            "{error}"
        );
    }
}
