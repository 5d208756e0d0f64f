//! Landings that have closed forms: a constant force, a spring, a suspension in series with legs that yield.

use super::LoadError;
use super::impact::Impact;
use crate::math::range::{OutOfRange, non_negative, positive};
use serde::{Deserialize, Serialize};

/// The constant force that stops a body within a way, over the body's weight: `c + h_eq / d`.
///
/// Exact: the work of force and weight over the way, m. No force history that stops it within the same way has a lower
/// peak. Infinite where the way is 0.
pub fn constant_force(impact: &Impact, way: f64) -> f64 {
    impact.slope_cos() + impact.fall_height() / way
}

/// What an undamped spring of `stiffness`, N/m, takes from a `mass`, kg, that comes down on it: how far it is pressed
/// together, m, and its highest force over the mass's weight.
///
/// `F/(m g) = c + sqrt(c^2 + 2 k h_eq / (m g))` and `x = F/k`: exact, from the energy.
pub fn undamped_spring(impact: &Impact, mass: f64, stiffness: f64) -> Result<Stroke, LoadError> {
    let weight = positive("mass", mass)? * impact.gravity();
    let stiffness = positive("stiffness", stiffness)?;
    let c = impact.slope_cos();
    let force = c + (c * c + 2.0 * stiffness * impact.fall_height() / weight).sqrt();
    Ok(Stroke { force, used: force * weight / stiffness, bottomed: false })
}

/// A highest force over the weight, and how far a spring is pressed together by then.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize)]
#[non_exhaustive]
pub struct Stroke {
    /// The highest force over the weight.
    pub force: f64,
    /// How far the spring is pressed together, m.
    pub used: f64,
    /// Whether it came to its stop.
    pub bottomed: bool,
}

/// A linear suspension without mass in series with legs that yield at one constant force.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize)]
pub struct SprungThenYielding {
    travel: f64,
    sag: f64,
    damping_share: f64,
}

impl SprungThenYielding {
    /// The suspension: its `travel`, m, above 0, its `sag` under the whole weight, above 0 and below 1, and how much its
    /// damping adds to the spring's force as it goes in, a share of at least 0.
    pub fn new(travel: f64, sag: f64, damping_share: f64) -> Result<Self, LoadError> {
        if !(sag > 0.0 && sag < 1.0) {
            return Err(OutOfRange::new("sag", sag, "above 0 and below 1").into());
        }
        Ok(Self {
            travel: positive("travel", travel)?,
            sag,
            damping_share: non_negative("damping_share", damping_share)?,
        })
    }

    /// The yield force over the weight with which legs use up just their `stroke`, m, and what the suspension does.
    ///
    /// With `q = sag s_1 / (1 + b)` the suspension gives `q f` under a force `f`, as long as that is within its travel
    /// `s_1`; the energy `h + c (q f + s_2) = q f^2 / 2 + f s_2` then gives `f`. Bottomed, it takes
    /// `(1 + b) s_1 / (2 sag)` and the legs all else.
    pub fn least_force(&self, impact: &Impact, stroke: f64) -> Result<Stroke, LoadError> {
        let stroke = positive("leg_stroke", stroke)?;
        let (c, h) = (impact.slope_cos(), impact.fall_height());
        let stiffer = 1.0 + self.damping_share;
        let q = self.sag * self.travel / stiffer;
        let half = stroke - c * q;
        let force = ((half * half + 2.0 * q * (h + c * stroke)).sqrt() - half) / q;
        if q * force <= self.travel {
            return Ok(Stroke { force, used: q * force, bottomed: false });
        }
        let taken = stiffer * self.travel / (2.0 * self.sag);
        let force = c + (h + c * self.travel - taken) / stroke;
        Ok(Stroke { force, used: self.travel, bottomed: true })
    }

    /// The fall height, m, on level ground that legs with this yield force over the weight take within their `stroke`, m,
    /// where the suspension does not bottom: `q f^2 / 2 + (s_2 - q) f - s_2`.
    pub fn capacity(&self, force: f64, stroke: f64) -> Result<f64, LoadError> {
        let (force, stroke) = (positive("leg_force", force)?, positive("leg_stroke", stroke)?);
        let q = self.sag * self.travel / (1.0 + self.damping_share);
        Ok(0.5 * q * force * force + (stroke - q) * force - stroke)
    }
}
