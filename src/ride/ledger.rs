//! Where the energy and the momentum of a ride went.

use super::panel::{BASIS, NODES};
use super::resolved::{Acting, Resolved};
use crate::math::{Vec3, legendre};
use serde::{Deserialize, Serialize};

/// The energy of a ride per mass, J/kg: `end = start + gravity + pedal - drag - rolling - brake + residual`.
#[derive(Debug, Clone, Copy, PartialEq, Default, Serialize, Deserialize)]
#[non_exhaustive]
pub struct Ledger {
    /// Kinetic energy at the start, wheels' spin included.
    pub start: f64,
    /// What gravity gave: positive downhill.
    pub gravity: f64,
    /// What drag took; negative where wind pushed.
    pub drag: f64,
    /// What rolling resistance took.
    pub rolling: f64,
    /// What the brake took.
    pub brake: f64,
    /// What pedalling gave.
    pub pedal: f64,
    /// Kinetic energy at the end of the ride, wherever that was.
    pub end: f64,
}

impl Ledger {
    /// What does not add up: below `1e-9` of the energies.
    pub fn residual(&self) -> f64 {
        let gains = self.start + self.gravity + self.pedal;
        self.end - (gains - self.drag - self.rolling - self.brake)
    }
}

/// The momentum of a ride per mass, m/s, where time was kept: `end = start + gravity + drag + normal + side + rolling + brake +
/// pedal + spin + joints + residual`.
#[derive(Debug, Clone, Copy, PartialEq, Default, Serialize, Deserialize)]
#[non_exhaustive]
pub struct Momentum {
    /// At the start.
    pub start: Vec3,
    /// What gravity gave.
    pub gravity: Vec3,
    /// What drag gave.
    pub drag: Vec3,
    /// What the surface gave along its normal.
    pub normal: Vec3,
    /// What it gave across the line; where the rider is held square to a surface that twists, also along it, for the side load
    /// works on who swings.
    pub side: Vec3,
    /// What rolling resistance gave, against the line.
    pub rolling: Vec3,
    /// What the brake gave, against the line.
    pub brake: Vec3,
    /// What pedalling gave.
    pub pedal: Vec3,
    /// What spinning the wheels up took, and gave back as they slowed.
    pub spin: Vec3,
    /// What the joints gave at once: where curvature jumps rider and spinning wheels share their energy anew, and where a
    /// twisted surface has a crease the line turns in it.
    pub joints: Vec3,
    /// At the end of the ride, wherever that was.
    pub end: Vec3,
}

impl Momentum {
    /// What does not add up: below `1e-8` m/s, `1e-5` where the ride begins or ends at rest.
    pub fn residual(&self) -> Vec3 {
        let forces = self.gravity + self.drag + self.normal + self.side + self.joints;
        let along = self.rolling + self.brake + self.pedal + self.spin;
        self.end - (self.start + forces + along)
    }

    /// Adds what the forces gave over a panel, wheels of this rotating-mass factor spinning along.
    pub(super) fn add(&mut self, panel: &impl Resolved, rotating: f64) {
        let (metres, speeds, loads) = (panel.metres(), panel.speeds(), panel.loads());
        let spins_up = BASIS.coefficients(&speeds);
        let acting: [Acting; NODES] = std::array::from_fn(|i| panel.acting(i));
        for i in 0..NODES {
            let Acting { tangent, normal, left, lead, swing, drag } = acting[i];
            let weight = BASIS.rule.weights[i];
            let time = weight * metres[i] / speeds[i];
            // A force along the line moves the centre of mass by `lead` where the tyres go a metre.
            let along = tangent * (time / lead);
            let load = &loads[i];
            self.drag += drag * time;
            self.normal += normal * (load.normal * time);
            self.side += left * (load.side * time) - along * (load.side * swing);
            self.rolling -= along * load.rolling;
            self.brake -= along * load.brake;
            self.pedal += along * load.pedal;
            let gained = legendre::slope(&spins_up, BASIS.rule.nodes[i]);
            self.spin -= tangent * (weight * rotating * gained / lead);
        }
    }
}
