//! Rider and bike as one: mass, resistance, sizes, inertia, and what soaks up a landing.

mod absorber;
mod air_spring;
mod body;
mod inertia;
mod solid;
mod surface;
mod typical;

pub use absorber::Absorber;
pub(crate) use air_spring::ADIABATIC;
pub use air_spring::AirSpring;
pub use inertia::Inertia;
pub use solid::Solid;
pub use surface::Surface;

use crate::math::range::{FARTHEST, OutOfRange, non_negative, positive, within};
use serde::{Deserialize, Deserializer, Serialize};

/// Where the centre of mass stands between the axles by default, as a share of the wheelbase from
/// the rear: what a standing rider's posture gives (see [`Rider::typical`]).
const REAR_SHARE: f64 = 0.4;
/// The most grip that is a number.
const MOST_GRIP: f64 = 1e6;
/// The most that the wheels' spin may count over the mass: an iron flywheel of a wheel stays below ten.
const MOST_ROTATING: f64 = 1e6;

/// Rider and bike together, ready to ride.
///
/// [`Rider::default`] has the values a first look needs: 90 kg in all and a centre of mass 1.0 m
/// above the tyres' line (common practice for an adult standing on a trail bike), `CdA` 0.55 m^2
/// (between 0.47, van Druenen and Blocken 2021, Table 1, upright, and 0.63, hands on the tops in
/// the *Bicycling Science* table), `Crr` 0.03 (between firm gravel 0.012 and wet loose gravel 0.06,
/// Moyer in *Marks' Standard Handbook*), grip 0.6 (what cyclists accept in the tightest curves:
/// FHWA-HRT-04-103, Table 19, 0.61), wheelbase 1.2 m and wheel radius 0.35 m (common practice),
/// no spin inertia of the wheels, and the inertia of [`Rider::typical`] for 75 kg and 1.75 m, rounded.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[serde(try_from = "Values", into = "Values")]
pub struct Rider(Values);

#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
struct Values {
    mass: f64,
    cda: f64,
    crr: f64,
    #[serde(deserialize_with = "number_or_infinity")]
    grip: f64,
    com_height: f64,
    #[serde(skip_serializing_if = "Option::is_none", default)]
    com_height_landing: Option<f64>,
    wheelbase: f64,
    #[serde(skip_serializing_if = "Option::is_none", default)]
    rear_to_com: Option<f64>,
    wheel_radius: f64,
    wheel_inertia: f64,
    inertia: Inertia,
    absorber: Absorber,
}

/// Why there is no such rider.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, thiserror::Error)]
#[non_exhaustive]
pub enum RiderError {
    /// A number outside its range; the field has the name of the rider's or absorber's getter.
    #[error(transparent)]
    OutOfRange(#[from] OutOfRange),
}

impl Rider {
    /// The same rider with a total mass, kg, above 0. Inertia is left as it is.
    pub fn with_mass(self, mass: f64) -> Result<Self, RiderError> {
        Self::checked(Values { mass, ..self.0 })
    }

    /// The same rider with a drag area, m^2, at least 0.
    pub fn with_cda(self, cda: f64) -> Result<Self, RiderError> {
        Self::checked(Values { cda, ..self.0 })
    }

    /// The same rider with a rolling resistance coefficient, at least 0.
    pub fn with_crr(self, crr: f64) -> Result<Self, RiderError> {
        Self::checked(Values { crr, ..self.0 })
    }

    /// The same rider with a grip between tyre and surface, above 0 and at most 1e6; infinity never slides.
    pub fn with_grip(self, grip: f64) -> Result<Self, RiderError> {
        Self::checked(Values { grip, ..self.0 })
    }

    /// The same rider with the centre of mass this high above the tyres when riding, m, at least 0.
    pub fn with_com_height(self, com_height: f64) -> Result<Self, RiderError> {
        Self::checked(Values { com_height, ..self.0 })
    }

    /// The same rider with another height of the centre of mass at touchdown, m, at least 0:
    /// higher on long legs, lower on bent ones. `None` keeps the height when riding.
    pub fn with_com_height_landing(self, height: Option<f64>) -> Result<Self, RiderError> {
        Self::checked(Values { com_height_landing: height, ..self.0 })
    }

    /// The same rider with a wheelbase, m, above 0.
    pub fn with_wheelbase(self, wheelbase: f64) -> Result<Self, RiderError> {
        Self::checked(Values { wheelbase, ..self.0 })
    }

    /// The same rider with the centre of mass this far ahead of the rear contact, m, from 0 to the
    /// wheelbase. `None` puts it 0.4 of the wheelbase ahead.
    pub fn with_rear_to_com(self, rear_to_com: Option<f64>) -> Result<Self, RiderError> {
        Self::checked(Values { rear_to_com, ..self.0 })
    }

