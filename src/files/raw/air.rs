//! The air as a site file writes it.

use super::Value;
use crate::air::{self, AirError};
use crate::files::angle::degrees;
use crate::files::fault::Fault;
use crate::files::quantity::{Celsius, Density, Elevation, Gravity, Heading, Velocity};
use crate::math::Vec3;
use crate::site;
use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

/// The air over the site.
#[derive(Debug, Clone, Default, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub(in crate::files) struct Air {
    /// Height above the sea; 0 where it is not given.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    elevation: Option<Elevation>,
    /// Temperature; the standard atmosphere's where it is not given.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    temperature_c: Option<Celsius>,
    /// Density, where it is known better than from elevation and temperature.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    density: Option<Density>,
    /// The wind; none where it is not given.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    wind: Option<Wind>,
    /// The acceleration of fall; 9.80665 where it is not given.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    gravity: Option<Gravity>,
}

/// The wind: the air's velocity along x, y and z, where it blows to; or a heading, and a speed that differs from pass
/// to pass.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(untagged)]
enum Wind {
    /// Always the same.
    Even([Velocity; 3]),
    /// From pass to pass another.
    Gusty(Gusts),
}

/// A level wind that differs from pass to pass.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
struct Gusts {
    /// Where it blows to.
    heading_deg: Heading,
    /// How fast it blows; negative is the other way.
    speed: Value<Velocity>,
}

impl Air {
    /// The keys for an air, and for a wind instead of its own.
    pub(in crate::files) fn of(air: &air::Air, wind: Option<&site::Wind>) -> Self {
        let even = (air.wind() != Vec3::zeros())
            .then(|| Wind::Even(<[f64; 3]>::from(air.wind()).map(Velocity)));
        let gusts = wind.map(|wind| Gusts {
            heading_deg: Heading(degrees(wind.heading)),
            speed: Value::of(&wind.speed),
        });
        let gravity = air.gravity();
        let usual = air::Air::standard().gravity();
        Self {
            elevation: (air.elevation() != 0.0).then_some(Elevation(air.elevation())),
            temperature_c: air.given_temperature_c().map(Celsius),
            density: air.given_density().map(Density),
            wind: gusts.map(Wind::Gusty).or(even),
            gravity: gravity.total_cmp(&usual).is_ne().then_some(Gravity(gravity)),
        }
    }

    /// The air, and the wind that differs from pass to pass where there is one.
    pub(in crate::files) fn air(&self) -> Result<(air::Air, Option<site::Wind>), Fault> {
        let air = self.still().map_err(|AirError::OutOfRange(error)| error)?;
        match &self.wind {
            None => Ok((air, None)),
            Some(Wind::Even(velocity)) => {
                let air = air.with_wind(Vec3::from(velocity.map(f64::from)));
                Ok((air.map_err(|AirError::OutOfRange(error)| error)?, None))
            }
            Some(Wind::Gusty(gusts)) => {
                let speed = gusts.speed.dist("speed").map_err(|fault| fault.within("wind"))?;
                let heading = gusts.heading_deg.0.to_radians();
                Ok((air, Some(site::Wind { heading, speed })))
            }
        }
    }

    fn still(&self) -> Result<air::Air, AirError> {
        let mut air = air::Air::standard();
        if let Some(elevation) = self.elevation {
            air = air.with_elevation(elevation.0)?;
        }
        if let Some(temperature) = self.temperature_c {
            air = air.with_temperature_c(temperature.0)?;
        }
        if let Some(density) = self.density {
            air = air.with_density(density.0)?;
        }
        match self.gravity {
            Some(gravity) => air.with_gravity(gravity.0),
            None => Ok(air),
        }
    }
}
