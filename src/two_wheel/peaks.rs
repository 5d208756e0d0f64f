//! The hardest moments of a two-wheel ride.

use super::march::March;
use super::outcome::{End, TwoWheelWarning};
use super::phase::Setting;
use crate::math::Vec2;
use serde::{Deserialize, Serialize};

/// A tyre pressed in this far lets the rim strike, m (common practice: about the height of a trail tyre above its rim).
const TYRE_HEIGHT: f64 = 0.05;

/// A value and when it was reached.
#[derive(Debug, Clone, Copy, PartialEq, Default, Serialize, Deserialize)]
pub struct At {
    /// The value.
    pub value: f64,
    /// Seconds from the start.
    pub time: f64,
}

/// The highest loads and the deepest travel of a ride; pairs are rear, front.
#[derive(Debug, Clone, Copy, PartialEq, Default, Serialize, Deserialize)]
#[non_exhaustive]
pub struct TwoWheelPeaks {
    /// The ground's force on each tyre, N.
    pub load: [At; 2],
    /// Each suspension's compression from full extension, m.
    pub travel: [At; 2],
    /// How far each tyre was pressed in, m.
    pub tyre: [At; 2],
    /// The suspension's force when it was pressed in most, N.
    pub strut: [f64; 2],
    /// What pushes the body, in body weights: 1 at rest on the level.
    pub body: At,
}

impl At {
    fn raise(&mut self, value: f64, time: f64) -> bool {
        let is_higher = value > self.value;
        if is_higher {
            *self = Self { value, time };
        }
        is_higher
    }
}

impl TwoWheelPeaks {
    pub(super) fn of(setting: &Setting, march: &March) -> Self {
        let (bike, mut peaks) = (setting.bike, Self::default());
        for node in &march.nodes {
            let (y, time) = (&node.y, node.time);
            let gravity = Vec2::new(0.0, bike.gravity);
            let push = Vec2::new(node.rates[5], node.rates[6]) + gravity;
            peaks.body.raise(push.norm() / bike.gravity, time);
            for (end, wheel) in bike.wheels(y, setting.terrain).iter().enumerate() {
                peaks.load[end].raise(wheel.load, time);
                peaks.tyre[end].raise(wheel.touch.map_or(0.0, |touch| touch.depth), time);
                if peaks.travel[end].raise(y[3 + end], time) {
                    peaks.strut[end] = wheel.strut;
                }
            }
        }
        peaks
    }

    /// What the hardest moments warn of.
    pub(super) fn warnings(&self, setting: &Setting, leg_force: f64) -> Vec<TwoWheelWarning> {
        let mut warnings = Vec::new();
        for (end, wheel) in End::BOTH.into_iter().enumerate() {
            let travel = setting.bike.axles[end].strut.map_or(f64::INFINITY, |strut| strut.travel);
            if self.travel[end].value > travel {
                let (time, force) = (self.travel[end].time, self.strut[end]);
                warnings.push(TwoWheelWarning::Bottomed { wheel, time, force });
            }
            let At { value: depth, time } = self.tyre[end];
            if depth > TYRE_HEIGHT {
                warnings.push(TwoWheelWarning::RimStrike { wheel, time, depth });
            }
        }
        let At { value: load, time } = self.body;
        if load > leg_force {
            warnings.push(TwoWheelWarning::BeyondLegs { time, load, holds: leg_force });
        }
        warnings
    }
}
