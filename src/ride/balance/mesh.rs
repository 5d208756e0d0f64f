//! The panels of a leaning ride: cut from the line, filled with a first guess, cut finer where they must be.

use super::chain::Entry;
use super::footing::Footing;
use super::motion::{Model, State};
use super::panel::{Bed, Ends, Panel};
use super::solved::Solved;
use crate::geometry::{Line, Section};
use crate::ride::panel::{BASIS, LENGTH_TOLERANCE, NODES, Pace, Span};

/// The longest panel of a first mesh, in the line's parameter, and in lengths over which a rider falls over.
const LONGEST: f64 = 2.4;
const FALLS: f64 = 4.0;
/// The longest panel that begins or ends at rest.
const AT_REST: f64 = 0.5;
/// The farthest that a guessed lean goes, radians.
const MOST_LEAN: f64 = 1.3;
/// The slowest that a guess lets a ride become, m/s, also as a share of its first speed.
const SLOWEST: f64 = 0.01;
const SLOWER: f64 = 0.1;
/// Panels are cut no further than this.
pub(super) const SHORTEST: f64 = 1e-7;

/// Part of a line under one brake.
#[derive(Debug, Clone, Copy)]
pub(super) struct Stretch {
    pub(super) section: Section,
    /// The deceleration that is braked for, m/s².
    pub(super) asked: f64,
}

/// How much of a line is to be ridden.
#[derive(Debug, Clone, Copy)]
pub(super) struct Domain<'a> {
    pub(super) line: &'a Line,
    pub(super) stretches: &'a [Stretch],
    /// The line's parameter up to which it goes.
    pub(super) until: f64,
    /// Whether it ends at rest there.
    pub(super) to_rest: bool,
}

/// From where a first guess comes.
pub(super) enum Guess<'a> {
    /// Each station for itself.
    Static,
    /// A ride over much the same.
    Ride(&'a [Solved<'a>]),
}

/// A guess under way along the line.
struct Guesser<'a> {
    model: &'a Model,
    guess: Guess<'a>,
    slowest: f64,
    sum: f64,
    speed: f64,
    asked: f64,
    /// Where the guess first gets too slow, in the line's parameter.
    falters: Option<f64>,
}

/// A mesh with a guess on it.
pub(super) struct Laid {
    pub(super) panels: Vec<Panel>,
    /// Where the guess comes to rest, in the line's parameter, if it does.
    pub(super) falters: Option<f64>,
}

/// Lays panels over the domain.
pub(super) fn lay(domain: &Domain, model: &Model, entry: &Entry, guess: Guess) -> Laid {
    let mut guesser = Guesser {
        model,
        guess,
        slowest: SLOWEST.max(SLOWER * entry.speed),
        sum: entry.start(model, 0.0)[2],
        speed: entry.speed,
        asked: 0.0,
        falters: None,
    };
    let mut panels: Vec<Panel> = Vec::new();
    for stretch in domain.stretches {
        let Section { piece, from, to } = stretch.section;
        let end = to.min(domain.until);
        guesser.asked = stretch.asked;
        let mut from = from;
        while from < end {
            let pace = domain.pace(panels.is_empty() && entry.speed == 0.0, to, from);
            let mut width = guesser.width(end - from, pace);
            if domain.to_rest && domain.until <= to && pace == Pace::Even {
                width = width.min(end - from - AT_REST);
            }
            let bed = loop {
                let bed = Bed::new(domain.line, Span { piece, from, width, pace }, stretch.asked);
                let rough = BASIS.tail(&bed.metres) > LENGTH_TOLERANCE * bed.length;
                if !rough || width <= SHORTEST || pace == Pace::ToRest {
                    break bed;
                }
                width *= 0.5;
            };
            let reached = from + width;
            from = if reached >= end - 1e-14 * width { end } else { reached };
            panels.push(guesser.panel(bed));
        }
    }
    Laid { panels, falters: guesser.falters }
}

