//! How a ride square to the surface answers to what goes into it.
//!
//! With `y = d(E + g c_z) / d(cause)`, `dy/ds = (d gain / dE) y + d gain / d(cause)`: the energy equation made linear along the
//! ride, solved on each of its panels by the collocation that solved the panel. The derivatives of the gain are automatic (dual
//! numbers). The gain has kinks, where grip begins to limit the brake, but no jumps, so `y` has none either.

use super::balance;
use super::beside::{Beside, ExitAnswers, Moved, Near};
use super::course::Course;
use super::equation::{Equation, Given};
use super::error::RideError;
use super::events::Setting;
use super::march::State;
use super::options::{Lean, RideOptions};
use super::panel::{BASIS, NODES, Panel};
use super::result::{Exit, Ride};
use super::station::{Body, Station};
use crate::air::Air;
use crate::geometry::Line;
use crate::math::Vec3;
use crate::math::dual::Dual;
use crate::math::elimination::solve;
use crate::math::legendre;
use crate::rider::Rider;
use nalgebra::{Vector1, Vector4};

/// What a ride answers to.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(crate) enum Cause {
    /// The tyres' speed at the start.
    Speed,
    /// The start's place, in the line's parameter, the energy there staying the same.
    Start,
    /// The coefficient of rolling resistance.
    Rolling,
    /// Drag per mass over the square of the air speed.
    Drag,
    /// The deceleration braked for, everywhere where one is.
    Brake,
    /// What moves the line: lines close by say how.
    Line,
}

/// The number of causes.
const CAUSES: usize = 6;

/// The derivatives of a number by each cause, in the order of [`Cause`].
#[derive(Debug, Clone, Copy, PartialEq, Default)]
pub(crate) struct Row([f64; CAUSES]);

/// How the end of a ride answers, and how time and speed do on the way.
#[derive(Debug, Clone, PartialEq, Default)]
pub(crate) struct Answers {
    /// Of the kinetic energy per mass at the line's end.
    pub(crate) energy: Row,
    /// Of the time ridden; nothing where no time was kept.
    pub(crate) time: Row,
    /// At the stations asked for; nothing where the ride begins at or beyond them, or where no time was kept.
    pub(crate) seen: Vec<Passing>,
}

/// How a ride passes a place of its line.
#[derive(Debug, Clone, Copy, PartialEq, Default)]
pub(crate) struct Passing {
    /// Seconds since the start, and how they answer.
    pub(crate) time: f64,
    pub(crate) time_by: Row,
    /// The tyres' speed, m/s, and how it answers.
    pub(crate) speed: f64,
    pub(crate) speed_by: Row,
}

/// How the rider at a line's end answers to one cause: centre of mass, its velocity, up through the bike, the tyres' speed, the
/// time ridden (nothing where none was kept).
#[derive(Debug, Clone, Copy, PartialEq)]
pub(crate) struct ExitAnswer {
    pub(crate) position: Vec3,
    pub(crate) velocity: Vec3,
    pub(crate) up: Vec3,
    pub(crate) speed: f64,
    pub(crate) time: f64,
}

impl Row {
    /// The derivative by one cause.
    pub(crate) fn by(&self, cause: Cause) -> f64 {
        self.0[cause as usize]
    }

    /// The derivatives of a number that grows by so much with this one.
    pub(crate) fn times(&self, factor: f64) -> Self {
        Self(self.0.map(|value| value * factor))
    }
}

impl Line {
    /// The ride along this line, square to the surface whatever the lean of the options, and how it answers: at its end, and
    /// at stations if samples are asked for. Derivatives are good to about 1e-9 of themselves. A brake to a wanted speed counts
    /// as the deceleration that it comes to.
    pub(crate) fn answers(
        &self,
        rider: &Rider,
        air: &Air,
        options: &RideOptions,
        stations: &[f64],
    ) -> Result<(Ride, Answers), RideError> {
        options.check()?;
        let (body, equation) = (Body::new(rider), Equation::new(rider, air, options));
        let course = Course::new(Setting { line: self, body, equation }, &options.brake);
        let gates = stations.iter().map(|station| self.parameter(*station)).collect();
        course.answers(options, Answering::new(gates, options.sample.is_some()))
    }

