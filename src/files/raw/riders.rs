//! A class of riders as a site file writes it.

use super::{Absorber, Value};
use crate::files::fault::Fault;
use crate::files::quantity::{
    Acceleration, AnyInertia, Area, EdgePlace, Grip, Inertia, Length, Mass, PerSpeed, Pop, Reach,
    Rolling, Weight,
};
use crate::rider::{self, Rider, RiderError};
use crate::site::{Dist, RiderClass, Takeoff};
use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

/// A class of riders: how many of all they are, and how they come down the hill.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub(in crate::files) struct Riders {
    /// The name of the class.
    pub(in crate::files) name: String,
    /// Their share of all riders; the weights of all classes add up to 1.
    weight: Weight,
    /// The start mark: level distance up the hill from the end of the run-in.
    start: Value<Length>,
    /// Where the tyres leave the edge: how far up a wall's panel from its foot; or how far to the left of the middle of a
    /// lip or a drop, 0 where it is not given.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    leave: Option<Value<EdgePlace>>,
    /// How much farther up, or to the left, they leave for each m/s of entry speed above the class's middle.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    leave_per_speed: Option<PerSpeed>,
    /// The speed pushed off the edge with, square to the deck; negative soaks it up; 0 where it is not given.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pop: Option<Value<Pop>>,
    /// The mass of rider and bike.
    mass: Value<Mass>,
    /// The drag area of rider and bike.
    cda: Value<Area>,
    /// The braking on the run-in, as a deceleration; none where it is not given.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    brake: Option<Value<Acceleration>>,
    /// Rolling resistance over normal load.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    crr: Option<Rolling>,
    /// Grip between tyre and surface.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    grip: Option<Grip>,
    /// How high the centre of mass stands above the tyres when riding.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    com_height: Option<Reach>,
    /// How high it stands at touchdown; as when riding where it is not given.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    com_height_landing: Option<Reach>,
    /// From axle to axle.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    wheelbase: Option<Length>,
    /// How far the centre of mass is ahead of the rear contact.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    rear_to_com: Option<Reach>,
    /// The radius of the wheels.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    wheel_radius: Option<Length>,
    /// The spin inertia of each wheel.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    wheel_inertia: Option<AnyInertia>,
    /// The moments of inertia in roll, pitch and yaw.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    inertia: Option<[Inertia; 3]>,
    /// What takes up a landing; each value the library's own where it is not given.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    absorber: Option<Absorber>,
}

impl Riders {
    /// The keys for a class.
    pub(in crate::files) fn of(class: &RiderClass) -> Self {
        let rider = &class.rider;
        let inertia = rider.inertia();
        Self {
            name: class.name.clone(),
            weight: Weight(class.weight),
            start: Value::of(&class.start),
            leave: Some(Value::of(&class.leave)),
            leave_per_speed: (class.leave_per_speed != 0.0)
                .then_some(PerSpeed(class.leave_per_speed)),
            pop: unless_none(&class.pop),
            mass: Value::of(&class.mass),
            cda: Value::of(&class.cda),
            brake: unless_none(&class.brake),
            crr: Some(Rolling(rider.crr())),
            grip: Some(Grip(rider.grip())),
            com_height: Some(Reach(rider.com_height())),
            com_height_landing: rider.given_com_height_landing().map(Reach),
            wheelbase: Some(Length(rider.wheelbase())),
            rear_to_com: rider.given_rear_to_com().map(Reach),
            wheel_radius: Some(Length(rider.wheel_radius())),
            wheel_inertia: Some(AnyInertia(rider.wheel_inertia())),
            inertia: Some([inertia.roll(), inertia.pitch(), inertia.yaw()].map(Inertia)),
            absorber: Absorber::of(rider.absorber()),
        }
    }

    /// The class, on a takeoff.
    pub(in crate::files) fn class(&self, takeoff: &Takeoff) -> Result<RiderClass, Fault> {
        let (mass, cda) = (self.mass.dist("mass")?, self.cda.dist("cda")?);
        let absorber = self.absorber.clone().unwrap_or_default().absorber();
        let absorber = absorber.map_err(|fault| fault.within("absorber"))?;
        let rider = self.rider(mass.median(), cda.median(), absorber).map_err(fault)?;
        Ok(RiderClass {
            name: self.name.clone(),
            weight: self.weight.0,
            start: self.start.dist("start")?,
            leave: self.leave(takeoff)?,
            leave_per_speed: self.leave_per_speed.map_or(0.0, f64::from),
            pop: self.pop.as_ref().map_or(Ok(Dist::Fixed(0.0)), |pop| pop.dist("pop"))?,
            mass,
            cda,
            brake: self.brake.as_ref().map_or(Ok(Dist::Fixed(0.0)), |by| by.dist("brake"))?,
            rider,
        })
    }

    fn leave(&self, takeoff: &Takeoff) -> Result<Dist, Fault> {
        match &self.leave {
            Some(leave) => leave.dist("leave"),
            None if takeoff.as_wall().is_none() => Ok(Dist::Fixed(0.0)),
            None => {
                let lacks =
                    "lacks `leave`: how far up the panel from its foot the tyres leave the edge";
                Err(Fault::unfit("", lacks))
            }
        }
    }

    /// The middle one of the class.
    fn rider(&self, mass: f64, cda: f64, absorber: rider::Absorber) -> Result<Rider, RiderError> {
        let own = Rider::default();
        let (crr, grip, base) = (own.crr(), own.grip(), own.wheelbase());
        let (com_height, radius) = (own.com_height(), own.wheel_radius());
        let rider = own
            .with_mass(mass)?
            .with_cda(cda)?
            .with_crr(self.crr.map_or(crr, f64::from))?
            .with_grip(self.grip.map_or(grip, f64::from))?
            .with_com_height(self.com_height.map_or(com_height, f64::from))?
            .with_com_height_landing(self.com_height_landing.map(f64::from))?
            .with_wheelbase(self.wheelbase.map_or(base, f64::from))?
            .with_rear_to_com(self.rear_to_com.map(f64::from))?
            .with_wheel_radius(self.wheel_radius.map_or(radius, f64::from))?
            .with_wheel_inertia(self.wheel_inertia.map_or(0.0, f64::from))?
            .with_absorber(absorber)?;
        let Some([roll, pitch, yaw]) = self.inertia else { return Ok(rider) };
        Ok(rider.with_inertia(rider::Inertia::new(roll.0, pitch.0, yaw.0)?))
    }
}

fn fault(error: RiderError) -> Fault {
    match error {
        RiderError::OutOfRange(error) => error.into(),
    }
}

/// The keys for a number that is none where it is not given.
fn unless_none<Q: From<f64> + Into<f64> + Copy>(dist: &Dist) -> Option<Value<Q>> {
    (*dist != Dist::Fixed(0.0)).then(|| Value::of(dist))
}
