//! Hold speeds without wind: loads and energies are linear in the entry energy, so each station bounds it.

use super::carry::start_of;
use super::equation::{Equation, Loads};
use super::error::RideError;
use super::hold::HoldSpeeds;
use super::panel::{BASIS, Bed, NODES, Pace, Panel, Span};
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
/// What holds at this entry energy, J/kg, holds at every higher one.
const ENDLESS: f64 = 1e9;
/// What holds for certain is this share, and so many J/kg, within what nodes and ends of panels leave.
const LESS: f64 = 0.01;
const LEAST: f64 = 0.01;
/// Grip beyond this does not exist.
const MOST_GRIP: f64 = 1e3;

/// A quantity at a panel's nodes that is linear in the entry energy.
#[derive(Debug, Clone)]
struct Affine {
    at_zero: [f64; NODES],
    slope: [f64; NODES],
}

/// What one station asks of the entry energy.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
enum Ask {
    More,
    Less,
    /// No energy will do.
    Never,
}

impl Affine {
    fn new(at_zero: &[f64; NODES], at_unit: &[f64; NODES]) -> Self {
        let slope = std::array::from_fn(|i| (at_unit[i] - at_zero[i]) / UNIT);
        Self { at_zero: *at_zero, slope }
    }

    fn scaled(&self, factor: f64) -> Self {
        Self { at_zero: self.at_zero.map(|a| factor * a), slope: self.slope.map(|b| factor * b) }
    }

    fn plus(&self, other: &Self) -> Self {
        let sum = |a: &[f64; NODES], b: &[f64; NODES]| std::array::from_fn(|i| a[i] + b[i]);
        Self { at_zero: sum(&self.at_zero, &other.at_zero), slope: sum(&self.slope, &other.slope) }
    }

    /// Value at no energy and slope at the nodes and at both ends of the panel, where it is often extreme.
    fn places(&self) -> impl Iterator<Item = (f64, f64)> {
        let [at_zero, slope] = [&self.at_zero, &self.slope].map(|of| BASIS.coefficients(of));
        let end = move |x| (legendre::value(&at_zero, x), legendre::value(&slope, x));
        let nodes = self.at_zero.iter().copied().zip(self.slope.iter().copied());
        nodes.chain([end(0.0), end(1.0)])
    }

    /// What the first place where the quantity is not above zero asks, if there is one at this entry energy.
    fn asks(&self, energy: f64) -> Option<Ask> {
        let values = std::array::from_fn(|i| self.at_zero[i] + self.slope[i] * energy);
        let x = BASIS.first_not_positive(&values)?;
        let slope = legendre::value(&BASIS.coefficients(&self.slope), x);
        Some(if slope > 0.0 {
            Ask::More
        } else if slope < 0.0 {
            Ask::Less
        } else {
            Ask::Never
        })
    }
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
    pub(super) inertia: f64,
    /// `E + g c_z` at the end, for an entry energy of 0 and for one more J/kg.
    pub(super) end: [f64; 2],
    /// The line's length, metres.
    pub(super) length: f64,
    /// The tightest hollow: the height of the centre of mass over its radius.
    pub(super) tightest: f64,
}

