//! The header that is checked in says what the source exports: every function with its types, every struct as it is laid
//! out, every code.
#![allow(clippy::expect_used, reason = "a test that cannot read its files fails by panicking")]

#[path = "tools/c.rs"]
mod c;

use loamline_c::{
    LoamlineAir as Air, LoamlineLanding as Landing, LoamlineLaunch as Launch,
    LoamlineLoads as Loads, LoamlineOutcome as Outcome, LoamlineRider as Rider,
    LoamlineStatus as Status, LoamlineTouchdown as Touchdown,
};
use std::fs;
use std::mem::offset_of;

const SOURCES: [&str; 6] = ["border", "values", "ground", "flight", "loads", "site"];

/// The declarations of a source file's exported functions as C writes them.
fn declarations(source: &str) -> Vec<String> {
    let functions = source.split("extern \"C\" fn ").skip(1);
    functions.filter_map(|rest| rest.split_once(" {").map(|(head, _)| declaration(head))).collect()
}

/// `name(a: *const T, b: f64) -> U` in Rust as `U name(const T *a, double b);` in C.
fn declaration(head: &str) -> String {
    let (name, rest) = head.split_once('(').expect("a function has arguments");
    let (arguments, result) = rest.rsplit_once(')').expect("they end");
    let result = result.trim().strip_prefix("-> ").map_or("void ".to_owned(), in_c);
    let arguments: Vec<String> = arguments
        .split(',')
        .filter_map(|argument| argument.trim().split_once(": "))
        .map(|(name, kind)| format!("{}{name}", in_c(kind)))
        .collect();
    let arguments = if arguments.is_empty() { "void".to_owned() } else { arguments.join(", ") };
    format!("{result}{name}({arguments});")
}

/// A type of Rust as C has it, ready for a name behind it.
fn in_c(kind: &str) -> String {
    if let Some(of) = kind.strip_prefix("*const ") {
        return format!("const {}*", in_c(of));
    }
    if let Some(of) = kind.strip_prefix("*mut ") {
        return format!("{}*", in_c(of));
    }
    match kind {
        "f64" => "double ".to_owned(),
        "usize" => "size_t ".to_owned(),
        "c_char" => "char ".to_owned(),
        "LoamlineStatus" => "enum LoamlineStatus ".to_owned(),
        _ => format!("struct {kind} "),
    }
}

#[test]
fn every_exported_function_is_declared_with_its_types() {
    let header = fs::read_to_string(c::here().join("loamline.h")).expect("the header reads");
    let header = header.split_whitespace().collect::<Vec<_>>().join(" ").replace("( ", "(");
    let mut count = 0;
    for name in SOURCES {
        let file = c::here().join("src").join(name).with_extension("rs");
        for wanted in declarations(&fs::read_to_string(file).expect("a source file reads")) {
            assert!(
                header.contains(&wanted),
                "the header lacks {wanted} (`make header` writes it)"
            );
            count += 1;
        }
    }
    assert_eq!(count, header.matches(");").count(), "the header declares what is not exported");
}

macro_rules! layout {
    ($kind:ty: $($field:ident)*) => {
        [size_of::<$kind>(), $(offset_of!($kind, $field)),*].map(|n| n.to_string()).join(" ")
    };
}

macro_rules! codes {
    ($kind:ty: $($code:ident)*) => {
        format!("{} {}", size_of::<$kind>(), [$(<$kind>::$code as i32),*].map(|n| n.to_string()).join(" "))
    };
}

#[test]
fn c_lays_out_structs_and_counts_codes_as_rust_does() {
    let wanted = [
        layout!(Air: elevation temperature_c density wind gravity),
        layout!(Rider: mass cda crr grip com_height com_height_landing wheelbase wheel_radius),
        layout!(Launch: position velocity),
        layout!(Landing: crest heading slope length width),
        layout!(Touchdown: outcome time mark velocity normal normal_speed fall_height angle distance drop),
        layout!(Loads: peak_force peak_bodyweights peak_time mean_bodyweights legs_bottomed suspension_bottomed),
        codes!(Status: Ok NullPointer BadInput NoResult File Fault),
        codes!(Outcome: Landed Caught Short Long Wide RolledOff OffSurvey NoTouchdown BadLaunch),
    ];
    let said = c::run(&c::here().join("tests/layout.c"));
    assert_eq!(said.lines().collect::<Vec<_>>(), wanted);
}
