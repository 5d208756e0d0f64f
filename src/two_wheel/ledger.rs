//! Where the energy and the momentum of a two-wheel ride went.

use super::march::{March, Node, between};
use super::motion::{Energies, State};
use super::phase::Setting;
use crate::math::Vec2;
use crate::math::quadrature::Rule;
use serde::{Deserialize, Serialize};

/// What is stored at one moment, J/kg.
#[derive(Debug, Clone, Copy, PartialEq, Default, Serialize, Deserialize)]
pub struct Stored {
    /// Of the motion of body and hubs.
    pub kinetic: f64,
    /// Of their height over the zero of heights.
    pub height: f64,
    /// In springs and stops.
    pub springs: f64,
    /// In the tyres.
    pub tyres: f64,
}

/// The energy of a two-wheel ride per mass of rider and bike, J/kg: what is stored at the end is what was at the start,
/// less what dampers, rolling, drag and brake took.
#[derive(Debug, Clone, Copy, PartialEq, Default, Serialize, Deserialize)]
#[non_exhaustive]
pub struct TwoWheelLedger {
    /// At the start.
    pub start: Stored,
    /// At the end.
    pub end: Stored,
    /// What the dampers took.
    pub dampers: f64,
    /// What rolling resistance took.
    pub rolling: f64,
    /// What drag took; negative where wind pushed.
    pub drag: f64,
    /// What the brakes took.
    pub brake: f64,
}

impl Stored {
    /// All of it.
    pub fn total(&self) -> f64 {
        self.kinetic + self.height + self.springs + self.tyres
    }
}

impl TwoWheelLedger {
    /// What does not add up, J/kg.
    pub fn residual(&self) -> f64 {
        self.end.total() - self.start.total() + self.dampers + self.rolling + self.drag + self.brake
    }

    pub(super) fn of(setting: &Setting, march: &March) -> Self {
        let ends = [march.nodes.first(), march.nodes.last()];
        let [start, end] = ends.map(|node| node.map_or_else(State::zeros, |node| node.y));
        Self {
            start: stored(setting, &start),
            end: stored(setting, &end),
            dampers: end[10],
            rolling: end[11],
            drag: end[12],
            brake: end[13],
        }
    }
}

fn stored(setting: &Setting, y: &State) -> Stored {
    let Energies { kinetic, height, springs, tyres } = setting.bike.energies(y, setting.terrain);
    Stored { kinetic, height, springs, tyres }
}

/// The momentum of a two-wheel ride per mass of rider and bike, m/s, level and up: `end = start + gravity + drag + rear + front +
/// rolling + brake + residual`.
#[derive(Debug, Clone, Copy, PartialEq, Default, Serialize, Deserialize)]
#[non_exhaustive]
pub struct TwoWheelMomentum {
    /// At the start.
    pub start: Vec2,
    /// What gravity gave.
    pub gravity: Vec2,
    /// What drag gave.
    pub drag: Vec2,
    /// What the ground gave to the rear tyre, square to it.
    pub rear: Vec2,
    /// What it gave to the front tyre.
    pub front: Vec2,
    /// What rolling resistance gave.
    pub rolling: Vec2,
    /// What the brakes gave.
    pub brake: Vec2,
    /// At the end.
    pub end: Vec2,
}

impl TwoWheelMomentum {
    /// What does not add up, m/s.
    pub fn residual(&self) -> Vec2 {
        let ground = self.rear + self.front + self.rolling + self.brake;
        self.end - (self.start + self.gravity + self.drag + ground)
    }

    pub(super) fn of(setting: &Setting, march: &March) -> Self {
        let mut sum = Self::default();
        let (Some(first), Some(last)) = (march.nodes.first(), march.nodes.last()) else {
            return sum;
        };
        let rule = Rule::<3>::gauss();
        for step in march.nodes.windows(2) {
            sum.add(setting, &rule, &step[0], &step[1]);
        }
        let bike = setting.bike;
        (sum.start, sum.end) = (bike.momentum(&first.y), bike.momentum(&last.y));
        sum.gravity = Vec2::new(0.0, -bike.gravity * bike.mass * (last.time - first.time));
        sum.scaled(bike.mass.recip())
    }

    /// Adds what the forces gave over a step, N s.
    fn add(&mut self, setting: &Setting, rule: &Rule<3>, from: &Node, to: &Node) {
        let lasts = to.time - from.time;
        if lasts <= 0.0 {
            return;
        }
        for (x, weight) in rule.nodes.iter().zip(rule.weights) {
            let y = between(from, to, from.time + x * lasts);
            let brake = setting.brake(setting.brakes_at(y[0]));
            let outside = setting.bike.outside(&y, setting.terrain, brake);
            let time = weight * lasts;
            self.drag += outside.drag * time;
            self.rear += outside.loads[0] * time;
            self.front += outside.loads[1] * time;
            self.rolling += outside.rolling * time;
            self.brake += outside.brake * time;
        }
    }

    fn scaled(self, by: f64) -> Self {
        Self {
            start: self.start * by,
            gravity: self.gravity * by,
            drag: self.drag * by,
            rear: self.rear * by,
            front: self.front * by,
            rolling: self.rolling * by,
            brake: self.brake * by,
            end: self.end * by,
        }
    }
}