    /// The same rider with a wheel radius, m, at least 0.001.
    pub fn with_wheel_radius(self, wheel_radius: f64) -> Result<Self, RiderError> {
        Self::checked(Values { wheel_radius, ..self.0 })
    }

    /// The same rider with a spin inertia of each wheel, kg m^2, at least 0.
    pub fn with_wheel_inertia(self, wheel_inertia: f64) -> Result<Self, RiderError> {
        Self::checked(Values { wheel_inertia, ..self.0 })
    }

    /// The same rider with other principal inertias.
    pub fn with_inertia(self, inertia: Inertia) -> Self {
        Self(Values { inertia, ..self.0 })
    }

    /// The same rider with another absorber, its values checked.
    pub fn with_absorber(self, absorber: Absorber) -> Result<Self, RiderError> {
        Self::checked(Values { absorber, ..self.0 })
    }

    /// The same rider on a kind of surface: its rolling resistance and its grip.
    pub fn on(self, surface: Surface) -> Self {
        Self(Values { crr: surface.crr(), grip: surface.grip(), ..self.0 })
    }

    /// The mass of rider and bike, kg.
    pub const fn mass(&self) -> f64 {
        self.0.mass
    }

    /// The drag area, m^2.
    pub const fn cda(&self) -> f64 {
        self.0.cda
    }

    /// The coefficient of rolling resistance.
    pub const fn crr(&self) -> f64 {
        self.0.crr
    }

    /// The grip between tyre and surface: the side or braking force it carries over the load on it.
    pub const fn grip(&self) -> f64 {
        self.0.grip
    }

    /// The height of the centre of mass above the tyres when riding, m.
    pub const fn com_height(&self) -> f64 {
        self.0.com_height
    }

    /// The height of the centre of mass above the tyres at touchdown, m.
    pub fn com_height_landing(&self) -> f64 {
        self.0.com_height_landing.unwrap_or(self.0.com_height)
    }

    /// The height of the centre of mass at touchdown that was given, m, where one was.
    pub const fn given_com_height_landing(&self) -> Option<f64> {
        self.0.com_height_landing
    }

    /// The wheelbase, m.
    pub const fn wheelbase(&self) -> f64 {
        self.0.wheelbase
    }

    /// How far the centre of mass is ahead of the rear contact, m.
    pub fn rear_to_com(&self) -> f64 {
        self.0.rear_to_com.unwrap_or(REAR_SHARE * self.0.wheelbase)
    }

    /// How far ahead of the rear contact the centre of mass was put, m, where it was.
    pub const fn given_rear_to_com(&self) -> Option<f64> {
        self.0.rear_to_com
    }

    /// The wheels' radius, m.
    pub const fn wheel_radius(&self) -> f64 {
        self.0.wheel_radius
    }

    /// The spin inertia of each wheel, kg m^2.
    pub const fn wheel_inertia(&self) -> f64 {
        self.0.wheel_inertia
    }

    /// The principal inertias about the centre of mass, kg m^2.
    pub const fn inertia(&self) -> Inertia {
        self.0.inertia
    }

    /// What takes up a landing between the tyres and the rider's mass.
    pub const fn absorber(&self) -> &Absorber {
        &self.0.absorber
    }

    /// The wheels' spin energy over that of the whole moving along: `2 I_w / (m r_w^2)`.
    pub fn rotating_factor(&self) -> f64 {
        2.0 * self.0.wheel_inertia / (self.0.mass * self.0.wheel_radius.powi(2))
    }

    fn checked(values: Values) -> Result<Self, RiderError> {
        positive("mass", values.mass)?;
        non_negative("cda", values.cda)?;
        non_negative("crr", values.crr)?;
        if values.grip.is_nan() || values.grip <= 0.0 {
            return Err(OutOfRange::new("grip", values.grip, "above 0; infinity too").into());
        }
        // More than that is infinity, and has to be said so: its products with loads are no numbers.
        if values.grip.is_finite() {
            within("grip", values.grip, 0.0, MOST_GRIP)?;
        }
        non_negative("com_height", values.com_height)?;
        if let Some(height) = values.com_height_landing {
            non_negative("com_height_landing", height)?;
        }
        positive("wheelbase", values.wheelbase)?;
        if let Some(ahead) = values.rear_to_com {
            within("rear_to_com", ahead, 0.0, values.wheelbase)?;
        }
        within("wheel_radius", positive("wheel_radius", values.wheel_radius)?, 1e-3, FARTHEST)?;
        non_negative("wheel_inertia", values.wheel_inertia)?;
        values.absorber.check()?;
        let (rider, spin) =
            (Self(values), "so little that spin counts at most 1000000 times the mass");
        if rider.rotating_factor() > MOST_ROTATING {
            return Err(OutOfRange::new("wheel_inertia", rider.wheel_inertia(), spin).into());
        }
        Ok(rider)
    }
}

impl Default for Rider {
    fn default() -> Self {
        Self(Values {
            mass: 90.0,
            cda: 0.55,
            crr: 0.03,
            grip: 0.6,
            com_height: 1.0,
            com_height_landing: None,
            wheelbase: 1.2,
            rear_to_com: None,
            wheel_radius: 0.35,
            wheel_inertia: 0.0,
            inertia: Inertia::default(),
            absorber: Absorber::default(),
        })
    }
}

impl From<Rider> for Values {
    fn from(rider: Rider) -> Self {
        rider.0
    }
}

impl TryFrom<Values> for Rider {
    type Error = RiderError;

