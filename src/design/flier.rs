//! One who left the edge, kept as a short polynomial: a path does not depend on the landing.

use super::score::Landed;
use crate::{
    flight::Flight,
    ground::{End, Reach},
    math::{
        Vec2, Vec3,
        path::{Motion, Piece},
    },
    passes::{Pass, Passes, Way},
    ride::Lean,
};

/// Where there is no ground at all, this much of a path is looked at, seconds.
const LONGEST: f64 = 10.0;

/// One who left the edge, with a path for each way in which he may have.
#[derive(Debug, Clone)]
pub(super) struct Flier {
    pub weight: f64,
    /// The scenario it was drawn in, from 0.
    pub scenario: usize,
    pub paths: Vec<Path>,
}

/// A flight from the edge to where it would end without the landing.
#[derive(Debug, Clone)]
pub(super) struct Path {
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
        // Who leans by balance all along comes down between the others: a search can do without.
        let outer =
            pass.ways.iter().filter(|way| way.lean != Lean::Balanced || pass.ways.len() == 1);
        let paths: Vec<Path> = outer.map(Path::of).collect();
        let (weight, scenario) = (pass.drawn.weight, pass.drawn.scenario);
        (!paths.is_empty()).then_some(Self { weight, scenario, paths })
    }

    /// Everyone of an ensemble who leaves the edge: the scenarios by turns, so that any number from the start is of all.
    pub(super) fn all(passes: &Passes) -> Vec<Self> {
        let (count, scenarios) = (passes.len(), passes.scenarios());
        let each = count.div_ceil(scenarios);
        let turns = (0..each).flat_map(|turn| (0..scenarios).map(move |of| of * each + turn));
        let members = turns.filter_map(|index| passes.members().get(index));
        members.filter_map(Self::of).collect()
    }
}

impl Path {
    fn of(way: &Way) -> Self {
        let flight = &way.flight;
        let end = flight.end().time().min(LONGEST);
        let (first, last) = (flight.flight_path().motion(0.0), flight.flight_path().motion(end));
        let fixed = match flight.end() {
            End::RolledOff => Some(Landed::RolledOff),
            End::OffSurvey { .. } => Some(Landed::OffSurvey),
            End::Touch(_) => None,
            _ => Some(Landed::NoTouchdown),
        };
        let bare = Bare {
            mark: way.contact().map_or(last.position.xy(), |contact| contact.mark.xy()),
            fall_height: way.fall_height(),
            course: last.velocity.xy(),
            fixed,
        };
        Self::between(&first, &last, flight, bare)
    }

    /// One quintic over the whole flight: off by tenths of a millimetre where a flight of a second is slow and the drag bends it most. Good for a search; the exact path has the last word.
    fn between(first: &Motion, last: &Motion, flight: &Flight, bare: Bare) -> Self {
        let whole = if last.time > first.time {
            Piece::between(first, last)
        } else {
            Piece::parabola(first, last.time)
        };
        Self {
            terms: std::array::from_fn(|power| whole.terms()[power]),
            end: last.time,
            reach: *flight.reach(),
            gravity: flight.forces().g(),
            bare,
        }
    }
}

#[cfg(test)]
impl Path {
    pub(super) fn position(&self, t: f64) -> Vec3 {
        let [p, v, a, j, k, l] = &self.terms;
        p + (v + (a + (j + (k + l * t) * t) * t) * t) * t
    }

    pub(super) fn velocity(&self, t: f64) -> Vec3 {
        let [_, v, a, j, k, l] = &self.terms;
        v + (2.0 * a + (3.0 * j + (4.0 * k + 5.0 * l * t) * t) * t) * t
    }

    /// A path without drag down to the height nought.
    pub(super) fn thrown(position: Vec3, velocity: Vec3, reach: Reach) -> Self {
        let (gravity, nothing) = (9.81, Vec3::zeros());
        let fall = Vec3::new(0.0, 0.0, -0.5 * gravity);
        let end = (velocity.z + (velocity.z.powi(2) + 2.0 * gravity * position.z).sqrt()) / gravity;
        let course = velocity.xy();
        let mark = (position + end * velocity).xy();
        let bare = Bare { mark, fall_height: 1.0, course, fixed: None };
        Self {
            terms: [position, velocity, fall, nothing, nothing, nothing],
            end,
            reach,
            gravity,
            bare,
        }
    }
}
