//! The one assembly of the forces on rider and bike that a ride and a flight share: gravity and drag.

mod acceleration;

pub(crate) use acceleration::of_one;
pub use acceleration::{Acceleration, Moving, Vector};

use crate::air::Air;
use crate::math::Vec3;
use crate::rider::Rider;
use nalgebra::Matrix3;
use serde::{Deserialize, Serialize};

/// Gravity and drag on one rider in one air, per mass. Cheap to copy.
///
/// Drag grows with the square of the speed through the air, at a drag area that does not change with direction.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize)]
pub struct Forces {
    gravity: f64,
    k: f64,
    wind: Vec3,
}

impl Forces {
    /// The forces on `rider` in `air`.
    pub fn new(rider: &Rider, air: &Air) -> Self {
        let k = 0.5 * air.density() * rider.cda() / rider.mass();
        Self { gravity: air.gravity(), k, wind: air.wind() }
    }

    /// Drag per mass over the square of the air speed, `rho CdA / (2 m)`, one over metres.
    pub const fn k(&self) -> f64 {
        self.k
    }

    /// The same with more drag per mass over the square of the air speed, 1/m.
    pub(crate) fn with_more_drag(self, k: f64) -> Self {
        Self { k: self.k + k, ..self }
    }

    /// The acceleration of free fall, m/s², a positive number.
    pub const fn g(&self) -> f64 {
        self.gravity
    }

    /// The air's velocity, m/s.
    pub const fn wind(&self) -> Vec3 {
        self.wind
    }

    /// Whether the air stands still.
    pub fn is_calm(&self) -> bool {
        self.wind == Vec3::zeros()
    }

    /// Gravity, m/s², down.
    pub const fn gravity(&self) -> Vec3 {
        Vec3::new(0.0, 0.0, -self.gravity)
    }

    /// The acceleration by drag at `velocity`, m/s²: `-k |v - w| (v - w)`.
    pub fn drag(&self, velocity: Vec3) -> Vec3 {
        let through_air = velocity - self.wind;
        through_air * (-self.k * through_air.norm())
    }

    /// How the acceleration by drag changes with the velocity, 1/s: `-k (|u| 1 + u u^T / |u|)`, `u` the velocity
    /// through the air; zero at rest in it.
    pub fn drag_by_velocity(&self, velocity: Vec3) -> Matrix3<f64> {
        let through_air = velocity - self.wind;
        let speed = through_air.norm();
        if speed <= 0.0 {
            return Matrix3::zeros();
        }
        let along = through_air * (through_air / speed).transpose();
        (Matrix3::from_diagonal_element(speed) + along) * -self.k
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use approx::assert_relative_eq;

    #[test]
    fn drag_is_half_rho_cda_v_squared_against_the_relative_wind() {
        let air = Air::standard().with_density(1.2).unwrap();
        let rider = Rider::default().with_mass(80.0).unwrap().with_cda(0.5).unwrap();
        let still = Forces::new(&rider, &air);
        assert_relative_eq!(
            still.drag(Vec3::new(10.0, 0.0, 0.0)).x,
            -0.5 * 1.2 * 0.5 * 100.0 / 80.0
        );
        assert!(still.is_calm());
        let wind = Vec3::new(10.0, 4.0, 0.0);
        let windy = Forces::new(&rider, &air.with_wind(wind).unwrap());
        assert_eq!(windy.drag(wind), Vec3::zeros());
        assert!(windy.drag(Vec3::new(10.0, 0.0, 0.0)).y > 0.0);
        assert_relative_eq!(windy.gravity().z, -9.80665);
    }
    #[test]
    fn its_change_with_velocity_is_that_of_differences() {
        let air = Air::standard().with_wind(Vec3::new(1.0, -2.0, 0.5)).unwrap();
        let forces = Forces::new(&Rider::default(), &air);
        let v = Vec3::new(8.0, 1.0, -3.0);
        let exact = forces.drag_by_velocity(v);
        for axis in 0..3 {
            let mut step = Vec3::zeros();
            step[axis] = 1e-5;
            let change = (forces.drag(v + step) - forces.drag(v - step)) / 2e-5;
            assert_relative_eq!(exact.column(axis).into_owned(), change, epsilon = 1e-10);
        }
        assert_eq!(forces.drag_by_velocity(air.wind()), Matrix3::zeros());
    }
}
