//! A piece of the chain's motion as Taylor series in time.

use super::chain::Chain;
use super::part::{Part, STOP_RETURN, Stop, Strut, Suspension};
use super::state::{Change, Grip, Hold, State, Touch, Way};
use crate::math::polynomial::value;
use crate::rider::ADIABATIC;

/// The number of terms of a series.
const TERMS: usize = 20;
/// The last terms of a piece may grow to this share of what is usual for the chain.
const LAST_TERM: f64 = 1e-15;
/// A usual way, m, for tolerances.
const USUAL_WAY: f64 = 0.1;
/// What has just come down to zero is no more than this share of what is usual.
const ZERO: f64 = 1e-9;

/// Terms from the constant up.
pub(super) type Terms = [f64; TERMS];

/// Everything about one link over a piece, as series in the time since its start.
#[derive(Debug, Clone)]
pub(super) struct LinkSeries {
    pub(super) place: Terms,
    pub(super) speed: Terms,
    /// How far the member is pressed together, and how fast.
    pub(super) compression: Terms,
    pub(super) closing: Terms,
    /// How far a strut's spring is pressed; for a suspension its spring's force over the stiffness at full extension.
    pub(super) pressed: Terms,
    /// The force of spring and damper, without stops.
    pub(super) own: Terms,
    /// The force in all.
    pub(super) force: Terms,
}

/// The chain's motion until one of its members holds in another way.
#[derive(Debug, Clone)]
pub(super) struct Piece {
    pub(super) links: Vec<LinkSeries>,
}

/// A function that is positive as long as a member holds as it does, and what it does then.
pub(super) struct Guard {
    terms: Terms,
    /// How many of the first terms are zero by what has just happened.
    zeros: usize,
    change: Change,
}

impl Piece {
    /// The series from a state on, under this much gravity along the normal.
    pub(super) fn new(chain: &Chain, state: &State, gravity: f64) -> Self {
        let start = LinkSeries {
            place: [0.0; TERMS],
            speed: [0.0; TERMS],
            compression: [0.0; TERMS],
            closing: [0.0; TERMS],
            pressed: [0.0; TERMS],
            own: [0.0; TERMS],
            force: [0.0; TERMS],
        };
        let mut links = vec![start; chain.links.len()];
        for (series, node) in links.iter_mut().zip(&state.nodes) {
            (series.place[0], series.speed[0]) = (node.place, node.speed);
            series.pressed[0] = node.hold.pressed;
        }
        let mut piece = Self { links };
        for n in 0..TERMS {
            piece.forces(chain, state, n);
            if n + 1 < TERMS {
                piece.advance(chain, if n == 0 { gravity } else { 0.0 }, n);
            }
        }
        piece
    }

    /// The members' terms of order `n`, from the masses'.
    fn forces(&mut self, chain: &Chain, state: &State, n: usize) {
        for i in 0..self.links.len() {
            let below = i
                .checked_sub(1)
                .map_or((0.0, 0.0), |j| (self.links[j].place[n], self.links[j].speed[n]));
            let series = &mut self.links[i];
            series.compression[n] = series.place[n] - below.0;
            series.closing[n] = series.speed[n] - below.1;
            let hold = &state.nodes[i].hold;
            match &chain.links[i].part {
                Part::Strut(strut) => series.add_strut(strut, hold, n),
                Part::Suspension(suspension) => series.add_suspension(suspension, hold, n),
            }
        }
    }

    /// The masses' terms of order `n + 1`.
    fn advance(&mut self, chain: &Chain, gravity: f64, n: usize) {
        let next = (n + 1) as f64;
        for i in 0..self.links.len() {
            let above = self.links.get(i + 1).map_or(0.0, |series| series.force[n]);
            let series = &mut self.links[i];
            let pull = gravity + (above - series.force[n]) / chain.links[i].mass;
            series.speed[n + 1] = pull / next;
            series.place[n + 1] = series.speed[n] / next;
        }
    }

    /// How long the series is good for, s, where `speed` is a usual speed of the chain; not a number where it is wild.
    pub(super) fn reach(&self, speed: f64) -> f64 {
        let mut reach = f64::INFINITY;
        for series in &self.links {
            for n in [TERMS - 1, TERMS - 2] {
                let time =
                    |term: f64, usual: f64| (LAST_TERM * usual / term.abs()).powf(1.0 / n as f64);
                // A strut's spring may go back by itself: its own terms count too, over a usual length.
                for limit in [time(series.speed[n], speed), time(series.pressed[n], USUAL_WAY)] {
                    reach = if limit.is_nan() || limit < reach { limit } else { reach };
                }
            }
        }
        reach
    }

