//! A flight near one of its moments, as a short polynomial in time.

use crate::force::Forces;
use crate::math::{Vec2, Vec3};

/// The degree of the velocity's polynomial.
const DEGREE: usize = 6;
/// It is good within this share of `|u| / g`, where its series ends to converge: to 1e-9 of `k |u|^4 / g^2`.
const SHARE: f64 = 0.22;
/// `1 / (n + 1)`.
const SHARES: [f64; DEGREE + 1] =
    [1.0, 1.0 / 2.0, 1.0 / 3.0, 1.0 / 4.0, 1.0 / 5.0, 1.0 / 6.0, 1.0 / 7.0];

/// Place and velocity near a moment: the Taylor series of `u' = G - k |u| u`, `u` the velocity through the air, in the
/// upright plane of the motion through the air.
#[derive(Debug, Clone, Copy)]
pub(super) struct Near {
    place: Vec3,
    wind: Vec3,
    /// The level direction of the motion through the air.
    ahead: Vec2,
    /// Level and upward speed through the air.
    u_h: [f64; DEGREE + 1],
    u_z: [f64; DEGREE + 1],
    /// How far before and after it is good, seconds.
    pub(super) span: f64,
}

impl Near {
    /// The flight near a moment at which it has this place and velocity, not at rest in the air.
    #[inline]
    pub(super) fn new(place: Vec3, velocity: Vec3, forces: &Forces) -> Self {
        let (wind, k) = (forces.wind(), forces.k());
        let u = velocity - wind;
        let level = (u.x * u.x + u.y * u.y).sqrt();
        let (mut u_h, mut u_z, mut speed) =
            ([0.0; DEGREE + 1], [0.0; DEGREE + 1], [0.0; DEGREE + 1]);
        (u_h[0], u_z[0], speed[0]) = (level, u.z, (level * level + u.z * u.z).sqrt());
        let half = 0.5 / speed[0];
        for n in 0..DEGREE {
            if n > 0 {
                let mut sum = 2.0 * (u_h[0] * u_h[n] + u_z[0] * u_z[n]);
                for i in 1..n {
                    sum += u_h[i] * u_h[n - i] + u_z[i] * u_z[n - i] - speed[i] * speed[n - i];
                }
                speed[n] = sum * half;
            }
            let (mut drag_h, mut drag_z) = (0.0, 0.0);
            for i in 0..=n {
                drag_h += speed[i] * u_h[n - i];
                drag_z += speed[i] * u_z[n - i];
            }
            let pull = if n == 0 { forces.g() } else { 0.0 };
            u_h[n + 1] = -k * drag_h * SHARES[n];
            u_z[n + 1] = -(k * drag_z + pull) * SHARES[n];
        }
        let ahead = Vec2::new(u.x / level, u.y / level);
        let span = SHARE * speed[0] / forces.g();
        Self { place, wind, ahead, u_h, u_z, span }
    }

    /// Place and velocity so many seconds later.
    #[inline]
    pub(super) fn after(&self, time: f64) -> (Vec3, Vec3) {
        let (mut u_h, mut u_z, mut x, mut z) = (0.0, 0.0, 0.0, 0.0);
        for n in (0..=DEGREE).rev() {
            u_h = u_h * time + self.u_h[n];
            u_z = u_z * time + self.u_z[n];
            x = x * time + self.u_h[n] * SHARES[n];
            z = z * time + self.u_z[n] * SHARES[n];
        }
        let flat = |along: f64, up: f64| Vec3::new(self.ahead.x * along, self.ahead.y * along, up);
        let place = self.place + (flat(x, z) + self.wind) * time;
        (place, flat(u_h, u_z) + self.wind)
    }
}
