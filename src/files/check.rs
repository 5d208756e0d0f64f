//! The check of a document against the schema: every key known, every value of its kind and in its range.

use super::document::{Document, entry};
use super::error::FileError;
use super::keys;
use super::rules::{Kind, Rules};
use std::ops::Range;
use toml::Spanned;
use toml::de::{DeArray, DeTable, DeValue};

/// The first fault of a document against the rules of a schema, in the order of the text.
pub(super) fn check(document: &Document<'_>, rules: Rules<'_>) -> Result<(), FileError> {
    Check { document }.table(document.root(), &(0..0), rules, "")
}

struct Check<'d, 't> {
    document: &'d Document<'t>,
}

impl Check<'_, '_> {
    fn value(
        &self,
        value: &Spanned<DeValue<'_>>,
        rules: Rules<'_>,
        path: &str,
    ) -> Result<(), FileError> {
        let span = value.span();
        let fits = |rules: &Rules<'_>| rules.takes(value.get_ref());
        let alternatives: Vec<_> = rules.alternatives().into_iter().filter(fits).collect();
        let mut deepest: Option<(usize, FileError)> = None;
        for rules in alternatives {
            let Err(error) = self.of_kind(value, rules, path) else { return Ok(()) };
            let depth = depth(&error);
            if deepest.as_ref().is_none_or(|(other, _)| depth > *other) {
                deepest = Some((depth, error));
            }
        }
        Err(deepest.map_or_else(|| self.wrong_type(&span, rules, path), |(_, error)| error))
    }

    fn of_kind(
        &self,
        value: &Spanned<DeValue<'_>>,
        rules: Rules<'_>,
        path: &str,
    ) -> Result<(), FileError> {
        let span = value.span();
        match value.get_ref() {
            DeValue::Table(table) => self.table(table, &span, rules, path),
            DeValue::Array(list) => self.list(list, &span, rules, path),
            DeValue::String(text) if !rules.allows_text(text) => {
                Err(self.wrong_type(&span, rules, path))
            }
            DeValue::Integer(_) | DeValue::Float(_) => self.number(value, rules, path),
            _ => Ok(()),
        }
    }

    fn table(
        &self,
        table: &DeTable<'_>,
        span: &Range<usize>,
        rules: Rules<'_>,
        path: &str,
    ) -> Result<(), FileError> {
        let mut entries: Vec<_> = table.iter().collect();
        entries.sort_by_key(|(key, _)| key.span().start);
        for (key, value) in entries {
            let rules = rules
                .of_key(key.get_ref())
                .ok_or_else(|| self.unknown_key(key.get_ref(), &key.span(), rules, path))?;
            self.value(value, rules, &join(path, key.get_ref()))?;
        }
        match rules.required().into_iter().find(|key| entry(table, key).is_none()) {
            None => Ok(()),
            Some(key) => Err(FileError::MissingKey {
                at: if path.is_empty() { self.document.whole() } else { self.document.spot(span) },
                table: table_name(path),
                about: rules.of_key(key).map_or_else(String::new, Rules::about),
                key: key.into(),
            }),
        }
    }

    fn list(
        &self,
        list: &DeArray<'_>,
        span: &Range<usize>,
        rules: Rules<'_>,
        path: &str,
    ) -> Result<(), FileError> {
        if !rules.allows_count(list.len()) {
            return Err(self.wrong_type(span, rules, path));
        }
        for (at, item) in list.iter().enumerate() {
            let Some(rules) = rules.of_item(at) else { continue };
            self.value(item, rules, &format!("{path}[{at}]"))?;
        }
        Ok(())
    }

    fn number(
        &self,
        value: &Spanned<DeValue<'_>>,
        rules: Rules<'_>,
        path: &str,
    ) -> Result<(), FileError> {
        let number = number(value.get_ref());
        if rules.allows_number(number) {
            return Ok(());
        }
        Err(FileError::OutOfRange {
            at: self.document.spot(&value.span()),
            field: path.into(),
            value: number,
            allowed: rules.range(),
        })
    }

    fn wrong_type(&self, span: &Range<usize>, rules: Rules<'_>, path: &str) -> FileError {
        FileError::WrongType {
            at: self.document.spot(span),
            field: path.into(),
            found: self.document.excerpt(span),
            wanted: rules.wanted(),
        }
    }

    fn unknown_key(
        &self,
        key: &str,
        span: &Range<usize>,
        rules: Rules<'_>,
        path: &str,
    ) -> FileError {
        let at = self.document.spot(span);
        let (key, table) = (key.to_owned(), table_name(path));
        let known = rules.keys();
        if let Some(right) = keys::without_unit(&key, &known) {
            let unit = rules.of_key(right).and_then(|rules| rules.unit().map(str::to_owned));
            if let Some(unit) = unit {
                return FileError::WrongUnit { at, key, table, right: right.into(), unit };
            }
        }
        let nearest = keys::nearest(&key, &known).map(str::to_owned);
        FileError::UnknownKey {
            at,
            key,
            table,
            nearest,
            known: known.into_iter().map(str::to_owned).collect(),
        }
    }
}

/// The number of a value that is one; a whole number too large for its type, and text, are no number.
fn number(value: &DeValue<'_>) -> f64 {
    match value {
        DeValue::Float(float) => float.as_str().parse().unwrap_or(f64::NAN),
        DeValue::Integer(whole) => {
            i64::from_str_radix(whole.as_str(), whole.radix()).map_or(f64::NAN, |n| n as f64)
        }
        _ => f64::NAN,
    }
}

/// How far into a value a fault lies, to tell which of several readings was meant: by its place in the text.
fn depth(error: &FileError) -> usize {
    match error {
        FileError::OutOfRange { field, .. } | FileError::WrongType { field, .. } => {
            field.matches(['.', '[']).count()
        }
        _ => usize::MAX,
    }
}

fn join(path: &str, key: &str) -> String {
    if path.is_empty() { key.into() } else { format!("{path}.{key}") }
}

/// A table's name as its heading writes it.
fn table_name(path: &str) -> String {
    if path.is_empty() {
        return "the top of the file".into();
    }
    let plain: String =
        path.split('[').map(|part| part.split_once(']').map_or(part, |(_, rest)| rest)).collect();
    if path.ends_with(']') { format!("[[{plain}]]") } else { format!("[{plain}]") }
}

/// Whether a value is of a kind that a schema names.
impl Rules<'_> {
    fn takes(&self, value: &DeValue<'_>) -> bool {
        self.kind()
            == match value {
                DeValue::String(_) => Some(Kind::Text),
                DeValue::Integer(_) if self.kind() == Some(Kind::Whole) => Some(Kind::Whole),
                DeValue::Float(_) | DeValue::Integer(_) => Some(Kind::Number),
                DeValue::Boolean(_) => Some(Kind::Truth),
                DeValue::Array(_) => Some(Kind::List),
                DeValue::Table(_) => Some(Kind::Table),
                DeValue::Datetime(_) => None,
            }
    }
}
