//! A free line as a track by time.

use super::equation::Equation;
use super::march::Run;
use super::panel::Panel;
use crate::geometry::{Contact, OnPanel, Track};
use crate::math::jet::Jet;

/// Place and velocity are those of the panels' polynomials; accelerations are what the equation of motion makes of
/// them, so that it holds to rounding everywhere, also between the nodes.
#[derive(Debug)]
pub(super) struct FreeTrack {
    equation: Equation,
    stretches: Vec<Vec<Panel>>,
    breaks: Vec<f64>,
}

impl FreeTrack {
    pub(super) fn new(run: Run) -> Self {
        Self { equation: run.equation, stretches: run.stretches, breaks: run.breaks }
    }

    fn panel(&self, piece: usize, time: f64) -> &Panel {
        let stretch = &self.stretches[piece.min(self.stretches.len() - 1)];
        let after = stretch.partition_point(|panel| panel.from <= time);
        &stretch[after.max(1) - 1]
    }
}

impl Track for FreeTrack {
    fn breaks(&self) -> &[f64] {
        &self.breaks
    }

    fn contact(&self, piece: usize, time: f64) -> Contact {
        let panel = self.panel(piece, time);
        let x = panel.share(time);
        let state = panel.state(x);
        let moment = self.equation.moment(panel.pieces, &state);
        let [d3s, d3q] = panel.third(x);
        let s = Jet::new(state.s, state.ds, moment.dds, d3s);
        let q = Jet::new(state.q, state.dq, moment.ddq, d3q);
        self.equation.contact(panel.pieces, &s, q)
    }

    fn on_panel(&self, piece: usize, time: f64) -> Option<OnPanel> {
        let panel = self.panel(piece, time);
        let state = panel.state(panel.share(time));
        Some(OnPanel { station: state.s, height: state.q })
    }
}
