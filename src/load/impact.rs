//! How bodies come at the ground: how fast, on what slope, and what the ground gives.

use super::LoadError;
use crate::math::range::{OutOfRange, non_negative, positive, within};
use crate::touchdown::Touchdown;
use serde::{Deserialize, Serialize};

/// Standard gravity, m/s^2.
pub(super) const STANDARD_GRAVITY: f64 = 9.80665;

/// What the ground does under a wheel or a foot.
#[derive(Debug, Clone, Copy, PartialEq, Default, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
#[non_exhaustive]
pub enum Softness {
    /// It gives nothing.
    #[default]
    Rigid,
    /// A spring, N/m, that comes back.
    Spring {
        /// Its stiffness, N/m.
        stiffness: f64,
    },
    /// A spring up to a force; past it the ground is crushed at that force and does not come back.
    Crushing {
        /// Its stiffness below that force, N/m.
        stiffness: f64,
        /// The force at which it is crushed, N.
        force: f64,
    },
}

impl Softness {
    /// Ground like a spring of `stiffness`, N/m, above 0.
    pub fn spring(stiffness: f64) -> Result<Self, LoadError> {
        Ok(Self::Spring { stiffness: positive("ground_stiffness", stiffness)? })
    }

    /// Ground like a spring of `stiffness`, N/m, that is crushed at `force`, N; both above 0.
    pub fn crushing(stiffness: f64, force: f64) -> Result<Self, LoadError> {
        let stiffness = positive("ground_stiffness", stiffness)?;
        Ok(Self::Crushing { stiffness, force: positive("crush_force", force)? })
    }

    /// The stiffness, N/m, where it gives at all.
    pub const fn stiffness(self) -> Option<f64> {
        match self {
            Self::Rigid => None,
            Self::Spring { stiffness } | Self::Crushing { stiffness, .. } => Some(stiffness),
        }
    }

    /// The force at which it is crushed, N, where it is.
    pub const fn crush_force(self) -> Option<f64> {
        match self {
            Self::Crushing { force, .. } => Some(force),
            _ => None,
        }
    }
}

/// A coming down onto a surface: speed into it, its slope, gravity, and how soft it is.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize)]
pub struct Impact {
    normal_speed: f64,
    slope_cos: f64,
    gravity: f64,
    ground: Softness,
}

impl Impact {
    /// Onto level, rigid ground at this speed into it, m/s, at least 0; standard gravity. A speed of 0 is a weight that
    /// is let go when it just touches.
    pub fn at_speed(normal_speed: f64) -> Result<Self, LoadError> {
        let normal_speed = non_negative("normal_speed", normal_speed)?;
        Ok(Self {
            normal_speed,
            slope_cos: 1.0,
            gravity: STANDARD_GRAVITY,
            ground: Softness::Rigid,
        })
    }

    /// Onto level, rigid ground with this equivalent fall height, m, at least 0; standard gravity.
    pub fn from_height(fall_height: f64) -> Result<Self, LoadError> {
        let height = non_negative("fall_height", fall_height)?;
        Self::at_speed((2.0 * STANDARD_GRAVITY * height).sqrt())
    }

    /// The same onto a surface this far off level, radians, from 0 to a right angle (only a speed presses on a wall).
    pub fn with_slope(self, slope: f64) -> Result<Self, LoadError> {
        let slope = within("slope", slope, 0.0, std::f64::consts::FRAC_PI_2)?;
        // The cosine of the nearest number to a right angle is not quite nothing.
        let cos = slope.cos();
        self.with_slope_cos(if cos < f64::EPSILON { 0.0 } else { cos })
    }

    /// The same under another gravity, m/s^2, above 0. The speed is kept, and the fall height so changes.
    pub fn with_gravity(self, gravity: f64) -> Result<Self, LoadError> {
        Ok(Self { gravity: positive("gravity", gravity)?, ..self })
    }

    /// The same onto softer ground.
    pub const fn onto(self, ground: Softness) -> Self {
        Self { ground, ..self }
    }

    pub(super) fn with_slope_cos(self, slope_cos: f64) -> Result<Self, LoadError> {
        if slope_cos <= 0.0 && self.normal_speed <= 0.0 {
            let allowed = "above 0 where the surface stands upright and nothing else presses on it";
            return Err(OutOfRange::new("normal_speed", self.normal_speed, allowed).into());
        }
        Ok(Self { slope_cos, ..self })
    }

    /// Speed into the surface, m/s.
    pub const fn normal_speed(&self) -> f64 {
        self.normal_speed
    }

    /// The cosine of the surface's slope: the share of gravity that presses on it.
    pub const fn slope_cos(&self) -> f64 {
        self.slope_cos
    }

    /// Gravity, m/s^2.
    pub const fn gravity(&self) -> f64 {
        self.gravity
    }

    /// What the ground does.
    pub const fn ground(&self) -> Softness {
        self.ground
    }

    /// The equivalent fall height `v_n^2 / (2 g)`, m.
    pub fn fall_height(&self) -> f64 {
        self.normal_speed * self.normal_speed / (2.0 * self.gravity)
    }
}

/// Speed, slope (from the touched ground's normal) and gravity of a touchdown, on rigid ground.
impl TryFrom<&Touchdown> for Impact {
    type Error = LoadError;

    fn try_from(touchdown: &Touchdown) -> Result<Self, LoadError> {
        let Some(contact) = &touchdown.contact else {
            return Err(LoadError::NoTouch { outcome: touchdown.outcome });
        };
        let impact = Self::at_speed(contact.normal_speed)?;
        let gravity = contact.normal_speed.powi(2) / (2.0 * contact.fall_height);
        let gravity = if gravity.is_finite() { gravity } else { STANDARD_GRAVITY };
        impact.with_gravity(gravity)?.with_slope_cos(contact.normal.z.clamp(0.0, 1.0))
    }
}
