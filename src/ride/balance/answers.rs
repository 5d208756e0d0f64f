//! How a leaning ride answers to what goes into it: the theorem of implicit functions on the equations that it solves.
//!
//! The collocation's own matrix, at the solved ride, gives each panel's change by its start. Rolling resistance and drag are in
//! the equations linearly, so that the difference of two is the derivative, exactly. The conditions at both ends bind the
//! changes as they bind the ride.

use super::chain::{Chain, Problem};
use super::edge::asked_of;
use super::footing::Footing;
use super::joint::{Condition, across};
use super::motion::{Model, State};
use super::panel::{Ends, Panel, Response};
use crate::math::dual::{Dual, Number};
use crate::ride::answers::{Cause, ExitAnswer};
use crate::ride::options::Lean;
use crate::ride::panel::{BASIS, NODES};
use nalgebra::{Matrix3, Vector3};

/// How much rolling resistance, and drag per mass (1/m), is added to see what it does: any, for all is linear in them.
const ADDED: f64 = 1e-2;

/// How an entry answers: its lean, and its energy sum but for what the roll rate has in it.
struct EntryAnswer {
    lean: f64,
    sum: f64,
}

/// How the end of a chain answers, and the time on it.
struct EndAnswer {
    end: Ends,
    time: f64,
}

impl Chain {
    /// How a ride that is solved to the line's end answers there to its entry speed, its rolling or its drag; none where its
    /// equations do not say.
    pub(super) fn answer(&self, problem: &Problem, cause: Cause) -> Option<ExitAnswer> {
        let model = problem.model;
        let more = model.with_more(cause);
        let respond = |panel: &Panel| {
            let moved = panel.moved_to((panel, &more), model, ADDED);
            panel.respond(model, Some(&moved))
        };
        let responses: Vec<Response> = self.panels.iter().map(respond).collect::<Option<_>>()?;
        let mut conditions = vec![self.at_edge(problem, cause, responses.last()?)?];
        for k in (0..responses.len()).rev() {
            let next = conditions[conditions.len() - 1];
            let row = if k + 1 < responses.len() {
                next.row * self.across_by(k, &responses[k])
            } else {
                next.row
            };
            conditions.push(Condition { row, ..next }.before(&responses[k]));
        }
        conditions.reverse();
        let entry = EntryAnswer::of(problem, cause);
        let answer = self.follow(&responses, &conditions, &entry, model)?;
        Some(answer.at_exit(model, self.panels.last()?, &self.end(model)))
    }

    /// What is asked of the end, as a condition on the change there.
    fn at_edge(&self, problem: &Problem, cause: Cause, response: &Response) -> Option<Condition> {
        let Problem { model, lean, .. } = problem;
        let footing = &self.panels.last()?.bed.last;
        let row = asked_of(*lean, model, footing, &response.end);
        let mut value = 0.0;
        if *lean == Lean::Settled && cause == Cause::Drag {
            let [phi, roll, sum] = response.end.into();
            let speed = model.square(footing, phi, roll, sum).max(0.0).sqrt();
            value = model.static_lean_by_drag(footing, speed);
        }
        Some(Condition { row, value })
    }

    /// How what follows a panel changes with its end.
    fn across_by(&self, k: usize, response: &Response) -> Matrix3<f64> {
        across(&self.panels[k].bed.last, &self.panels[k + 1].bed.first, &response.end).1
    }

    /// The changes from panel to panel, each start bound by its condition.
    fn follow(
        &self,
        responses: &[Response],
        conditions: &[Condition],
        entry: &EntryAnswer,
        model: &Model,
    ) -> Option<EndAnswer> {
        let bound = conditions.first()?;
        // Only the roll rate is free where the ride begins, and the energy in it.
        let swing = model.com_height * model.com_height * self.panels.first()?.start[1];
        let missing = bound.value - bound.row[0] * entry.lean - bound.row[2] * entry.sum;
        let roll = missing / (bound.row[1] + bound.row[2] * swing);
        let mut start = Ends::new(entry.lean, roll, entry.sum + swing * roll);
        let mut answer = EndAnswer { end: start, time: 0.0 };
        for (k, (panel, response)) in self.panels.iter().zip(responses).enumerate() {
            answer.time += panel.time_by(response, &start);
            answer.end = response.end_by_cause + response.end_by_start * start;
            if k + 1 < responses.len() {
                let next = &conditions[k + 1];
                start = self.across_by(k, response) * answer.end;
                start[1] =
                    (next.value - next.row[0] * start[0] - next.row[2] * start[2]) / next.row[1];
            }
        }
        Some(answer)
    }
}

