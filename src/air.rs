//! The air that riders go through: its density at the site, the wind, and gravity.

use crate::math::Vec3;
use crate::math::range::{OutOfRange, finite, non_negative, positive, within};
use serde::{Deserialize, Serialize};

/// The effective radius of the Earth in ISO 2533, m.
const EARTH_RADIUS: f64 = 6_356_766.0;
/// Temperature at sea level in ISO 2533, K.
const SEA_LEVEL_TEMPERATURE: f64 = 288.15;
/// Pressure at sea level in ISO 2533, Pa.
const SEA_LEVEL_PRESSURE: f64 = 101_325.0;
/// How fast temperature falls with geopotential height below 11 km in ISO 2533, K/m.
const LAPSE_RATE: f64 = 0.0065;
/// The exponent `g0 / (R L)` of the pressure law below 11 km in ISO 2533.
const PRESSURE_EXPONENT: f64 = 5.25588;
/// The specific gas constant of dry air in ISO 2533, J/(kg K).
const GAS_CONSTANT: f64 = 287.05287;
/// Kelvin at 0 degrees Celsius.
const ICE_POINT: f64 = 273.15;
/// Standard gravity, m/s^2 (ISO 80000-3).
const STANDARD_GRAVITY: f64 = 9.80665;

/// The air and gravity at a site, the same everywhere and at all times there.
///
/// Density follows the ISO 2533 standard atmosphere below 11 km: pressure from the elevation,
/// temperature from the elevation or, where given, the site's own. Humidity is left out: at 30
/// degrees Celsius saturated air is about 1.5 % lighter (from memory). Wind is constant: no gusts.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize)]
#[serde(try_from = "Given", into = "Given")]
pub struct Air(Given);

/// What was said about the air; anything left out follows from the elevation.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize)]
struct Given {
    elevation: f64,
    #[serde(skip_serializing_if = "Option::is_none", default)]
    temperature_c: Option<f64>,
    #[serde(skip_serializing_if = "Option::is_none", default)]
    density: Option<f64>,
    wind: Vec3,
    gravity: f64,
}

/// Why there is no such air.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, thiserror::Error)]
#[non_exhaustive]
pub enum AirError {
    /// A number outside its range: `elevation`, `temperature_c`, `density`, `wind` or `gravity`.
    #[error(transparent)]
    OutOfRange(#[from] OutOfRange),
}

impl Air {
    /// The standard atmosphere at sea level: 15 degrees Celsius, 1.225 kg/m^3, no wind.
    pub const fn standard() -> Self {
        Self(Given {
            elevation: 0.0,
            temperature_c: None,
            density: None,
            wind: Vec3::new(0.0, 0.0, 0.0),
            gravity: STANDARD_GRAVITY,
        })
    }

    /// The same air at an elevation above sea level, m, from -5000 to 11000.
    pub fn with_elevation(self, elevation: f64) -> Result<Self, AirError> {
        let elevation = within("elevation", elevation, -5000.0, 11_000.0)?;
        Ok(Self(Given { elevation, ..self.0 }))
    }

    /// The same air at the site's own temperature, degrees Celsius, from -90 to 60.
    pub fn with_temperature_c(self, temperature: f64) -> Result<Self, AirError> {
        let temperature_c = Some(within("temperature_c", temperature, -90.0, 60.0)?);
        Ok(Self(Given { temperature_c, ..self.0 }))
    }

    /// The same air with a given density, kg/m^3, at least 0, whatever elevation and temperature say.
    pub fn with_density(self, density: f64) -> Result<Self, AirError> {
        let density = Some(non_negative("density", density)?);
        Ok(Self(Given { density, ..self.0 }))
    }

    /// The same air blowing at a velocity, m/s in the site frame: where it blows *to*.
    pub fn with_wind(self, wind: Vec3) -> Result<Self, AirError> {
        for component in wind.iter() {
            finite("wind", *component)?;
        }
        Ok(Self(Given { wind, ..self.0 }))
    }

    /// The same air under another gravity, m/s^2, above 0.
    pub fn with_gravity(self, gravity: f64) -> Result<Self, AirError> {
        let gravity = positive("gravity", gravity)?;
        Ok(Self(Given { gravity, ..self.0 }))
    }

    /// The elevation above sea level, m.
    pub const fn elevation(&self) -> f64 {
        self.0.elevation
    }

    /// The temperature, degrees Celsius: the site's own, or the standard one at its elevation.
    pub fn temperature_c(&self) -> f64 {
        self.0.temperature_c.unwrap_or_else(|| self.standard_temperature() - ICE_POINT)
    }

    /// The temperature that was given, degrees Celsius, where one was.
    pub const fn given_temperature_c(&self) -> Option<f64> {
        self.0.temperature_c
    }

    /// The standard pressure at the elevation, Pa.
    pub fn pressure(&self) -> f64 {
        let ratio = self.standard_temperature() / SEA_LEVEL_TEMPERATURE;
        SEA_LEVEL_PRESSURE * ratio.powf(PRESSURE_EXPONENT)
    }

