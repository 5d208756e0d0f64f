//! Places on the way of many flights, in the machine's vector registers: one short series after another.

#![allow(clippy::inline_always, reason = "a kernel that is not inlined loses its instruction set")]

use super::Batch;
use super::chunk::{Column, ROWS, Starts, Vectors};
use super::closing::Pair;
use super::field::unpacked;
use super::near::{Near, SHORT, Terms, Vector};
use super::order::Order;
use super::track::Turns;
use crate::flight::path::{FlightPath, LONGEST};
use crate::force::Forces;
use crate::math::Vec3;
use crate::math::lanes::{ARCH, Lanes, Mask};
use pulp::{Simd, WithSimd};

/// The terms of a series' velocity by which it flies on.
const TERMS: usize = 10;
/// A series is flown on for this share of its span: to 1e-9 m, with what follows from its speed.
const SHARE: f64 = 0.8;
/// Series of a path at most; a flight that takes more, by rest in the air, takes the way of one flight.
const MOST_PIECES: usize = 64;

impl Batch {
    /// Writes evenly spaced places of the first `rows` flights of a chunk from the launch to a time each, both included: a
    /// flight's places one after another. NaN where the time or the launch is not finite.
    ///
    /// Within 1e-8 m of the path of one flight.
    pub fn sample(&self, starts: &Starts, time: &Column, rows: usize, out: &mut [[f64; 3]]) {
        let rows = rows.min(ROWS);
        if rows == 0 {
            return;
        }
        let (samples, forces) = (out.len() / rows, self.forces());
        let length = |row: usize| Some(turned(time[row], &starts.velocity(row), forces));
        let order = Order::by_length(length, rows);
        let (from, times, rows) = (&order.starts(starts), &order.column(time), order.rows());
        let (mut certain, flat) = ([0.0; ROWS], out.as_flattened_mut());
        let sure = &mut certain;
        ARCH.dispatch(Sample { forces, starts: from, times, rows, samples, sure, out: flat });
        for (row, certain) in rows.iter().zip(certain) {
            let places = out.chunks_mut(samples.max(1)).nth(*row);
            if let (true, Some(places)) = (certain < 1.0, places) {
                self.sample_one(starts, *row, time[*row], places);
            }
        }
    }

    /// One flight the way of one flight.
    fn sample_one(&self, starts: &Starts, row: usize, time: f64, places: &mut [[f64; 3]]) {
        let path = FlightPath::start(starts.position(row), starts.velocity(row), *self.forces());
        let flown = path.and_then(|mut path| path.fly(time).map(|()| path));
        match flown {
            Ok(path) => {
                let all = path.sample(time, places.len());
                places.iter_mut().zip(all).for_each(|(place, c)| *place = c.into());
            }
            Err(_) => places.fill([f64::NAN; 3]),
        }
    }
}

/// About how often a flight's direction through the air turns by a share of a series' span: how long its path will take.
fn turned(time: f64, velocity: &Vec3, forces: &Forces) -> usize {
    let air = velocity - forces.wind();
    let (level, fall) = (air.xy().norm(), time * forces.g());
    // Grows as a slope's hyperbolic angle does, about.
    let angle = |slope: f64| slope / (1.0 + 0.3 * slope.abs());
    let turn = 4.0 * (angle(air.z / level) - angle((air.z - fall) / level));
    #[expect(
        clippy::cast_possible_truncation,
        clippy::cast_sign_loss,
        reason = "a cast saturates, and any order will do"
    )]
    let whole = turn as usize;
    whole
}

struct Sample<'a> {
    forces: &'a Forces,
    /// Launches and times in the order in which they are flown, and their rows.
    starts: &'a Starts,
    times: &'a Column,
    rows: &'a [usize],
    samples: usize,
    sure: &'a mut Column,
    /// The places' numbers, three a place.
    out: &'a mut [f64],
}