impl EntryAnswer {
    fn of(problem: &Problem, cause: Cause) -> Self {
        let (model, at) = (problem.model, problem.entry);
        let (lean, speed) = match cause {
            Cause::Drag => (model.static_lean_by_drag(&at.footing, at.speed), 0.0),
            Cause::Speed => {
                let lean = model.static_lean(&at.footing, Dual::<1>::variable(at.speed, 0));
                (lean.partials[0], 1.0)
            }
            Cause::Rolling | Cause::Start | Cause::Brake => (0.0, 0.0),
        };
        let state = State {
            lean: Dual::<2>::variable(at.lean, 0),
            roll: Dual::constant(0.0),
            speed: Dual::variable(at.speed, 1),
        };
        let [by_lean, by_speed] = model.sum(&at.footing, &state).partials;
        Self { lean, sum: by_lean * lean + by_speed * speed }
    }
}

impl EndAnswer {
    /// The same of the rider at the end of the last panel.
    fn at_exit(&self, model: &Model, last: &Panel, ends: &Ends) -> ExitAnswer {
        let footing = &last.bed.last;
        let [phi, roll, sum] = std::array::from_fn(|i| Dual::<3>::variable(ends[i], i));
        let h = model.com_height;
        let along = |dual: &Dual<3>| Vector3::from(dual.partials).dot(&self.end);
        let (sin, cos) = phi.sin_cos();
        let speed = model.square(footing, phi, roll, sum).sqrt();
        let (ahead, across) = (model.lead(footing, phi) * speed, roll * h);
        // The parts along `n` and `l` of up, and of the velocity beside that ahead.
        let beside = |n: Dual<3>, l: Dual<3>| footing.normal * along(&n) + footing.left * along(&l);
        let up = beside(cos, sin);
        ExitAnswer {
            position: up * h,
            up,
            velocity: footing.tangent * along(&ahead) + beside(-(across * sin), across * cos),
            speed: along(&speed),
            time: self.time,
        }
    }
}

impl Model {
    /// The model with more of a cause that its equations are linear in.
    fn with_more(&self, cause: Cause) -> Self {
        let mut model = *self;
        match cause {
            Cause::Rolling => model.equation.crr += ADDED,
            Cause::Drag => model.equation.forces = model.equation.forces.with_more_drag(ADDED),
            Cause::Speed | Cause::Start | Cause::Brake => {}
        }
        model
    }

    /// How the static lean answers to drag at a speed.
    fn static_lean_by_drag(&self, footing: &Footing, speed: f64) -> f64 {
        let (normal, left) = self.static_loads(footing, speed);
        let more = self.with_more(Cause::Drag).static_loads(footing, speed);
        let (by_normal, by_left) = ((more.0 - normal) / ADDED, (more.1 - left) / ADDED);
        (normal * by_left - left * by_normal) / (normal * normal + left * left)
    }
}

impl Panel {
    /// How the time on it answers: `T` is the integral of `ds / v`.
    fn time_by(&self, response: &Response, start: &Ends) -> f64 {
        let change = response.by_cause + response.by_start * start;
        BASIS.whole(&std::array::from_fn(|j| {
            let speed = self.states[j].speed;
            -self.bed.metres[j] * change[2 * NODES + j] / (speed * speed)
        }))
    }
}

impl Condition {
    /// The condition on a panel's start that this one on its end comes to, where the panel answers to a cause.
    fn before(&self, response: &Response) -> Self {
        let row = self.row * response.end_by_start;
        let value = self.value - (self.row * response.end_by_cause)[0];
        Self { row, value }.scaled()
    }
}
