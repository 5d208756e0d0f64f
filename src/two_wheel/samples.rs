//! A two-wheel ride moment by moment.

use super::march::{March, between};
use super::motion::State;
use super::phase::Setting;
use crate::math::Vec2;
use serde::{Deserialize, Serialize};

/// One wheel moment by moment, all arrays of one length.
#[derive(Debug, Clone, PartialEq, Default, Serialize, Deserialize)]
#[non_exhaustive]
pub struct WheelSamples {
    /// The hub: level distance and height, m.
    pub hub: Vec<Vec2>,
    /// The ground's force on the tyre, along its normal, N.
    pub load: Vec<f64>,
    /// The suspension's force, N.
    pub strut: Vec<f64>,
    /// The suspension's compression from full extension, m.
    pub travel: Vec<f64>,
    /// Whether the tyre touches.
    pub is_touching: Vec<bool>,
}

/// A two-wheel ride moment by moment, all arrays of one length; every event has a moment of its own.
#[derive(Debug, Clone, PartialEq, Default, Serialize, Deserialize)]
#[non_exhaustive]
pub struct TwoWheelSamples {
    /// Seconds from the start.
    pub time: Vec<f64>,
    /// The sprung mass's centre: level distance and height, m.
    pub centre: Vec<Vec2>,
    /// Its velocity, m/s.
    pub velocity: Vec<Vec2>,
    /// Pitch from level, radians, nose down positive.
    pub pitch: Vec<f64>,
    /// Pitch rate, rad/s.
    pub pitch_rate: Vec<f64>,
    /// The rear wheel.
    pub rear: WheelSamples,
    /// The front wheel.
    pub front: WheelSamples,
}

impl TwoWheelSamples {
    /// The number of moments.
    pub fn len(&self) -> usize {
        self.time.len()
    }

    /// Whether there is none.
    pub fn is_empty(&self) -> bool {
        self.time.is_empty()
    }

    /// Moments at most `spacing` seconds apart, and all events.
    pub(super) fn of(setting: &Setting, march: &March, spacing: f64) -> Self {
        let nodes = &march.nodes;
        let end = nodes.last().map_or(0.0, |node| node.time);
        let count = (end / spacing).ceil().max(1.0);
        let mut times: Vec<f64> = march.changes.iter().map(|change| change.node.time).collect();
        let mut k = 0.0;
        while k <= count {
            times.push(end * k / count);
            k += 1.0;
        }
        times.sort_by(f64::total_cmp);
        times.dedup();
        let mut samples = Self::default();
        let mut i = 0;
        for time in times {
            while i + 2 < nodes.len() && nodes[i + 1].time < time {
                i += 1;
            }
            let next = nodes.get(i + 1).unwrap_or(&nodes[i]);
            samples.push(setting, time, &between(&nodes[i], next, time));
        }
        samples
    }

    fn push(&mut self, setting: &Setting, time: f64, y: &State) {
        self.time.push(time);
        self.centre.push(Vec2::new(y[0], y[1]));
        self.velocity.push(Vec2::new(y[5], y[6]));
        self.pitch.push(y[2]);
        self.pitch_rate.push(y[7]);
        let wheels = setting.bike.moment(y, setting.terrain, 0.0).wheels;
        for (end, samples) in [&mut self.rear, &mut self.front].into_iter().enumerate() {
            let wheel = &wheels[end];
            samples.hub.push(wheel.hub);
            samples.load.push(wheel.load);
            samples.strut.push(wheel.strut);
            samples.travel.push(y[3 + end]);
            samples.is_touching.push(wheel.touch.is_some());
        }
    }
}
