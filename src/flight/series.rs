//! The flight with drag as a Taylor series in time: a few long pieces, each good to rounding.

use crate::force::Forces;
use crate::math::Vec3;
use crate::math::path::{DEGREE, Motion, Piece};

/// The last terms of a piece are let grow to this at its end; metres. What is cut off is smaller still.
const LAST_TERM: f64 = 1e-13;
/// A piece longer than this would only loosen the bounds taken over it; seconds.
const LONGEST: f64 = 0.5;
/// Where pieces would be shorter, the air speed passes near zero and the series is not worth it; seconds.
const SHORTEST: f64 = 0.02;

/// One over each number, but for the first: each term waits for the one before it, and a division takes long.
const INVERSE: [f64; DEGREE + 1] = {
    let mut inverse = [1.0; DEGREE + 1];
    let mut n = 1;
    while n <= DEGREE {
        inverse[n] = 1.0 / n as f64;
        n += 1;
    }
    inverse
};

/// The next piece of a flight, at most until a time; `None` where the series converges too slowly.
///
/// With `u` the velocity through the air, `u' = g - k |u| u`. Terms follow one another by the products of series:
/// those of `|u|^2 = u . u`, then of its root, then of `|u| u`.
pub(super) fn next_piece(from: &Motion, forces: &Forces, until: f64) -> Option<Piece> {
    let (start, mut air) = (from.velocity - forces.wind(), [[0.0; DEGREE]; 3]);
    let (mut square, mut speed) = ([0.0; DEGREE], [0.0; DEGREE]);
    let half = 0.5 / start.norm();
    for (part, start) in air.iter_mut().zip(&start) {
        part[0] = *start;
    }
    for n in 0..DEGREE - 1 {
        square[n] = squared(&air[0], n) + squared(&air[1], n) + squared(&air[2], n);
        speed[n] = root_term(&square, &speed, half, n);
        for part in &mut air {
            part[n + 1] = -forces.k() * product(&speed, part, n) * INVERSE[n + 1];
        }
        if n == 0 {
            air[2][1] -= forces.g();
        }
    }
    let mut terms = [from.position; DEGREE + 1];
    terms[1] = from.velocity;
    for n in 2..=DEGREE {
        terms[n] = Vec3::new(air[0][n - 1], air[1][n - 1], air[2][n - 1]) * INVERSE[n];
    }
    let step = longest_step(&terms, forces, speed[0]);
    (step >= SHORTEST).then(|| Piece::new(from.time, until.min(from.time + step), terms))
}

/// How long the series is good for: until its last terms have grown, and only half the way to rest in the air.
///
/// At rest the speed through the air has a kink, which the series of a flight straight up does not see coming.
fn longest_step(terms: &[Vec3; DEGREE + 1], forces: &Forces, speed: f64) -> f64 {
    let to_rest = speed / (forces.g() + forces.k() * speed * speed);
    let time_of = |n: usize| (LAST_TERM / terms[n].norm()).powf(1.0 / n as f64);
    let steps = [0.5 * to_rest, time_of(DEGREE), time_of(DEGREE - 1)];
    // Where the numbers have run out of range there is no step at all.
    let wild = steps.iter().any(|step| step.is_nan());
    if wild { 0.0 } else { steps.into_iter().fold(LONGEST, f64::min) }
}

/// The term of a square root, from those of the square and its own before; `half` is the half of one over its first.
fn root_term(square: &[f64; DEGREE], root: &[f64; DEGREE], half: f64, n: usize) -> f64 {
    if n == 0 {
        return square[0].sqrt();
    }
    (square[n] - folded(root, 1, n)) * half
}

/// The term of a square, from those of what is squared.
fn squared(terms: &[f64; DEGREE], n: usize) -> f64 {
    folded(terms, 0, n + 1)
}

/// The sum of `a[i] * a[j]` over all `i` and `j` from `low` to below `high` with `i + j = low + high - 1`. Each pair stands in it
/// twice.
fn folded(a: &[f64; DEGREE], low: usize, high: usize) -> f64 {
    let (mut twice, mut i, mut j) = (0.0, low, high);
    while i + 1 < j {
        j -= 1;
        twice += a[i] * a[j];
        i += 1;
    }
    let middle = if i + 1 == j { a[i] * a[i] } else { 0.0 };
    2.0 * twice + middle
}

/// The term of a product. Two sums, for each addition waits for the one before it.
fn product(a: &[f64; DEGREE], b: &[f64; DEGREE], n: usize) -> f64 {
    let (mut even, mut odd, mut i) = (0.0, 0.0, 0);
    while i < n {
        even += a[i] * b[n - i];
        odd += a[i + 1] * b[n - i - 1];
        i += 2;
    }
    let last = if i == n { a[n] * b[0] } else { 0.0 };
    even + odd + last
}
