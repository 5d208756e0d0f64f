//! The dynamic response index: how far the spine of a seated person would be pressed together by a shock.

use super::LoadError;
use super::impact::STANDARD_GRAVITY;
use crate::explain::Explanation;
use serde::{Deserialize, Serialize};

/// The natural frequency of the published model, rad/s.
pub const OMEGA: f64 = 52.9;
/// The damping ratio of the published model.
pub const DAMPING_RATIO: f64 = 0.224;

/// A dynamic response index: the highest spring force of the model over the weight of its mass.
///
/// **What it was made for**: ejection seats and vehicles over blasts: the spine of a person *seated and strapped in*, hit
/// from below through the seat. A standing rider's legs come first, and nobody has checked it for bikes. It compares one
/// landing with another; it predicts no injury.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize)]
#[non_exhaustive]
pub struct ResponseIndex {
    /// The index `w^2 x_max / g`.
    pub value: f64,
    /// The highest compression of the model's spring, m.
    pub compression: f64,
    /// When, in the record's time, s.
    pub time: f64,
}

impl ResponseIndex {
    /// The model behind the index, what it was made for, and its limits.
    pub fn explain(&self) -> Explanation {
        let model = "x'' + 2 z w x' + w^2 x = a(t) with w = 52.9 rad/s and z = 0.224, from rest; the index is \
            w^2 max x / g. Solved exactly for an acceleration that is linear between its samples, and on through the \
            free vibration after them.";
        let limits = "Made for ejection seats and vehicles over blasts: the spine of a person seated and strapped in, \
            hit from below. A standing rider's legs come first. It compares landings; it predicts no injury.";
        Explanation::new(model, limits)
            .with_source(
                "the dynamic response index as NATO's STANAG 4569 uses it (read in an encyclopedia, not in the standard)",
            )
            .with_input("index", self.value, "")
            .with_input("compression", self.compression, "m")
    }
}

/// The dynamic response index of a shock: upward accelerations, m/s^2, of the seat at rising times, s.
///
/// Between samples the acceleration is linear (of two samples at one time the second holds from there on: a jump); before
/// the first and after the last there is none. The model starts at rest. Exact to rounding, the free vibration after
/// the record counted. Read [`ResponseIndex`] for what it was made for.
pub fn response_index(times: &[f64], accelerations: &[f64]) -> Result<ResponseIndex, LoadError> {
    check(times, accelerations)?;
    let mut seat = Seat { x: 0.0, v: 0.0 };
    let mut highest = (0.0, times[0]);
    for (t, a) in times.windows(2).zip(accelerations.windows(2)) {
        if t[1] > t[0] {
            let slope = (a[1] - a[0]) / (t[1] - t[0]);
            seat = seat.ride(a[0], slope, t[0], t[1] - t[0], &mut highest);
        }
    }
    // One whole swing: past it the free vibration only gets smaller.
    let (end, swing) = (times[times.len() - 1], 2.0 * std::f64::consts::PI / Forced::damped());
    seat.ride(0.0, 0.0, end, swing, &mut highest);
    let (compression, time) = highest;
    let value = OMEGA * OMEGA * compression / STANDARD_GRAVITY;
    Ok(ResponseIndex { value, compression, time })
}

fn check(times: &[f64], accelerations: &[f64]) -> Result<(), LoadError> {
    let wrong = |reason: String| Err(LoadError::Record { reason });
    if times.len() != accelerations.len() {
        return wrong(format!("{} times and {} accelerations", times.len(), accelerations.len()));
    }
    if times.len() < 2 {
        return wrong(format!("{} samples", times.len()));
    }
    if let Some(at) =
        (0..times.len()).find(|i| !(times[*i].is_finite() && accelerations[*i].is_finite()))
    {
        return wrong(format!("sample {at} is not a finite number"));
    }
    if let Some(at) = times.windows(2).position(|t| t[1] < t[0]) {
        return wrong(format!("time falls after sample {at}"));
    }
    Ok(())
}

/// The model's mass: how far its spring is pressed together, and how fast.
#[derive(Debug, Clone, Copy)]
struct Seat {
    x: f64,
    v: f64,
}

impl Seat {
    /// The model after a time under the acceleration `a + slope t`; the highest compression on the way is kept.
    fn ride(self, a: f64, slope: f64, from: f64, time: f64, highest: &mut (f64, f64)) -> Self {
        let forced = Forced::new(self, a, slope);
        // Stops of the spring come about half a swing apart: a tenth of one cannot hold two.
        let parts = (time * OMEGA / 0.3).ceil().max(1.0);
        let step = time / parts;
        let mut before = self;
        let mut start = 0.0;
        while start < time - 0.5 * step {
            let after = forced.at(start + step);
            if before.v > 0.0 && after.v <= 0.0 {
                let top = forced.turn(start, start + step);
                let x = forced.at(top).x;
                if x > highest.0 {
                    *highest = (x, from + top);
                }
            }
            (before, start) = (after, start + step);
        }
        let last = forced.at(time);
        if last.x > highest.0 {
            *highest = (last.x, from + time);
        }
        last
    }
}

