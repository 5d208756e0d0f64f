//! The march through time: phase by phase, restarted at each event.

use super::error::TwoWheelError;
use super::motion::{COORDINATES, State};
use super::phase::{Phase, Setting};
use crate::math::ode::{self, OdeError, Options};
use std::convert::Infallible;

/// The phase is looked for over so long a stretch at a time, s: about as long as a phase lasts.
const STRETCH: f64 = 0.02;
/// The longest step, s: what a fast wheel needs to pass a tenth of a metre.
const LONGEST_STEP: f64 = 0.005;
/// The phase is looked at in so many places within a step.
const LOOKS: usize = 2;
/// How closely the time of an event is found, s.
const SHARPNESS: f64 = 1e-13;
/// More events than this are no ride, but chatter.
const MOST_EVENTS: usize = 200_000;

/// A state on the way, with its rates.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) struct Node {
    pub(super) time: f64,
    pub(super) y: State,
    pub(super) rates: State,
}

/// A change of phase.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) struct Change {
    pub(super) node: Node,
    pub(super) before: Phase,
    pub(super) after: Phase,
}

/// A whole ride as it was computed.
#[derive(Debug, Clone, PartialEq)]
pub(super) struct March {
    /// Every step's end in order; events are among them.
    pub(super) nodes: Vec<Node>,
    /// Every change of phase in order.
    pub(super) changes: Vec<Change>,
    /// The phase at the start.
    pub(super) first: Phase,
    /// The phase at the end; it has a stop unless time ran out.
    pub(super) last: Phase,
}

/// The ride from a state at time zero until something stops it or its time is up.
///
/// Dormand and Prince 5(4) within a phase. The phase is looked at within every step on the interpolant of the fifth
/// degree through both ends' places, rates and accelerations; where it changes, the moment is found by bisection,
/// the step is taken again to just there, and the integration restarts.
pub(super) fn march(setting: &Setting, start: State) -> Result<March, TwoWheelError> {
    let first = Phase::of(setting, &start, None);
    let mut march = March {
        nodes: vec![node(setting, &first, 0.0, start)],
        changes: Vec::new(),
        first,
        last: first,
    };
    let mut step = None;
    while march.last.stop.is_none() {
        let Some(&from) = march.nodes.last() else { break };
        let span = STRETCH.min(setting.options.longest - from.time);
        if span <= SHARPNESS {
            break;
        }
        let taken = steps(setting, &march.last, &from, span, step)?;
        step = taken.get(1).map(|second| second.time - from.time);
        let found = taken
            .windows(2)
            .enumerate()
            .find_map(|(i, pair)| Some((i, change(setting, &march.last, &pair[0], &pair[1])?)));
        match found {
            None => march.nodes.extend(taken.iter().skip(1)),
            Some((i, (time, after))) => {
                march.nodes.extend(taken[..=i].iter().skip(1));
                march.turn(setting, &taken[i], time, after)?;
            }
        }
        if march.changes.len() > MOST_EVENTS {
            let why = format!("with more than {MOST_EVENTS} events");
            return Err(TwoWheelError::Unresolved { time: from.time, why });
        }
    }
    Ok(march)
}

impl March {
    /// Goes from a step's start to the event within it, and over into the phase after.
    fn turn(
        &mut self,
        setting: &Setting,
        from: &Node,
        time: f64,
        after: Phase,
    ) -> Result<(), TwoWheelError> {
        let span = time - from.time;
        let y = if span > SHARPNESS {
            let taken = steps(setting, &self.last, from, span, Some(span))?;
            self.nodes.extend(taken.iter().skip(1));
            taken.last().map_or(from.y, |node| node.y)
        } else {
            from.y + from.rates * span
        };
        let event = node(setting, &after, time, y);
        // A brake makes the rates jump: the moment stands twice, before and after.
        self.nodes.push(event);
        self.changes.push(Change { node: event, before: self.last, after });
        self.last = after;
        Ok(())
    }
}

