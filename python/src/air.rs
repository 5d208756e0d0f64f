//! The air and gravity at a site.

use crate::arrays::{Triple, vector};
use crate::errors::Failure;
use crate::pickle::pickled;
use crate::text as words;
use loamline::Air as Core;
use numpy::PyArray1;
use pyo3::prelude::*;

/// The air and gravity at a site, the same everywhere and at all times there.
///
/// Density follows the ISO 2533 standard atmosphere below 11 km; wind is constant, without gusts.
///
/// Args:
///     elevation: above sea level, m, from -5000 to 11000.
///     temperature_c: the site's own temperature, degrees Celsius, from -90 to 60; None takes the
///         standard one at the elevation.
///     wind: the air's velocity (x, y, z), m/s: where it blows to.
///     density: kg/m^3, at least 0, whatever elevation and temperature say; None follows them.
///     gravity: m/s^2, above 0.
///
/// Raises:
///     InputError: a number outside its range.
///
/// >>> import loamline as ll
/// >>> round(ll.Air(elevation=1000.0).density, 5)
/// 1.11166
#[pyclass(frozen, eq, module = "loamline")]
#[derive(Debug, Clone, PartialEq)]
pub struct Air {
    /// The core's air.
    pub core: Core,
}

#[pymethods]
impl Air {
    #[new]
    #[pyo3(
        signature = (elevation=0.0, temperature_c=None, wind=Triple::zero(), density=None, gravity=9.80665),
        text_signature = "(elevation=0.0, temperature_c=None, wind=(0, 0, 0), density=None, gravity=9.80665)"
    )]
    fn new(
        elevation: f64,
        temperature_c: Option<f64>,
        wind: Triple,
        density: Option<f64>,
        gravity: f64,
    ) -> Result<Self, Failure> {
        let mut core = Core::standard()
            .with_elevation(elevation)?
            .with_wind(wind.named("wind")?)?
            .with_gravity(gravity)?;
        if let Some(temperature) = temperature_c {
            core = core.with_temperature_c(temperature)?;
        }
        if let Some(density) = density {
            core = core.with_density(density)?;
        }
        Ok(Self { core })
    }

    /// Elevation above sea level, m.
    #[getter]
    fn elevation(&self) -> f64 {
        self.core.elevation()
    }

    /// Temperature, degrees Celsius: the given one, or the standard one at the elevation.
    #[getter]
    fn temperature_c(&self) -> f64 {
        self.core.temperature_c()
    }

    /// Standard pressure at the elevation, Pa.
    #[getter]
    fn pressure(&self) -> f64 {
        self.core.pressure()
    }

    /// Density, kg/m^3: the given one, or by the gas law from pressure and temperature.
    #[getter]
    fn density(&self) -> f64 {
        self.core.density()
    }

    /// The air's velocity, m/s, an array of three: where it blows to.
    #[getter]
    fn wind<'py>(&self, py: Python<'py>) -> Bound<'py, PyArray1<f64>> {
        vector(py, &self.core.wind())
    }

    /// Acceleration of gravity, m/s^2.
    #[getter]
    fn gravity(&self) -> f64 {
        self.core.gravity()
    }

    fn __repr__(&self) -> String {
        text(&self.core)
    }
}

/// What `repr` shows of the air.
pub fn text(core: &Core) -> String {
    words::call(
        "Air",
        &[
            ("elevation", words::float(core.elevation())),
            ("temperature_c", words::maybe(core.given_temperature_c())),
            ("wind", words::tuple(core.wind().iter())),
            ("density", words::maybe(core.given_density())),
            ("gravity", words::float(core.gravity())),
        ],
    )
}

pickled!(Air, Core);
