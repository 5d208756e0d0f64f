//! What is kept of a chain's motion: samples, peaks, and the way each member used.

use super::chain::Chain;
use super::march::Stretch;
use crate::math::bernstein;
use crate::math::polynomial::value;
use serde::{Deserialize, Serialize};

/// Samples of a record, were it followed as long as it may be.
const SAMPLES: f64 = 1000.0;

/// Two peaks this close, as a share, are the same.
const SAME: f64 = 1e-12;

/// The highest of something, and when.
#[derive(Debug, Clone, Copy, PartialEq, Default, Serialize, Deserialize)]
pub struct Highest {
    /// How much.
    pub value: f64,
    /// Seconds since the touch.
    pub time: f64,
}

impl Highest {
    /// The higher of this and a series' highest.
    fn or(&mut self, terms: &[f64], stretch: &Stretch<'_>) {
        let bound =
            terms[1..].iter().rev().fold(0.0, |sum, term| (sum + term.max(0.0)) * stretch.length);
        if terms[0] + bound > self.value {
            let (at, top) = bernstein::highest(terms, stretch.length);
            // Of a force that stays the same the first moment counts, whatever rounding says.
            if top > self.value * (1.0 + SAME) {
                *self = Self { value: top, time: stretch.from + at };
            }
        }
    }
}

/// One member's record.
#[derive(Debug, Clone, Default)]
pub(super) struct Track {
    pub(super) force: Vec<f64>,
    pub(super) compression: Vec<f64>,
    pub(super) highest_force: Highest,
    pub(super) deepest: Highest,
    pub(super) impulse: f64,
}

/// The record of a chain.
#[derive(Debug, Clone)]
pub(super) struct Record {
    pub(super) time: Vec<f64>,
    pub(super) tracks: Vec<Track>,
    /// How far the body came down.
    pub(super) lowest: Highest,
    /// Between samples, seconds; none where none are kept.
    step: Option<f64>,
}

impl Record {
    pub(super) fn new(chain: &Chain) -> Self {
        Self { step: Some(chain.longest / SAMPLES), ..Self::of_peaks(chain) }
    }

    /// One without samples.
    pub(super) fn of_peaks(chain: &Chain) -> Self {
        Self {
            time: Vec::new(),
            tracks: vec![Track::default(); chain.links.len()],
            lowest: Highest::default(),
            step: None,
        }
    }

    pub(super) fn add(&mut self, stretch: &Stretch<'_>) {
        for (track, series) in self.tracks.iter_mut().zip(&stretch.piece.links) {
            track.highest_force.or(&series.force, stretch);
            track.deepest.or(&series.compression, stretch);
            track.impulse += integral(&series.force, stretch.length);
        }
        if let Some(body) = stretch.piece.links.last() {
            self.lowest.or(&body.place, stretch);
        }
        if let Some(step) = self.step {
            self.sample(stretch, step);
        }
    }

    /// The samples that fall into a stretch, its start counted and its end not.
    fn sample(&mut self, stretch: &Stretch<'_>, step: f64) {
        loop {
            let time = self.time.len() as f64 * step;
            if time >= stretch.from + stretch.length {
                return;
            }
            self.keep(stretch, time);
        }
    }

    fn keep(&mut self, stretch: &Stretch<'_>, time: f64) {
        self.time.push(time);
        let since = (time - stretch.from).clamp(0.0, stretch.length);
        for (track, series) in self.tracks.iter_mut().zip(&stretch.piece.links) {
            track.force.push(value(&series.force, since));
            track.compression.push(value(&series.compression, since));
        }
    }
}

fn integral(terms: &[f64], length: f64) -> f64 {
    let sum = terms
        .iter()
        .enumerate()
        .rev()
        .fold(0.0, |sum, (n, term)| sum * length + term / (n + 1) as f64);
    sum * length
}