fn node(setting: &Setting, phase: &Phase, time: f64, y: State) -> Node {
    let brake = setting.brake(phase.is_braking);
    Node { time, y, rates: setting.bike.moment(&y, setting.terrain, brake).rates }
}

/// The steps over a span of time within one phase, the start first.
fn steps(
    setting: &Setting,
    phase: &Phase,
    from: &Node,
    span: f64,
    first_step: Option<f64>,
) -> Result<Vec<Node>, TwoWheelError> {
    let brake = setting.brake(phase.is_braking);
    let rhs = |_: f64, y: &State| {
        Ok::<_, Infallible>(setting.bike.moment(y, setting.terrain, brake).rates)
    };
    let tolerance = setting.options.tolerance;
    let mut options = Options::new(tolerance, tolerance).with_max_step(LONGEST_STEP);
    options.first_step = first_step.filter(|step| *step > 0.0);
    // Time counts from the start of the span: the equations do not know it, and short spans stay resolved.
    let taken = ode::integrate(rhs, 0.0, from.y, span, &options).map_err(|error| {
        let (time, why) = match error {
            OdeError::NonFinite { x } => (from.time + x, "numbers grow beyond all bounds".into()),
            other => (from.time, other.to_string()),
        };
        TwoWheelError::Unresolved { time, why }
    })?;
    let each = taken.x.iter().zip(&taken.y).zip(&taken.dy);
    Ok(each.map(|((x, y), dy)| Node { time: from.time + x, y: *y, rates: *dy }).collect())
}

/// When the phase first changes within a step, and into which; none where it does not.
fn change(setting: &Setting, phase: &Phase, a: &Node, b: &Node) -> Option<(f64, Phase)> {
    let at = |time: f64| Phase::of(setting, &between(a, b, time), Some(phase));
    let mut before = a.time;
    for look in 1..=LOOKS {
        let mut time = a.time + (b.time - a.time) * look as f64 / LOOKS as f64;
        let mut after = at(time);
        if after == *phase {
            before = time;
            continue;
        }
        while time - before > SHARPNESS {
            let middle = 0.5 * (before + time);
            if middle <= before || middle >= time {
                break;
            }
            let there = at(middle);
            if there == *phase {
                before = middle;
            } else {
                (time, after) = (middle, there);
            }
        }
        return Some((time, after));
    }
    None
}

/// The state between two nodes: of the fifth degree in place, from both ends' places, rates and accelerations; its
/// rate; and of the third degree in what was taken.
pub(super) fn between(a: &Node, b: &Node, time: f64) -> State {
    let h = b.time - a.time;
    if h <= 0.0 {
        return b.y;
    }
    let x = (time - a.time) / h;
    let mut y = a.y;
    for i in 0..COORDINATES {
        let j = COORDINATES + i;
        let rise = b.y[i] - a.y[i] - (a.y[j] + 0.5 * h * a.rates[j]) * h;
        let rate = (b.y[j] - a.y[j] - a.rates[j] * h) * h;
        let bend = (b.rates[j] - a.rates[j]) * h * h;
        let c3 = 10.0 * rise - 4.0 * rate + 0.5 * bend;
        let c4 = -15.0 * rise + 7.0 * rate - bend;
        let c5 = 6.0 * rise - 3.0 * rate + 0.5 * bend;
        let (v, w) = (a.y[j] * h, 0.5 * a.rates[j] * h * h);
        y[i] = a.y[i] + x * (v + x * (w + x * (c3 + x * (c4 + x * c5))));
        y[j] = (v + x * (2.0 * w + x * (3.0 * c3 + x * (4.0 * c4 + x * 5.0 * c5)))) / h;
    }
    for i in 2 * COORDINATES..y.len() {
        let rise = b.y[i] - a.y[i];
        let (p, q) = (a.rates[i] * h - rise, rise - b.rates[i] * h);
        y[i] = a.y[i] + rise * x + x * (1.0 - x) * (p * (1.0 - x) + q * x);
    }
    y
}
