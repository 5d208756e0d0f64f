//! What holds where a leaning ride ends: at the line's end, or where it stalls or leaves the surface.

use super::footing::Footing;
use super::joint::Condition;
use super::motion::{Model, State};
use super::panel::{Change, Ends, Panel, Response};
use crate::math::dual::{Dual, Number};
use crate::ride::events::Ending;
use crate::ride::options::Lean;
use crate::ride::panel::{BASIS, NODES};
use nalgebra::RowVector3;

/// Below this a square of speed, m²/s², is not told from zero.
const STILL: f64 = 1e-6;

/// What is asked of a ride's end, made linear, as a condition on the last panel's start.
pub(super) struct Edge {
    pub(super) condition: Condition,
    free: Option<Free>,
}

/// The last panel made wider by a little, where its end is free to move to where the ride ends.
pub(super) struct Wider<'a> {
    pub(super) panel: &'a Panel,
    pub(super) by: f64,
    pub(super) ending: Ending,
}

/// What must have fallen to zero at a free end: `left + row · start + by_width widening`.
struct Free {
    left: f64,
    row: RowVector3<f64>,
    by_width: f64,
}

impl Edge {
    /// At the last panel's end.
    pub(super) fn new(
        lean: Lean,
        model: &Model,
        last: &Panel,
        response: &Response,
        wider: Option<&Wider>,
    ) -> Self {
        let stalls = wider.is_some_and(|wider| wider.ending == Ending::Stall);
        let end = variables(&response.end);
        let misses = owed(lean, model, &last.bed.last, end, stalls);
        let row = RowVector3::from(misses.partials);
        let fixed = Condition { row, value: -misses.value };
        let Some(wider) = wider else {
            return Self { condition: fixed.back(response), free: None };
        };
        let free = match wider.ending {
            Ending::Stall => Free::at_rest(last, response),
            Ending::Lift => Free::unloaded(model, last, response, wider),
        };
        let there = owed(lean, model, &wider.panel.bed.last, end, stalls);
        let by_width = (there.value - misses.value) / wider.by + (row * response.end_by_cause)[0];
        let share = by_width / free.by_width;
        let value = fixed.value - (row * response.end_own)[0] + share * free.left;
        let condition = Condition { row: row * response.end_by_start - free.row * share, value };
        Self { condition: condition.scaled(), free: Some(free) }
    }

    /// How much wider the last panel becomes when its start changes.
    pub(super) fn widening(&self, start: &Ends) -> f64 {
        let free = self.free.as_ref();
        free.map_or(0.0, |free| -(free.left + (free.row * start)[0]) / free.by_width)
    }
}

impl Free {
    /// The speed: carried on to the end from the nodes, for there it falls evenly with the panel's place.
    fn at_rest(last: &Panel, response: &Response) -> Self {
        let speeds = |change: &Change| at_end(&std::array::from_fn(|i| change[2 * NODES + i]));
        let column = |k: usize| speeds(&response.by_start.column(k).into_owned());
        Self {
            left: at_end(&last.states.map(|state| state.speed)) + speeds(&response.own),
            row: RowVector3::new(column(0), column(1), column(2)),
            by_width: speeds(&response.by_cause),
        }
    }

    /// The load on the surface.
    fn unloaded(model: &Model, last: &Panel, response: &Response, wider: &Wider) -> Self {
        let end = variables(&response.end);
        let here = load(model, &last.bed.last, last.bed.asked, end);
        let there = load(model, &wider.panel.bed.last, last.bed.asked, end);
        let row = RowVector3::from(here.partials);
        Self {
            left: here.value + (row * response.end_own)[0],
            row: row * response.end_by_start,
            by_width: (there.value - here.value) / wider.by + (row * response.end_by_cause)[0],
        }
    }
}

/// How what a line's end asks of the lean there misses more or less as that end changes.
pub(super) fn asked_of(
    lean: Lean,
    model: &Model,
    footing: &Footing,
    end: &Ends,
) -> RowVector3<f64> {
    RowVector3::from(owed(lean, model, footing, variables(end), false).partials)
}

/// What it misses as that end is.
pub(super) fn missed(lean: Lean, model: &Model, footing: &Footing, end: &Ends) -> f64 {
    owed(lean, model, footing, variables(end), false).value
}

fn variables(end: &Ends) -> [Dual<3>; 3] {
    std::array::from_fn(|i| Dual::variable(end[i], i))
}

/// The polynomial through the values at the nodes, at the panel's end.
fn at_end(values: &[f64; NODES]) -> f64 {
    BASIS.coefficients(values).iter().sum()
}

/// What is asked of the lean where a ride ends, as what it misses: no swing across, or the static lean.
fn owed(lean: Lean, model: &Model, footing: &Footing, end: [Dual<3>; 3], stalls: bool) -> Dual<3> {
    let [phi, roll, sum] = end;
    if lean != Lean::Settled {
        return roll;
    }
    let square = model.square(footing, phi, roll, sum);
    let moves = !stalls && square.value > STILL;
    let speed = if moves { square.sqrt() } else { Dual::constant(0.0) };
    phi - model.static_lean(footing, speed)
}

/// The load on the surface where a ride ends.
fn load(model: &Model, footing: &Footing, asked: f64, end: [Dual<3>; 3]) -> Dual<3> {
    let [lean, roll, sum] = end;
    let square = model.square(footing, lean, roll, sum);
    let speed = if square.value > STILL { square.sqrt() } else { Dual::constant(STILL.sqrt()) };
    let terms = model.terms(footing, &State { lean, roll, speed }, asked);
    terms.loads.press * lean.sin_cos().1
}
