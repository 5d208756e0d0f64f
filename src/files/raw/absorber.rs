//! What takes up a landing, as a site file writes it.

use crate::files::fault::Fault;
use crate::files::quantity::{
    BodyWeights, Damping, Length, Mass, OpenShare, Progression, Stiffness,
};
use crate::rider;
use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

/// What takes up a landing between the tyres and the rider's mass.
#[derive(Debug, Clone, Default, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub(in crate::files) struct Absorber {
    /// Both tyres' stiffness.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    tyre_stiffness: Option<Stiffness>,
    /// The mass between tyres and suspension.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    unsprung_mass: Option<Mass>,
    /// The bike's mass between suspension and rider.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    frame_mass: Option<Mass>,
    /// Whether the bike has no suspension: then it has no travel either.
    #[serde(default, skip_serializing_if = "std::ops::Not::not")]
    rigid: bool,
    /// The suspension's travel at the wheels.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    travel: Option<Length>,
    /// The share of the travel used at rest.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    sag: Option<OpenShare>,
    /// The spring's force at full travel over that of a linear spring with the same sag.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    progression: Option<Progression>,
    /// Damping as the suspension goes in.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    compression: Option<Damping>,
    /// Damping as it comes out.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    rebound: Option<Damping>,
    /// How far legs and arms can give.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    leg_stroke: Option<Length>,
    /// The force at which legs and arms yield.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    leg_force: Option<BodyWeights>,
    /// The stiffness of legs and arms up to that force.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    leg_stiffness: Option<Stiffness>,
    /// The damping of legs and arms.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    leg_damping: Option<Damping>,
}

impl Absorber {
    /// The keys for an absorber: what differs from the library's own, and none where nothing does.
    pub(in crate::files) fn of(absorber: &rider::Absorber) -> Option<Self> {
        let own = rider::Absorber::default();
        let keys = Self {
            tyre_stiffness: differing(absorber.tyre_stiffness, own.tyre_stiffness),
            unsprung_mass: differing(absorber.unsprung_mass, own.unsprung_mass),
            frame_mass: differing(absorber.frame_mass, own.frame_mass),
            rigid: absorber.travel.is_none(),
            travel: absorber.travel.filter(|_| absorber.travel != own.travel).map(Length),
            sag: differing(absorber.sag, own.sag),
            progression: differing(absorber.progression, own.progression),
            compression: differing(absorber.compression, own.compression),
            rebound: differing(absorber.rebound, own.rebound),
            leg_stroke: differing(absorber.leg_stroke, own.leg_stroke),
            leg_force: differing(absorber.leg_force, own.leg_force),
            leg_stiffness: differing(absorber.leg_stiffness, own.leg_stiffness),
            leg_damping: differing(absorber.leg_damping, own.leg_damping),
        };
        (keys != Self::default()).then_some(keys)
    }

    /// The absorber.
    pub(in crate::files) fn absorber(&self) -> Result<rider::Absorber, Fault> {
        let own = rider::Absorber::default();
        Ok(rider::Absorber {
            tyre_stiffness: self.tyre_stiffness.map_or(own.tyre_stiffness, f64::from),
            unsprung_mass: self.unsprung_mass.map_or(own.unsprung_mass, f64::from),
            frame_mass: self.frame_mass.map_or(own.frame_mass, f64::from),
            travel: self.travel()?,
            sag: self.sag.map_or(own.sag, f64::from),
            progression: self.progression.map_or(own.progression, f64::from),
            compression: self.compression.map_or(own.compression, f64::from),
            rebound: self.rebound.map_or(own.rebound, f64::from),
            leg_stroke: self.leg_stroke.map_or(own.leg_stroke, f64::from),
            leg_force: self.leg_force.map_or(own.leg_force, f64::from),
            leg_stiffness: self.leg_stiffness.map_or(own.leg_stiffness, f64::from),
            leg_damping: self.leg_damping.map_or(own.leg_damping, f64::from),
        })
    }

    fn travel(&self) -> Result<Option<f64>, Fault> {
        match (self.rigid, self.travel) {
            (true, Some(_)) => Err(Fault::unfit("travel", "a rigid bike has no travel")),
            (true, None) => Ok(None),
            (false, Some(travel)) => Ok(Some(travel.0)),
            (false, None) => Ok(rider::Absorber::default().travel),
        }
    }
}

fn differing<Q: From<f64>>(value: f64, own: f64) -> Option<Q> {
    value.total_cmp(&own).is_ne().then(|| value.into())
}
