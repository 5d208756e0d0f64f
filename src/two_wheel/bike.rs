//! The bike as the model has it: masses, sizes and springs of each end, from a rider's values.

use super::error::TwoWheelError;
use super::options::Clearance;
use super::strut::Strut;
use crate::air::{Air, AirError};
use crate::force::Forces;
use crate::math::range::{OutOfRange, within};
use crate::math::{Vec2, Vec3};
use crate::rider::Rider;

/// Radius of what hangs lowest about the cranks' axle, m: a chainring of 32 teeth with its guard (common practice).
pub(super) const CHAINRING: f64 = 0.09;

/// The share of the weight that the front wheel must carry on the level, and may: else the bike does not stand on both.
const SHARES: [f64; 2] = [0.02, 0.98];

/// One end of the bike: 0 is the rear, 1 the front.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) struct Axle {
    /// How far the axle is ahead of the centre of mass along the bike, m.
    pub(super) ahead: f64,
    /// How far it is above the centre of mass along "up through the bike" at full extension, m: negative.
    pub(super) above: f64,
    /// The unsprung mass, kg; 0 on a bike without suspension.
    pub(super) mass: f64,
    /// The tyre's stiffness, N/m.
    pub(super) tyre: f64,
    /// The suspension; none on a bike without.
    pub(super) strut: Option<Strut>,
    /// The compression at rest on the level, m.
    pub(super) sag: f64,
}

/// How the bike rests on the level.
struct Stance {
    gravity: f64,
    sprung: f64,
    unsprung: f64,
    /// Of the hubs over the ground, m.
    hub: f64,
    /// Of the sprung mass's centre over the ground, m.
    height: f64,
}

impl Stance {
    fn of(rider: &Rider, gravity: f64) -> Result<Self, TwoWheelError> {
        let (mass, absorber) = (rider.mass(), rider.absorber());
        let unsprung = absorber.travel.map_or(0.0, |_| absorber.unsprung_mass);
        if mass <= unsprung {
            let allowed = format!("above {unsprung}, the unsprung mass");
            return Err(OutOfRange::new("mass", mass, allowed).into());
        }
        let [low, high] = SHARES.map(|share| share * rider.wheelbase());
        within("rear_to_com", rider.rear_to_com(), low, high)?;
        let hub = rider.wheel_radius() - mass * gravity / absorber.tyre_stiffness;
        if hub <= 0.0 {
            let stiffness = absorber.tyre_stiffness;
            let allowed = "enough to carry the weight above the hub";
            return Err(OutOfRange::new("tyre_stiffness", stiffness, allowed).into());
        }
        let sprung = mass - unsprung;
        let height = (mass * rider.com_height() - unsprung * hub) / sprung;
        Ok(Self { gravity, sprung, unsprung, hub, height })
    }

    /// The end that carries `share` of the weight.
    fn axle(&self, rider: &Rider, ahead: f64, share: f64) -> Result<Axle, TwoWheelError> {
        let absorber = rider.absorber();
        let strut = absorber.travel.map(|travel| {
            Strut::new(
                share * self.sprung * self.gravity,
                travel,
                absorber.sag,
                absorber.progression,
                [share * absorber.compression, share * absorber.rebound],
            )
        });
        let strut = strut.transpose()?;
        let sag = strut.map_or(0.0, |strut| absorber.sag * strut.travel);
        Ok(Axle {
            ahead,
            above: self.hub - self.height - sag,
            mass: share * self.unsprung,
            tyre: share * absorber.tyre_stiffness,
            strut,
            sag,
        })
    }

    /// The pitch inertia of what is sprung: the rider's less what the hubs have about the whole's centre of mass.
    fn inertia(&self, rider: &Rider, axles: &[Axle; 2]) -> Result<f64, TwoWheelError> {
        let below = rider.com_height() - self.hub;
        let hubs: f64 =
            axles.iter().map(|axle| axle.mass * (axle.ahead.powi(2) + below.powi(2))).sum();
        let unsprung = hubs + self.sprung * (self.height - rider.com_height()).powi(2);
        let inertia = rider.inertia().pitch();
        if unsprung < inertia {
            return Ok(inertia - unsprung);
        }
        Err(TwoWheelError::InertiaTooSmall { inertia, unsprung })
    }
}

/// The air with its wind as a rider along a heading meets it.
fn seen_along(air: &Air, heading: f64) -> Result<Air, TwoWheelError> {
    let (sin, cos) = heading.sin_cos();
    let wind = air.wind();
    let turned = Vec3::new(wind.x * cos + wind.y * sin, wind.y * cos - wind.x * sin, wind.z);
    Ok(air.with_wind(turned).map_err(|AirError::OutOfRange(number)| number)?)
}

/// Rider, bike and air in the plane of travel.
#[derive(Debug, Clone, PartialEq)]
pub(super) struct Bike {
    /// The whole mass, kg.
    pub(super) mass: f64,
    /// The mass on the suspension, kg: of which the centre of mass is followed.
    pub(super) sprung: f64,
    /// Pitch inertia of what is sprung about its centre of mass, kg m^2.
    pub(super) inertia: f64,
    pub(super) wheel_radius: f64,
    pub(super) wheelbase: f64,
    pub(super) axles: [Axle; 2],
    pub(super) crr: f64,
    pub(super) grip: f64,
    pub(super) gravity: f64,
    /// The cranks' axle, about which the chainring hangs: ahead of and above the centre of mass, m.
    pub(super) cranks: Vec2,
    /// With the wind seen along the travel.
    forces: Forces,
}

impl Bike {
    /// The bike of a rider in an air, ridden along a heading.
    ///
    /// Masses, tyres, springs and dampers are shared out between the ends by the load that each carries at rest on the
    /// level, so that both ends have the same sag and a level drop pitches nothing.
    pub(super) fn new(
        rider: &Rider,
        air: &Air,
        heading: f64,
        clearance: &Clearance,
    ) -> Result<Self, TwoWheelError> {
        let stance = Stance::of(rider, air.gravity())?;
        let (ahead, wheelbase) = (rider.rear_to_com(), rider.wheelbase());
        let share = ahead / wheelbase;
        let axles = [
            stance.axle(rider, -ahead, 1.0 - share)?,
            stance.axle(rider, wheelbase - ahead, share)?,
        ];
        let cranks =
            Vec2::new(clearance.ahead - ahead, clearance.height + CHAINRING - stance.height);
        Ok(Self {
            mass: rider.mass(),
            sprung: stance.sprung,
            inertia: stance.inertia(rider, &axles)?,
            wheel_radius: rider.wheel_radius(),
            wheelbase,
            axles,
            crr: rider.crr(),
            grip: rider.grip(),
            gravity: air.gravity(),
            cranks,
            forces: Forces::new(rider, &seen_along(air, heading)?),
        })
    }

    /// Drag at a velocity, N.
    pub(super) fn drag(&self, velocity: Vec2) -> Vec2 {
        let drag = self.forces.drag(Vec3::new(velocity.x, 0.0, velocity.y));
        Vec2::new(drag.x, drag.z) * self.mass
    }

    /// The height of the sprung centre of mass over the tyres at rest on the level, m.
    pub(super) fn stance(&self) -> f64 {
        let rear = &self.axles[0];
        let sunk = self.mass * self.gravity / (self.axles[0].tyre + self.axles[1].tyre);
        self.wheel_radius - sunk - (rear.above + rear.sag)
    }
}
