//! The panels of a leaning ride together, solved as one boundary-value problem by Newton's method.
//!
//! Each panel's equations give its end as a linear function of its start. The condition at the edge is carried back from panel
//! to panel as one condition on each start, then the starts are found from the first on, each corrected by its condition:
//! what grows along the line is bound from its far end and what decays from its near end, so that long and slow rides
//! solve as well as short ones.

use super::edge::{Edge, Wider};
use super::footing::Footing;
use super::joint::{Condition, across};
use super::motion::Model;
use super::panel::{Change, Ends, Panel, Response};
use crate::geometry::Line;
use crate::ride::events::Ending;
use crate::ride::options::Lean;
use crate::ride::panel::BASIS;
use nalgebra::Vector3;

/// Newton steps: four or five are usual, and many only where a first guess is far off.
const MOST_STEPS: usize = 25;
/// A full step smaller than this leaves nothing to do: the next one would be its square.
const SMALL: f64 = 1e-9;
/// How much wider, of itself, a last panel is made to see what that does, and may be made in a step.
const WIDER: f64 = 1e-6;
const MOST_WIDENING: f64 = 0.4;
/// The most that a lean may change in a step, radians.
const MOST_LEAN: f64 = 0.5;

/// What a ride begins with.
#[derive(Debug, Clone, Copy)]
pub(super) struct Entry {
    pub(super) footing: Footing,
    pub(super) speed: f64,
    pub(super) lean: f64,
}

/// What does not change while a ride is solved.
#[derive(Clone, Copy)]
pub(super) struct Problem<'a> {
    pub(super) line: &'a Line,
    pub(super) model: &'a Model,
    pub(super) lean: Lean,
    pub(super) entry: &'a Entry,
}

/// A leaning ride over a line or part of it.
#[derive(Debug, Clone)]
pub(super) struct Chain {
    pub(super) panels: Vec<Panel>,
    /// What ends the ride where the last panel ends, which is free to move then.
    pub(super) ending: Option<Ending>,
}

/// One step: the change of each panel's start, and how much wider the last panel becomes.
struct Step {
    responses: Vec<Response>,
    starts: Vec<Ends>,
    widening: f64,
}

impl Entry {
    /// Lean, roll rate and energy sum at the start, for a roll rate there.
    pub(super) fn start(&self, model: &Model, roll: f64) -> Ends {
        let state = super::motion::State { lean: self.lean, roll, speed: self.speed };
        Ends::new(self.lean, roll, model.sum(&self.footing, &state))
    }
}

impl Chain {
    /// Newton's method from the states that the panels have; none where it does not converge.
    pub(super) fn solve(mut self, problem: &Problem) -> Option<Self> {
        let Problem { model, .. } = problem;
        let falling = (model.equation.g() / model.com_height).sqrt();
        for _ in 0..MOST_STEPS {
            let step = self.step(problem)?;
            let size = self.apply(&step, problem, falling);
            if !size.is_finite() {
                return None;
            }
            if size <= SMALL {
                return Some(self);
            }
        }
        None
    }

    /// The state of the ride at its end.
    pub(super) fn end(&self, model: &Model) -> Ends {
        self.panels.last().map_or_else(Ends::zeros, |last| {
            let rates = last.rates(model);
            last.start + Ends::from(rates.map(|rates| BASIS.whole(&rates)))
        })
    }

    fn step(&self, problem: &Problem) -> Option<Step> {
        let Problem { model, lean, line, .. } = problem;
        let (last, others) = self.panels.split_last()?;
        let wider = self.ending.map(|ending| (last.widened(line, WIDER), ending));
        let mut responses: Vec<Response> =
            others.iter().map(|panel| panel.respond(model, None)).collect::<Option<_>>()?;
        let by = WIDER * last.bed.span.width;
        let moved = wider.as_ref().map(|(panel, _)| last.moved_to((panel, model), model, by));
        let response = last.respond(model, moved.as_ref())?;
        let wider = wider.as_ref().map(|(panel, ending)| Wider { panel, by, ending: *ending });
        let edge = Edge::new(*lean, model, last, &response, wider.as_ref());
        let mut conditions = vec![edge.condition];
        responses.push(response);
        for k in (0..responses.len() - 1).rev() {
            let (gap, change) = self.joint(k, &responses[k]);
            let next = conditions[conditions.len() - 1];
            let at_end =
                Condition { row: next.row * change, value: next.value - (next.row * gap)[0] };
            conditions.push(at_end.back(&responses[k]));
        }
        conditions.reverse();
        let starts = self.starts(model, &responses, &conditions);
        let widening = edge.widening(starts.last()?);
        Some(Step { responses, starts, widening })
    }

    /// How far a panel's end lies off the next one's start, and how what follows changes with that end.
    fn joint(&self, k: usize, response: &Response) -> (Vector3<f64>, nalgebra::Matrix3<f64>) {
        let (before, next) = (&self.panels[k], &self.panels[k + 1]);
        let (arrives, change) = across(&before.bed.last, &next.bed.first, &response.end);
        (arrives - next.start, change)
    }

    fn starts(&self, model: &Model, responses: &[Response], conditions: &[Condition]) -> Vec<Ends> {
        // Only the roll rate is free where the ride begins, and the energy in it.
        let swing = model.com_height * model.com_height * self.panels[0].start[1];
        let row = conditions[0].row;
        let roll = conditions[0].value / (row[1] + row[2] * swing);
        let mut start = Ends::new(0.0, roll, swing * roll);
        let mut starts = Vec::with_capacity(responses.len());
        for (k, response) in responses.iter().enumerate() {
            starts.push(start);
            if k + 1 < responses.len() {
                let (gap, change) = self.joint(k, response);
                let next = &conditions[k + 1];
                start = gap + change * (response.end_own + response.end_by_start * start);
                start[1] =
                    (next.value - next.row[0] * start[0] - next.row[2] * start[2]) / next.row[1];
            }
        }
        starts
    }

    /// Takes a step, or the part of it that is safe; gives the size of the whole.
    fn apply(&mut self, step: &Step, problem: &Problem, falling: f64) -> f64 {
        let Step { responses, starts, widening } = step;
        let last = self.panels.len() - 1;
        let wider = |k: usize| if k == last { *widening } else { 0.0 };
        let changes: Vec<Change> = (0..self.panels.len())
            .map(|k| Panel::change(&responses[k], &starts[k], wider(k)))
            .collect();
        let width = self.panels[last].bed.span.width;
        let mut part = (MOST_WIDENING * width / widening.abs()).min(1.0);
        let mut size = (widening / width).abs();
        for (panel, change) in self.panels.iter().zip(&changes) {
            part = part.min(panel.part(change, MOST_LEAN));
            size = size.max(panel.size(change, falling));
        }
        for ((panel, change), start) in self.panels.iter_mut().zip(&changes).zip(starts) {
            panel.apply(change, start, part);
        }
        if let Some(first) = self.panels.first_mut() {
            first.start = problem.entry.start(problem.model, first.start[1]);
        }
        if *widening != 0.0
            && let Some(panel) = self.panels.last_mut()
        {
            *panel = panel.widened(problem.line, part * widening / width);
        }
        size
    }
}