    /// The ride along this line, and how the rider at its end answers to causes among entry speed, rolling and drag, and to what
    /// moves the line; nothing where the ride does not come there. Leaning rides by the theorem of implicit functions.
    pub(crate) fn exit_answers(
        &self,
        rider: &Rider,
        air: &Air,
        options: &RideOptions,
        causes: &[Cause],
        beside: &Beside,
    ) -> Result<(Ride, ExitAnswers), RideError> {
        options.check()?;
        let (body, equation) = (Body::new(rider), Equation::new(rider, air, options));
        if options.lean != Lean::Deck && rider.com_height() > 0.0 {
            return balance::answers(self, body, equation, options, (causes, beside));
        }
        let setting = Setting { line: self, body, equation };
        let answering = Answering {
            beside: Some(beside.clone()),
            ..Answering::new(Vec::new(), options.sample.is_some())
        };
        let (ride, answers) = Course::new(setting, &options.brake).answers(options, answering)?;
        let told = ride.exit.as_ref().map(|exit| ExitAnswers {
            by_cause: causes.iter().map(|cause| answers.at_exit(exit, *cause)).collect(),
            moved: Some(answers.moved(exit, &setting, beside)),
        });
        Ok((ride, told.unwrap_or_default()))
    }
}

/// Answers on the way, panel by panel.
#[derive(Debug, Clone)]
pub(super) struct Answering {
    /// Where time and speed are looked at, in the line's parameter.
    gates: Vec<f64>,
    is_timed: bool,
    has_begun: bool,
    /// Lines close by, where it is asked how the ride answers to what moves its line.
    beside: Option<Beside>,
    /// Seconds since the start.
    elapsed: f64,
    answers: Answers,
}

/// The linear equation solved on one panel.
struct Linear<'a> {
    panel: &'a Panel<'a>,
    gravity: f64,
    start: Row,
    /// At the nodes, for each cause.
    rows: [Row; NODES],
    /// Legendre coefficients of what they gain a unit of `x`, cause by cause.
    gains: [[f64; NODES]; CAUSES],
    shifts: Option<[Shift; NODES]>,
}

/// How what the line says at one place changes with what moves it, the kinetic energy there staying the same: what is gained a
/// unit of `x`, the height of the centre of mass, metres a unit of `x`, inertia.
type Shift = Vector4<f64>;

impl Answering {
    fn new(gates: Vec<f64>, is_timed: bool) -> Self {
        let answers = Answers { seen: vec![Passing::default(); gates.len()], ..Answers::default() };
        Self { gates, is_timed, has_begun: false, beside: None, elapsed: 0.0, answers }
    }

    pub(super) fn done(self) -> Answers {
        self.answers
    }

    /// Takes in one more panel.
    pub(super) fn take(&mut self, setting: &Setting, panel: &Panel, asked: f64) {
        let begins = !std::mem::replace(&mut self.has_begun, true);
        if begins {
            self.answers.energy = at_start(setting, panel, asked, self.beside.as_ref());
        }
        let shifts = self.beside.as_ref().map(|beside| shifts(setting, panel, asked, beside));
        let start = self.answers.energy;
        let Some(linear) = Linear::solve(setting, panel, asked, (start, shifts)) else {
            return;
        };
        if self.is_timed {
            self.time(setting, &linear, begins);
        }
        self.answers.energy = linear.at(1.0);
    }

    /// Takes in the time, and what is seen on the way.
    fn time(&mut self, setting: &Setting, linear: &Linear, begins: bool) {
        let span = linear.panel.bed.span;
        let end = span.parameter(1.0) + GATE_MET;
        let lasts = BASIS.coefficients(&linear.lasts());
        let rates = linear.seconds(begins);
        for (gate, seen) in self.gates.iter().zip(&mut self.answers.seen) {
            // The panel that ends there is asked, not one that begins there.
            if *gate <= span.from || *gate > end || seen.time > 0.0 {
                continue;
            }
            let x = span.place(*gate);
            let integral = |c: usize| self.answers.time.0[c] + legendre::integral(&rates[c], x);
            let mut time_by: [f64; CAUSES] = std::array::from_fn(integral);
            if begins {
                // The time of the place that was here before the panel's places moved with the start.
                let (share, rate) = span.pace.place(x);
                time_by[Cause::Start as usize] -=
                    legendre::value(&lasts, x) * (1.0 - share) / (span.width * rate);
            }
            let time = self.elapsed + legendre::integral(&lasts, x);
            let (speed, speed_by) = linear.speed(setting, x);
            *seen = Passing { time, time_by: Row(time_by), speed, speed_by };
        }
        self.elapsed += legendre::integral(&lasts, 1.0);
        for (time, rates) in self.answers.time.0.iter_mut().zip(&rates) {
            *time += legendre::integral(rates, 1.0);
        }
    }
}

/// A gate so near beyond a panel's end is at it, in the line's parameter.
const GATE_MET: f64 = 1e-10;

