//! One panel of a leaning ride: its collocation equations, and what a Newton step makes of them.

use super::footing::Footing;
use super::motion::{Model, State, Terms};
use crate::geometry::Line;
use crate::math::dual::Dual;
use crate::math::elimination::solve;
use crate::ride::panel::{BASIS, NODES, Span};
use nalgebra::{Matrix3, SMatrix, Vector3};

/// Unknowns of a panel: lean, roll rate and speed at each node.
const SIZE: usize = 3 * NODES;
/// Right sides of a panel's equations: the defect, each part of the start, and one cause more, as the width.
const SIDES: usize = 5;

/// Lean, roll rate and `E + g c_z` at one end of a panel.
pub(super) type Ends = Vector3<f64>;

/// The line under a panel, looked up once.
#[derive(Debug, Clone)]
pub(super) struct Bed {
    pub(super) span: Span,
    /// The deceleration that is braked for, m/s².
    pub(super) asked: f64,
    pub(super) footings: [Footing; NODES],
    /// Metres of line a unit of `x`, at the nodes.
    pub(super) metres: [f64; NODES],
    pub(super) length: f64,
    pub(super) first: Footing,
    pub(super) last: Footing,
}

impl Bed {
    pub(super) fn new(line: &Line, span: Span, asked: f64) -> Self {
        Self::by(span, asked, |parameter| Footing::at(line, span.piece, parameter))
    }

    /// The same under the same share of another line's piece.
    pub(super) fn beside(&self, other: &Line, line: &Line) -> Self {
        let span = self.span;
        Self::by(span, self.asked, |parameter| {
            let (frame, stretch) = other.beside(line, span.piece, parameter);
            (Footing::new(&frame), stretch)
        })
    }

    fn by(span: Span, asked: f64, look_up: impl Fn(f64) -> (Footing, f64)) -> Self {
        let looked_up = BASIS.rule.nodes.map(|x| {
            let (share, rate) = span.pace.place(x);
            let (footing, stretch) = look_up(span.from + span.width * share);
            (footing, stretch * span.width * rate)
        });
        let metres = looked_up.map(|(_, metres)| metres);
        let at = |x: f64| look_up(span.parameter(x)).0;
        Self {
            span,
            asked,
            footings: looked_up.map(|(footing, _)| footing),
            metres,
            length: BASIS.whole(&metres),
            first: at(0.0),
            last: at(1.0),
        }
    }
}

/// A panel with the state at its start and at its nodes.
#[derive(Debug, Clone)]
pub(super) struct Panel {
    pub(super) bed: Bed,
    pub(super) start: Ends,
    pub(super) states: [State<f64>; NODES],
}

/// What a panel's equations, made linear, say of a change of its start.
#[derive(Debug, Clone)]
pub(super) struct Response {
    /// How the unknowns change: by themselves, and by each part of the start's change.
    pub(super) own: Change,
    pub(super) by_start: SMatrix<f64, SIZE, 3>,
    pub(super) by_cause: Change,
    /// The panel's end: as it is, and how it changes.
    pub(super) end: Ends,
    pub(super) end_own: Ends,
    pub(super) end_by_start: Matrix3<f64>,
    /// How it changes with the panel's width where that is free, or with another cause.
    pub(super) end_by_cause: Ends,
}

/// How a panel's equations, and its end, change with a cause while its states stay.
pub(super) struct Moved {
    defects: Change,
    end: Ends,
}

/// A change of a panel's unknowns.
pub(super) type Change = SMatrix<f64, SIZE, 1>;

impl Panel {
    /// The same states on a bed that is wider by a share of itself.
    pub(super) fn widened(&self, line: &Line, share: f64) -> Self {
        let span = self.bed.span;
        let span = Span { width: span.width * (1.0 + share), ..span };
        Self { bed: Bed::new(line, span, self.bed.asked), ..self.clone() }
    }

    /// The rates a unit of `x` at the nodes, of lean, roll rate and energy sum.
    pub(super) fn rates(&self, model: &Model) -> [[f64; NODES]; 3] {
        let mut rates = [[0.0; NODES]; 3];
        for (j, terms) in self.terms(model).iter().enumerate() {
            let metres = self.bed.metres[j];
            rates[0][j] = terms.lean * metres;
            rates[1][j] = terms.roll * metres;
            rates[2][j] = terms.gain * metres;
        }
        rates
    }

    pub(super) fn terms(&self, model: &Model) -> [Terms<f64>; NODES] {
        std::array::from_fn(|j| model.terms(&self.bed.footings[j], &self.states[j], self.bed.asked))
    }

    /// How much the equations miss at the nodes, and the panel's end.
    fn defects(&self, model: &Model) -> (Change, Ends) {
        let mut missing = Change::zeros();
        let mut end = self.start;
        for (row, rates) in self.rates(model).iter().enumerate() {
            end[row] += BASIS.whole(rates);
            for (i, integral) in BASIS.integrals(rates).into_iter().enumerate() {
                let state = &self.states[i];
                let here = match row {
                    0 => state.lean,
                    1 => state.roll,
                    _ => model.sum(&self.bed.footings[i], state),
                };
                missing[row * NODES + i] = self.start[row] + integral - here;
            }
        }
        (missing, end)
    }

