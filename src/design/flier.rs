//! One who left the edge, kept as a short polynomial: a path does not depend on the landing.

use super::score::{Landed, fall_height};
use crate::{
    flight::Flight,
    ground::{End, Reach},
    math::{
        Vec2, Vec3,
        path::{Motion, Piece},
    },
    passes::{Pass, Passes},
};

/// Where there is no ground at all, this much of a path is looked at, seconds.
const LONGEST: f64 = 10.0;

/// A flight from the edge to where it would end without the landing.
#[derive(Debug, Clone)]
pub(super) struct Flier {
    pub weight: f64,
    /// Coefficients of the powers of time: the centre of mass in the site's frame.
    pub terms: [Vec3; 6],
    pub end: f64,
    pub reach: Reach,
    pub gravity: f64,
    /// How it ends without the landing.
    pub bare: Bare,
}

/// How a flight ends on the bare ground.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) struct Bare {
    /// The tyres' mark in plan; where it ended, where there is none.
    pub mark: Vec2,
    pub fall_height: f64,
    /// The level velocity at the end, m/s.
    pub course: Vec2,
    /// What the end is where no landing can change it.
    pub fixed: Option<Landed>,
}

impl Flier {
    fn of(pass: &Pass) -> Option<Self> {
        let (flight, touchdown) = (pass.flight.as_ref()?, pass.touchdown.as_ref()?);
        let end = flight.end().time().min(LONGEST);
        let (first, last) = (flight.flight_path().motion(0.0), flight.flight_path().motion(end));
        let fixed = match flight.end() {
            End::RolledOff => Some(Landed::RolledOff),
            End::OffSurvey { .. } => Some(Landed::OffSurvey),
            End::Touch(_) => None,
            _ => Some(Landed::NoTouchdown),
        };
        let bare = Bare {
            mark: touchdown.contact.map_or(last.position.xy(), |contact| contact.mark.xy()),
            fall_height: fall_height(pass),
            course: last.velocity.xy(),
            fixed,
        };
        Some(Self::between(pass.drawn.weight, &first, &last, flight, bare))
    }

    /// One quintic over the whole flight: off by tenths of a millimetre where a flight of a second is slow and the drag bends it most. Good for a search; the exact path has the last word.
    fn between(weight: f64, first: &Motion, last: &Motion, flight: &Flight, bare: Bare) -> Self {
        let whole = if last.time > first.time {
            Piece::between(first, last)
        } else {
            Piece::parabola(first, last.time)
        };
        Self {
            weight,
            terms: std::array::from_fn(|power| whole.terms()[power]),
            end: last.time,
            reach: *flight.reach(),
            gravity: flight.flight_path().forces().g(),
            bare,
        }
    }

    /// Everyone of an ensemble who leaves the edge.
    pub(super) fn all(passes: &Passes) -> Vec<Self> {
        passes.members().iter().filter_map(Self::of).collect()
    }
}