impl Bounds {
    pub(super) fn of(line: &Line, rider: &Rider, air: &Air) -> Result<Self, RideError> {
        let equation = Equation::linear(rider, air);
        let body = Body::new(rider);
        let start = start_of(line, rider);
        let height = equation.g() * start.centre.z;
        let mut sums = [height, height + UNIT];
        let mut shares = Vec::new();
        let (mut station, mut tightest) = (0.0, 0.0_f64);
        for section in line.sections() {
            let (mut from, mut width) = (section.from, PANEL);
            while from < section.to {
                width = width.min(section.to - from);
                let span = Span { piece: section.piece, from, width, pace: Pace::Even };
                let bed = Bed::new(line, &body, span);
                let solve = |sum| Panel::solve(&bed, &equation, sum, 0.0);
                let is_shortest = width <= SHORTEST;
                match (solve(sums[0]), solve(sums[1])) {
                    (Some(a), Some(b))
                        if is_shortest || a.roughness().max(b.roughness()) <= 1.0 =>
                    {
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
                let hollows = bed.stations.iter().map(|station| body.com_height * station.hollow);
                tightest = hollows.fold(tightest, f64::max);
                from = if from + width >= section.to { section.to } else { from + width };
                width = PANEL;
            }
        }
        let end = [sums[0], (sums[1] - sums[0]) / UNIT];
        Ok(Self { shares, inertia: start.inertia, end, length: station, tightest })
    }

    /// The hold speeds at a grip, or the grip that would be needed.
    pub(super) fn speeds(&self, grip: f64) -> HoldSpeeds {
        let conditions = self.conditions(grip);
        let Some((below, inside, above)) = interior(&conditions) else {
            return HoldSpeeds::Never { grip_needed: self.grip_needed(grip) };
        };
        let speed = |energy: f64| (2.0 * energy / self.inertia).sqrt();
        let holds = |energy| asks(&conditions, energy).is_none();
        let fastest = if holds(above) { f64::INFINITY } else { edge(holds, inside, above) };
        HoldSpeeds::Between { slowest: speed(edge(holds, inside, below)), fastest: speed(fastest) }
    }

    /// Entry energies up to a highest one that hold for certain at a grip: the interval that nodes and ends leave, less a little,
    /// tried at both its ends, between which everything is linear.
    pub(super) fn certain(&self, grip: f64, highest: f64) -> Option<[f64; 2]> {
        let conditions = self.conditions(grip);
        let [mut low, mut high] = [0.0, highest];
        for (at_zero, slope) in conditions.iter().flat_map(Affine::places) {
            let bound = -at_zero / slope;
            if slope > 0.0 {
                low = f64::max(low, bound);
            } else if slope < 0.0 {
                high = f64::min(high, bound);
            } else if at_zero <= 0.0 {
                return None;
            }
        }
        let ends = [low * (1.0 + LESS) + LEAST, high * (1.0 - LESS)];
        let holds = |energy| asks(&conditions, energy).is_none();
        (ends[0] < ends[1] && ends.into_iter().all(holds)).then_some(ends)
    }

    fn grip_needed(&self, grip: f64) -> Option<f64> {
        let holds = |grip| interior(&self.conditions(grip)).is_some();
        holds(MOST_GRIP).then(|| edge(holds, MOST_GRIP, grip))
    }

    /// What must be above zero everywhere: energy, load on the surface, and the grip to spare to either side.
    fn conditions(&self, grip: f64) -> Vec<Affine> {
        let mut conditions = Vec::with_capacity(4 * self.shares.len());
        for share in &self.shares {
            conditions.extend([share.energy.clone(), share.normal.clone()]);
            if grip.is_finite() {
                let most = share.normal.scaled(grip);
                conditions.extend([most.plus(&share.side), most.plus(&share.side.scaled(-1.0))]);
            }
        }
        conditions
    }
}

/// What the first condition that fails at this entry energy asks.
fn asks(conditions: &[Affine], energy: f64) -> Option<Ask> {
    conditions.iter().find_map(|condition| condition.asks(energy))
}

/// An entry energy that holds, between one below and one above that do not (or beyond which all do); each
/// station bounds the energy from one side, so bisection misses none.
fn interior(conditions: &[Affine]) -> Option<(f64, f64, f64)> {
    if asks(conditions, ENDLESS).is_none() {
        return Some((0.0, ENDLESS, ENDLESS));
    }
    let (mut below, mut above) = (0.0, ENDLESS);
    // Speeds that matter are far below the top of the bracket.
    let mut inside = 50.0;
    while below < inside && inside < above {
        match asks(conditions, inside) {
            None => return Some((below, inside, above)),
            Some(Ask::More) => below = inside,
            Some(Ask::Less) => above = inside,
            Some(Ask::Never) => return None,
        }
        inside = if above >= ENDLESS { 4.0 * inside } else { 0.5 * (below + above) };
    }
    None
}

/// The last number on the way from `inside`, which holds, to `outside` that still holds.
fn edge(holds: impl Fn(f64) -> bool, mut inside: f64, mut outside: f64) -> f64 {
    while (inside - outside).abs() > 1e-13 * inside.abs() + f64::MIN_POSITIVE.sqrt() {
        let middle = 0.5 * (inside + outside);
        if holds(middle) { inside = middle } else { outside = middle }
    }
    inside
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
