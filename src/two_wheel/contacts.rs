//! When and where each wheel leaves the ground and comes down again.

use super::march::{Change, March};
use super::outcome::{End, Spot};
use super::phase::Setting;
use super::terrain::Feature;
use crate::math::Vec2;
use serde::{Deserialize, Serialize};

/// Time in the air shorter than this is a bounce, s.
const SHORTEST_FLIGHT: f64 = 0.02;
/// Wheels that come down within this time come down together, s.
const TOGETHER: f64 = 1e-6;
/// The sine of how far back a surface must lean to catch a wheel: 20 degrees, an assumption.
const LEANS_BACK: f64 = 0.342;
/// A wheel that comes against it slower than this is not caught, m/s.
const SLOWEST_CATCH: f64 = 1.0;
/// A ride lost later than this after a wheel was caught was not lost by that, s: an assumption.
const CONSEQUENCE: f64 = 2.0;

/// A wheel at the moment in which it leaves the ground or comes down on it.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize)]
pub struct WheelMark {
    /// Seconds from the start.
    pub time: f64,
    /// The tyre's mark on the ground: level distance and height, m.
    pub place: Vec2,
    /// The unit normal of the ground there.
    pub normal: Vec2,
    /// What it leaves or touches.
    pub feature: Feature,
    /// How fast the hub comes against the ground, m/s; negative when it leaves.
    pub into: f64,
    /// The pitch then, radians, nose down positive.
    pub pitch: f64,
}

/// Which wheel comes down first.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, Serialize, Deserialize)]
#[serde(rename_all = "lowercase")]
pub enum First {
    /// The rear one.
    Rear,
    /// The front one.
    Front,
    /// Both at once.
    Together,
}

/// The longest time in the air with both wheels off, and the landing after it. Pairs are rear, front.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[non_exhaustive]
pub struct Hop {
    /// When the last wheel left, s.
    pub from: f64,
    /// When the first one came down, or the ride ended, s.
    pub to: f64,
    /// Where each wheel left; none where the ride began in the air.
    pub left: [Option<WheelMark>; 2],
    /// Where each wheel came down; none where it did not.
    pub touched: [Option<WheelMark>; 2],
}

impl Hop {
    /// Which wheel came down first and how long before the other, s; none where not both came down.
    pub fn first(&self) -> Option<(First, f64)> {
        let [rear, front] = self.touched;
        let ahead = front?.time - rear?.time;
        Some(if ahead.abs() <= TOGETHER {
            (First::Together, ahead.abs())
        } else if ahead > 0.0 {
            (First::Rear, ahead)
        } else {
            (First::Front, -ahead)
        })
    }
}

/// Every leaving and every touch of both wheels, in order, each with its wheel; and when all were off.
#[derive(Debug, Clone, PartialEq)]
pub(super) struct Contacts {
    left: Vec<(usize, WheelMark)>,
    touched: Vec<(usize, WheelMark)>,
    airborne: Vec<(f64, f64)>,
}

impl Contacts {
    pub(super) fn of(setting: &Setting, march: &March) -> Self {
        let (mut left, mut touched, mut airborne) = (Vec::new(), Vec::new(), Vec::new());
        let mut since = march.first.is_airborne().then_some(0.0);
        for change in &march.changes {
            for end in 0..2 {
                let [before, after] =
                    [&change.before, &change.after].map(|phase| phase.wheels[end].touching);
                match (before, after) {
                    (Some(feature), None) => left.push((end, mark(setting, change, end, feature))),
                    (None, Some(feature)) => {
                        touched.push((end, mark(setting, change, end, feature)));
                    }
                    _ => {}
                }
            }
            match (since, change.after.is_airborne()) {
                (None, true) => since = Some(change.node.time),
                (Some(from), false) => {
                    airborne.push((from, change.node.time));
                    since = None;
                }
                _ => {}
            }
        }
        let end = march.nodes.last().map_or(0.0, |node| node.time);
        airborne.extend(since.map(|from| (from, end)));
        Self { left, touched, airborne }
    }

    /// The longest time in the air, where there was more than a bounce.
    pub(super) fn hop(&self) -> Option<Hop> {
        let long = self.airborne.iter().filter(|(from, to)| to - from >= SHORTEST_FLIGHT);
        let &(from, to) = long.max_by(|a, b| (a.1 - a.0).total_cmp(&(b.1 - b.0)))?;
        let left = [0, 1].map(|end| {
            let mut before = self.left.iter().rev();
            before.find(|(e, mark)| *e == end && mark.time <= from).map(|(_, mark)| *mark)
        });
        let touched = [0, 1].map(|end| {
            let mut after = self.touched.iter().filter(|(e, mark)| *e == end && mark.time >= to);
            after.next().map(|(_, mark)| *mark)
        });
        Some(Hop { from, to, left, touched })
    }

    /// The last time that the rear wheel hit something that leans back against it, and how fast.
    pub(super) fn catch(&self) -> Option<(WheelMark, f64)> {
        let rear = self.touched.iter().filter(|(end, _)| *end == End::Rear as usize);
        let caught = rear.map(|(_, mark)| mark).rfind(|mark| {
            let before = self.left.iter().rfind(|(e, m)| *e == 0 && m.time < mark.time);
            let off = before.map_or(f64::INFINITY, |(_, left)| mark.time - left.time);
            mark.normal.x <= -LEANS_BACK && mark.into >= SLOWEST_CATCH && off >= SHORTEST_FLIGHT
        });
        caught.map(|mark| (*mark, mark.into))
    }

    /// Whether a ride lost at `lost` was lost by a catch.
    pub(super) fn is_cause(mark: &WheelMark, lost: &Spot) -> bool {
        lost.time - mark.time <= CONSEQUENCE
    }
}

fn mark(setting: &Setting, change: &Change, end: usize, feature: Feature) -> WheelMark {
    let y = &change.node.y;
    let (hub, velocity) = setting.bike.hub(y, end);
    let radius = setting.bike.wheel_radius;
    // At the very moment the circle only grazes the ground: a hair more meets it.
    let touch = setting.terrain.touch(hub, radius * (1.0 + 1e-6));
    let normal = touch.map_or(Vec2::new(0.0, 1.0), |touch| touch.normal);
    WheelMark {
        time: change.node.time,
        place: hub - normal * radius,
        normal,
        feature,
        into: -velocity.dot(&normal),
        pitch: y[2],
    }
}