impl WithSimd for Sample<'_> {
    type Output = ();

    #[inline(always)]
    fn with_simd<S: Simd>(self, simd: S) {
        let Self { forces, starts, times, rows, samples, sure, out } = self;
        let turns = Turns::new(simd, forces);
        let mut terms = Terms::new();
        for (at, rows) in rows.chunks(Pair::<S>::WIDTH).enumerate() {
            let end: Pair<S> = Lanes::load(simd, times, at);
            let (mut place, mut velocity) =
                (load(simd, &starts.position, at), load(simd, &starts.velocity, at));
            let [zero, one, mut time] = [end.filled(0.0), end.filled(1.0), end.filled(0.0)];
            let flown =
                zero.lt(end).and(end.lt(end.filled(LONGEST))).and(finite(&place, &velocity));
            let mut open = flown;
            let mut next = [0; 16];
            let each = unpacked(end * end.filled(1.0 / samples.saturating_sub(1).max(1) as f64));
            let ends = unpacked(end);
            for _ in 0..MOST_PIECES {
                let near: Near<S, TERMS> = Near::new(place, velocity, forces);
                let (left, longest) = (end - time, near.span * end.filled(SHARE));
                let ends_here = left.lt(longest);
                near.keep(&mut terms);
                // To half way to the next series, or the rest of the way.
                let half = longest.mul_add(end.filled(0.5), time);
                let until = open.select(ends_here.select(end, half), -one);
                let [from, until] = [unpacked(time), unpacked(until)];
                for (flight, row) in rows.iter().enumerate() {
                    let Some(row) = out.get_mut(3 * row * samples..3 * (row + 1) * samples) else {
                        continue;
                    };
                    let (each, ends) = (each[flight], until[flight] >= ends[flight]);
                    let way = Stretch { from: from[flight], until: until[flight], each, ends };
                    way.write(&turns, &terms, flight, &mut next[flight], row);
                }
                let step = ends_here.select(left, longest);
                (place, velocity) = near.after(step);
                time = time + step;
                open = open.and(!ends_here);
                if !open.any() {
                    break;
                }
            }
            let done = flown.and(!open);
            done.select(one, zero).store(sure, at);
        }
    }
}

/// What of a flight's way is taken from one series, about a moment; seconds.
struct Stretch {
    from: f64,
    until: f64,
    /// Whether the flight ends there.
    ends: bool,
    /// Between samples.
    each: f64,
}

impl Stretch {
    /// Writes the samples from the next on to the flight's row; what is written after them, to fill registers, the next series
    /// writes over.
    #[inline(always)]
    fn write<S: Simd>(
        &self,
        turns: &Turns<S>,
        terms: &Terms<SHORT>,
        flight: usize,
        next: &mut usize,
        row: &mut [f64],
    ) {
        let (first, samples, stride) = (*next, row.len() / 3, Turns::<S>::STRIDE);
        let upto = if self.ends { samples } else { self.upto(stride).min(samples) };
        if upto > first {
            let written = samples.min(first + (upto - first).next_multiple_of(stride));
            let from = first as f64 * self.each - self.from;
            turns.track(terms, flight).write(from, self.each, &mut row[3 * first..3 * written]);
            *next = upto;
        }
    }

    /// The first sample that is not taken. Where there are enough, whole registers of samples go to one series.
    #[inline(always)]
    fn upto(&self, stride: usize) -> usize {
        #[expect(
            clippy::cast_possible_truncation,
            clippy::cast_sign_loss,
            reason = "a cast saturates: none before the launch, and all there are bound it"
        )]
        let upto = (self.until / self.each + 1.0) as usize;
        let enough = (self.until - self.from) > stride as f64 * self.each;
        if enough { (upto + stride / 2) / stride * stride } else { upto }
    }
}

/// Where all numbers are.
#[inline(always)]
fn finite<S: Simd>([x, y, z]: &Vector<S>, [u, v, w]: &Vector<S>) -> Mask<S, 2> {
    let most = x.filled(f64::MAX);
    (*x + *y + *z + *u + *v + *w).abs().lt(most)
}

#[inline(always)]
fn load<S: Simd>(simd: S, parts: &Vectors, at: usize) -> Vector<S> {
    let [x, y, z] = parts;
    [Lanes::load(simd, x, at), Lanes::load(simd, y, at), Lanes::load(simd, z, at)]
}
