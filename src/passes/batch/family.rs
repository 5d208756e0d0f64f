//! The lines of a takeoff that leave at every place of its edge: what a rider's launch takes of them, as polynomials in the
//! place, and which entry speeds hold for certain.

#![allow(clippy::inline_always, reason = "a kernel that is not inlined loses its instruction set")]

use super::turns::Turns;
use crate::air::Air;
use crate::math::chebyshev;
use crate::ride::EveryRide;
use crate::rider::Rider;
use crate::site::{Interval, Takeoff};

/// Coefficients of each polynomial.
pub(super) const ORDER: usize = 12;
/// Quantities of a line, and two unused that fill the registers up.
pub(super) const QUANTITIES: usize = 16;
/// Parts of the edge, each with its own bounds on the entry speed. Samples lie at their ends.
const PARTS: usize = 64;
/// The least parts to a cell: what is tried out lies between its nodes, too.
const LEAST_PARTS: usize = 2;
/// What polynomials may be off, of 1 or of the quantity, whichever is more; metres, m²/s² and shares of 1.
const CLOSE: f64 = 1e-10;

/// What a launch takes of the line to one place of the edge: the tyres' point, up, what the centre of mass moves by a
/// metre of the line, the line's direction, and the square of the speed at the edge for one of 0 and of 1 more.
pub(super) type Quantities = [f64; QUANTITIES];

/// Where each of them begins.
pub(super) const TYRES: usize = 0;
pub(super) const UP: usize = 3;
pub(super) const MOVES: usize = 6;
pub(super) const AHEAD: usize = 9;
pub(super) const SQUARE: usize = 12;

/// Part of the edge over which the polynomials are good.
#[derive(Debug, Clone)]
pub(super) struct Cell {
    middle: f64,
    half: f64,
    /// The highest power first.
    terms: [Quantities; ORDER],
    /// How far the bike is turned at the launch.
    pub(super) turns: Turns,
}

/// All lines of a takeoff for one rider.
#[derive(Debug, Clone)]
pub(super) struct Family {
    places: Interval,
    per_metre: f64,
    parts: Vec<Part>,
    cells: Vec<Cell>,
}

/// A short part of the edge.
#[derive(Debug, Clone, Copy)]
struct Part {
    cell: usize,
    /// Squares of entry speeds between which all its lines hold; nothing is between those of a part that knows none.
    holds: [f64; 2],
}

/// A place of the edge among the cells.
#[derive(Debug, Clone, Copy)]
pub(super) struct Spot<'a> {
    pub(super) cell: &'a Cell,
    /// From -1 to 1 over the cell.
    pub(super) x: f64,
    pub(super) holds: [f64; 2],
}

const NOTHING: [f64; 2] = [f64::INFINITY, f64::NEG_INFINITY];

/// Who comes onto what.
struct Lines<'a> {
    takeoff: &'a Takeoff,
    enter: f64,
    rider: &'a Rider,
    air: &'a Air,
}

impl Lines<'_> {
    /// All rides that leave at a place; none where there are none.
    fn at(&self, place: f64) -> Option<EveryRide> {
        let line = self.takeoff.line(self.enter, place).ok()?;
        line.every_ride(self.rider, self.air).ok()
    }
}

impl Family {
    /// The lines that come onto a takeoff `enter` metres up, in calm air.
    pub(super) fn new(takeoff: &Takeoff, enter: f64, rider: &Rider, air: &Air) -> Self {
        let places = takeoff.places();
        let lines = Lines { takeoff, enter, rider, air };
        let width = (places.high - places.low) / PARTS as f64;
        let at = |end: usize| {
            if end == PARTS { places.high } else { places.low + width * end as f64 }
        };
        let samples: Vec<Option<EveryRide>> = (0..=PARTS).map(|end| lines.at(at(end))).collect();
        let mut parts = vec![Part { cell: 0, holds: NOTHING }; PARTS];
        let mut cells = Vec::new();
        let mut open = vec![(0, PARTS)];
        while let Some((from, to)) = open.pop() {
            let span = Interval::new(at(from), at(to));
            if let Some(cell) = Cell::through(&lines, span, &samples[from..=to]) {
                for i in from..to {
                    parts[i] = Part { cell: cells.len(), holds: both(&samples[i..=i + 1]) };
                }
                cells.push(cell);
            } else if to - from > LEAST_PARTS {
                let middle = usize::midpoint(from, to);
                open.extend([(from, middle), (middle, to)]);
            }
        }
        Self { places, per_metre: width.recip(), parts, cells }
    }

