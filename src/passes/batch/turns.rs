//! How far the bike is turned in pitch at the launch, over places of the edge and speeds.

#![allow(clippy::inline_always, reason = "a kernel that is not inlined loses its instruction set")]

use super::family::ORDER;
use crate::math::chebyshev;
use crate::ride::Exit;

/// Stretches of slowness (one over the speed), each with polynomials of its own, from fast to slow.
const STRETCHES: usize = 12;
/// Coefficients by slowness of each.
const TERMS: usize = 8;
/// The fastest and the slowest at the edge that they are for, m/s.
const FASTEST: f64 = 25.0;
const SLOWEST: f64 = 1.5;
const STRETCH: f64 = (1.0 / SLOWEST - 1.0 / FASTEST) / STRETCHES as f64;
/// What they may be off, radians.
const CLOSE: f64 = 1e-7;

/// By powers of the place and of the slowness, the highest first.
type Terms = [[f64; TERMS]; ORDER];

/// The pitch at the launch as polynomials, where they are good.
#[derive(Debug, Clone, Default)]
pub(super) struct Turns(Vec<Option<Box<Terms>>>);

impl Turns {
    /// Through exits at Chebyshev's nodes of a cell, tried at other places of it, from -1 to 1.
    pub(super) fn new(nodes: &[Exit], tried: &[(f64, Exit)]) -> Self {
        let stretch = |i: usize| {
            let terms = terms(nodes, i)?;
            let near = |(x, exit): &(f64, Exit)| {
                [-1.0, 0.0, 1.0].into_iter().all(|y| {
                    let found = value(&terms, *x, y);
                    turned(exit, slowness(i, y)).is_some_and(|real| (found - real).abs() <= CLOSE)
                })
            };
            tried.iter().all(near).then(|| Box::new(terms))
        };
        Self((0..STRETCHES).map(stretch).collect())
    }

    /// The pitch at a place of the cell and a speed; none where that is not known.
    #[inline(always)]
    pub(super) fn at(&self, x: f64, speed: f64) -> Option<f64> {
        let from = (speed.recip() - FASTEST.recip()) * STRETCH.recip();
        if !(0.0..STRETCHES as f64).contains(&from) {
            return None;
        }
        #[expect(
            clippy::cast_possible_truncation,
            clippy::cast_sign_loss,
            reason = "from 0 to below the number of stretches"
        )]
        let at = from as usize;
        let terms = self.0.get(at)?.as_ref()?;
        Some(value(terms, x, 2.0 * (from - at as f64) - 1.0))
    }
}

/// The slowness at a place of a stretch, from -1 to 1.
fn slowness(stretch: usize, y: f64) -> f64 {
    FASTEST.recip() + STRETCH * (stretch as f64 + 0.5 * (1.0 + y))
}

fn turned(exit: &Exit, slowness: f64) -> Option<f64> {
    Exit { speed: slowness.recip(), ..*exit }.pitch_at_launch().ok()
}

fn terms(nodes: &[Exit], stretch: usize) -> Option<Terms> {
    let mut by_place = [[0.0; TERMS]; ORDER];
    for (row, exit) in by_place.iter_mut().zip(nodes) {
        let mut values = [0.0; TERMS];
        for (value, y) in values.iter_mut().zip(chebyshev::nodes::<TERMS>()) {
            *value = turned(exit, slowness(stretch, y))?;
        }
        *row = chebyshev::powers(&values);
    }
    let mut terms = [[0.0; TERMS]; ORDER];
    for j in 0..TERMS {
        let powers = chebyshev::powers::<ORDER>(&std::array::from_fn(|i| by_place[i][j]));
        for (row, power) in terms.iter_mut().zip(powers) {
            row[j] = power;
        }
    }
    Some(terms)
}

#[inline(always)]
fn value(terms: &Terms, x: f64, y: f64) -> f64 {
    let mut sum = terms[0];
    for row in &terms[1..] {
        for j in 0..TERMS {
            sum[j] = sum[j] * x + row[j];
        }
    }
    let mut value = sum[0];
    for term in &sum[1..] {
        value = value * y + term;
    }
    value
}
