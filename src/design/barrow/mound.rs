//! A barrow of earth as it is tipped and shaped: a round mound.

use crate::math::Vec2;
use crate::math::range::{OutOfRange, positive};
use serde::{Deserialize, Serialize};
use std::f64::consts::PI;

/// A round mound that runs out smoothly: `H (1 + cos(pi r / R)) / 2` high at a distance `r` from its middle.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize)]
pub struct Mound {
    volume: f64,
    radius: f64,
}

impl Mound {
    /// A mound of a volume of placed earth, cubic metres, and a radius, metres; both above 0, and the mound no higher than
    /// its radius: steeper than the 57 degrees which its sides then reach no earth stands by itself (common practice).
    ///
    /// Much narrower than a wheelbase it would be a bump and no landing.
    pub fn new(volume: f64, radius: f64) -> Result<Self, OutOfRange> {
        let mound =
            Self { volume: positive("volume", volume)?, radius: positive("radius", radius)? };
        if mound.top() <= radius {
            return Ok(mound);
        }
        let most = radius.powi(3) * under_one();
        let allowed =
            format!("above 0, at most {most:.3}, of which a mound of {radius} m radius is as high");
        Err(OutOfRange::new("volume", volume, allowed))
    }

    /// Its volume, cubic metres.
    pub const fn volume(&self) -> f64 {
        self.volume
    }

    /// Its radius, metres.
    pub const fn radius(&self) -> f64 {
        self.radius
    }

    /// Its height in the middle, metres.
    pub fn top(&self) -> f64 {
        self.volume / (self.radius * self.radius * under_one())
    }

    /// Its height at a place from its middle, metres.
    pub fn height(&self, from_middle: Vec2) -> f64 {
        let share = from_middle.norm() / self.radius;
        if share < 1.0 { 0.5 * self.top() * (1.0 + (PI * share).cos()) } else { 0.0 }
    }

    /// The gradient of its height at a place from its middle.
    pub fn gradient(&self, from_middle: Vec2) -> Vec2 {
        let distance = from_middle.norm();
        if distance >= self.radius || distance <= 0.0 {
            return Vec2::zeros();
        }
        let rate = PI / self.radius;
        from_middle * (-0.5 * self.top() * rate * (rate * distance).sin() / distance)
    }
}

/// The volume of a mound of 1 m height and radius, cubic metres.
fn under_one() -> f64 {
    0.5 * PI - 2.0 / PI
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::math::quadrature::integrate;
    use approx::assert_relative_eq;

    #[test]
    fn its_volume_is_under_its_heights_and_its_gradient_is_theirs() {
        let mound = Mound::new(0.06, 1.3).unwrap();
        let ring = |r: f64| 2.0 * PI * r * mound.height(Vec2::new(r, 0.0));
        assert_relative_eq!(integrate(ring, 0.0, 1.3), 0.06, epsilon = 1e-12);
        assert_relative_eq!(mound.height(Vec2::zeros()), mound.top());
        for at in [Vec2::new(0.3, 0.4), Vec2::new(-1.0, 0.2), Vec2::new(2.0, 0.0)] {
            let difference = |axis: Vec2| {
                (mound.height(at + axis * 1e-5) - mound.height(at - axis * 1e-5)) / 2e-5
            };
            let expected = Vec2::new(difference(Vec2::x()), difference(Vec2::y()));
            assert_relative_eq!(mound.gradient(at), expected, epsilon = 1e-9);
        }
        assert_eq!(mound.gradient(Vec2::zeros()), Vec2::zeros());
        assert!(Mound::new(0.0, 1.0).is_err() && Mound::new(1.0, f64::NAN).is_err());
        assert!(Mound::new(0.93, 1.0).is_ok());
        let said = Mound::new(1e13, 1.0).unwrap_err().to_string();
        assert!(
            said.contains("volume = 10000000000000") && said.contains("at most 0.934"),
            "{said}"
        );
    }
}
