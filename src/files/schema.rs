//! The JSON Schema of a site file, made from the types that read it.

use super::raw::SiteFile;
use schemars::generate::SchemaSettings;
use schemars::transform::RecursiveTransform;
use schemars::{Schema, generate::SchemaGenerator};
use serde_json::Value;
use std::sync::LazyLock;

static SCHEMA: LazyLock<Value> = LazyLock::new(|| {
    let settings = SchemaSettings::draft2020_12().with_transform(RecursiveTransform(without_null));
    SchemaGenerator::new(settings).into_root_schema_for::<SiteFile>().to_value()
});

/// The JSON Schema (draft 2020-12) of a site file, as text: for editors that check TOML while it is written.
///
/// It is made from the types that read the file, and the loader checks a file against it. `x-unit` names the unit of
/// a number; `x-infinity` says that TOML's `inf`, which JSON has no word for, may stand too.
pub fn site_schema() -> String {
    // A tree of strings and finite numbers always prints.
    serde_json::to_string_pretty(&*SCHEMA).unwrap_or_default() + "\n"
}

/// The same as a tree.
pub(super) fn tree() -> &'static Value {
    &SCHEMA
}

/// TOML has no null: a key that may be left out is not one that may be null.
fn without_null(schema: &mut Schema) {
    let Some(table) = schema.as_object_mut() else { return };
    if let Some(Value::Array(kinds)) = table.get_mut("type") {
        kinds.retain(|kind| kind != "null");
        if let [kind] = kinds.as_slice() {
            let kind = kind.clone();
            table.insert("type".into(), kind);
        }
    }
    if table.get("default").is_some_and(Value::is_null) {
        table.remove("default");
    }
    let Some(Value::Array(readings)) = table.get_mut("anyOf") else { return };
    readings.retain(|reading| reading.get("type").is_none_or(|kind| kind != "null"));
    if let [Value::Object(only)] = readings.as_mut_slice() {
        let only = std::mem::take(only);
        table.remove("anyOf");
        only.into_iter().for_each(|(key, value)| {
            table.entry(key).or_insert(value);
        });
    }
}
