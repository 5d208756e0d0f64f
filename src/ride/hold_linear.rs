//! Hold speeds without wind: loads and energies are linear in the entry energy, so each station bounds it.

use super::carry::start_of;
use super::equation::{Equation, Loads};
use super::error::RideError;
use super::hold::HoldSpeeds;
use super::options::Lean;
use super::panel::{BASIS, Bed, NODES, Pace, Panel, Span};
use super::peak::golden;
use super::station::Body;
use crate::air::Air;
use crate::geometry::Line;
use crate::math::legendre;
use crate::rider::Rider;

/// The slowest and fastest speed that hold, where any does.
pub(super) type Held = Option<(f64, f64)>;

/// The longest panel and the shortest, in the line's parameter.
const PANEL: f64 = 0.6;
const SHORTEST: f64 = 1e-7;
/// The second entry energy, J/kg, from which the slope in the energy follows.
const UNIT: f64 = 100.0;
/// Where bounds are first looked at on a panel.
const LOOKS: usize = 16;
/// Grip beyond this does not exist.
const MOST_GRIP: f64 = 1e3;

/// A quantity along a panel that is linear in the entry energy: two polynomials.
#[derive(Debug, Clone)]
struct Affine {
    at_zero: [f64; NODES],
    slope: [f64; NODES],
}

impl Affine {
    fn new(at_zero: &[f64; NODES], at_unit: &[f64; NODES]) -> Self {
        let slope = std::array::from_fn(|i| (at_unit[i] - at_zero[i]) / UNIT);
        Self { at_zero: BASIS.coefficients(at_zero), slope: BASIS.coefficients(&slope) }
    }

    fn plus(&self, other: &Self, factor: f64) -> Self {
        let sum =
            |a: &[f64; NODES], b: &[f64; NODES]| std::array::from_fn(|i| a[i] + factor * b[i]);
        Self { at_zero: sum(&self.at_zero, &other.at_zero), slope: sum(&self.slope, &other.slope) }
    }

    /// What "above zero at `x`" asks of the entry energy.
    fn bound(&self, x: f64) -> Bound {
        let (a, b) = (legendre::value(&self.at_zero, x), legendre::value(&self.slope, x));
        if b > 0.0 {
            return Bound::AtLeast(-a / b);
        }
        match (b < 0.0, a > 0.0) {
            (true, _) => Bound::AtMost(a / -b),
            (false, true) => Bound::AtLeast(0.0),
            (false, false) => Bound::AtLeast(f64::INFINITY),
        }
    }
}

enum Bound {
    AtLeast(f64),
    AtMost(f64),
}

/// Loads and energy of one panel.
struct Share {
    energy: Affine,
    normal: Affine,
    side: Affine,
}

/// What a line's stations ask of the entry energy.
pub(super) struct Bounds {
    shares: Vec<Share>,
    /// Twice the kinetic energy over the square of the tyres' speed at the start.
    inertia: f64,
}

impl Bounds {
    pub(super) fn of(line: &Line, rider: &Rider, air: &Air) -> Result<Self, RideError> {
        let equation = Equation::linear(rider, air);
        let body = Body::new(rider, Lean::Deck);
        let start = start_of(line, rider);
        let height = equation.g() * start.centre.z;
        let mut sums = [height, height + UNIT];
        let mut shares = Vec::new();
        let mut station = 0.0;
        for section in line.sections() {
            let (mut from, mut width) = (section.from, PANEL);
            while from < section.to {
                width = width.min(section.to - from);
                let span = Span { piece: section.piece, from, width, pace: Pace::Even };
                let bed = Bed::new(line, &body, span);
                let solve = |sum| Panel::solve(&bed, &equation, sum, 0.0);
                let is_shortest = width <= SHORTEST;
                match (solve(sums[0]), solve(sums[1])) {
                    (Some(a), Some(b)) if is_shortest || (a.is_resolved() && b.is_resolved()) => {
                        sums = [a.end, b.end];
                        shares.push(Share::new(&a, &b));
                    }
                    _ if is_shortest => return Err(RideError::Unresolved { station }),
                    _ => {
                        width *= 0.5;
                        continue;
                    }
                }
                station += bed.length;
                from = if from + width >= section.to { section.to } else { from + width };
                width = PANEL;
            }
        }
        Ok(Self { shares, inertia: start.inertia })
    }

    /// The hold speeds at a grip, or the grip that would be needed.
    pub(super) fn speeds(&self, grip: f64) -> HoldSpeeds {
        let (low, high) = self.energies(grip);
        if low < high {
            let speed = |energy: f64| (2.0 * energy / self.inertia).sqrt();
            return HoldSpeeds::Between { slowest: speed(low), fastest: speed(high) };
        }
        HoldSpeeds::Never { grip_needed: self.grip_needed(grip) }
    }

    fn grip_needed(&self, grip: f64) -> Option<f64> {
        let holds = |grip| {
            let (low, high) = self.energies(grip);
            low < high
        };
        let (mut low, mut high) = (grip, MOST_GRIP);
        if !holds(high) {
            return None;
        }
        while high - low > 1e-12 * high {
            let middle = 0.5 * (low + high);
            if middle <= low || middle >= high {
                break;
            }
            if holds(middle) { high = middle } else { low = middle }
        }
        Some(high)
    }

    /// The lowest and highest entry energy that every station allows.
    fn energies(&self, grip: f64) -> (f64, f64) {
        let (mut low, mut high) = (0.0, f64::INFINITY);
        for share in &self.shares {
            narrow(&share.energy, &mut low, &mut high);
            narrow(&share.normal, &mut low, &mut high);
            if grip.is_finite() {
                let most = Affine {
                    at_zero: share.normal.at_zero.map(|n| grip * n),
                    slope: share.normal.slope.map(|n| grip * n),
                };
                for sign in [1.0, -1.0] {
                    narrow(&most.plus(&share.side, sign), &mut low, &mut high);
                }
            }
        }
        (low, high)
    }
}

impl Share {
    fn new(a: &Panel, b: &Panel) -> Self {
        let of = |load: fn(&Loads) -> f64| {
            Affine::new(&a.loads.each_ref().map(load), &b.loads.each_ref().map(load))
        };
        Self {
            energy: Affine::new(&a.energies, &b.energies),
            normal: of(|loads| loads.normal),
            side: of(|loads| loads.side),
        }
    }
}

/// Tightens the energies to those that keep `what` above zero all over the panel.
fn narrow(what: &Affine, low: &mut f64, high: &mut f64) {
    let least = |x: f64| match what.bound(x) {
        Bound::AtLeast(energy) => energy,
        Bound::AtMost(_) => f64::NEG_INFINITY,
    };
    let most = |x: f64| match what.bound(x) {
        Bound::AtMost(energy) => energy,
        Bound::AtLeast(_) => f64::INFINITY,
    };
    *low = low.max(highest(least, *low));
    *high = high.min(-highest(|x| -most(x), -*high));
}

/// The highest value of `f` on a panel, looked for closely only where it comes near what is `known`.
fn highest(f: impl Fn(f64) -> f64, known: f64) -> f64 {
    let place = |i: usize| i as f64 / LOOKS as f64;
    let (mut best, mut at) = (f64::NEG_INFINITY, 0);
    for i in 0..=LOOKS {
        let value = f(place(i));
        if value > best {
            (best, at) = (value, i);
        }
    }
    if !best.is_finite() || best < known - 0.1 * known.abs() {
        return best;
    }
    let (low, high) = (place(at.saturating_sub(1)), place((at + 1).min(LOOKS)));
    best.max(f(golden(&f, low, high)))
}
