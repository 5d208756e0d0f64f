//! Places on the way of many flights, in the machine's vector registers: one short series after another.

#![allow(clippy::inline_always, reason = "a kernel that is not inlined loses its instruction set")]
#![allow(clippy::needless_range_loop, reason = "axes and powers of several vectors at once")]

use super::Batch;
use super::chunk::{Column, ROWS, Starts, Vectors, set};
use super::closing::Pair;
use super::field::Several;
use super::near::{Near, Vector};
use crate::flight::path::FlightPath;
use crate::force::Forces;
use crate::math::Vec3;
use crate::math::lanes::{ARCH, Lanes};
use pulp::{Simd, WithSimd};

/// The terms of a series' velocity.
const TERMS: usize = 10;
/// A series is flown for this share of `|u| / g`, where it ends to converge: to 1e-9 m, with what follows from its speed.
const SHARE: f64 = 0.18;
/// Series of a path at most; a flight that takes more, by rest in the air, takes the way of one flight.
const MOST_PIECES: usize = 96;
/// What drag is let take of the level speed through the air before a path is looked at again.
const KEPT: f64 = 0.9;

/// Places of all flights of a chunk, sample after sample.
type Places<'a> = &'a mut [[f64; 3]];

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
        let order = Order::by_pieces(starts, time, rows, forces);
        let mut certain = [0.0; ROWS];
        let sure = &mut certain;
        ARCH.dispatch(Sample { forces, order: &order, rows, samples, sure, out: &mut *out });
        for (at, row) in order.rows.iter().enumerate().take(rows) {
            let places = out.chunks_mut(samples.max(1)).nth(*row);
            if let (true, Some(places)) = (certain[at] < 1.0, places) {
                self.sample_one(starts, *row, time[*row], places);
            }
        }
    }

    /// One flight the way of one flight.
    fn sample_one(&self, starts: &Starts, row: usize, time: f64, places: Places<'_>) {
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

/// The flights of a chunk in the order of their numbers of series: those flown at once take about as many.
struct Order {
    rows: [usize; ROWS],
    starts: Starts,
    time: Column,
    pieces: [usize; ROWS],
}

impl Order {
    fn by_pieces(starts: &Starts, time: &Column, rows: usize, forces: &Forces) -> Self {
        let mut order: [usize; ROWS] = std::array::from_fn(|row| row);
        let mut counts = [0; ROWS];
        for row in 0..rows {
            counts[row] = pieces(time[row], &starts.velocity(row), forces);
        }
        order[..rows].sort_unstable_by_key(|row| (counts[*row], *row));
        let mut sorted =
            Self { rows: order, starts: Starts::new(), time: [f64::NAN; ROWS], pieces: [1; ROWS] };
        for (at, row) in order.into_iter().enumerate().take(rows) {
            set(&mut sorted.starts.position, at, &starts.position(row));
            set(&mut sorted.starts.velocity, at, &starts.velocity(row));
            (sorted.time[at], sorted.pieces[at]) = (time[row], counts[row]);
        }
        sorted
    }
}

/// In how many series a flight is flown, from the least that its speed through the air may come to; one where they would be
/// too many.
fn pieces(time: f64, velocity: &Vec3, forces: &Forces) -> usize {
    let level = (velocity - forces.wind()).xy().norm();
    let wanted = time * forces.g() / (KEPT * SHARE * level);
    #[expect(
        clippy::cast_possible_truncation,
        clippy::cast_sign_loss,
        reason = "bounded on both sides"
    )]
    let whole = if wanted >= 0.0 && wanted < MOST_PIECES as f64 { wanted as usize } else { 0 };
    whole + 1
}

struct Sample<'a> {
    forces: &'a Forces,
    order: &'a Order,
    rows: usize,
    samples: usize,
    sure: &'a mut Column,
    out: Places<'a>,
}

impl WithSimd for Sample<'_> {
    type Output = ();

    #[inline(always)]
    fn with_simd<S: Simd>(self, simd: S) {
        let Self { forces, order, rows, samples, sure, out } = self;
        let (width, starts) = (Pair::<S>::WIDTH, &order.starts);
        let last = samples.saturating_sub(1).max(1) as f64;
        for at in 0..rows.div_ceil(width) {
            let flown = at * width..rows.min((at + 1) * width);
            let end: Pair<S> = Lanes::load(simd, &order.time, at);
            let (mut place, mut velocity) =
                (load(simd, &starts.position, at), load(simd, &starts.velocity, at));
            let count = order.pieces[flown.end - 1];
            let step = end * end.filled(1.0 / count as f64);
            let mut good = end.filled(0.0).lt(step);
            let mut next = 0;
            for piece in 0..count {
                let near: Near<S, TERMS> = Near::new(place, velocity, forces);
                good = good.and(step.lt(near.span));
                let (from, to) = (piece as f64 / count as f64, (piece + 1) as f64 / count as f64);
                while next < samples && (next as f64 / last <= to || piece + 1 == count) {
                    let after = end * end.filled(next as f64 / last - from);
                    let (c, _) = near.after(after);
                    write(&c, &order.rows[flown.clone()], (next, samples), out);
                    next += 1;
                }
                (place, velocity) = near.after(step);
            }
            good.select(end.filled(1.0), end.filled(0.0)).store(sure, at);
        }
    }
}

#[inline(always)]
fn load<S: Simd>(simd: S, parts: &Vectors, at: usize) -> Vector<S> {
    let [x, y, z] = parts;
    [Lanes::load(simd, x, at), Lanes::load(simd, y, at), Lanes::load(simd, z, at)]
}

/// Writes one sample of each flight to its row.
#[inline(always)]
fn write<S: Simd>(
    c: &Vector<S>,
    rows: &[usize],
    (sample, samples): (usize, usize),
    out: Places<'_>,
) {
    let mut parts = [Several::default(); 3];
    for i in 0..3 {
        c[i].store(&mut parts[i], 0);
    }
    for (lane, row) in rows.iter().enumerate() {
        if let Some(out) = out.get_mut(row * samples + sample) {
            *out = [parts[0][lane], parts[1][lane], parts[2][lane]];
        }
    }
}
