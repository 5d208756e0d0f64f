//! Places on the way of many flights, in the machine's vector registers: one short series after another.

#![allow(clippy::inline_always, reason = "a kernel that is not inlined loses its instruction set")]

use super::Batch;
use super::chunk::{Column, ROWS, Starts, Vectors};
use super::closing::Pair;
use super::field::{Several, unpacked};
use super::near::{Near, Terms, Vector};
use super::order::Order;
use super::track::Turns;
use crate::flight::path::{FlightPath, LONGEST};
use crate::force::Forces;
use crate::math::Vec3;
use crate::math::lanes::{ARCH, Lanes, Mask, index};
use pulp::{Simd, WithSimd};
use std::ops::Range;

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
            let in_time = zero.lt(end).and(end.lt(end.filled(LONGEST)));
            let flown = in_time.and(finite(&place, &velocity));
            let mut open = flown;
            let mut written = Written::new(end, samples);
            for _ in 0..MOST_PIECES {
                let near: Near<S, TERMS> = Near::new(place, velocity, forces);
                let (left, longest) = (end - time, near.span * end.filled(SHARE));
                let ends = left.lt(longest);
                near.keep(&mut terms);
                let until = written.until(time, longest, ends);
                let until = indices(open.select(until, zero));
                let from = unpacked(time);
                for (flight, row) in rows.iter().enumerate() {
                    let flight = flight % MOST;
                    let wanted = written.wanted(flight, &until);
                    if !wanted.is_empty()
                        && let Some(to) = out.get_mut(written.places(*row, &wanted))
                    {
                        let (first, each) = (wanted.start as f64, written.each[flight]);
                        turns.track(&terms, flight).write(first * each - from[flight], each, to);
                    }
                }
                let step = ends.select(left, longest);
                (place, velocity) = near.after(step);
                time = time + step;
                open = open.and(!ends);
                if !open.any() {
                    break;
                }
            }
            flown.and(!open).select(one, zero).store(sure, at);
        }
    }
}

/// Flights at once, at most.
const MOST: usize = 16;

/// Which samples of some flights are written.
struct Written<S: Simd> {
    samples: usize,
    /// Samples a second.
    often: Pair<S>,
    /// Seconds between them.
    each: Several,
    /// Of each flight, the first that is not.
    next: [usize; MOST],
}

impl<S: Simd> Written<S> {
    #[inline(always)]
    fn new(end: Pair<S>, samples: usize) -> Self {
        let last = samples.saturating_sub(1).max(1) as f64;
        let each = unpacked(end * end.filled(last.recip()));
        Self { samples, often: end.filled(last) / end, each, next: [0; MOST] }
    }

    /// The first samples that are not taken from series at some moments: from half way to the next series on. Where there are
    /// enough, whole registers of samples go to one series.
    #[inline(always)]
    fn until(&self, time: Pair<S>, longest: Pair<S>, ends: Mask<S, 2>) -> Pair<S> {
        let fill = |value: f64| time.filled(value);
        let all = fill(self.samples as f64);
        let half = longest * fill(0.5);
        let count = (time + half).mul_add(self.often, fill(1.0)).min(all);
        let stride = Turns::<S>::STRIDE as f64;
        let whole = count.mul_add(fill(stride.recip()), fill(0.5)).floor() * fill(stride);
        let enough = fill(stride).lt(half * self.often);
        let until = enough.select(whole.min(all), count.floor());
        ends.select(all, until)
    }

    /// The samples of a flight that are next, until one.
    #[inline(always)]
    fn wanted(&mut self, flight: usize, until: &Several) -> Range<usize> {
        let (first, until) = (self.next[flight], index(until[flight]));
        self.next[flight] = first.max(until);
        first..until
    }

    /// Where samples of a row lie, with what fills the last registers: the next series writes that over.
    #[inline(always)]
    fn places(&self, row: usize, wanted: &Range<usize>) -> Range<usize> {
        let count = wanted.len().next_multiple_of(Turns::<S>::STRIDE);
        let (row, until) = (row * self.samples, self.samples.min(wanted.start + count));
        3 * (row + wanted.start)..3 * (row + until)
    }
}

/// Whole numbers for [`index`].
#[inline(always)]
fn indices<S: Simd>(numbers: Pair<S>) -> Several {
    let mut all = Several::default();
    numbers.store_indices(&mut all);
    all
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
