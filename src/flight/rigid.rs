//! The flight of rider and bike as one rigid body: the point's path, and how it turns on the way.

use super::rotation::{Body, Rotation, SpinLedger, Turning};
use super::{Flight, FlightError, FlightOptions};
use crate::air::Air;
use crate::explain::Explanation;
use crate::ground::Ground;
use crate::launch::{Attitude, Launch};
use crate::math::Vec3;
use crate::rider::Rider;
use serde::{Deserialize, Serialize};

/// What a rigid flight assumes.
#[derive(Debug, Clone, Copy, PartialEq, Default, Serialize, Deserialize)]
pub struct RigidOptions {
    /// What the point's flight assumes.
    pub flight: FlightOptions,
    /// The rider's own constant torque about forward, left and up, N m: what throwing arms, legs and bike about gives in the mean.
    pub torque: Vec3,
}

/// A flight of the centre of mass, and the turning of the body about it.
///
/// The path, and with it the touchdown, is the point's: turning does not change it. The rider does nothing to right himself
/// but what the torque does.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct RigidFlight {
    flight: Flight,
    rotation: Rotation,
    rider: Rider,
}

impl Launch {
    /// The flight of this rider as one rigid body that leaves with the launch's attitude and angular velocity.
    ///
    /// The wheels' spin momentum, `2 I_w / r_w` times the tyres' speed, is held constant in the bike; for a launch by hand
    /// without that speed it is the velocity's part forward. Errors: those of [`Launch::flight`]; a launch without
    /// attitude; numbers that are not finite.
    pub fn rigid_flight(
        &self,
        ground: &Ground,
        rider: &Rider,
        air: &Air,
        options: RigidOptions,
    ) -> Result<RigidFlight, FlightError> {
        let attitude = self.attitude.ok_or(FlightError::NoAttitude)?;
        let speed = self.tyre_speed.unwrap_or_else(|| self.velocity.dot(&attitude.t));
        let body = Body::of(rider, speed, options.torque)?;
        let rotation = attitude.rotation();
        let rates = rotation.inverse() * self.angular_velocity;
        let flight = self.flight_with(ground, rider, air, options.flight)?;
        let rotation = Rotation::new(body, Turning { rotation, rates }, flight.time())?;
        Ok(RigidFlight { flight, rotation, rider: rider.clone() })
    }
}

impl RigidFlight {
    /// The flight of the centre of mass.
    pub const fn flight(&self) -> &Flight {
        &self.flight
    }

    /// The turning about it, which goes on a little past the end.
    pub const fn rotation(&self) -> &Rotation {
        &self.rotation
    }

    /// Who flies.
    pub const fn rider(&self) -> &Rider {
        &self.rider
    }

    /// Which way the bike points at a time since the launch.
    pub fn attitude(&self, time: f64) -> Attitude {
        Attitude::of_rotation(&self.rotation.at(time).rotation)
    }

    /// The angular velocity at a time since the launch, rad/s in the site's axes.
    pub fn angular_velocity(&self, time: f64) -> Vec3 {
        self.rotation.at(time).angular_velocity()
    }

    /// Roll, pitch and yaw rate at a time since the launch, rad/s: about the bike's forward, left and up axes.
    pub fn body_rates(&self, time: f64) -> Vec3 {
        self.rotation.at(time).rates
    }

    /// Where angular momentum and energy of rotation went.
    pub fn spin_ledger(&self) -> SpinLedger {
        self.rotation.ledger(self.flight.time())
    }

    /// The same flight onto another ground: path and turning are kept.
    pub fn on(&self, ground: &Ground) -> Result<Self, FlightError> {
        let (flight, mut rotation) = (self.flight.on(ground)?, self.rotation.clone());
        rotation.turn(flight.time())?;
        Ok(Self { flight, rotation, rider: self.rider.clone() })
    }

    /// The model behind the numbers, what went in, its sources and its limits.
    pub fn explain(&self) -> Explanation {
        let body = self.rotation.body();
        let inertia = body.inertia();
        let model = "The centre of mass flies as a point under gravity and quadratic drag. About it the body turns by Euler's \
            equations, I w' + w x (I w + H) = tau, with the bike's axes as principal axes, the wheels' spin momentum H \
            held constant, and no torque but the rider's own, constant in the bike.";
        let limits = "One rigid body: a rider moves, and turns the bike under himself by far more than a rigid body turns. \
            No torque from the air, no steering, wheels not braked in the air.";
        Explanation::new(model, limits)
            .with_source("L. D. Landau and E. M. Lifshitz, Mechanics, 3rd ed. 1976, section 36 (from memory)")
            .with_input("inertia.roll", inertia.roll(), "kg m^2")
            .with_input("inertia.pitch", inertia.pitch(), "kg m^2")
            .with_input("inertia.yaw", inertia.yaw(), "kg m^2")
            .with_input("spin", body.spin(), "kg m^2/s")
            .with_input("torque.roll", body.torque().x, "N m")
            .with_input("torque.pitch", body.torque().y, "N m")
            .with_input("torque.yaw", body.torque().z, "N m")
    }
}

#[cfg(test)]
mod tests;
