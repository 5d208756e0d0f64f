//! What `repr` shows: valid Python, with the points of floats kept.

/// `value` as Python writes it: `2.0`, `1e-09`, `float("nan")`.
pub fn float(value: f64) -> String {
    if value.is_nan() {
        return "float(\"nan\")".into();
    }
    if value.is_infinite() {
        return if value > 0.0 { "float(\"inf\")" } else { "float(\"-inf\")" }.into();
    }
    format!("{value:?}")
}

/// `value`, or `None`.
pub fn maybe(value: Option<f64>) -> String {
    value.map_or_else(|| "None".into(), float)
}

/// A tuple of floats: `(0.0, 1.0)`.
pub fn tuple<'a>(values: impl IntoIterator<Item = &'a f64>) -> String {
    let parts: Vec<String> = values.into_iter().copied().map(float).collect();
    format!("({})", parts.join(", "))
}

/// A Python string literal.
pub fn quoted(value: &str) -> String {
    let mut out = String::from("\"");
    for c in value.chars() {
        match c {
            '"' | '\\' => out.extend(['\\', c]),
            '\n' => out.push_str("\\n"),
            _ => out.push(c),
        }
    }
    out.push('"');
    out
}

/// `Name(key=value, ...)`.
pub fn call(name: &str, arguments: &[(&str, String)]) -> String {
    let parts: Vec<String> =
        arguments.iter().map(|(key, value)| format!("{key}={value}")).collect();
    format!("{name}({})", parts.join(", "))
}

/// A list of floats.
pub fn list(values: &[f64]) -> String {
    let parts: Vec<String> = values.iter().copied().map(float).collect();
    format!("[{}]", parts.join(", "))
}

/// A list of pairs of floats.
pub fn pairs(values: &[(f64, f64)]) -> String {
    let parts: Vec<String> = values.iter().map(|(a, b)| tuple(&[*a, *b])).collect();
    format!("[{}]", parts.join(", "))
}
