//! Places of one flight, one after another: `x`, `y` and `z` take turns in the lanes of three registers, so that what is
//! reckoned lies as it is to be written.

#![allow(clippy::inline_always, reason = "a kernel that is not inlined loses its instruction set")]
#![allow(clippy::needless_range_loop, reason = "axes and powers of several vectors at once")]

use super::near::{SHORT, Terms};
use crate::force::Forces;
use crate::math::lanes::Lanes;
use pulp::Simd;

/// Numbers in three of the widest registers.
const WIDEST: usize = 24;

/// Three registers.
type Three<S> = Lanes<S, 3>;

/// Whose turn it is in which lane, and what all flights have alike.
#[derive(Clone, Copy)]
pub(super) struct Turns<S: Simd> {
    /// 1 in the lanes of `x`, of `y`, of `z`, else 0.
    of: [Three<S>; 3],
    /// Which sample it is, from the first of the registers.
    sample: Three<S>,
    wind: Three<S>,
}

impl<S: Simd> Turns<S> {
    /// So many samples are written at once.
    pub(super) const STRIDE: usize = S::F64_LANES;

    #[inline(always)]
    pub(super) fn new(simd: S, forces: &Forces) -> Self {
        let (mut of, mut sample) = ([[0.0; WIDEST]; 3], [0.0; WIDEST]);
        for at in 0..WIDEST {
            of[at % 3][at] = 1.0;
            sample[at] = (at / 3) as f64;
        }
        let load = |column: &[f64; WIDEST]| Three::load(simd, column, 0);
        let of = [load(&of[0]), load(&of[1]), load(&of[2])];
        let turns = Self { of, sample: load(&sample), wind: of[0] };
        let wind = forces.wind();
        Self { wind: turns.vector([wind.x, wind.y, wind.z]), ..turns }
    }

    /// Each part of a vector where it is its turn.
    #[inline(always)]
    fn vector(&self, [x, y, z]: [f64; 3]) -> Three<S> {
        let fill = |value: f64| self.sample.filled(value);
        let level = self.of[1].mul_add(fill(y), self.of[0] * fill(x));
        self.of[2].mul_add(fill(z), level)
    }

    /// One of the flights whose series these are.
    #[inline(always)]
    pub(super) fn track(&self, terms: &Terms<SHORT>, flight: usize) -> Track<S> {
        let fill = |value: f64| self.sample.filled(value);
        let part = |column: &[f64]| column[flight];
        let [place_x, place_y, place_z] = &terms.place;
        let [ahead_x, ahead_y] = &terms.ahead;
        let (ahead, up) = (self.vector([part(ahead_x), part(ahead_y), 0.0]), self.of[2]);
        let mut powers = [ahead; SHORT + 1];
        powers[0] = self.vector([part(place_x), part(place_y), part(place_z)]);
        for n in 0..SHORT {
            let along = ahead * fill(part(&terms.along[n]));
            powers[n + 1] = up.mul_add(fill(part(&terms.up[n])), along);
        }
        powers[1] = powers[1] + self.wind;
        Track { sample: self.sample, powers }
    }
}

/// The places of a flight near a moment, by powers of the seconds after it.
#[derive(Clone, Copy)]
pub(super) struct Track<S: Simd> {
    sample: Three<S>,
    powers: [Three<S>; SHORT + 1],
}

impl<S: Simd> Track<S> {
    /// Writes samples `each` seconds apart, the first `from` seconds after the moment.
    #[inline(always)]
    pub(super) fn write(&self, from: f64, each: f64, to: &mut [f64]) {
        let stride = Turns::<S>::STRIDE;
        let mut first = 0.0;
        let mut groups = to.chunks_exact_mut(3 * stride);
        for group in &mut groups {
            self.at(first, from, each).write(group);
            first += stride as f64;
        }
        let rest = groups.into_remainder();
        if !rest.is_empty() {
            let mut all = [0.0; WIDEST];
            self.at(first, from, each).write(&mut all[..3 * stride]);
            rest.copy_from_slice(&all[..rest.len()]);
        }
    }

    /// Some samples, counted from `first` on.
    #[inline(always)]
    fn at(&self, first: f64, from: f64, each: f64) -> Three<S> {
        let fill = |value: f64| self.sample.filled(value);
        let time = self.sample.mul_add(fill(each), fill(first * each + from));
        let mut sum = self.powers[SHORT];
        for n in (0..SHORT).rev() {
            sum = sum.mul_add(time, self.powers[n]);
        }
        sum
    }
}