/// How the sum of energies answers where the first panel begins: who starts farther on has not gained what he would have.
fn at_start(setting: &Setting, panel: &Panel, asked: f64, beside: Option<&Beside>) -> Row {
    let (span, equation) = (panel.bed.span, &setting.equation);
    let (frame, stretch) = setting.line.at(span.piece, span.from);
    let station = Station::new(&frame, &setting.body);
    let energy = panel.start - equation.g() * station.centre.z;
    let gain = equation.loads(&station, energy, asked).gain();
    let by_speed = station.inertia * station.speed(energy);
    let square = 2.0 * energy / station.inertia;
    let sum = |line: &Line| {
        let (frame, _) = line.beside(setting.line, span.piece, span.from);
        let station = Station::new(&frame, &setting.body);
        Vector1::new(0.5 * station.inertia * square + equation.g() * station.centre.z)
    };
    let by_line = beside.map_or(0.0, |beside| beside.slope(sum).x);
    Row([by_speed, (equation.g() * station.dc.z - gain) * stretch, 0.0, 0.0, 0.0, by_line])
}

/// What moves the line, at the nodes of a panel.
fn shifts(setting: &Setting, panel: &Panel, asked: f64, beside: &Beside) -> [Shift; NODES] {
    let (span, equation) = (panel.bed.span, &setting.equation);
    std::array::from_fn(|i| {
        let (share, rate) = span.pace.place(BASIS.rule.nodes[i]);
        beside.slope(|line| {
            let parameter = span.from + span.width * share;
            let (frame, stretch) = line.beside(setting.line, span.piece, parameter);
            let station = Station::new(&frame, &setting.body);
            let metres = stretch * span.width * rate;
            let gain = equation.loads(&station, panel.energies[i], asked).gain();
            Shift::new(gain * metres, station.centre.z, metres, station.inertia)
        })
    })
}

impl<'a> Linear<'a> {
    /// None where the equation is singular: on a panel that should have been shorter.
    fn solve(
        setting: &Setting,
        panel: &'a Panel<'a>,
        asked: f64,
        (start, shifts): (Row, Option<[Shift; NODES]>),
    ) -> Option<Self> {
        let (mut rates, gravity) = (rates(setting, panel, asked), setting.equation.g());
        for ((by_energy, by_cause), shift) in rates.iter_mut().zip(shifts.iter().flatten()) {
            // Where the centre of mass is raised, less of the sum of energies is kinetic.
            by_cause[Cause::Line as usize] = shift[0] - *by_energy * gravity * shift[1];
        }
        let mut rows = [[0.0; NODES + CAUSES]; NODES];
        for (i, row) in rows.iter_mut().enumerate() {
            row[i] = 1.0;
            row[NODES..].copy_from_slice(&start.0);
        }
        for (j, (by_energy, by_cause)) in rates.iter().enumerate() {
            for (row, share) in rows.iter_mut().zip(BASIS.integrals_by(j)) {
                row[j] -= share * by_energy;
                for (value, rate) in row[NODES..].iter_mut().zip(by_cause) {
                    *value += share * rate;
                }
            }
        }
        solve(&mut rows).then_some(())?;
        let rows: [Row; NODES] =
            std::array::from_fn(|i| Row(std::array::from_fn(|c| rows[i][NODES + c])));
        let gains = std::array::from_fn(|c| {
            BASIS.coefficients(&std::array::from_fn(|j| rates[j].0 * rows[j].0[c] + rates[j].1[c]))
        });
        Some(Self { panel, gravity, start, rows, gains, shifts })
    }

    /// The sum of energies' answers at `x`.
    fn at(&self, x: f64) -> Row {
        let along = |c: usize| self.start.0[c] + legendre::integral(&self.gains[c], x);
        Row(std::array::from_fn(along))
    }

    /// The speed at `x`, and how it answers.
    fn speed(&self, setting: &Setting, x: f64) -> (f64, Row) {
        let span = self.panel.bed.span;
        let (frame, _) = setting.line.at(span.piece, span.parameter(x));
        let station = Station::new(&frame, &setting.body);
        let speed = station.speed(self.panel.sum(x) - self.gravity * station.centre.z);
        let rate = if speed > 0.0 { 1.0 / (station.inertia * speed) } else { 0.0 };
        (speed, self.at(x).times(rate))
    }

