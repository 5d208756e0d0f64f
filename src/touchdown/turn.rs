//! How a rigid flight comes to the ground: which way the bike points, and what the rider would have to do about it.

use super::Contact;
use crate::flight::RigidFlight;
use crate::launch::Attitude;
use crate::math::Vec3;
use serde::{Deserialize, Serialize};
use std::fmt;

/// Wheels that touch within this angle between bike and surface touch together; radians.
const TOGETHER: f64 = 1e-9;
/// Below this a speed over the surface has no direction; m/s.
const STILL: f64 = 1e-9;

/// The wheel that touches first.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum Wheel {
    /// The front wheel: the nose is down to the surface.
    Front,
    /// The rear wheel: the nose is up.
    Rear,
    /// Both at once.
    Both,
}

impl Wheel {
    /// The wheel as one word.
    pub const fn word(self) -> &'static str {
        match self {
            Self::Front => "front",
            Self::Rear => "rear",
            Self::Both => "both",
        }
    }
}

impl fmt::Display for Wheel {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(self.word())
    }
}

/// The attitude in which a rigid flight touches, the one that the landing wants, and what is between them.
///
/// Vectors are about the bike's forward, left and up axes: roll, pitch, yaw; positive leans right, turns the nose down,
/// turns left.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize)]
#[non_exhaustive]
pub struct Turn {
    /// Which way the bike points at the touch, if the rider did nothing but what his torque did.
    pub attitude: Attitude,
    /// The attitude that the landing wants: forward along the velocity over the surface, upright on it.
    pub wanted: Attitude,
    /// How the bike turns at the touch, rad/s.
    pub rates: Vec3,
    /// The turn still owed, radians: the shortest one, as its axis times its angle.
    pub owed: Vec3,
    /// The constant rate that would pay it over the whole time of flight, on top of what turns anyway, rad/s.
    pub rate_to_pay: Vec3,
    /// The constant torque that would pay it over that time, N m: `2 I / T²` times the turn, each axis by itself. It
    /// leaves the bike turning at twice the rate.
    pub torque_to_pay: Vec3,
    /// The angle between bike and surface, radians: nose up positive.
    pub pitch_to_surface: f64,
    /// The wheel that touches first.
    pub first_wheel: Wheel,
    /// How much higher the other wheel is then, metres along the surface's normal.
    pub gap: f64,
    /// Seconds until the other wheel touches at the speed into the surface; infinite where there is none.
    pub between_wheels: f64,
}

impl Turn {
    /// None where the velocity over the surface has no direction and the bike stands on end: nothing is wanted then.
    pub(super) fn new(rigid: &RigidFlight, contact: &Contact) -> Option<Self> {
        let (time, n) = (contact.time, contact.normal);
        let attitude = rigid.attitude(time);
        let wanted = wanted(&contact.velocity, &attitude.t, &n)?;
        let owed = (attitude.rotation().inverse() * wanted.rotation()).scaled_axis();
        let inertia = rigid.rider().inertia();
        let moments = Vec3::new(inertia.roll(), inertia.pitch(), inertia.yaw());
        let rise = attitude.t.dot(&n).clamp(-1.0, 1.0);
        let gap = rigid.rider().wheelbase() * rise.abs();
        Some(Self {
            attitude,
            wanted,
            rates: rigid.body_rates(time),
            owed,
            rate_to_pay: over(owed, time),
            torque_to_pay: over(over(2.0 * owed.component_mul(&moments), time), time),
            pitch_to_surface: rise.asin(),
            first_wheel: first_wheel(rise),
            gap,
            between_wheels: if gap > 0.0 { gap / contact.normal_speed } else { 0.0 },
        })
    }
}

/// Forward along the velocity over the surface, or as the bike points where there is none; upright on it.
fn wanted(velocity: &Vec3, forward: &Vec3, n: &Vec3) -> Option<Attitude> {
    let over = |v: &Vec3| (v - n * v.dot(n)).try_normalize(STILL);
    let t = over(velocity).or_else(|| over(forward))?;
    Some(Attitude { t, l: n.cross(&t), u: *n })
}

fn first_wheel(rise: f64) -> Wheel {
    if rise > TOGETHER {
        Wheel::Rear
    } else if rise < -TOGETHER {
        Wheel::Front
    } else {
        Wheel::Both
    }
}

/// A vector over a time; nothing over no time is nothing.
fn over(v: Vec3, time: f64) -> Vec3 {
    v.map(|x| if x == 0.0 { 0.0 } else { x / time })
}
