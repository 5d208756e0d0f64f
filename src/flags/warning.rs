//! What is to be known about a fit.

use super::found::{Found, NOTABLE};
use super::unknown::Unknown;
use crate::ride::Lean;
use serde::{Deserialize, Serialize};
use std::fmt;

/// What is to be known about what flags tell.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
#[non_exhaustive]
pub enum FlagsWarning {
    /// A flag that does not fit the others, and lost its say.
    BadFlag {
        /// Its name.
        flag: String,
    },
    /// A flag outside the 90 % region of what the others forecast for it.
    Outside {
        /// Its name.
        flag: String,
        /// The share of the forecast that lies farther out.
        tail: f64,
    },
    /// Fewer numbers than unknowns: these were left as believed before.
    Held {
        /// Which.
        unknowns: Vec<Unknown>,
    },
    /// Two unknowns that the flags cannot tell apart.
    Confused {
        /// One.
        a: Unknown,
        /// The other.
        b: Unknown,
        /// Their correlation.
        correlation: f64,
    },
    /// More than one lean fits the flags.
    LeanOpen {
        /// Which, the likeliest first, with their weights.
        leans: Vec<(Lean, f64)>,
    },
    /// An unknown far from what was believed before.
    Surprising {
        /// Which.
        unknown: Unknown,
        /// Its value.
        value: f64,
        /// The share of what was believed that lies farther out.
        tail: f64,
    },
}

/// A value of which less than this was believed to lie farther out is told.
const SURPRISING: f64 = 0.02;

impl FlagsWarning {
    pub(super) fn about(found: &Found) -> Vec<Self> {
        let mut all = Vec::new();
        for check in &found.checks {
            let flag = check.flag.clone();
            if check.is_bad {
                all.push(Self::BadFlag { flag });
            } else if check.is_outside {
                all.push(Self::Outside { flag, tail: check.tail });
            }
        }
        if !found.held.is_empty() {
            all.push(Self::Held { unknowns: found.held.clone() });
        }
        let open: Vec<(Lean, f64)> = found
            .leans
            .iter()
            .filter(|lean| lean.weight >= NOTABLE)
            .map(|lean| (lean.lean, lean.weight))
            .collect();
        if open.len() > 1 && !is_one_ride(&open) {
            all.push(Self::LeanOpen { leans: open });
        }
        all.extend(found.confused.iter().map(|pair| Self::Confused {
            a: pair.a,
            b: pair.b,
            correlation: pair.correlation,
        }));
        all.extend(found.estimates.iter().filter_map(|estimate| {
            let at = |share: f64| found.priors.get(estimate.unknown).quantile(share);
            let (value, unknown) = (estimate.median, estimate.unknown);
            let is_out = value < at(0.5 * SURPRISING) || value > at(1.0 - 0.5 * SURPRISING);
            is_out.then_some(Self::Surprising { unknown, value, tail: SURPRISING })
        }));
        all
    }
}

/// Whether every lean weighs the same, to rounding: then they are one ride, as over a lip that is level across.
fn is_one_ride(leans: &[(Lean, f64)]) -> bool {
    leans.iter().all(|(_, weight)| (weight - leans[0].1).abs() < 1e-9)
}

impl fmt::Display for FlagsWarning {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Self::BadFlag { flag } => write!(
                f,
                "flag \"{flag}\" does not fit the others and lost its say: measure it again, or ride it again"
            ),
            Self::Outside { flag, tail } => write!(
                f,
                "flag \"{flag}\" lies outside the 90 % region that the others forecast for it ({:.1} % lie farther \
                 out): ride it again before going on",
                100.0 * tail
            ),
            Self::Held { unknowns } => write!(
                f,
                "fewer numbers than unknowns: {} left as believed beforehand",
                names(unknowns.iter().map(|unknown| unknown.name().to_owned()))
            ),
            Self::Confused { a, b, correlation } => {
                write!(
                    f,
                    "these flags cannot tell {a} and {b} apart (correlation {correlation:.2})"
                )
            }
            Self::LeanOpen { leans } => {
                let each =
                    leans.iter().map(|(lean, w)| format!("{} {:.0} %", lean.name(), 100.0 * w));
                write!(f, "more than one lean fits: {}; the hardest judges", names(each))
            }
            Self::Surprising { unknown, value, tail } => write!(
                f,
                "{unknown} = {value:.3}: less than {:.0} % was believed to lie so far out; look at the site's numbers",
                100.0 * tail
            ),
        }
    }
}

fn names(each: impl Iterator<Item = String>) -> String {
    each.collect::<Vec<_>>().join(", ")
}
