//! Solids: mass, centre and inertia, and how parts make a whole.

use super::{Inertia, Rider, RiderError};
use crate::math::Vec3;
use crate::math::range::{OutOfRange, finite, positive};
use nalgebra::Matrix3;
use serde::{Deserialize, Serialize};

/// A part of rider or bike as a rigid solid: its mass, its centre of mass and its inertia about that.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize)]
pub struct Solid {
    pub(super) mass: f64,
    pub(super) centre: Vec3,
    pub(super) inertia: Matrix3<f64>,
}

impl Solid {
    /// A solid of a mass, kg, above 0, about a centre, m, with an inertia about that centre, kg m^2: symmetric, products with
    /// the sign of the tensor (`-m x z` off the diagonal).
    pub fn new(mass: f64, centre: Vec3, inertia: Matrix3<f64>) -> Result<Self, RiderError> {
        positive("mass", mass)?;
        for x in centre.iter() {
            finite("centre", *x)?;
        }
        for x in inertia.iter() {
            finite("inertia", *x)?;
        }
        let skew = (inertia - inertia.transpose()).amax();
        if skew > 1e-9 * inertia.amax() {
            return Err(
                OutOfRange::new("inertia", skew, "a symmetric table; this is its skew").into()
            );
        }
        Ok(Self { mass, centre, inertia })
    }

    /// A solid whose principal axes lie along the axes, with its three inertias, kg m^2.
    pub fn principal(mass: f64, centre: Vec3, inertia: Vec3) -> Result<Self, RiderError> {
        Self::new(mass, centre, Matrix3::from_diagonal(&inertia))
    }

    /// The parts as one rigid solid, by the parallel-axis theorem; at least one.
    pub fn joined(parts: &[Self]) -> Result<Self, RiderError> {
        if parts.is_empty() {
            return Err(OutOfRange::new("parts", 0.0, "at least one").into());
        }
        Ok(Self::sum(parts))
    }

    /// [`Self::joined`] of what is known to be at least one.
    pub(super) fn sum(parts: &[Self]) -> Self {
        let mass = parts.iter().map(|part| part.mass).sum();
        let centre = parts.iter().map(|part| part.centre * part.mass).sum::<Vec3>() / mass;
        let inertia = parts.iter().map(|part| part.inertia_about(centre)).sum();
        Self { mass, centre, inertia }
    }

    /// Its mass, kg.
    pub const fn mass(&self) -> f64 {
        self.mass
    }

    /// Its centre of mass, m.
    pub const fn centre(&self) -> Vec3 {
        self.centre
    }

    /// Its inertia about its centre, kg m^2.
    pub const fn inertia(&self) -> Matrix3<f64> {
        self.inertia
    }

    /// Its inertia about a point, kg m^2.
    pub fn inertia_about(&self, point: Vec3) -> Matrix3<f64> {
        let arm = self.centre - point;
        let shift = Matrix3::identity() * arm.norm_squared() - arm * arm.transpose();
        self.inertia + shift * self.mass
    }
}

impl Rider {
    /// The same rider with mass, centre of mass and inertia of this whole of rider and bike, the rear contact at the origin, `x`
    /// forward, `z` up.
    ///
    /// Products of inertia are left out: the bike's axes count as principal. The centre's place across is left out too.
    pub fn with_solid(self, whole: &Solid) -> Result<Self, RiderError> {
        let moment = whole.inertia.diagonal();
        self.with_mass(whole.mass)?
            .with_com_height(whole.centre.z)?
            .with_rear_to_com(Some(whole.centre.x))
            .and_then(|rider| Ok(rider.with_inertia(Inertia::new(moment.x, moment.y, moment.z)?)))
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use approx::assert_relative_eq;

    #[test]
    fn two_balls_on_a_rod_are_a_dumbbell() {
        let ball = |x| Solid::principal(3.0, Vec3::new(x, 0.0, 1.0), Vec3::repeat(0.2)).unwrap();
        let whole = Solid::joined(&[ball(0.0), ball(2.0)]).unwrap();
        assert_relative_eq!(whole.centre(), Vec3::new(1.0, 0.0, 1.0));
        assert_relative_eq!(whole.inertia().diagonal(), Vec3::new(0.4, 6.4, 6.4), epsilon = 1e-14);
        assert_relative_eq!(whole.inertia_about(Vec3::zeros())[(0, 2)], -6.0, epsilon = 1e-14);
    }

    #[test]
    fn a_rider_takes_the_whole() {
        let whole =
            Solid::principal(80.0, Vec3::new(0.5, 0.0, 0.9), Vec3::new(9.0, 11.0, 5.0)).unwrap();
        let rider = Rider::default().with_solid(&whole).unwrap();
        assert_relative_eq!(rider.mass() + rider.com_height() + rider.rear_to_com(), 81.4);
        assert_relative_eq!(rider.inertia().pitch(), 11.0);
        let behind = Solid { centre: Vec3::new(-0.1, 0.0, 0.9), ..whole };
        assert!(Rider::default().with_solid(&behind).is_err());
    }

    #[test]
    fn what_is_no_solid_is_named() {
        let named = |made: Result<Solid, RiderError>| made.unwrap_err().to_string();
        let flat = Vec3::repeat(1.0);
        assert!(named(Solid::principal(0.0, flat, flat)).starts_with("mass = 0"));
        assert!(named(Solid::principal(1.0, flat * f64::NAN, flat)).starts_with("centre"));
        assert!(
            named(Solid::new(1.0, flat, Matrix3::new(1.0, 2.0, 0.0, 0.0, 1.0, 0.0, 0.0, 0.0, 1.0)))
                .contains("skew")
        );
        assert!(named(Solid::joined(&[])).contains("at least one"));
    }
}
