//! How a leaning ride answers to what goes into it: the theorem of implicit functions on the equations that it solves.
//!
//! The collocation's own matrix, at the solved ride, gives each panel's change by its start. Rolling resistance and drag are in
//! the equations linearly, so that the difference of two is the derivative, exactly; what moves the line is in them by its
//! footings, taken from lines close by. The conditions at both ends bind the changes as they bind the ride.

use super::chain::{Chain, Problem};
use super::edge::{asked_of, missed};
use super::footing::Footing;
use super::joint::{Condition, across};
use super::motion::{Model, State};
use super::panel::{Bed, Ends, Panel, Response};
use crate::math::dual::{Dual, Number};
use crate::ride::answers::{Cause, ExitAnswer};
use crate::ride::beside::Beside;
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
pub(super) struct EndAnswer {
    pub(super) end: Ends,
    pub(super) time: f64,
}

/// What a chain is asked to answer to.
struct Asked<'a> {
    problem: &'a Problem<'a>,
    cause: Cause,
    /// Each panel's beds on lines close by, with what they count for a derivative, where it is asked what moves the line.
    beds: Vec<Vec<(f64, Bed)>>,
}

impl Chain {
    /// How a ride that is solved to the line's end answers there to its entry speed, its rolling or its drag; none where its
    /// equations do not say.
    pub(super) fn answer(&self, problem: &Problem, cause: Cause) -> Option<ExitAnswer> {
        let answer = self.answer_to(&Asked { problem, cause, beds: Vec::new() })?;
        Some(answer.at_exit(problem.model, self.panels.last()?, &self.end(problem.model)))
    }

    /// How its end answers to what moves the line.
    pub(super) fn moved(&self, problem: &Problem, beside: &Beside) -> Option<EndAnswer> {
        let near = |panel: &Panel| {
            let bed = |line| panel.bed.beside(line, problem.line);
            beside.lines().iter().map(|near| (near.weight, bed(&near.line))).collect()
        };
        let beds = self.panels.iter().map(near).collect();
        self.answer_to(&Asked { problem, cause: Cause::Line, beds })
    }

    fn answer_to(&self, asked: &Asked) -> Option<EndAnswer> {
        let model = asked.problem.model;
        let more = model.with_more(asked.cause);
        let respond = |(k, panel): (usize, &Panel)| {
            let moved = match asked.beds.get(k) {
                Some(beds) => panel.moved_by(beds, model),
                None => panel.moved_to((panel, &more), model, ADDED),
            };
            panel.respond(model, Some(&moved))
        };
        let responses = self.panels.iter().enumerate().map(respond);
        let responses: Vec<Response> = responses.collect::<Option<_>>()?;
        let mut conditions = vec![self.at_edge(asked, responses.last()?)?];
        for k in (0..responses.len()).rev() {
            let mut next = conditions[conditions.len() - 1];
            if k + 1 < responses.len() {
                next.value -= (next.row * asked.jump(k, &responses[k]))[0];
                next.row *= self.across_by(k, &responses[k]);
            }
            conditions.push(next.before(&responses[k]));
        }
        conditions.reverse();
        let entry = EntryAnswer::of(asked);
        self.follow(&responses, &conditions, &entry, asked)
    }

    /// What is asked of the end, as a condition on the change there.
    fn at_edge(&self, asked: &Asked, response: &Response) -> Option<Condition> {
        let Problem { model, lean, .. } = asked.problem;
        let footing = &self.panels.last()?.bed.last;
        let row = asked_of(*lean, model, footing, &response.end);
        let mut value = 0.0;
        if *lean == Lean::Settled && asked.cause == Cause::Drag {
            let [phi, roll, sum] = response.end.into();
            let speed = model.square(footing, phi, roll, sum).max(0.0).sqrt();
            value = model.static_lean_by_drag(footing, speed);
        }
        for (weight, bed) in asked.beds.last().into_iter().flatten() {
            value -= weight * missed(*lean, model, &bed.last, &response.end);
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
        asked: &Asked,
    ) -> Option<EndAnswer> {
        let (bound, model) = (conditions.first()?, asked.problem.model);
        // Only the roll rate is free where the ride begins, and the energy in it.
        let swing = model.com_height * model.com_height * self.panels.first()?.start[1];
        let missing = bound.value - bound.row[0] * entry.lean - bound.row[2] * entry.sum;
        let roll = missing / (bound.row[1] + bound.row[2] * swing);
        let mut start = Ends::new(entry.lean, roll, entry.sum + swing * roll);
        let mut answer = EndAnswer { end: start, time: 0.0 };
        for (k, (panel, response)) in self.panels.iter().zip(responses).enumerate() {
            answer.time += panel.time_by(response, &start);
            for (weight, bed) in asked.beds.get(k).into_iter().flatten() {
                answer.time += weight * panel.time_on(bed);
            }
            answer.end = response.end_by_cause + response.end_by_start * start;
            if k + 1 < responses.len() {
                let next = &conditions[k + 1];
                start = self.across_by(k, response) * answer.end + asked.jump(k, response);
                start[1] =
                    (next.value - next.row[0] * start[0] - next.row[2] * start[2]) / next.row[1];
            }
        }
        Some(answer)
    }
}

impl Asked<'_> {
    /// How what follows a panel changes with what moves the line, its end staying the same.
    fn jump(&self, k: usize, response: &Response) -> Ends {
        let (Some(here), Some(next)) = (self.beds.get(k), self.beds.get(k + 1)) else {
            return Ends::zeros();
        };
        let ends = here.iter().zip(next).map(|((weight, from), (_, to))| {
            across(&from.last, &to.first, &response.end).0 * *weight
        });
        ends.sum()
    }
}

impl EntryAnswer {
    fn of(asked: &Asked) -> Self {
        let (model, at) = (asked.problem.model, asked.problem.entry);
        let mut moved = Self { lean: 0.0, sum: 0.0 };
        for (weight, bed) in asked.beds.first().into_iter().flatten() {
            let lean = model.static_lean(&bed.first, at.speed);
            moved.lean += weight * lean;
            moved.sum +=
                weight * model.sum(&bed.first, &State { lean, roll: 0.0, speed: at.speed });
        }
        let (lean, speed) = match asked.cause {
            Cause::Line => return moved,
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
            Cause::Speed | Cause::Start | Cause::Brake | Cause::Line => {}
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
    /// The time on a bed with its speeds.
    fn time_on(&self, bed: &Bed) -> f64 {
        BASIS.whole(&std::array::from_fn(|j| bed.metres[j] / self.states[j].speed))
    }

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