impl Domain<'_> {
    fn pace(&self, from_rest: bool, section_end: f64, from: f64) -> Pace {
        let is_last = self.to_rest && self.until <= section_end;
        if from_rest {
            Pace::FromRest
        } else if is_last && self.until - from <= 1.5 * AT_REST {
            Pace::ToRest
        } else {
            Pace::Even
        }
    }
}

impl Guesser<'_> {
    fn width(&self, left: f64, pace: Pace) -> f64 {
        let most = match pace {
            Pace::ToRest => return left,
            Pace::FromRest => AT_REST.min(0.5 * left),
            Pace::Even => {
                let falls = self.speed * (self.model.com_height / self.model.equation.g()).sqrt();
                LONGEST.min(FALLS * falls).max(1e-3)
            }
        };
        left / (left / most).ceil().max(1.0)
    }

    fn panel(&mut self, bed: Bed) -> Panel {
        let start = self.ends(&bed.first, &bed.span, 0.0);
        let mut states = [State { lean: 0.0, roll: 0.0, speed: 1.0 }; NODES];
        let (at_start, first) = (self.sum, self.speed);
        let mut gained = 0.0;
        for (i, state) in states.iter_mut().enumerate() {
            let (footing, x) = (&bed.footings[i], BASIS.rule.nodes[i]);
            let [lean, roll, sum] = self.ends(footing, &bed.span, x).into();
            let square = self.model.square(footing, lean, roll, sum);
            let is_even = bed.span.pace == Pace::Even;
            if is_even && square < self.slowest * self.slowest && self.falters.is_none() {
                self.falters = Some(bed.span.parameter(x));
            }
            let floor = if is_even { self.slowest } else { 0.01 * SLOWEST };
            self.speed = match bed.span.pace {
                Pace::ToRest => first * (1.0 - x),
                Pace::Even | Pace::FromRest => square.max(floor * floor).sqrt(),
            };
            *state = State { lean, roll, speed: self.speed };
            if matches!(self.guess, Guess::Static) {
                let gain = self.model.terms(footing, state, self.asked).gain;
                gained += BASIS.rule.weights[i] * bed.metres[i] * gain;
                self.sum = at_start + gained;
            }
        }
        Panel { bed, start, states }
    }

    /// Guessed lean, roll rate and energy sum.
    fn ends(&self, footing: &Footing, span: &Span, x: f64) -> Ends {
        if let Guess::Ride(solved) = &self.guess
            && let Some(ends) = before(solved, span.parameter(x))
        {
            return ends;
        }
        let lean = self.model.static_lean(footing, self.speed).clamp(-MOST_LEAN, MOST_LEAN);
        Ends::new(lean, self.speed * footing.twist, self.sum)
    }
}

/// What a ride had at a parameter; where it ended before, what it ended with.
fn before(solved: &[Solved], parameter: f64) -> Option<Ends> {
    let after = solved.partition_point(|solved| solved.panel.bed.span.from <= parameter);
    let solved = solved.get(after.max(1) - 1)?;
    Some(solved.ends(solved.panel.bed.span.place(parameter)))
}

/// The same ride on a mesh with the given panels cut in two.
pub(super) fn refined(line: &Line, solved: &[Solved], rough: &[bool]) -> Vec<Panel> {
    let mut panels = Vec::with_capacity(2 * solved.len());
    for (solved, rough) in solved.iter().zip(rough) {
        if !rough {
            panels.push(solved.panel.clone());
            continue;
        }
        let span = solved.panel.bed.span;
        for span in span.halves() {
            let bed = Bed::new(line, span, solved.panel.bed.asked);
            let place = |parameter| solved.panel.bed.span.place(parameter);
            let states = BASIS.rule.nodes.map(|x| solved.guess(place(span.parameter(x))));
            panels.push(Panel { bed, start: solved.ends(place(span.from)), states });
        }
    }
    panels
}
