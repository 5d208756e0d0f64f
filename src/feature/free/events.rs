//! What ends a panel of a free line: looked for on polynomials through its nodes, polished on the equation itself.

use super::end::FreeOutcome;
use super::entry::STANDING;
use super::equation::{Equation, Moment, State};
use super::panel::{BASIS, Solved};
use super::parts::Part;
use crate::math::roots;

/// Who starts on a border of the panel is on it: it is passed a nanometre later.
pub(super) const SLACK: f64 = 1e-9;
/// The highest curvature of a hollow that the model takes, times the height of the centre of mass.
const TIGHTEST: f64 = 0.5;

/// What happens at a place of a panel.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum Event {
    End(FreeOutcome),
    /// The hollow becomes too tight for the model.
    Tight,
    /// Into the next smooth part of the wall.
    Onward,
    /// Back into the one before.
    Backward,
}

/// All that can happen, what comes first in the list counting first.
const EVENTS: [Event; 9] = [
    Event::End(FreeOutcome::Edge),
    Event::End(FreeOutcome::Top),
    Event::End(FreeOutcome::Foot),
    Event::End(FreeOutcome::Start),
    Event::End(FreeOutcome::Stalled),
    Event::End(FreeOutcome::LeftSurface),
    Event::Tight,
    Event::Onward,
    Event::Backward,
];

/// Where a line is looked after: the wall's borders and those of its smooth part.
pub(super) struct Watch<'a> {
    pub(super) equation: &'a Equation,
    pub(super) part: Part,
    /// By how much the part's borders are passed late: that over which the line came.
    pub(super) slack: [f64; 2],
}

impl Watch<'_> {
    /// The first event on a panel, and at which share of its time.
    pub(super) fn first(&self, solved: &Solved) -> Option<(Event, f64)> {
        let panel = &solved.panel;
        let mut first: Option<(Event, f64)> = None;
        for (k, event) in EVENTS.into_iter().enumerate() {
            let values =
                std::array::from_fn(|i| self.spare(event, &solved.states[i], &solved.moments[i]));
            let Some(rough) = BASIS.first_not_positive(&values) else { continue };
            let exact = |x: f64| {
                let state = panel.state(x);
                self.spare(EVENTS[k], &state, &self.equation.moment(panel.pieces, &state))
            };
            let x = roots::near(rough, exact);
            if first.is_none_or(|(_, before)| x < before) {
                first = Some((event, x));
            }
        }
        first
    }

    /// What is left until an event: above zero as long as it has not happened.
    fn spare(&self, event: Event, state: &State, moment: &Moment) -> f64 {
        let wall = &self.equation.wall;
        let endless = |spare: f64| if spare.is_finite() { spare } else { 1.0 };
        match event {
            Event::End(FreeOutcome::Edge) => wall.end_station(state.q) - state.s,
            Event::End(FreeOutcome::Top) => wall.width() - state.q + SLACK,
            Event::End(FreeOutcome::Foot) => state.q + SLACK,
            Event::End(FreeOutcome::Start) => state.s + SLACK,
            Event::End(FreeOutcome::Stalled) => moment.square - STANDING * STANDING,
            Event::End(FreeOutcome::LeftSurface) => moment.normal,
            Event::Tight => TIGHTEST + 1e-12 - self.equation.com_height * moment.hollow,
            Event::Onward => endless(self.part.to - state.s + self.slack[1]),
            Event::Backward => endless(state.s - self.part.from + self.slack[0]),
        }
    }
}