    /// The cell at a place of the edge; none off it, and where there is none.
    #[inline(always)]
    pub(super) fn spot(&self, place: f64) -> Option<Spot<'_>> {
        if !self.places.contains(place) {
            return None;
        }
        #[expect(
            clippy::cast_possible_truncation,
            clippy::cast_sign_loss,
            reason = "from 0 to the number of parts"
        )]
        let at = ((place - self.places.low) * self.per_metre) as usize;
        let part = &self.parts[at.min(PARTS - 1)];
        let cell = self.cells.get(part.cell)?;
        Some(Spot { cell, x: (place - cell.middle) / cell.half, holds: part.holds })
    }
}

impl Cell {
    /// The polynomials over a span, tried at samples of it; none where one of them is off.
    fn through(lines: &Lines, span: Interval, samples: &[Option<EveryRide>]) -> Option<Self> {
        let (middle, half) = (0.5 * (span.low + span.high), 0.5 * (span.high - span.low));
        let mut nodes = Vec::with_capacity(ORDER);
        for x in chebyshev::nodes::<ORDER>() {
            nodes.push(lines.at(middle + half * x)?);
        }
        let at_nodes: Vec<Quantities> = nodes.iter().map(quantities).collect();
        let mut terms = [[0.0; QUANTITIES]; ORDER];
        for i in 0..QUANTITIES {
            let powers = chebyshev::powers::<ORDER>(&std::array::from_fn(|k| at_nodes[k][i]));
            for (terms, power) in terms.iter_mut().zip(powers) {
                terms[i] = power;
            }
        }
        let mut cell = Self { middle, half, terms, turns: Turns::default() };
        let last = (samples.len() - 1) as f64;
        let spots: Vec<f64> = (0..samples.len()).map(|i| 2.0 * i as f64 / last - 1.0).collect();
        for (x, sample) in spots.iter().zip(samples) {
            let wanted = quantities(sample.as_ref()?);
            let found = cell.at(*x);
            let near = |(a, b): (&f64, &f64)| (a - b).abs() <= CLOSE * b.abs().max(1.0);
            if !found.iter().zip(&wanted).all(near) {
                return None;
            }
        }
        let exits: Vec<_> = nodes.iter().map(|node| node.exit).collect();
        let tried = [0, samples.len() / 2, samples.len() - 1];
        let tried = tried.map(|i| samples[i].as_ref().map(|sample| (spots[i], sample.exit)));
        let tried: Vec<_> = tried.into_iter().flatten().collect();
        cell.turns = Turns::new(&exits, &tried);
        Some(cell)
    }

    /// The quantities at a place of it, from -1 to 1.
    #[inline(always)]
    pub(super) fn at(&self, x: f64) -> Quantities {
        let mut sum = self.terms[0];
        for terms in &self.terms[1..] {
            for i in 0..QUANTITIES {
                sum[i] = sum[i] * x + terms[i];
            }
        }
        sum
    }
}

fn quantities(every: &EveryRide) -> Quantities {
    let (exit, mut all) = (&every.exit, [0.0; QUANTITIES]);
    let vectors = [exit.frame.position, exit.up, exit.velocity_per_speed(), exit.frame.tangent];
    for (place, vector) in all.chunks_exact_mut(3).zip(&vectors) {
        place.copy_from_slice(vector.as_slice());
    }
    [all[SQUARE], all[SQUARE + 1]] = every.square;
    all
}

/// What holds at two neighbours, less what they differ by: for all between them.
fn both(neighbours: &[Option<EveryRide>]) -> [f64; 2] {
    let mut holds = neighbours.iter().map(|every| every.as_ref().and_then(|every| every.holds));
    let (Some(Some(a)), Some(Some(b))) = (holds.next(), holds.next()) else { return NOTHING };
    let apart = |i: usize| (a[i] - b[i]).abs();
    [a[0].max(b[0]) + apart(0), a[1].min(b[1]) - apart(1)]
}
