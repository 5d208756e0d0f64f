//! The phases of a ride: within one, everything is smooth.

use super::bike::{Bike, CHAINRING};
use super::motion::{State, Wheel};
use super::options::TwoWheelOptions;
use super::outcome::End;
use super::strut::{Reach, Way};
use super::terrain::{Feature, Terrain};

/// Rates of compression this small are rest, m/s: rounding must not turn a damper over and over.
const REST: f64 = 1e-9;
/// Depths and compressions this small are none, m, for the same reason.
const NOTHING: f64 = 1e-11;
/// A rider slower than this who is not speeding up stands still, m/s.
const STANDSTILL: f64 = 0.02;
/// An acceleration this small is none, m/s^2: rounding.
const AT_REST: f64 = 1e-9;

/// What a ride runs in: the terrain, the bike, and how it is ridden.
#[derive(Debug, Clone, Copy)]
pub(super) struct Setting<'a> {
    pub(super) bike: &'a Bike,
    pub(super) terrain: &'a Terrain,
    pub(super) options: &'a TwoWheelOptions,
}

/// What one wheel is doing.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) struct WheelPhase {
    pub(super) touching: Option<Feature>,
    pub(super) reach: Reach,
    way: Way,
}

/// Why a ride stops.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum Stop {
    /// The front wheel has come to the end of the terrain.
    AtEnd,
    PitchedOver,
    LoopedOut,
    Stalled,
    /// The chainring's guard touches the ground.
    Struck,
    /// Behind the start, or below all ground.
    Off,
    /// A wheel was pressed in up to its hub.
    Crushed(End),
}

/// Everything that changes by jumps.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) struct Phase {
    pub(super) wheels: [WheelPhase; 2],
    pub(super) is_braking: bool,
    pub(super) stop: Option<Stop>,
}

impl Phase {
    /// The phase of a state; values that rounding leaves at a border keep what `before` had.
    pub(super) fn of(setting: &Setting, y: &State, before: Option<&Self>) -> Self {
        let wheels = setting.bike.wheels(y, setting.terrain);
        let each = [0, 1].map(|end| {
            let before = before.map(|phase| &phase.wheels[end]);
            WheelPhase {
                touching: touching(&wheels[end], before),
                reach: reach(setting.bike, y, end, before),
                way: way(setting.bike, y, end, before),
            }
        });
        let is_braking = setting.brakes_at(y[0]);
        let stop = stop(setting, y, &wheels, is_braking);
        Self { wheels: each, is_braking, stop }
    }

    pub(super) fn is_airborne(&self) -> bool {
        self.wheels.iter().all(|wheel| wheel.touching.is_none())
    }
}

impl Setting<'_> {
    /// Whether the rider brakes with the centre of mass at a level distance.
    pub(super) fn brakes_at(&self, distance: f64) -> bool {
        self.options.braking.is_some_and(|b| (b.from..b.to).contains(&distance))
    }

    /// The share of each wheel's load that a phase brakes with.
    pub(super) fn brake(&self, is_braking: bool) -> f64 {
        let wanted = self.options.braking.map_or(0.0, |b| b.deceleration / self.bike.gravity);
        if is_braking { wanted.min(self.bike.grip) } else { 0.0 }
    }
}

fn touching(wheel: &Wheel, before: Option<&WheelPhase>) -> Option<Feature> {
    let depth = wheel.touch.map_or(0.0, |touch| touch.depth);
    match before {
        // Barely there: whether it touches stays as it was.
        Some(before) if depth <= NOTHING => {
            if wheel.touch.is_some() {
                before.touching
            } else {
                None
            }
        }
        _ => wheel.touch.map(|touch| touch.feature),
    }
}

fn reach(bike: &Bike, y: &State, end: usize, before: Option<&WheelPhase>) -> Reach {
    let Some(strut) = &bike.axles[end].strut else {
        return Reach::Within;
    };
    let s = y[3 + end];
    let near = s.abs().min((s - strut.travel).abs()) <= NOTHING;
    match before {
        Some(before) if near => before.reach,
        _ => strut.reach(s),
    }
}

fn way(bike: &Bike, y: &State, end: usize, before: Option<&WheelPhase>) -> Way {
    let Some(strut) = &bike.axles[end].strut else {
        return Way::Out;
    };
    match before {
        Some(before) if y[8 + end].abs() <= REST => before.way,
        _ => strut.way(y[3 + end], y[8 + end]),
    }
}

fn stop(setting: &Setting, y: &State, wheels: &[Wheel; 2], is_braking: bool) -> Option<Stop> {
    let Setting { bike, terrain, options } = setting;
    let (start, end) = terrain.span();
    let is_on = wheels.iter().any(|wheel| wheel.touch.is_some());
    let is_crushed = |wheel: &Wheel| wheel.touch.is_some_and(|t| t.depth >= bike.wheel_radius);
    if let Some((wheel, _)) = End::BOTH.into_iter().zip(wheels).find(|(_, wheel)| is_crushed(wheel))
    {
        Some(Stop::Crushed(wheel))
    } else if y[2] >= options.pitch_limit {
        Some(Stop::PitchedOver)
    } else if y[2] <= -options.pitch_limit {
        Some(Stop::LoopedOut)
    } else if wheels[1].hub.x >= end - bike.wheel_radius {
        Some(Stop::AtEnd)
    } else if terrain.touch(bike.cranks(y), CHAINRING).is_some() {
        Some(Stop::Struck)
    } else if wheels[0].hub.x < start || wheels[1].hub.y < terrain.lowest() - bike.wheelbase {
        Some(Stop::Off)
    } else if is_on && y[5] < STANDSTILL && stands(setting, y, is_braking) {
        Some(Stop::Stalled)
    } else {
        None
    }
}

/// Whether a slow rider is not speeding up.
fn stands(setting: &Setting, y: &State, is_braking: bool) -> bool {
    let brake = setting.brake(is_braking);
    setting.bike.moment(y, setting.terrain, brake).rates[5] <= AT_REST
}