    /// The density, kg/m^3: the given one, or by the gas law from pressure and temperature.
    pub fn density(&self) -> f64 {
        self.0.density.unwrap_or_else(|| {
            self.pressure() / (GAS_CONSTANT * (self.temperature_c() + ICE_POINT))
        })
    }

    /// The density that was given, kg/m^3, where one was.
    pub const fn given_density(&self) -> Option<f64> {
        self.0.density
    }

    /// The air's velocity, m/s in the site frame: where it blows to.
    pub const fn wind(&self) -> Vec3 {
        self.0.wind
    }

    /// The acceleration of gravity, m/s^2.
    pub const fn gravity(&self) -> f64 {
        self.0.gravity
    }

    /// The standard temperature at the elevation, K.
    fn standard_temperature(&self) -> f64 {
        let z = self.0.elevation;
        let geopotential_height = EARTH_RADIUS * z / (EARTH_RADIUS + z);
        SEA_LEVEL_TEMPERATURE - LAPSE_RATE * geopotential_height
    }
}

impl Default for Air {
    fn default() -> Self {
        Self::standard()
    }
}

impl From<Air> for Given {
    fn from(air: Air) -> Self {
        air.0
    }
}

impl TryFrom<Given> for Air {
    type Error = AirError;

    fn try_from(given: Given) -> Result<Self, AirError> {
        let mut air = Self::standard()
            .with_elevation(given.elevation)?
            .with_wind(given.wind)?
            .with_gravity(given.gravity)?;
        if let Some(temperature) = given.temperature_c {
            air = air.with_temperature_c(temperature)?;
        }
        if let Some(density) = given.density {
            air = air.with_density(density)?;
        }
        Ok(air)
    }
}

#[cfg(test)]
#[allow(clippy::float_cmp, reason = "values that pass through unchanged")]
mod tests {
    use super::*;
    use approx::assert_abs_diff_eq;

    /// ICAO Doc 7488/3 (1993), Tables 1 and 2, whose constants are those of ISO 2533:1975:
    /// geometric height m, temperature K, pressure Pa, density kg/m^3 as printed.
    const PRINTED: [(f64, f64, f64, f64); 3] = [
        (0.0, 288.150, 101_325.0, 1.22500),
        (1000.0, 281.651, 89_876.3, 1.11166),
        (-2500.0, 304.406, 135_205.0, 1.54731),
    ];

    #[test]
    fn printed_tables_of_the_standard_atmosphere() -> Result<(), AirError> {
        for (elevation, temperature, pressure, density) in PRINTED {
            let air = Air::standard().with_elevation(elevation)?;
            assert_abs_diff_eq!(air.temperature_c() + 273.15, temperature, epsilon = 5e-4);
            assert_abs_diff_eq!(air.pressure(), pressure, epsilon = 0.5);
            assert_abs_diff_eq!(air.density(), density, epsilon = 1e-5);
        }
        Ok(())
    }

    #[test]
    fn warm_air_is_lighter_by_the_gas_law() -> Result<(), AirError> {
        let standard = Air::standard().with_elevation(800.0)?;
        let warm = standard.with_temperature_c(30.0)?;
        let ratio = (standard.temperature_c() + 273.15) / 303.15;
        assert_abs_diff_eq!(warm.density(), standard.density() * ratio, epsilon = 1e-15);
        assert_eq!(warm.pressure(), standard.pressure());
        Ok(())
    }

    #[test]
    fn a_given_density_overrides_and_may_be_nothing() -> Result<(), AirError> {
        assert_eq!(Air::standard().with_density(0.0)?.density(), 0.0);
        assert_eq!(Air::standard().with_density(1.1)?.with_elevation(3000.0)?.density(), 1.1);
        Ok(())
    }

    #[test]
    fn errors_name_the_field() {
        let air = Air::standard();
        let named = |made: Result<Air, AirError>| match made {
            Err(AirError::OutOfRange(error)) => error.field.into_owned(),
            Ok(_) => "none".to_owned(),
        };
        assert_eq!(named(air.with_elevation(11_001.0)), "elevation");
        assert_eq!(named(air.with_temperature_c(f64::NAN)), "temperature_c");
        assert_eq!(named(air.with_density(-0.1)), "density");
        assert_eq!(named(air.with_wind(Vec3::new(0.0, f64::INFINITY, 0.0))), "wind");
        assert_eq!(named(air.with_gravity(0.0)), "gravity");
    }

    #[test]
    fn reading_back_checks_again() -> Result<(), Box<dyn std::error::Error>> {
        let air = Air::standard().with_elevation(500.0)?.with_wind(Vec3::new(1.0, 2.0, 0.0))?;
        let text = serde_json::to_string(&air)?;
        assert_eq!(serde_json::from_str::<Air>(&text)?, air);
        assert!(serde_json::from_str::<Air>(&text.replace("500.0", "50000.0")).is_err());
        Ok(())
    }
}
