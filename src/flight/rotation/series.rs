//! One piece of a body's turning: the Taylor series of its rates and its quaternion.

use super::{Body, Turning, unit};
use crate::flight::FlightError;
use crate::math::Vec3;
use serde::{Deserialize, Serialize};

/// The degree of the series.
const DEGREE: usize = 20;
/// The last terms are let grow to this at a piece's end, in the quaternion and, of the rates or of 1 rad/s, in the
/// rates. What is cut off is smaller still.
const LAST_TERM: f64 = 1e-16;
/// A piece is no longer than this; seconds.
const LONGEST: f64 = 2.0;

/// The turning over a stretch of time, as coefficients of the powers of the time since its start.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub(super) struct Turn {
    pub(super) start: f64,
    pub(super) end: f64,
    rates: [Vec3; DEGREE + 1],
    scalar: [f64; DEGREE + 1],
    vector: [Vec3; DEGREE + 1],
}

impl Turn {
    /// The piece that begins so.
    ///
    /// The equations are products of at most two unknowns, so each term follows from sums of products of those before.
    pub(super) fn from(body: &Body, from: &Turning, start: f64) -> Result<Self, FlightError> {
        let zero = [Vec3::zeros(); DEGREE + 1];
        let (mut rates, mut momenta) = (zero, zero);
        let (mut scalar, mut vector) = ([0.0; DEGREE + 1], zero);
        let moments = body.moments();
        rates[0] = from.rates;
        momenta[0] = body.momentum(&from.rates);
        (scalar[0], vector[0]) = (from.rotation.w, from.rotation.imag());
        for n in 0..DEGREE {
            let mut moment = if n == 0 { body.torque } else { Vec3::zeros() };
            let (mut real, mut imaginary) = (0.0, Vec3::zeros());
            for i in 0..=n {
                let rate = rates[i];
                moment -= rate.cross(&momenta[n - i]);
                real -= vector[n - i].dot(&rate);
                imaginary += rate * scalar[n - i] + vector[n - i].cross(&rate);
            }
            let next = (n + 1) as f64;
            momenta[n + 1] = moment / next;
            rates[n + 1] = momenta[n + 1].component_div(&moments);
            (scalar[n + 1], vector[n + 1]) = (0.5 * real / next, imaginary * (0.5 / next));
        }
        let mut turn = Self { start, end: start, rates, scalar, vector };
        turn.end += turn.longest();
        // Written so that a NaN is an error.
        if turn.end > start { Ok(turn) } else { Err(FlightError::TooFast { time: start }) }
    }

    /// How long the series is good for.
    fn longest(&self) -> f64 {
        let scale = self.rates[0].norm().max(1.0);
        let time = |n: usize, size: f64| (LAST_TERM / size).powf(1.0 / n as f64);
        let both = |n: usize| {
            let turn = self.scalar[n].hypot(self.vector[n].norm());
            time(n, turn.max(self.rates[n].norm() / scale))
        };
        let steps = [both(DEGREE), both(DEGREE - 1)];
        let wild = steps.iter().any(|step| step.is_nan());
        if wild { f64::NAN } else { steps.into_iter().fold(LONGEST, f64::min) }
    }

    pub(super) fn at(&self, time: f64) -> Turning {
        let s = time - self.start;
        let (mut rates, mut vector, mut scalar) = (Vec3::zeros(), Vec3::zeros(), 0.0);
        for n in (0..=DEGREE).rev() {
            rates = rates * s + self.rates[n];
            vector = vector * s + self.vector[n];
            scalar = scalar * s + self.scalar[n];
        }
        Turning { rotation: unit(scalar, vector), rates }
    }
}