    /// The chain at a time since the piece's start.
    pub(super) fn state(&self, before: &State, time: f64) -> State {
        let mut state = before.clone();
        for (node, series) in state.nodes.iter_mut().zip(&self.links) {
            node.place = value(&series.place, time);
            node.speed = value(&series.speed, time);
            let compression = value(&series.compression, time);
            let hold = &mut node.hold;
            hold.pressed = value(&series.pressed, time);
            match hold.grip {
                Grip::Stick => hold.pressed = compression - hold.set,
                Grip::Slip => hold.set = compression - hold.pressed,
                Grip::Open => {}
            }
        }
        state
    }
}

impl LinkSeries {
    fn add_strut(&mut self, strut: &Strut, hold: &Hold, n: usize) {
        let first = |value: f64| if n == 0 { value } else { 0.0 };
        let (k, c) = (strut.stiffness, strut.damping);
        self.own[n] = match hold.grip {
            Grip::Open => 0.0,
            Grip::Stick => {
                self.pressed[n] = self.compression[n] - first(hold.set);
                k * self.pressed[n] + c * self.closing[n]
            }
            Grip::Slip => first(strut.yields_at.unwrap_or(0.0)),
        };
        if hold.grip != Grip::Stick && c > 0.0 && n + 1 < TERMS {
            self.pressed[n + 1] = (self.own[n] - k * self.pressed[n]) / (c * (n + 1) as f64);
        }
        let stop = strut.stop.map_or(0.0, |stop| self.stop(&stop, hold.touch[0], 1.0, n));
        self.force[n] = self.own[n] + stop;
    }

    fn add_suspension(&mut self, part: &Suspension, hold: &Hold, n: usize) {
        let damping = match hold.way {
            Way::In => part.compression,
            Way::Out => part.rebound,
        };
        self.pressed[n] = self.spring_term(part, n);
        self.own[n] = part.spring.rate() * self.pressed[n] + damping * self.closing[n];
        let bump = self.stop(&part.stops[0], hold.touch[0], 1.0, n);
        self.force[n] = self.own[n] + bump - self.stop(&part.stops[1], hold.touch[1], -1.0, n);
    }

    /// The next term of `q = ((1 - u x)^-n - 1) / (n u)`, which obeys `(1 - u x) q' = (1 + n u q) x'`: no term cancels,
    /// and a linear spring has `u` = 0.
    fn spring_term(&self, part: &Suspension, n: usize) -> f64 {
        let (x, q, curl) = (&self.compression, &self.pressed, part.spring.curl());
        if n == 0 {
            return part.spring.force(x[0]) / part.spring.rate();
        }
        let order = n as f64;
        let mut sum = order * x[n];
        for j in 0..n {
            let rate = (n - j) as f64;
            sum += curl
                * rate
                * (ADIABATIC * q[j] * x[n - j] + if j > 0 { x[j] * q[n - j] } else { 0.0 });
        }
        sum / (order * (1.0 - curl * x[0]))
    }

    /// A term of a stop's push; `side` is 1 at full compression and -1 at full extension.
    fn stop(&self, stop: &Stop, touch: Touch, side: f64, n: usize) -> f64 {
        let depth = |m: usize| side * (self.compression[m] - if m == 0 { stop.at } else { 0.0 });
        let inwards = |m: usize| side * self.closing[m];
        stop.stiffness
            * match touch {
                Touch::Clear | Touch::Left => 0.0,
                Touch::Pressed => depth(n),
                Touch::Returning => {
                    let mixed: f64 = (0..=n).map(|m| depth(m) * inwards(n - m)).sum();
                    depth(n) + mixed / STOP_RETURN
                }
            }
    }

