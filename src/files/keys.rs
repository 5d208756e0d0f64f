//! What an unknown key may have been meant to be.

/// Endings that name a unit, and are not part of a key's name in a site file.
const ENDINGS: [&str; 46] = [
    "_m",
    "_metre",
    "_metres",
    "_meter",
    "_meters",
    "_cm",
    "_mm",
    "_km",
    "_ft",
    "_feet",
    "_foot",
    "_in",
    "_inch",
    "_inches",
    "_yd",
    "_yards",
    "_kg",
    "_lb",
    "_lbs",
    "_g",
    "_s",
    "_ms",
    "_mps",
    "_kmh",
    "_kph",
    "_mph",
    "_knots",
    "_rad",
    "_radians",
    "_degrees",
    "_degree",
    "_deg",
    "_grad",
    "_percent",
    "_pct",
    "_c",
    "_f",
    "_k",
    "_celsius",
    "_fahrenheit",
    "_kelvin",
    "_m2",
    "_m3",
    "_l",
    "_litres",
    "_yd3",
];

/// How alike two keys must be for one to be offered for the other, from 0 to 1.
const ALIKE: f64 = 0.8;

/// The known key that a key with another unit's ending, or without the one it needs, stands for.
pub(super) fn without_unit<'k>(key: &str, known: &[&'k str]) -> Option<&'k str> {
    let key = key.to_lowercase();
    let bases = ENDINGS.iter().filter_map(|ending| key.strip_suffix(ending));
    let mut tries = bases
        .chain([key.as_str()])
        .flat_map(|base| ["", "_deg", "_c"].map(|ending| format!("{base}{ending}")));
    tries.find_map(|wanted| known.iter().copied().find(|name| *name == wanted))
}

/// The known key most like a key, where one is like it at all.
pub(super) fn nearest<'k>(key: &str, known: &[&'k str]) -> Option<&'k str> {
    let key = key.to_lowercase().replace('-', "_");
    known
        .iter()
        .map(|name| (strsim::jaro_winkler(&key, name), *name))
        .filter(|(likeness, _)| *likeness >= ALIKE)
        .max_by(|a, b| a.0.total_cmp(&b.0))
        .map(|(_, name)| name)
}

#[cfg(test)]
mod tests {
    use super::*;

    const WALL: [&str; 7] =
        ["turn", "radius", "sweep_deg", "bank_deg", "width", "grade", "end_skew_deg"];

    #[test]
    fn endings_of_other_units_lead_to_the_right_key() {
        assert_eq!(without_unit("radius_ft", &WALL), Some("radius"));
        assert_eq!(without_unit("bank_rad", &WALL), Some("bank_deg"));
        assert_eq!(without_unit("sweep", &WALL), Some("sweep_deg"));
        assert_eq!(without_unit("Width_M", &WALL), Some("width"));
        assert_eq!(without_unit("temperature_f", &["temperature_c"]), Some("temperature_c"));
        assert_eq!(without_unit("colour", &WALL), None);
    }

    #[test]
    fn a_slip_of_the_pen_finds_its_key_and_nonsense_none() {
        assert_eq!(nearest("widht", &WALL), Some("width"));
        assert_eq!(nearest("raduis", &WALL), Some("radius"));
        assert_eq!(nearest("end-skew_deg", &WALL), Some("end_skew_deg"));
        assert_eq!(nearest("zzz", &WALL), None);
    }
}