    /// What it takes to come to another panel of the same states, perhaps by another model: for each of `by`.
    pub(super) fn moved_to(&self, (other, more): (&Self, &Model), model: &Model, by: f64) -> Moved {
        let ((here, end), (there, other_end)) = (self.defects(model), other.defects(more));
        Moved { defects: (there - here) / by, end: (other_end - end) / by }
    }

    /// The same where what moves the line is the cause: by the panel's states on the beds of lines close by.
    pub(super) fn moved_by(&self, beds: &[(f64, Bed)], model: &Model) -> Moved {
        let mut moved = Moved { defects: Change::zeros(), end: Ends::zeros() };
        for (weight, bed) in beds {
            let (defects, end) = Self { bed: bed.clone(), ..self.clone() }.defects(model);
            moved.defects += defects * *weight;
            moved.end += end * *weight;
        }
        moved
    }

    /// The Newton step of this panel alone, and how it answers to one cause more, where one is given; none where the equations
    /// do not determine one.
    pub(super) fn respond(&self, model: &Model, cause: Option<&Moved>) -> Option<Response> {
        let mut rows = [[0.0; SIZE + SIDES]; SIZE];
        let mut end_by_cause = Ends::zeros();
        if let Some(moved) = cause {
            rows.iter_mut().zip(&moved.defects).for_each(|(row, value)| row[SIZE + 4] = *value);
            end_by_cause = moved.end;
        }
        // How the end grows with each unknown.
        let mut reach = SMatrix::<f64, 3, SIZE>::zeros();
        let mut end = self.start;
        for j in 0..NODES {
            let footing = &self.bed.footings[j];
            let state = self.states[j].with_partials();
            let terms = model.terms(footing, &state, self.bed.asked);
            let sum = model.sum(footing, &state);
            let metres = self.bed.metres[j];
            let (weight, integrals) = (BASIS.rule.weights[j], BASIS.integrals_by(j));
            for (row, rate) in [terms.lean, terms.roll, terms.gain].into_iter().enumerate() {
                let rate = rate * metres;
                end[row] += weight * rate.value;
                for i in 0..NODES {
                    rows[row * NODES + i][SIZE] += integrals[i] * rate.value;
                }
                for (variable, partial) in rate.partials.into_iter().enumerate() {
                    let column = variable * NODES + j;
                    reach[(row, column)] = weight * partial;
                    for i in 0..NODES {
                        rows[row * NODES + i][column] -= integrals[i] * partial;
                    }
                }
            }
            let here = [self.states[j].lean, self.states[j].roll, sum.value];
            for row in 0..3 {
                rows[row * NODES + j][SIZE] += self.start[row] - here[row];
                rows[row * NODES + j][SIZE + 1 + row] = 1.0;
            }
            rows[j][j] += 1.0;
            rows[NODES + j][NODES + j] += 1.0;
            for (variable, partial) in sum.partials.into_iter().enumerate() {
                rows[2 * NODES + j][variable * NODES + j] += partial;
            }
        }
        solve(&mut rows).then_some(())?;
        let own = Change::from_fn(|i, _| rows[i][SIZE]);
        let by_start = SMatrix::from_fn(|i, j| rows[i][SIZE + 1 + j]);
        let by_cause = Change::from_fn(|i, _| rows[i][SIZE + 4]);
        end_by_cause += reach * by_cause;
        let end_own = reach * own;
        let end_by_start = Matrix3::identity() + reach * by_start;
        Some(Response { own, by_start, by_cause, end, end_own, end_by_start, end_by_cause })
    }

    /// How the unknowns change when the start and the width do.
    pub(super) fn change(response: &Response, start: &Ends, width: f64) -> Change {
        response.own + response.by_start * start + response.by_cause * width
    }

    /// The part of a change that keeps leans and speeds within reach of what the equations are like here.
    pub(super) fn part(&self, change: &Change, most_lean: f64) -> f64 {
        let mut part: f64 = 1.0;
        for (j, state) in self.states.iter().enumerate() {
            part = part.min(most_lean / change[j].abs());
            // No speed falls below a third of what it was.
            let slower = -change[2 * NODES + j];
            if slower > 0.0 {
                part = part.min(0.66 * state.speed / slower);
            }
        }
        part
    }

    pub(super) fn apply(&mut self, change: &Change, start: &Ends, part: f64) {
        self.start += start * part;
        for (j, state) in self.states.iter_mut().enumerate() {
            state.lean += part * change[j];
            state.roll += part * change[NODES + j];
            state.speed += part * change[2 * NODES + j];
        }
    }

    /// The largest change: of leans in radians, of roll against the rate of falling over, of speed against itself.
    pub(super) fn size(&self, change: &Change, falling: f64) -> f64 {
        let mut size: f64 = 0.0;
        for (j, state) in self.states.iter().enumerate() {
            let parts =
                [change[j], change[NODES + j] / falling, change[2 * NODES + j] / state.speed];
            for part in parts {
                // A number that is none must not pass for a small one.
                size = if part.is_finite() { size.max(part.abs()) } else { f64::INFINITY };
            }
        }
        size
    }
}

impl State<f64> {
    fn with_partials(self) -> State<Dual<3>> {
        State {
            lean: Dual::variable(self.lean, 0),
            roll: Dual::variable(self.roll, 1),
            speed: Dual::variable(self.speed, 2),
        }
    }
}
