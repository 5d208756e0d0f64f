//! One panel of a ride: the energy equation over a smooth bit of line, by collocation at Gauss nodes.

use super::equation::{Equation, Loads};
use super::station::{Body, Station};
use crate::geometry::Line;
use crate::math::legendre::{self, Basis};
use std::sync::LazyLock;

pub(super) const NODES: usize = 12;
pub(super) static BASIS: LazyLock<Basis<NODES>> = LazyLock::new(Basis::new);

/// What the highest coefficients may come to. What they say is missed between the nodes is a fraction of it, and
/// sums over the whole panel are of twice the order: good to rounding.
///
/// Of the energy, relative to it.
pub(super) const ENERGY_TOLERANCE: f64 = 1e-10;
/// Of arc length, relative to the panel's own.
pub(super) const LENGTH_TOLERANCE: f64 = 1e-10;
/// Of time, relative to the panel's own: near rest, speeds are what rounding leaves of energies.
pub(super) const TIME_TOLERANCE: f64 = 1e-9;
/// Of loads, where outcomes are looked for, m/s².
pub(super) const LOAD_TOLERANCE: f64 = 1e-6;
/// What rounding leaves of heights, a few units of the last place of sums of energies.
const ROUNDING: f64 = 4.0 * f64::EPSILON;
/// Fixed-point sweeps: each gains about two digits on a metre of line.
const MOST_SWEEPS: usize = 25;

/// How a panel's place runs from 0 to 1: what begins or ends at rest has square roots that this takes out.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum Pace {
    Even,
    FromRest,
    ToRest,
}

impl Pace {
    /// The place, as a share of the panel's width, and its derivative.
    pub(super) fn place(self, x: f64) -> (f64, f64) {
        match self {
            Self::Even => (x, 1.0),
            Self::FromRest => (x * x, 2.0 * x),
            Self::ToRest => (x * (2.0 - x), 2.0 * (1.0 - x)),
        }
    }

    /// How a kinetic energy that begins or ends at zero vanishes there.
    pub(super) fn vanishing(self, x: f64) -> f64 {
        match self {
            Self::Even => 1.0,
            Self::FromRest => x * x,
            Self::ToRest => (1.0 - x) * (1.0 - x),
        }
    }
}

/// Where a panel lies.
#[derive(Debug, Clone, Copy)]
pub(super) struct Span {
    pub(super) piece: usize,
    pub(super) from: f64,
    pub(super) width: f64,
    pub(super) pace: Pace,
}

impl Span {
    pub(super) fn parameter(&self, x: f64) -> f64 {
        self.from + self.width * self.pace.place(x).0
    }

    /// The place from 0 to 1 at a parameter; the nearer end beyond the span.
    pub(super) fn place(&self, parameter: f64) -> f64 {
        let share = ((parameter - self.from) / self.width).clamp(0.0, 1.0);
        match self.pace {
            Pace::Even => share,
            Pace::FromRest => share.sqrt(),
            Pace::ToRest => 1.0 - (1.0 - share).sqrt(),
        }
    }

    /// The two spans before and after the place in the middle.
    pub(super) fn halves(&self) -> [Self; 2] {
        let middle = self.parameter(0.5);
        let (first, second) = match self.pace {
            Pace::Even => (Pace::Even, Pace::Even),
            Pace::FromRest => (Pace::FromRest, Pace::Even),
            Pace::ToRest => (Pace::Even, Pace::ToRest),
        };
        [
            Self { width: middle - self.from, pace: first, ..*self },
            Self { from: middle, width: self.from + self.width - middle, pace: second, ..*self },
        ]
    }
}

/// The line under a panel, looked up once.
pub(super) struct Bed {
    pub(super) span: Span,
    pub(super) stations: [Station; NODES],
    /// Metres of line a unit of `x`, at the nodes.
    pub(super) metres: [f64; NODES],
    pub(super) length: f64,
}

impl Bed {
    pub(super) fn new(line: &Line, body: &Body, span: Span) -> Self {
        let looked_up = BASIS.rule.nodes.map(|x| {
            let (share, rate) = span.pace.place(x);
            let (frame, stretch) = line.at(span.piece, span.from + span.width * share);
            (Station::new(&frame, body), stretch * span.width * rate)
        });
        let metres = looked_up.map(|(_, metres)| metres);
        let length = BASIS.whole(&metres);
        Self { span, stations: looked_up.map(|(station, _)| station), metres, length }
    }