    /// What the time gains a unit of `x`, cause by cause, as Legendre coefficients: `-y / 2 E` of what it lasts.
    ///
    /// Where the ride begins, a start that moves takes the panel's places with it, its end apart: at rest, times of fixed
    /// places would have no derivative there.
    fn seconds(&self, begins: bool) -> [[f64; NODES]; CAUSES] {
        let lasts = self.lasts();
        let energies = &self.panel.energies;
        let mut rates: [[f64; NODES]; CAUSES] = std::array::from_fn(|c| {
            std::array::from_fn(|i| -0.5 * lasts[i] * self.rows[i].0[c] / energies[i])
        });
        if begins {
            rates[Cause::Start as usize] = self.seconds_of_start(&lasts);
        }
        if let Some(shifts) = &self.shifts {
            let Panel { bed, energies, .. } = self.panel;
            rates[Cause::Line as usize] = std::array::from_fn(|i| {
                let [_, height, metres, inertia] = shifts[i].into();
                let energy = self.rows[i].0[Cause::Line as usize] - self.gravity * height;
                let slower = inertia / bed.stations[i].inertia - energy / energies[i];
                lasts[i] * (metres / bed.metres[i] + 0.5 * slower)
            });
        }
        rates.map(|rates| BASIS.coefficients(&rates))
    }

    /// Seconds a unit of `x`, at the nodes.
    fn lasts(&self) -> [f64; NODES] {
        let speeds = self.panel.speeds();
        std::array::from_fn(|i| self.panel.bed.metres[i] / speeds[i])
    }

    fn seconds_of_start(&self, lasts: &[f64; NODES]) -> [f64; NODES] {
        let Panel { bed, loads, energies, .. } = self.panel;
        let span = bed.span;
        let shares = BASIS.rule.nodes.map(|x| span.pace.place(x));
        // Metres of line a unit of the parameter, and how that changes with it.
        let stretches: [f64; NODES] =
            std::array::from_fn(|i| bed.metres[i] / (span.width * shares[i].1));
        let slopes = BASIS.coefficients(&stretches);
        std::array::from_fn(|i| {
            let (station, (share, rate)) = (&bed.stations[i], shares[i]);
            let moves = 1.0 - share;
            let gain = (loads[i].gain() - self.gravity * station.dc.z) * stretches[i];
            let energy = self.rows[i].0[Cause::Start as usize] + gain * moves;
            let stretch =
                legendre::slope(&slopes, BASIS.rule.nodes[i]) / (span.width * rate * stretches[i]);
            let inertia = station.dinertia * stretches[i] / station.inertia;
            let slower = 0.5 * (inertia * moves - energy / energies[i]);
            lasts[i] * (slower + stretch * moves - 1.0 / span.width)
        })
    }
}

/// How what the sum of energies gains a unit of `x` changes with it, and with each cause, at the nodes.
fn rates(setting: &Setting, panel: &Panel, asked: f64) -> [(f64, [f64; CAUSES]); NODES] {
    let equation = &setting.equation;
    std::array::from_fn(|i| {
        let given = Given {
            energy: Dual::<4>::variable(panel.energies[i], 0),
            crr: Dual::variable(equation.crr, 1),
            k: Dual::variable(equation.forces.k(), 2),
            asked: Dual::variable(asked, 3),
        };
        let gain = equation.loads_of(&panel.bed.stations[i], &given).gain();
        let [energy, crr, k, asked] = gain.partials.map(|partial| partial * panel.bed.metres[i]);
        (energy, [0.0, 0.0, crr, k, asked, 0.0])
    })
}

impl Answers {
    /// Of the rider at the end: the line stays, so all that changes is the speed, and `E` goes with its square.
    fn at_exit(&self, exit: &Exit, cause: Cause) -> ExitAnswer {
        let speed = self.energy.by(cause) * exit.speed / (2.0 * exit.energy);
        let velocity = exit.velocity() * (speed / exit.speed);
        let still = Vec3::zeros();
        ExitAnswer { position: still, velocity, up: still, speed, time: self.time.by(cause) }
    }

    /// How the rider at the end answers to what moves the line: at the ends of lines close by, to first order.
    fn moved(&self, exit: &Exit, setting: &Setting, beside: &Beside) -> Moved {
        let sum = exit.energy + exit.gravity * exit.centre.z;
        let at_end = |near: &Near| {
            let last = near.line.sections().last()?;
            let (piece, parameter) = (last.piece, last.to);
            let sum = sum + near.by * self.energy.by(Cause::Line);
            let state = State { sum, at_rest: false, piece, parameter };
            let setting = Setting { line: &near.line, ..*setting };
            Some((near.weight, setting.exit(state, exit.frame.station)))
        };
        let exits = beside.lines().iter().filter_map(at_end).collect();
        Moved { exits, time: self.time.by(Cause::Line) }
    }

    /// Of the speed with which a ride goes on to the start of `next`, m/s, where it comes to `speed`.
    pub(crate) fn carried(&self, next: &Line, rider: &Rider, speed: f64) -> Row {
        self.energy.times(1.0 / (super::carry::start_of(next, rider).inertia * speed))
    }
}

#[cfg(test)]
mod tests;