    fn try_from(values: Values) -> Result<Self, RiderError> {
        Self::checked(values)
    }
}

/// JSON has no infinity and writes `null` for it: an endless grip must come back from there.
fn number_or_infinity<'de, D: Deserializer<'de>>(source: D) -> Result<f64, D::Error> {
    Ok(Option::<f64>::deserialize(source)?.unwrap_or(f64::INFINITY))
}

#[cfg(test)]
#[allow(clippy::float_cmp, reason = "values that pass through unchanged")]
mod tests {
    use super::*;

    #[test]
    fn values_out_of_range_are_named() {
        let named = |made: Result<Rider, RiderError>| match made {
            Err(RiderError::OutOfRange(error)) => error.field.into_owned(),
            Ok(_) => "none".to_owned(),
        };
        let rider = Rider::default;
        assert_eq!(named(rider().with_mass(0.0)), "mass");
        assert_eq!(named(rider().with_cda(-0.1)), "cda");
        assert_eq!(named(rider().with_crr(f64::NAN)), "crr");
        assert_eq!(named(rider().with_grip(0.0)), "grip");
        assert_eq!(named(rider().with_grip(f64::INFINITY)), "none");
        assert_eq!(named(rider().with_grip(1e308)), "grip");
        assert_eq!(named(rider().with_wheel_inertia(1e308)), "wheel_inertia");
        assert_eq!(named(rider().with_wheel_radius(5e-324)), "wheel_radius");
        assert_eq!(named(rider().with_com_height(-1.0)), "com_height");
        assert_eq!(named(rider().with_com_height_landing(Some(-1.0))), "com_height_landing");
        assert_eq!(named(rider().with_rear_to_com(Some(1.3))), "rear_to_com");
        assert_eq!(named(rider().with_wheel_radius(0.0)), "wheel_radius");
        let with = |absorber| named(rider().with_absorber(absorber));
        assert_eq!(with(Absorber { sag: 1.0, ..Absorber::default() }), "sag");
        assert_eq!(with(Absorber { travel: Some(0.0), ..Absorber::default() }), "travel");
        assert_eq!(with(Absorber { travel: Some(-0.1), ..Absorber::default() }), "travel");
        assert_eq!(with(Absorber { leg_stroke: 0.0, ..Absorber::default() }), "leg_stroke");
        assert_eq!(with(Absorber::rigid()), "none");
        assert!(Inertia::new(1.0, 5.0, 3.0).is_err() && Inertia::new(2.0, 5.0, 3.0).is_ok());
    }

    #[test]
    fn wheels_add_to_the_moving_mass() -> Result<(), RiderError> {
        let rider = Rider::default().with_wheel_inertia(0.12)?;
        let factor = 2.0 * 0.12 / (90.0 * 0.35 * 0.35);
        assert!((rider.rotating_factor() - factor).abs() < 1e-15);
        assert_eq!(Rider::default().rotating_factor(), 0.0);
        Ok(())
    }

    #[test]
    fn endless_grip_survives_json() -> Result<(), Box<dyn std::error::Error>> {
        let rider = Rider::default().with_grip(f64::INFINITY)?;
        let back: Rider = serde_json::from_str(&serde_json::to_string(&rider)?)?;
        assert_eq!(back, rider);
        let wrong = serde_json::to_string(&rider)?.replace("90.0", "-90.0");
        assert!(serde_json::from_str::<Rider>(&wrong).is_err());
        Ok(())
    }

    #[test]
    fn softer_surfaces_roll_worse() {
        assert_eq!(Rider::default().on(Surface::FirmGravel).crr(), 0.012);
        assert!(Surface::ALL.iter().all(|s| s.crr() > 0.0 && s.grip() > 0.0));
        assert!(Surface::ALL.iter().all(|s| s.source().contains("rolling: ")));
    }
}
