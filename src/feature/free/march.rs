//! From panel to panel along a free line, until it ends.

use super::end::{FreeEnd, FreeOutcome};
use super::entry::FreeEntry;
use super::equation::{Equation, State};
use super::error::FreeError;
use super::events::{Event, SLACK, Watch};
use super::panel::{Panel, Solved};
use super::parts::{Part, parts};

/// The way that the first panel takes in, metres.
const FIRST: f64 = 0.8;
/// The longest panel, seconds.
const LONGEST: f64 = 1.0;
/// Panels are cut no shorter than this, seconds: a kink of the drag, at rest in the air, is crossed by such a one.
const SHORTEST: f64 = 1e-7;
/// What ends within this, metres, ends where it starts.
const SHORTEST_LINE: f64 = 1e-3;
/// The most panels tried on a line: one takes tens.
const MOST_TRIES: usize = 5_000;

/// A free line up to its end: smooth stretches, each of panels in order, and the times at which they meet.
#[derive(Debug)]
pub(super) struct Run {
    pub(super) equation: Equation,
    pub(super) stretches: Vec<Vec<Panel>>,
    pub(super) breaks: Vec<f64>,
    pub(super) end: FreeEnd,
    /// Whether the line goes back along the foot anywhere.
    pub(super) turns_back: bool,
}

/// A free line under way.
pub(super) struct March {
    equation: Equation,
    parts: Vec<Part>,
    part: usize,
    slack: [f64; 2],
    /// The speed at the start.
    speed: f64,
    state: State,
    time: f64,
    width: f64,
    stretches: Vec<Vec<Panel>>,
    breaks: Vec<f64>,
    turns_back: bool,
}

/// What became of one try at a panel.
enum Step {
    /// On its way.
    On,
    /// At its end.
    Over(FreeOutcome),
}

impl March {
    pub(super) fn new(equation: Equation, entry: &FreeEntry) -> Result<Self, FreeError> {
        let parts = parts(&equation.wall);
        let at = [0.0, entry.height];
        let state = equation.state(parts[0].pieces, at, entry.heading, entry.speed);
        let march = Self {
            equation,
            parts,
            part: 0,
            slack: [0.0; 2],
            speed: entry.speed,
            state,
            time: 0.0,
            width: FIRST / entry.speed,
            stretches: vec![Vec::new()],
            breaks: vec![0.0],
            turns_back: false,
        };
        let is_finite = state.to_array().iter().all(|x| x.is_finite());
        if is_finite { Ok(march) } else { Err(march.unresolved()) }
    }

    pub(super) fn run(mut self) -> Result<Run, FreeError> {
        for _ in 0..MOST_TRIES {
            if let Step::Over(outcome) = self.step()? {
                return self.conclude(outcome);
            }
        }
        Err(self.unresolved())
    }

    fn step(&mut self) -> Result<Step, FreeError> {
        let (part, width) = (self.parts[self.part], self.width.min(LONGEST));
        let is_shortest = width <= SHORTEST;
        let solved = Panel::solve(&self.equation, part.pieces, &self.state, self.time, width);
        let roughness = solved.as_ref().map_or(1e3, Solved::roughness);
        let Some(solved) = solved.filter(|_| is_shortest || roughness <= 1.0) else {
            if is_shortest {
                return Err(self.unresolved());
            }
            self.width = (width * stretch(roughness).min(0.7)).max(SHORTEST);
            return Ok(Step::On);
        };
        let watch = Watch { equation: &self.equation, part, slack: self.slack };
        let event = watch.first(&solved);
        let x = event.map_or(1.0, |(_, x)| x);
        self.turns_back |= solved.states.iter().any(|state| state.ds <= 0.0);
        self.accept(solved.panel, x);
        match event.map(|(event, _)| event) {
            None => {
                self.width = width * stretch(roughness);
                Ok(Step::On)
            }
            Some(Event::End(outcome)) => Ok(Step::Over(outcome)),
            Some(Event::Tight) => Err(self.too_tight()),
            Some(Event::Onward) => Ok(self.cross(self.part + 1, [SLACK, 0.0], part.to)),
            Some(Event::Backward) => Ok(self.cross(self.part - 1, [0.0, SLACK], part.from)),
        }
    }

    fn accept(&mut self, panel: Panel, x: f64) {
        if x <= 0.0 {
            return;
        }
        self.state = panel.state(x);
        self.time += panel.width * x;
        if let Some(stretch) = self.stretches.last_mut() {
            stretch.push(panel);
        }
    }

    /// Over a joint at a station into another part of the wall.
    fn cross(&mut self, into: usize, slack: [f64; 2], station: f64) -> Step {
        let [from, to] = [self.part, into].map(|part| self.parts[part].pieces);
        let before = State { s: station, ..self.state };
        let Some(state) = self.equation.over_joint(from, to, &before) else {
            return Step::Over(FreeOutcome::Stalled);
        };
        (self.state, self.part, self.slack) = (state, into, slack);
        self.close();
        self.stretches.push(Vec::new());
        Step::On
    }

    /// Ends the last stretch here; one without length is dropped.
    fn close(&mut self) {
        if self.stretches.last().is_some_and(Vec::is_empty) {
            self.stretches.pop();
        } else {
            self.breaks.push(self.time);
        }
    }

    fn conclude(mut self, outcome: FreeOutcome) -> Result<Run, FreeError> {
        self.close();
        let (pieces, state) = (self.parts[self.part].pieces, self.state);
        let end = FreeEnd {
            outcome,
            station: state.s,
            height: state.q,
            speed: self.equation.moment(pieces, &state).square.sqrt(),
            heading: self.equation.heading(pieces, &state),
            time: self.time,
        };
        if self.stretches.is_empty() || self.time * self.speed < SHORTEST_LINE {
            return Err(FreeError::EndsAtStart { end });
        }
        let Self { equation, stretches, breaks, turns_back, .. } = self;
        Ok(Run { equation, stretches, breaks, end, turns_back })
    }

    fn unresolved(&self) -> FreeError {
        FreeError::Unresolved { station: self.state.s, height: self.state.q }
    }

    fn too_tight(&self) -> FreeError {
        let moment = self.equation.moment(self.parts[self.part].pieces, &self.state);
        FreeError::TooTight {
            station: self.state.s,
            height: self.state.q,
            radius: moment.hollow.recip(),
            com_height: self.equation.com_height,
        }
    }
}

/// How a panel's width may be changed for this roughness, which falls with the tenth power of it.
fn stretch(roughness: f64) -> f64 {
    (0.9 * roughness.max(1e-30).powf(-0.1)).clamp(0.1, 3.0)
}