    /// What holds a member as it is.
    pub(super) fn guards(&self, part: &Part, hold: &Hold) -> Vec<Guard> {
        let mut guards = Vec::with_capacity(4);
        match part {
            Part::Strut(strut) => {
                self.grip_guards(strut, hold, &mut guards);
                if let Some(stop) = &strut.stop {
                    self.stop_guards(stop, (0, 1.0), hold, &mut guards);
                }
            }
            Part::Suspension(part) => {
                let (sign, way) = match hold.way {
                    Way::In => (1.0, Way::Out),
                    Way::Out => (-1.0, Way::In),
                };
                let terms = self.closing.map(|term| sign * term);
                let zeros = usize::from(hold.way_is_new);
                guards.push(Guard { terms, zeros, change: Change::Way(way) });
                self.stop_guards(&part.stops[0], (0, 1.0), hold, &mut guards);
                self.stop_guards(&part.stops[1], (1, -1.0), hold, &mut guards);
            }
        }
        guards
    }

    fn grip_guards(&self, strut: &Strut, hold: &Hold, guards: &mut Vec<Guard>) {
        let damped = strut.damping > 0.0;
        // A grip may also change by a jump in the force: then nothing starts at zero.
        let mut add = |terms: Terms, (zeros, usual): (usize, f64), grip| {
            let zeros = if terms[0].abs() <= ZERO * usual { zeros } else { 0 };
            guards.push(Guard { terms, zeros, change: Change::Grip(grip) });
        };
        let was = |grip| hold.grip_was == Some(grip);
        match hold.grip {
            Grip::Open => {
                // Its end, less the mass above: positive as long as they are apart.
                let mut gap: Terms = std::array::from_fn(|n| self.pressed[n] - self.compression[n]);
                gap[0] += hold.set;
                let zeros = if was(Grip::Stick) { 1 + usize::from(damped) } else { 0 };
                add(gap, (zeros, self.pressed[0].abs() + hold.set + USUAL_WAY), Grip::Stick);
            }
            Grip::Stick => {
                let force = strut.stiffness * USUAL_WAY;
                add(self.own, (usize::from(was(Grip::Open) && !damped), force), Grip::Open);
                if let Some(force) = strut.yields_at {
                    let mut spare = self.own.map(|term| -term);
                    spare[0] += force;
                    let zeros = if was(Grip::Slip) { 1 + usize::from(!damped) } else { 0 };
                    add(spare, (zeros, force), Grip::Slip);
                }
            }
            Grip::Slip => {
                let own_rate = |n: usize| {
                    if n + 1 < TERMS { self.pressed[n + 1] * (n + 1) as f64 } else { 0.0 }
                };
                let slip: Terms = std::array::from_fn(|n| self.closing[n] - own_rate(n));
                let usual = self.closing[0].abs() + own_rate(0).abs();
                add(slip, (usize::from(damped && was(Grip::Stick)), usual), Grip::Stick);
            }
        }
    }

    fn stop_guards(
        &self,
        stop: &Stop,
        (at, side): (usize, f64),
        hold: &Hold,
        guards: &mut Vec<Guard>,
    ) {
        let mut depth = self.compression.map(|term| side * term);
        depth[0] -= side * stop.at;
        let inwards = self.closing.map(|term| side * term);
        let mut slow = inwards;
        slow[0] += STOP_RETURN;
        let out = |terms: &Terms| terms.map(|term| -term);
        let (touch, was) = (hold.touch[at], hold.touch_was[at]);
        let mut add = |terms, new: bool, to| {
            guards.push(Guard { terms, zeros: usize::from(new), change: Change::Touch(at, to) });
        };
        match touch {
            Touch::Clear => add(out(&depth), was.is_some(), Touch::Pressed),
            Touch::Pressed => add(inwards, was == Some(Touch::Returning), Touch::Returning),
            Touch::Returning => {
                add(out(&inwards), was == Some(Touch::Pressed), Touch::Pressed);
                add(slow, was == Some(Touch::Left), Touch::Left);
                add(depth, false, Touch::Clear);
            }
            Touch::Left => {
                add(out(&slow), was == Some(Touch::Returning), Touch::Returning);
                add(depth, false, Touch::Clear);
            }
        }
    }
}

impl Guard {
    /// When it gives way within a time, if it does: at once where it is negative from the start.
    pub(super) fn gives_way(&self, within: f64) -> Option<(f64, Change)> {
        let leading = self.terms[self.zeros..].iter().take_while(|term| **term == 0.0).count();
        let terms = &self.terms[(self.zeros + leading).min(TERMS)..];
        let first = terms.first()?;
        let time =
            if *first < 0.0 { 0.0 } else { crate::math::bernstein::first_crossing(terms, within)? };
        Some((time, self.change))
    }
}
