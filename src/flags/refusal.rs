//! Why a step is refused, and what limits one that is not.

use super::forecast::Risk;
use super::found::Found;
use super::test_ride::TestRide;
use serde::{Deserialize, Serialize};
use std::fmt;

/// What ends a step where it ends.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
#[non_exhaustive]
pub enum Limit {
    /// It is the first: the slowest that holds with grip to spare.
    First,
    /// A farther one would raise the fall height by too much.
    FallHeight,
    /// A farther one would raise the exit speed by too much.
    ExitSpeed,
    /// A farther one would have too high a chance of a bad end.
    Chance,
    /// A farther one would not come over the edge.
    Holding,
    /// There is no more run-in.
    Top,
    /// It is the ride that the ladder leads to.
    Goal,
}

/// Why there is no next step.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
#[non_exhaustive]
pub enum Refusal {
    /// The last flag lies outside its 90 % region.
    FlagOutside {
        /// Its name.
        flag: String,
        /// The share of its forecast that lies farther out.
        tail: f64,
    },
    /// The last flag is bad.
    FlagBad {
        /// Its name.
        flag: String,
    },
    /// Even a short step has too high a chance of a bad end.
    Risky {
        /// The shortest step tried.
        ride: TestRide,
        /// How likely each bad end is.
        risk: Risk,
        /// The chance allowed.
        chance: f64,
    },
    /// Planned ground between the last flag and the next mark is not built.
    Unbuilt {
        /// How much lower than planned it is at most, m.
        lower: f64,
        /// What is missing there, m³.
        volume: f64,
        /// In barrows.
        barrows: f64,
    },
    /// No ride holds with grip to spare.
    NothingHolds {
        /// The share of grip to spare.
        spare: f64,
    },
    /// The last ride does not come down by the model any more.
    LostTrack {
        /// The ride.
        ride: TestRide,
    },
    /// There is nothing farther.
    AtTheTop {
        /// Where the last start is, m.
        start: f64,
        /// What ends it there.
        limit: Limit,
    },
}

impl Refusal {
    /// What the flags alone forbid.
    pub(super) fn by_flags(found: &Found) -> Option<Self> {
        let last = found.checks.last()?;
        let flag = last.flag.clone();
        if last.is_bad {
            return Some(Self::FlagBad { flag });
        }
        last.is_outside.then_some(Self::FlagOutside { flag, tail: last.tail })
    }
}

impl fmt::Display for Limit {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(match self {
            Self::First => "the slowest ride that holds with a quarter of the grip to spare",
            Self::FallHeight => "farther up the fall height would rise by more than 0.25 m",
            Self::ExitSpeed => "farther up the exit speed would rise by more than 10 %",
            Self::Chance => "farther up the chance of a bad end is too high",
            Self::Holding => "farther up the ride would not come over the edge",
            Self::Top => "the run-in's top",
            Self::Goal => "the ride that the ladder leads to",
        })
    }
}

impl fmt::Display for Refusal {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Self::FlagOutside { flag, tail } => write!(
                f,
                "the last flag, \"{flag}\", lies outside its 90 % region ({:.1} % of its forecast lies farther out): the \
                 model does not know this rider yet; ride the same start again",
                100.0 * tail
            ),
            Self::FlagBad { flag } => write!(
                f,
                "the last flag, \"{flag}\", does not fit the others at all: measure it again, then ride the same start again"
            ),
            Self::Risky { ride, risk, chance } => write!(
                f,
                "even from {:.2} m up the hill the chance of a bad end is {:.0} %, not under {:.0} %: most of all it {}; {}",
                ride.start(),
                100.0 * risk.total(),
                100.0 * chance,
                risk.worst(),
                if risk.not_leaving < *chance {
                    "build first, or plant more flags at slower rides"
                } else {
                    "earth does not help that; plant more flags at rides like those before"
                }
            ),
            Self::Unbuilt { lower, volume, barrows } => write!(
                f,
                "the landing between the last flag and the next mark is up to {lower:.2} m lower than planned: {volume:.2} m3 \
                 ({barrows:.0} barrows) are missing there; build it first"
            ),
            Self::NothingHolds { spare } => write!(
                f,
                "no ride from this run-in holds with {:.0} % of the grip to spare",
                100.0 * spare
            ),
            Self::LostTrack { ride } => write!(
                f,
                "by the model the last ride, from {:.2} m, does not come down: look at flags and site again",
                ride.start()
            ),
            Self::AtTheTop { start, limit } => {
                write!(f, "there is no step beyond {start:.2} m: {limit}")
            }
        }
    }
}
