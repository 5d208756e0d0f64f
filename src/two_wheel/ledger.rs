//! Where the energy of a two-wheel ride went.

use super::march::March;
use super::motion::{Energies, State};
use super::phase::Setting;
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
