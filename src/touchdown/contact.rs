//! The touch: where, how fast, how hard.

use crate::flight::Flight;
use crate::ground::Touch;
use crate::math::Vec3;
use serde::{Deserialize, Serialize};

/// A speed below this has no direction; m/s.
const STILL: f64 = 1e-12;

/// The touch of the ground and what it says. SI, radians.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize)]
#[non_exhaustive]
pub struct Contact {
    /// Seconds since the launch.
    pub time: f64,
    /// The tyres' mark: where a flag would be planted.
    pub mark: Vec3,
    /// The centre of mass.
    pub position: Vec3,
    /// Its velocity.
    pub velocity: Vec3,
    /// The unit vector from the touched place to the centre of mass.
    pub normal: Vec3,
    /// The speed into the surface; 0 where it moves away from it.
    pub normal_speed: f64,
    /// The equivalent fall height `v_n^2 / (2 g)`: the drop onto level ground that comes down as hard.
    pub fall_height: f64,
    /// The angle between path and surface.
    pub angle: f64,
    /// The speed over the surface, forward.
    pub along_speed: f64,
    /// The speed over the surface to the left of forward. Forward is the landing's heading where there is a landing,
    /// else where the bike pointed at the launch, else where the path goes.
    pub sideways_speed: f64,
    /// The grip that stopping the sideways speed in the landing would take: sideways speed over speed into the surface.
    pub grip_demand: f64,
    /// The level distance from the tyres' point at the launch to the mark; from the centre of mass for a launch by hand.
    pub distance: f64,
    /// How far the mark is below that point.
    pub drop: f64,
    /// The lean still owed: above 0 he touches before he is upright.
    pub lean_owed: f64,
    /// Distance to the ground less reach, as it came out: at most 1e-9 m on planes, 1e-7 m on grids and surveys.
    pub residual: f64,
}

/// Which way is forward over the ground.
pub(super) enum Approach {
    Heading(f64),
    Forward(Vec3),
    AsItFlies,
}

impl Contact {
    pub(super) fn new(flight: &Flight, touch: &Touch) -> Self {
        let (n, v) = (touch.normal, flight.end_velocity());
        let normal_speed = (-v.dot(&n)).max(0.0);
        let over = v - n * v.dot(&n);
        let forward = forward(&flight.approach(), &over, &n);
        let sideways_speed = over.dot(&n.cross(&forward));
        let mark = touch.position - flight.reach().height() * n;
        let away = mark - flight.launch().tyre_point.unwrap_or(flight.launch().position);
        Self {
            time: touch.time,
            mark,
            position: touch.position,
            velocity: v,
            normal: n,
            normal_speed,
            fall_height: normal_speed * normal_speed / (2.0 * flight.forces().g()),
            angle: normal_speed.atan2(over.norm()),
            along_speed: over.dot(&forward),
            sideways_speed,
            grip_demand: share(sideways_speed.abs(), normal_speed),
            distance: away.xy().norm(),
            drop: -away.z,
            lean_owed: touch.lean_owed,
            residual: touch.residual,
        }
    }

    /// Whether he is upright when he touches.
    pub fn is_upright(&self) -> bool {
        self.lean_owed <= 0.0
    }
}

/// The unit vector along the surface that is forward; the velocity's own where the approach points out of the surface.
fn forward(approach: &Approach, over: &Vec3, n: &Vec3) -> Vec3 {
    let wanted = match approach {
        Approach::Heading(heading) => Vec3::new(heading.cos(), heading.sin(), 0.0),
        Approach::Forward(t) => *t,
        Approach::AsItFlies => *over,
    };
    let flat = wanted - n * wanted.dot(n);
    flat.try_normalize(STILL).or_else(|| over.try_normalize(STILL)).unwrap_or_else(Vec3::zeros)
}

/// `a / b`; nothing over nothing is nothing.
fn share(a: f64, b: f64) -> f64 {
    if a > STILL { a / b } else { 0.0 }
}
