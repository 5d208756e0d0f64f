//! Why riders do not leave the edge, in groups.

use super::Pass;
use crate::ride::{Outcome, Slide};
use crate::site::{Interval, Part};
use serde::{Deserialize, Serialize};
use std::collections::BTreeMap;
use std::fmt;

/// What keeps a rider from leaving the edge.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
#[non_exhaustive]
pub enum Kind {
    /// Nothing moves the rider from rest.
    DidNotStart,
    /// The rider comes to rest.
    Stalled,
    /// The load on the surface falls to zero before the edge.
    LeftSurface,
    /// No lean was found that keeps the rider in balance.
    Unbalanced,
    /// The front wheel leaves the edge and the rear wheel cannot follow.
    HungUp,
    /// The tyres slide up.
    SlidUp,
    /// The tyres slide down.
    SlidDown,
    /// The tyres slide sideways where the surface lies level across.
    SlidSideways,
}

/// Riders of one class who do not leave the edge for the same reason.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct Reason {
    /// The class's name.
    pub class: String,
    /// Where it happens.
    pub part: Part,
    /// What happens.
    pub kind: Kind,
    /// How many passes.
    pub count: usize,
    /// Their share of all passes.
    pub share: f64,
    /// Where along the part's line, m from its start; none for who does not start.
    pub stations: Option<Interval>,
    /// The grip that would hold, for who slides.
    pub grip_needed: Option<Interval>,
}

/// The reasons of all passes that do not leave, the commonest first.
pub(super) fn reasons<'a>(
    passes: impl IntoIterator<Item = &'a Pass>,
    classes: &[String],
) -> Vec<Reason> {
    let mut groups: BTreeMap<(usize, Part, Kind), Reason> = BTreeMap::new();
    for pass in passes {
        let Some(kind) = kind(pass.outcome).filter(|_| !pass.leaves()) else { continue };
        let who = pass.drawn.who;
        let group = groups.entry((who, pass.part, kind)).or_insert_with(|| Reason {
            class: classes.get(who).cloned().unwrap_or_default(),
            part: pass.part,
            kind,
            count: 0,
            share: 0.0,
            stations: None,
            grip_needed: None,
        });
        group.count += 1;
        group.share += pass.drawn.weight;
        widen(&mut group.stations, pass.outcome.station());
        widen(&mut group.grip_needed, grip_needed(pass.outcome));
    }
    let mut all: Vec<Reason> = groups.into_values().collect();
    all.sort_by(|a, b| b.share.total_cmp(&a.share));
    all
}

fn kind(outcome: Outcome) -> Option<Kind> {
    match outcome {
        Outcome::DidNotStart => Some(Kind::DidNotStart),
        Outcome::Stalled { .. } => Some(Kind::Stalled),
        Outcome::LeftSurface { .. } => Some(Kind::LeftSurface),
        Outcome::Unbalanced { .. } => Some(Kind::Unbalanced),
        Outcome::HungUp { .. } => Some(Kind::HungUp),
        Outcome::Slid(slip) => Some(match slip.slide {
            Slide::Up => Kind::SlidUp,
            Slide::Down => Kind::SlidDown,
            Slide::Left | Slide::Right => Kind::SlidSideways,
        }),
        Outcome::Reached => None,
    }
}

fn grip_needed(outcome: Outcome) -> Option<f64> {
    match outcome {
        Outcome::Slid(slip) => Some(slip.grip_needed),
        _ => None,
    }
}

fn widen(interval: &mut Option<Interval>, value: Option<f64>) {
    let Some(value) = value else { return };
    let known = interval.unwrap_or(Interval::new(value, value));
    *interval = Some(Interval::new(known.low.min(value), known.high.max(value)));
}

impl fmt::Display for Kind {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(match self {
            Self::DidNotStart => "do not start from rest",
            Self::Stalled => "stall",
            Self::LeftSurface => "leave the surface before the edge",
            Self::Unbalanced => "find no lean that keeps the balance",
            Self::HungUp => "hang up on the edge",
            Self::SlidUp => "slide up",
            Self::SlidDown => "slide down",
            Self::SlidSideways => "slide sideways",
        })
    }
}

impl fmt::Display for Reason {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        let part = match self.part {
            Part::RunIn => "run-in",
            Part::Wall => "takeoff",
        };
        write!(f, "{} of class \"{}\" {} on the {part}", self.count, self.class, self.kind)?;
        if let Some(Interval { low, high }) = self.stations {
            write!(f, ", {low:.2} to {high:.2} m along it")?;
        }
        if let Some(Interval { low, high }) = self.grip_needed {
            write!(f, ", and need grip of {low:.2} to {high:.2}")?;
        }
        Ok(())
    }
}

/// All reasons in one sentence.
pub(super) fn sentence(reasons: &[Reason]) -> String {
    let told: Vec<String> = reasons.iter().map(ToString::to_string).collect();
    told.join("; ")
}