    /// How much too rough the line is for this panel: at most one where it is resolved.
    pub(super) fn roughness(&self) -> f64 {
        BASIS.tail(&self.metres) / (LENGTH_TOLERANCE * self.length)
    }
}

/// A panel with the energies that solve the equation on it.
pub(super) struct Panel<'a> {
    pub(super) bed: &'a Bed,
    /// `E + g c_z` at the panel's start.
    pub(super) start: f64,
    /// Kinetic energies at the nodes.
    pub(super) energies: [f64; NODES],
    /// Loads at the nodes.
    pub(super) loads: [Loads; NODES],
    /// Legendre coefficients of what `E + g c_z` gains a unit of `x`.
    gains: [f64; NODES],
    /// `E + g c_z` at the panel's end.
    pub(super) end: f64,
}

impl<'a> Panel<'a> {
    /// The panel over `bed` from `start`, the sum of kinetic and potential energy; none where it does not converge.
    pub(super) fn solve(bed: &'a Bed, equation: &Equation, start: f64, asked: f64) -> Option<Self> {
        let heights = bed.stations.each_ref().map(|station| equation.g() * station.centre.z);
        let mut energies = heights.map(|height| start - height);
        let mut loads = [Loads::default(); NODES];
        let mut gains = [0.0; NODES];
        let scale = energies.iter().fold(1e-3, |most: f64, e| most.max(e.abs()));
        let mut change = f64::INFINITY;
        for _ in 0..MOST_SWEEPS {
            for i in 0..NODES {
                loads[i] = equation.loads(&bed.stations[i], energies[i], asked);
                gains[i] = loads[i].gain() * bed.metres[i];
            }
            if change <= 1e-14 * scale {
                break;
            }
            let sums = BASIS.integrals(&gains);
            change = 0.0;
            for i in 0..NODES {
                let energy = start - heights[i] + sums[i];
                change = change.max((energy - energies[i]).abs());
                energies[i] = energy;
            }
        }
        let is_finite = energies.iter().all(|energy| energy.is_finite());
        (change <= 1e-13 * scale && is_finite).then(|| Self {
            bed,
            start,
            energies,
            loads,
            gains: BASIS.coefficients(&gains),
            end: start + BASIS.whole(&gains),
        })
    }

    /// How much too rough energies and loads are for this panel: at most one where they are resolved, and so outcomes.
    pub(super) fn roughness(&self) -> f64 {
        let energy = self.energies.iter().fold(1e-3, |most: f64, e| most.max(e.abs()));
        let load =
            |of: fn(&Loads) -> f64| BASIS.tail(&self.loads.each_ref().map(of)) / LOAD_TOLERANCE;
        (legendre::tail(&self.gains) / (ENERGY_TOLERANCE * energy))
            .max(load(|l| l.normal))
            .max(load(|l| l.side))
    }

    /// `E + g c_z` at `x`.
    pub(super) fn sum(&self, x: f64) -> f64 {
        self.start + legendre::integral(&self.gains, x)
    }

    /// The tyres' speeds at the nodes.
    pub(super) fn speeds(&self) -> [f64; NODES] {
        std::array::from_fn(|i| self.bed.stations[i].speed(self.energies[i]))
    }

    /// How much too rough time is for this panel; rounding does not count: just after a start from rest, speeds are not known better
    /// than it leaves them.
    pub(super) fn rough_time(&self) -> f64 {
        let speeds = self.speeds();
        let seconds: [f64; NODES] = std::array::from_fn(|i| self.bed.metres[i] / speeds[i]);
        let coefficients = BASIS.coefficients(&seconds);
        let least = self.energies.iter().fold(f64::INFINITY, |least: f64, e| least.min(*e));
        let rounding = ROUNDING * (self.start.abs() + self.end.abs()) / least;
        legendre::tail(&coefficients) / (TIME_TOLERANCE.max(rounding) * coefficients[0].abs())
    }
}

/// How a panel's width may be changed for this roughness, which falls with the tenth power of it.
pub(super) fn stretch(roughness: f64) -> f64 {
    // NaN, from a speed of zero, shrinks.
    (0.9 * roughness.max(1e-30).powf(-0.1)).clamp(0.1, 3.0)
}
