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

/// The next piece of a flight, at most until a time; `None` where the series converges too slowly.
///
/// With `u` the velocity through the air, `u' = g - k |u| u`. Terms follow one another by the products of series:
/// those of `|u|^2 = u . u`, then of its root, then of `|u| u`.
pub(super) fn next_piece(from: &Motion, forces: &Forces, until: f64) -> Option<Piece> {
    let mut air = [Vec3::zeros(); DEGREE];
    let (mut square, mut speed) = ([0.0; DEGREE], [0.0; DEGREE]);
    air[0] = from.velocity - forces.wind();
    for n in 0..DEGREE - 1 {
        let reversed = || air[..=n].iter().rev();
        square[n] = air[..=n].iter().zip(reversed()).map(|(a, b)| a.dot(b)).sum();
        speed[n] = root_term(&square, &speed, n);
        let drag: Vec3 = speed[..=n].iter().zip(reversed()).map(|(s, a)| a * *s).sum();
        let rate = if n == 0 { forces.gravity() - drag * forces.k() } else { drag * -forces.k() };
        air[n + 1] = rate / (n + 1) as f64;
    }
    let mut terms = [from.position; DEGREE + 1];
    terms[1] = from.velocity;
    for n in 2..=DEGREE {
        terms[n] = air[n - 1] / n as f64;
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

/// The term of a square root, from those of the square and its own before.
fn root_term(square: &[f64; DEGREE], root: &[f64; DEGREE], n: usize) -> f64 {
    if n == 0 {
        return square[0].sqrt();
    }
    let mixed: f64 = root[1..n].iter().zip(root[1..n].iter().rev()).map(|(a, b)| a * b).sum();
    (square[n] - mixed) / (2.0 * root[0])
}
