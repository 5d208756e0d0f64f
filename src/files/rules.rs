//! What a schema says about one value: its kind, its keys, its range, its unit.

use serde_json::Value;

/// A schema, or a part of one, with the whole that its references point into.
#[derive(Debug, Clone, Copy)]
pub(super) struct Rules<'s> {
    whole: &'s Value,
    part: &'s Value,
}

/// The kinds of values.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum Kind {
    Text,
    Number,
    Whole,
    Truth,
    List,
    Table,
}

impl<'s> Rules<'s> {
    /// The rules of a whole schema.
    pub(super) fn new(schema: &'s Value) -> Self {
        Self { whole: schema, part: schema }
    }

    fn part(self, part: &'s Value) -> Self {
        Self { part, ..self }
    }

    /// A keyword of the schema: at the place itself, else where it refers to.
    fn get(self, keyword: &str) -> Option<&'s Value> {
        self.part.get(keyword).or_else(|| self.referred()?.get(keyword))
    }

    fn referred(self) -> Option<Self> {
        let name = self.part.get("$ref")?.as_str()?.strip_prefix('#')?;
        self.whole.pointer(name).map(|part| self.part(part))
    }

    /// The readings a value may have: one, or as many as the schema offers.
    pub(super) fn alternatives(self) -> Vec<Self> {
        let offered = self.get("anyOf").or_else(|| self.get("oneOf")).and_then(Value::as_array);
        match offered {
            Some(parts) => parts.iter().flat_map(|part| self.part(part).alternatives()).collect(),
            None => vec![self],
        }
    }

    /// The kind of value of one reading.
    pub(super) fn kind(self) -> Option<Kind> {
        Some(match self.get("type")?.as_str()? {
            "string" => Kind::Text,
            "number" => Kind::Number,
            "integer" => Kind::Whole,
            "boolean" => Kind::Truth,
            "array" => Kind::List,
            "object" => Kind::Table,
            _ => return None,
        })
    }

    /// The rules of a key, where the table has it.
    pub(super) fn of_key(self, key: &str) -> Option<Self> {
        self.get("properties")?.get(key).map(|part| self.part(part))
    }

    /// The keys of a table.
    pub(super) fn keys(self) -> Vec<&'s str> {
        let table = self.get("properties").and_then(Value::as_object);
        table.map(|table| table.keys().map(String::as_str).collect()).unwrap_or_default()
    }

    /// The keys that a table must have.
    pub(super) fn required(self) -> Vec<&'s str> {
        let list = self.get("required").and_then(Value::as_array);
        list.map(|list| list.iter().filter_map(Value::as_str).collect()).unwrap_or_default()
    }

    /// The rules of an item of a list, counted from 0.
    pub(super) fn of_item(self, at: usize) -> Option<Self> {
        let own = self.get("prefixItems").and_then(|items| items.get(at));
        own.or_else(|| self.get("items")).map(|part| self.part(part))
    }

    /// Whether a list may have so many items.
    pub(super) fn allows_count(self, count: usize) -> bool {
        let bound = |keyword| self.get(keyword).and_then(Value::as_u64);
        let count = count as u64;
        bound("minItems").is_none_or(|least| count >= least)
            && bound("maxItems").is_none_or(|most| count <= most)
    }

    /// Whether a text may stand, where only some may.
    pub(super) fn allows_text(self, text: &str) -> bool {
        let words = self.words();
        words.is_empty() || words.contains(&text)
    }

    /// The only words that may stand, or none where any text may.
    fn words(self) -> Vec<&'s str> {
        let list = self.get("enum").and_then(Value::as_array);
        let listed = list.into_iter().flatten().filter_map(Value::as_str);
        listed.chain(self.get("const").and_then(Value::as_str)).collect()
    }

    fn bound(self, keyword: &str) -> Option<f64> {
        self.get(keyword).and_then(Value::as_f64)
    }

    /// Whether a number is in range; one that is not a number never is.
    pub(super) fn allows_number(self, number: f64) -> bool {
        !number.is_nan()
            && (number.is_finite() || self.takes_infinity())
            && self.bound("minimum").is_none_or(|low| number >= low)
            && self.bound("exclusiveMinimum").is_none_or(|low| number > low)
            && self.bound("maximum").is_none_or(|high| number <= high)
            && self.bound("exclusiveMaximum").is_none_or(|high| number < high)
    }

    fn takes_infinity(self) -> bool {
        self.get("x-infinity").and_then(Value::as_bool).unwrap_or(false)
    }

    /// The unit of a number, or of the numbers in a list or table.
    pub(super) fn unit(self) -> Option<&'s str> {
        let own = self.get("x-unit").and_then(Value::as_str);
        let within = || {
            let mut readings = self.alternatives().into_iter();
            readings.find_map(|reading| reading.get("x-unit")?.as_str())
        };
        own.or_else(within).or_else(|| self.alternatives().first()?.of_item(0)?.unit())
    }

    /// The range of a number, in words.
    pub(super) fn range(self) -> String {
        let low = self.bound("minimum").map(|low| format!("at least {low}"));
        let low = low.or_else(|| self.bound("exclusiveMinimum").map(|low| format!("above {low}")));
        let high = self.bound("maximum").map(|high| format!("at most {high}"));
        let high =
            high.or_else(|| self.bound("exclusiveMaximum").map(|high| format!("below {high}")));
        let ends: Vec<_> = low.into_iter().chain(high).collect();
        let kind = match (self.kind(), self.takes_infinity()) {
            (Some(Kind::Whole), _) => "a whole number",
            (_, true) => "a number or inf",
            _ => "a finite number",
        };
        let unit = self.unit().map(|unit| format!(", in {unit}")).unwrap_or_default();
        if ends.is_empty() {
            format!("{kind}{unit}")
        } else {
            format!("{kind}, {}{unit}", ends.join(" and "))
        }
    }

    /// What may stand here, in words.
    pub(super) fn wanted(self) -> String {
        let mut readings: Vec<_> = self.alternatives().into_iter().map(Self::reading).collect();
        readings.dedup();
        readings.join(" or ")
    }

    fn reading(self) -> String {
        let words = self.words();
        if !words.is_empty() {
            return words.iter().map(|word| format!("\"{word}\"")).collect::<Vec<_>>().join(" or ");
        }
        match self.kind() {
            Some(Kind::Text) => "text in quotes".into(),
            Some(Kind::Truth) => "true or false".into(),
            Some(Kind::List) => self.list_wanted(),
            Some(Kind::Table) => format!("a table of {}", self.keys().join(", ")),
            _ => self.range(),
        }
    }

    fn list_wanted(self) -> String {
        let bound = |keyword| self.get(keyword).and_then(Value::as_u64);
        let count = match (bound("minItems"), bound("maxItems")) {
            (Some(least), Some(most)) if least == most => format!(" of {least}"),
            (Some(least), _) => format!(" of at least {least}"),
            _ => String::new(),
        };
        let places = if self.get("prefixItems").is_some() { 0..2 } else { 0..1 };
        let mut items: Vec<_> =
            places.filter_map(|at| self.of_item(at)).map(Self::wanted).collect();
        items.dedup();
        format!("a list{count}, each {}", items.join(", then "))
    }

    /// The first sentence of what the schema says about the value.
    pub(super) fn about(self) -> String {
        let text = self.get("description").and_then(Value::as_str).unwrap_or_default();
        let text = text.split_whitespace().collect::<Vec<_>>().join(" ");
        text.split_once(". ").map_or(text.trim_end_matches('.'), |(first, _)| first).to_owned()
    }
}
