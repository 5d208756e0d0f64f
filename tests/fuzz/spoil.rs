//! Ways to spoil a text file: hostile numbers, lines gone, doubled or moved, odd bytes, ends cut off.

use proptest::prelude::*;

/// What stands where a number was.
const HOSTILE: [&str; 24] = [
    "nan",
    "-nan",
    "inf",
    "-inf",
    "0",
    "-0.0",
    "-1",
    "1e308",
    "-1e308",
    "1e309",
    "5e-324",
    "1e-300",
    "9007199254740993",
    "99999999999999999999",
    "0x10",
    "1_000",
    "",
    "\"5\"",
    "true",
    "[]",
    "{}",
    "[1, 2, 3, 4]",
    "1979-05-27",
    "1e",
];
/// What is put in at random.
const ODD: [&str; 16] = [
    "\0",
    "\u{feff}",
    "\r",
    "\n",
    "\"",
    "\"\"\"",
    "'",
    "#",
    "=",
    "[",
    "]]",
    "[[riders]]\n",
    ",",
    "\u{202e}",
    "𝟙",
    "\t",
];

/// One way to spoil a text; places are shares of what there is.
#[derive(Debug, Clone)]
pub(crate) enum Spoil {
    Number(usize, &'static str),
    Scale(usize, f64),
    Put(usize, &'static str),
    Byte(usize, u8),
    Drop(usize),
    Double(usize),
    Swap(usize, usize),
    Cut(usize),
    Key(usize, usize),
}

/// Any of them.
pub(crate) fn any() -> impl Strategy<Value = Spoil> {
    let place = proptest::arbitrary::any::<usize>;
    prop_oneof![
        4 => (place(), prop::sample::select(&HOSTILE[..])).prop_map(|(at, by)| Spoil::Number(at, by)),
        4 => (place(), -3.0..3.0).prop_map(|(at, by)| Spoil::Scale(at, by)),
        2 => (place(), prop::sample::select(&ODD[..])).prop_map(|(at, by)| Spoil::Put(at, by)),
        1 => (place(), proptest::arbitrary::any::<u8>()).prop_map(|(at, by)| Spoil::Byte(at, by)),
        2 => place().prop_map(Spoil::Drop),
        1 => place().prop_map(Spoil::Double),
        1 => (place(), place()).prop_map(|(a, b)| Spoil::Swap(a, b)),
        1 => place().prop_map(Spoil::Cut),
        1 => (place(), place()).prop_map(|(a, b)| Spoil::Key(a, b)),
    ]
}

/// A text with all of them done to it, in order.
pub(crate) fn all(text: &str, spoils: &[Spoil]) -> Vec<u8> {
    let mut bytes = text.as_bytes().to_vec();
    for spoil in spoils {
        let text = String::from_utf8_lossy(&bytes).into_owned();
        bytes = spoil.on(&text);
    }
    bytes
}

impl Spoil {
    fn on(&self, text: &str) -> Vec<u8> {
        match *self {
            Self::Number(at, by) => number(text, at, |_| by.to_owned()),
            Self::Scale(at, by) => {
                number(text, at, |n| (n.parse::<f64>().unwrap_or(1.0) * by).to_string())
            }
            Self::Put(at, by) => {
                let at = boundary(text, at);
                [&text[..at], by, &text[at..]].concat().into_bytes()
            }
            Self::Byte(at, by) => {
                let mut bytes = text.as_bytes().to_vec();
                if let Some(byte) = (!bytes.is_empty()).then(|| at % bytes.len()) {
                    bytes[byte] = by;
                }
                bytes
            }
            Self::Drop(at) => lines(text, |all| {
                all.remove(at % all.len());
            }),
            Self::Double(at) => lines(text, |all| all.insert(at % all.len(), all[at % all.len()])),
            Self::Swap(a, b) => lines(text, |all| {
                let count = all.len();
                all.swap(a % count, b % count);
            }),
            Self::Cut(at) => text.as_bytes()[..boundary(text, at)].to_vec(),
            Self::Key(a, b) => key(text, a, b),
        }
    }
}

/// The text with one of its numbers turned into something else.
fn number(text: &str, at: usize, by: impl Fn(&str) -> String) -> Vec<u8> {
    let is_part = |c: char| c.is_ascii_digit() || c == '.' || c == '-';
    let starts: Vec<usize> = text
        .char_indices()
        .filter(|(i, c)| {
            c.is_ascii_digit() && !text[..*i].ends_with(|b: char| b.is_alphanumeric() || is_part(b))
        })
        .map(|(i, _)| i)
        .collect();
    let Some(start) = (!starts.is_empty()).then(|| starts[at % starts.len()]) else {
        return text.into();
    };
    let end = text[start..].find(|c| !is_part(c)).map_or(text.len(), |n| start + n);
    [&text[..start], &by(&text[start..end]), &text[end..]].concat().into_bytes()
}

/// The text with the key of one line in the place of another's.
fn key(text: &str, a: usize, b: usize) -> Vec<u8> {
    let keys: Vec<&str> = text.lines().filter_map(|line| Some(line.split_once(" = ")?.0)).collect();
    let Some([from, to]) = (!keys.is_empty()).then(|| [a, b].map(|k| keys[k % keys.len()])) else {
        return text.into();
    };
    text.replacen(&format!("{from} = "), &format!("{to} = "), 1).into_bytes()
}

fn lines(text: &str, change: impl FnOnce(&mut Vec<&str>)) -> Vec<u8> {
    let mut all: Vec<&str> = text.split_inclusive('\n').collect();
    if !all.is_empty() {
        change(&mut all);
    }
    all.concat().into_bytes()
}

/// A place between two letters.
fn boundary(text: &str, at: usize) -> usize {
    let at = at % (text.len() + 1);
    (at..=text.len()).find(|at| text.is_char_boundary(*at)).unwrap_or(text.len())
}
