//! The two searches by which a check asks the library backwards: for the input of a known output.

use std::error::Error;

type Answer = Result<f64, Box<dyn Error>>;

/// Where `f` changes sign between `low` and `high`, to the last bits.
pub(crate) fn root(mut low: f64, mut high: f64, mut f: impl FnMut(f64) -> Answer) -> Answer {
    let rising = f(high)? > 0.0;
    if (f(low)? > 0.0) == rising {
        return Err(format!("no change of sign between {low} and {high}").into());
    }
    for _ in 0..60 {
        let middle = f64::midpoint(low, high);
        if (f(middle)? > 0.0) == rising {
            high = middle;
        } else {
            low = middle;
        }
    }
    Ok(f64::midpoint(low, high))
}

/// The border between `low`, where `f` holds, and `high`, where it no longer does.
pub(crate) fn border(
    low: f64,
    high: f64,
    mut holds: impl FnMut(f64) -> Result<bool, Box<dyn Error>>,
) -> Answer {
    root(low, high, |x| Ok(if holds(x)? { -1.0 } else { 1.0 }))
}
