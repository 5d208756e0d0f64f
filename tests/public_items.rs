//! The crate's public items are those listed in `public_items.txt`: what is listed stays, or the list is written anew.
//!
//! The list is read off the source: the lint `unreachable_pub` sees to it that what is written `pub` can be reached from
//! outside. An item that goes or changes is a breaking change, and fails here; new ones join when the list is written, by
//! `LOAMLINE_WRITE_ITEMS=1 cargo test --test public_items`.
#![allow(clippy::expect_used, reason = "a test that cannot read the source fails by panicking")]

#[path = "sources/files.rs"]
mod files;

use files::rust_files;
use std::collections::BTreeSet;
use std::fs;
use std::path::Path;

const HEADS: [&str; 11] = [
    "pub fn ",
    "pub const fn ",
    "pub struct ",
    "pub enum ",
    "pub trait ",
    "pub type ",
    "pub const ",
    "pub static ",
    "pub use ",
    "pub mod ",
    "pub async fn ",
];

#[test]
fn what_is_listed_is_there_unchanged() {
    let list = Path::new(env!("CARGO_MANIFEST_DIR")).join("tests/public_items.txt");
    let there = items();
    if std::env::var_os("LOAMLINE_WRITE_ITEMS").is_some() {
        fs::write(&list, there.iter().map(|item| format!("{item}\n")).collect::<Vec<_>>().concat())
            .expect("the list is written");
    }
    let listed = fs::read_to_string(&list).expect("the list reads");
    let gone: Vec<&str> = listed.lines().filter(|item| !there.contains(*item)).collect();
    assert!(listed.lines().count() > 1000, "the list is not whole");
    assert!(gone.is_empty(), "public items that are gone or changed:\n{}", gone.join("\n"));
}

#[test]
fn items_fields_and_variants_are_found() {
    let text = "/// Doc.\npub struct Line {\n    /// Length.\n    pub length: f64,\n    hidden: f64,\n}\n\nimpl Line {\n    \
                /// Ends.\n    pub fn ends(\n        &self,\n        n: usize,\n    ) -> [f64; 2] {\n        todo()\n    }\n}\n\n\
                pub use a::{B, c::D};\npub struct Own(Given);\n\npub enum Turn {\n    /// Left.\n    Left,\n    Arc { radius: f64 },\n}\n\n#[cfg(test)]\nmod tests {\n    \
                pub fn not_this() {}\n}\n";
    let found: Vec<String> = items_of(text).into_iter().collect();
    assert_eq!(
        found,
        [
            "enum Turn: Arc",
            "enum Turn: Left",
            "impl Line: pub fn ends(&self, n: usize) -> [f64; 2]",
            "pub enum Turn",
            "pub struct Line",
            "pub struct Own",
            "pub use a::B",
            "pub use a::c::D",
            "struct Line: pub length: f64",
        ]
    );
}

/// Every public item of the crate, with the file that it stands in.
fn items() -> BTreeSet<String> {
    let source = Path::new(env!("CARGO_MANIFEST_DIR")).join("src");
    let mut all = BTreeSet::new();
    for file in rust_files(&source) {
        let text = fs::read_to_string(&file).expect("a source file reads");
        let name = file.strip_prefix(&source).expect("it lies in the source").display().to_string();
        all.extend(items_of(&text).into_iter().map(|item| format!("{name}: {item}")));
    }
    all
}

/// The public items of one file, as laid out by `rustfmt`: indentation says what stands in what.
fn items_of(text: &str) -> BTreeSet<String> {
    let mut found = BTreeSet::new();
    let mut within = String::new();
    let mut lines = text.lines();
    while let Some(line) = lines.next() {
        if line.starts_with("#[cfg(test)]") {
            break;
        }
        let (indent, code) = (line.len() - line.trim_start().len(), line.trim());
        if indent == 0 && !code.is_empty() && !code.starts_with(['#', '/', '}', ')', '"']) {
            within = heading(code);
        }
        let context = if indent == 0 { String::new() } else { format!("{within}: ") };
        if HEADS.iter().any(|head| code.starts_with(head)) {
            let mut whole = code.to_owned();
            while !ends(&whole) {
                let Some(next) = lines.next() else { break };
                whole = format!("{whole} {}", next.trim());
            }
            found.extend(signatures(&whole).into_iter().map(|item| format!("{context}{item}")));
        } else if within.starts_with("struct ") && indent == 4 && code.starts_with("pub ") {
            found.insert(format!("{context}{}", code.trim_end_matches(',')));
        } else if indent == 4 && within.starts_with("enum ") {
            found.extend(variant(code).map(|name| format!("{context}{name}")));
        }
    }
    found
}

/// What a block is called, `impl Line`, `enum Turn`; nothing for a type that is not public.
fn heading(code: &str) -> String {
    if ["pub(", "struct ", "enum "].iter().any(|private| code.starts_with(private)) {
        return String::new();
    }
    let head = code.split(['{', '(', ';']).next().unwrap_or(code);
    head.trim().trim_start_matches("pub ").to_owned()
}

/// Whether an item's head is whole: up to its body, its end or its value.
fn ends(whole: &str) -> bool {
    whole.contains(" {") && !whole.starts_with("pub use")
        || whole.ends_with(';')
        || whole.contains(" = ")
}

/// What of an item is a promise: an item of each name that is passed on, no body, no value, no private part.
fn signatures(whole: &str) -> Vec<String> {
    let spaced = whole.split_whitespace().collect::<Vec<_>>().join(" ");
    let spaced = spaced.replace("( ", "(").replace(", )", ")");
    if let Some(passed_on) = spaced.strip_prefix("pub use ") {
        let (path, names) =
            passed_on.trim_end_matches(';').split_once('{').unwrap_or((passed_on, ""));
        let names: Vec<&str> = names.trim_end_matches('}').split(',').map(str::trim).collect();
        let names = names.into_iter().filter(|name| !name.is_empty() || !path.ends_with("::"));
        return names.map(|name| format!("pub use {}{name}", path.trim_end_matches(';'))).collect();
    }
    let end = match () {
        () if spaced.contains("fn ") => " {",
        () if spaced.starts_with("pub struct ") && !spaced.contains("(pub ") => "(",
        () => " = ",
    };
    let cut = spaced.split(end).next().unwrap_or(&spaced);
    vec![cut.trim_end_matches([';', '{', ' ']).to_owned()]
}

/// The name of an enum's variant, where the line begins one.
fn variant(code: &str) -> Option<String> {
    let name: String = code.chars().take_while(|c| c.is_alphanumeric()).collect();
    name.chars().next().is_some_and(char::is_uppercase).then_some(name)
}