/// The exact motion under an acceleration linear in time: `x = p + r t + e^(-s t) (b cos(w_d t) + d sin(w_d t))`.
#[derive(Debug, Clone, Copy)]
struct Forced {
    p: f64,
    r: f64,
    b: f64,
    d: f64,
}

impl Forced {
    const SLOWING: f64 = DAMPING_RATIO * OMEGA;

    fn damped() -> f64 {
        OMEGA * (1.0 - DAMPING_RATIO * DAMPING_RATIO).sqrt()
    }

    fn new(seat: Seat, a: f64, slope: f64) -> Self {
        let stiffness = OMEGA * OMEGA;
        let r = slope / stiffness;
        let p = (a - 2.0 * Self::SLOWING * r) / stiffness;
        let b = seat.x - p;
        Self { p, r, b, d: (seat.v - r + Self::SLOWING * b) / Self::damped() }
    }

    fn at(&self, t: f64) -> Seat {
        let (w, s) = (Self::damped(), Self::SLOWING);
        let (sin, cos) = (w * t).sin_cos();
        let swing = (-s * t).exp();
        let x = self.b * cos + self.d * sin;
        let rate = w * (self.d * cos - self.b * sin) - s * x;
        Seat { x: self.p + self.r * t + swing * x, v: self.r + swing * rate }
    }

    /// Where the speed comes down to zero between two times at which its sign differs.
    fn turn(&self, low: f64, high: f64) -> f64 {
        crate::math::roots::bracketed(|t| self.at(t).v, low, high, 1e-15).unwrap_or(high)
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use approx::assert_relative_eq;
    use std::f64::consts::PI;

    const G: f64 = STANDARD_GRAVITY;

    /// Derived: a step overshoots by `1 + exp(-pi z / sqrt(1 - z^2))`.
    #[test]
    fn a_step_overshoots() {
        let index = response_index(&[0.0, 5.0], &[3.0 * G, 3.0 * G]).unwrap();
        assert_relative_eq!(index.value / 3.0, 1.4857481277205222, max_relative = 1e-12);
        let root = (1.0 - DAMPING_RATIO * DAMPING_RATIO).sqrt();
        assert_relative_eq!(index.time, PI / (OMEGA * root), max_relative = 1e-9);
    }

    /// Derived: half-sines of 10 g for 100 ms and 20 g for 20 ms, by another integration.
    #[test]
    fn half_sines() {
        for (peak, time, wanted) in
            [(10.0, 0.1, 13.37233425717864), (20.0, 0.02, 9.629595434731046)]
        {
            let n = 4000;
            let times: Vec<f64> = (0..=n).map(|i| time * f64::from(i) / f64::from(n)).collect();
            let pulse: Vec<f64> = times.iter().map(|t| peak * G * (PI * t / time).sin()).collect();
            let index = response_index(&times, &pulse).unwrap();
            assert_relative_eq!(index.value, wanted, max_relative = 1e-6);
        }
    }

    /// Derived: however it is cut into samples, a piecewise linear shock gives the same index.
    #[test]
    fn more_samples_of_the_same_shock_change_nothing() {
        let coarse = response_index(&[0.0, 0.03, 0.05], &[0.0, 90.0, -20.0]).unwrap();
        let times: Vec<f64> = (0..=50).map(|i| f64::from(i) * 1e-3).collect();
        let shock = |t: &f64| if *t < 0.03 { 3000.0 * t } else { 90.0 - 5500.0 * (t - 0.03) };
        let fine = response_index(&times, &times.iter().map(shock).collect::<Vec<_>>()).unwrap();
        assert_relative_eq!(coarse.value, fine.value, max_relative = 1e-10);
    }

    #[test]
    fn samples_that_make_no_record_are_told() {
        let told = |t: &[f64], a: &[f64]| response_index(t, a).unwrap_err().to_string();
        assert!(told(&[0.0], &[1.0]).contains("1 samples"));
        assert!(told(&[0.0, 1.0], &[1.0]).contains("2 times and 1 accelerations"));
        assert!(told(&[0.0, 1.0, 0.5], &[1.0; 3]).contains("falls after sample 1"));
        assert!(told(&[0.0, f64::NAN], &[1.0; 2]).contains("sample 1 is not"));
    }
}
