//! Soils.

use crate::errors::Failure;
use crate::pickle::pickled;
use crate::text;
use crate::units::degrees;
use loamline::earth::{Digging, Grain, Soil as Core, Spread};
use loamline::math::range::OutOfRange;
use pyo3::prelude::*;

/// A soil: how it swells when dug, shrinks when placed, settles, weighs, and how steep it stands.
///
/// Where only a name is given, its numbers are those of handbooks; each number that is given instead
/// is one value, or `(value, low, high)`. Sources differ by a factor of up to three: weigh a barrow
/// and count the first ten.
///
/// Args:
///     name: "loam", "sand", "gravel", "clay", or with `like` a name of its own.
///     like: the soil whose numbers stand where none is given; None takes `name`.
///     swell: growth from the bank to loose, of the bank's volume, from 0 to 2.
///     shrinkage: loss from the bank to placed and tamped, of the bank's volume, from -1 to below 1.
///     settlement: loss of the placed earth's height with time, from 0 to below 1.
///     unit_weight: of the placed earth, N/m^3.
///     saturated_weight: of the placed earth with its pores full of water, N/m^3.
///     loose_density: of the loose earth in a barrow, kg/m^3.
///     friction_deg: angle of internal friction, degrees, above 0 and below 90.
///     stand_up_deg: the steepest a batter of it should be built, degrees, above 0 and below 90.
///     digging: "light", "medium" or "heavy".
///     grain: "granular" or "cohesive".
///
/// Raises:
///     InputError: a soil that is not known, a number outside its range.
///
/// >>> import loamline as ll
/// >>> ll.Soil("loam").swell
/// (0.25, 0.1, 0.3)
/// >>> ll.Soil("pit sand", like="sand", swell=0.15).swell
/// (0.15, 0.15, 0.15)
#[pyclass(frozen, eq, module = "loamline")]
#[derive(Debug, Clone, PartialEq)]
pub struct Soil {
    /// The core's soil.
    pub core: Core,
}

/// A number, or one with its span.
#[derive(Debug, Clone, Copy, FromPyObject)]
pub enum Number {
    /// Known.
    #[pyo3(transparent)]
    One(f64),
    /// Value, low end, high end.
    #[pyo3(transparent)]
    Span((f64, f64, f64)),
}

/// A value with its low and its high end.
pub type Span = (f64, f64, f64);

/// A spread as Python sees it.
pub fn span(spread: Spread) -> Span {
    (spread.value(), spread.low(), spread.high())
}

impl Number {
    fn spread(self, field: &'static str, turned: impl Fn(f64) -> f64) -> Result<Spread, Failure> {
        let (value, low, high) = match self {
            Self::One(value) => (value, value, value),
            Self::Span(span) => span,
        };
        let named = |error: OutOfRange| OutOfRange { field: field.into(), ..error };
        Ok(Spread::new(turned(value), turned(low), turned(high)).map_err(named)?)
    }
}

fn set(
    soil: Core,
    field: &'static str,
    number: Option<Number>,
    with: impl Fn(Core, Spread) -> Result<Core, OutOfRange>,
) -> Result<Core, Failure> {
    match number {
        None => Ok(soil),
        Some(number) => Ok(with(soil, number.spread(field, |value| value)?)?),
    }
}

/// As [`set`], for an angle that Python gives in degrees.
fn turn(
    soil: Core,
    field: &'static str,
    number: Option<Number>,
    with: impl Fn(Core, Spread) -> Result<Core, OutOfRange>,
) -> Result<Core, Failure> {
    let Some(number) = number else { return Ok(soil) };
    let in_degrees = |error: OutOfRange| {
        OutOfRange::new(field, error.value.to_degrees(), "above 0 and below 90 degrees")
    };
    Ok(with(soil, number.spread(field, f64::to_radians)?).map_err(in_degrees)?)
}

fn digging(word: &str) -> Result<Digging, Failure> {
    match word {
        "light" => Ok(Digging::Light),
        "medium" => Ok(Digging::Medium),
        "heavy" => Ok(Digging::Heavy),
        _ => Err(crate::earth_words::unknown("digging", word, &["light", "medium", "heavy"])),
    }
}

fn grain(word: &str) -> Result<Grain, Failure> {
    match word {
        "granular" => Ok(Grain::Granular),
        "cohesive" => Ok(Grain::Cohesive),
        _ => Err(crate::earth_words::unknown("grain", word, &["granular", "cohesive"])),
    }
}

#[pymethods]
impl Soil {
    #[new]
    #[pyo3(
        signature = (
            name="loam", *, like=None, swell=None, shrinkage=None, settlement=None,
            unit_weight=None, saturated_weight=None, loose_density=None, friction_deg=None,
            stand_up_deg=None, digging=None, grain=None,
        )
    )]
    fn new(
        name: &str,
        like: Option<&str>,
        swell: Option<Number>,
        shrinkage: Option<Number>,
        settlement: Option<Number>,
        unit_weight: Option<Number>,
        saturated_weight: Option<Number>,
        loose_density: Option<Number>,
        friction_deg: Option<Number>,
        stand_up_deg: Option<Number>,
        digging: Option<&str>,
        grain: Option<&str>,
    ) -> Result<Self, Failure> {
        let mut core = Core::named(like.unwrap_or(name))?.with_name(name.to_owned());
        core = set(core, "swell", swell, Core::with_swell)?;
        core = set(core, "shrinkage", shrinkage, Core::with_shrinkage)?;
        core = set(core, "settlement", settlement, Core::with_settlement)?;
        core = set(core, "unit_weight", unit_weight, Core::with_unit_weight)?;
        core = set(core, "saturated_weight", saturated_weight, Core::with_saturated_weight)?;
        core = set(core, "loose_density", loose_density, Core::with_loose_density)?;
        core = turn(core, "friction_deg", friction_deg, Core::with_friction)?;
        core = turn(core, "stand_up_deg", stand_up_deg, Core::with_stand_up)?;
        if let Some(word) = digging {
            core = core.with_digging(self::digging(word)?);
        }
        if let Some(word) = grain {
            core = core.with_grain(self::grain(word)?);
        }
        Ok(Self { core })
    }

    /// This soil with swell and shrinkage as three weighed buckets give them.
    ///
    /// Args:
    ///     bank: density as cut from the ground, kg/m^3.
    ///     loose: density in the barrow, kg/m^3.
    ///     placed: density when tamped, kg/m^3; all three at the same moisture.
    ///
    /// Raises:
    ///     InputError: a density that is not above 0, or a bank lighter than the loose earth.
    ///
    /// >>> import loamline as ll
    /// >>> weighed = ll.Soil("loam").weighed(bank=1750.0, loose=1400.0, placed=2000.0)
    /// >>> round(weighed.swell[0], 6), weighed.shrinkage[0]
    /// (0.25, 0.125)
    fn weighed(&self, bank: f64, loose: f64, placed: f64) -> Result<Self, Failure> {
        Ok(Self { core: self.core.clone().with_densities(bank, loose, placed)? })
    }

    /// What it is called.
    #[getter]
    fn name(&self) -> &str {
        self.core.name()
    }

    /// Growth from the bank to loose, of the bank's volume: value, low, high.
    #[getter]
    fn swell(&self) -> Span {
        span(self.core.swell())
    }

    /// Loss from the bank to placed and tamped, of the bank's volume: value, low, high.
    #[getter]
    fn shrinkage(&self) -> Span {
        span(self.core.shrinkage())
    }

    /// Loss of the placed earth's height with time: value, low, high.
    #[getter]
    fn settlement(&self) -> Span {
        span(self.core.settlement())
    }

    /// Weight of the placed earth, N/m^3: value, low, high.
    #[getter]
    fn unit_weight(&self) -> Span {
        span(self.core.unit_weight())
    }

    /// Weight of the placed earth with its pores full of water, N/m^3: value, low, high.
    #[getter]
    fn saturated_weight(&self) -> Span {
        span(self.core.saturated_weight())
    }

    /// Mass of the loose earth in a barrow, kg/m^3: value, low, high.
    #[getter]
    fn loose_density(&self) -> Span {
        span(self.core.loose_density())
    }

    /// Angle of internal friction, degrees: value, low, high.
    #[getter]
    fn friction_deg(&self) -> Span {
        turned(self.core.friction())
    }

    /// The steepest a batter of it should be built, degrees: value, low, high (hard, dry and clean).
    #[getter]
    fn stand_up_deg(&self) -> Span {
        turned(self.core.stand_up())
    }

    /// How hard it is to dig: "light", "medium" or "heavy".
    #[getter]
    fn digging(&self) -> &'static str {
        match self.core.digging() {
            Digging::Light => "light",
            Digging::Medium => "medium",
            Digging::Heavy => "heavy",
        }
    }

    /// Whether its grains stick together: "granular" or "cohesive".
    #[getter]
    fn grain(&self) -> &'static str {
        match self.core.grain() {
            Grain::Granular => "granular",
            Grain::Cohesive => "cohesive",
        }
    }

    /// The height to build so that `height` is left when the earth has settled, m.
    fn built_height(&self, height: f64) -> f64 {
        self.core.built_height(height)
    }

    fn __repr__(&self) -> String {
        let like = Core::named(self.name()).ok();
        let plain = Self { core: like.clone().unwrap_or_else(Core::loam) };
        let mut arguments = vec![text::quoted(self.name())];
        if like.is_none() {
            arguments.push("like=\"loam\"".into());
        }
        let numbers = [
            ("swell", self.swell(), plain.swell()),
            ("shrinkage", self.shrinkage(), plain.shrinkage()),
            ("settlement", self.settlement(), plain.settlement()),
            ("unit_weight", self.unit_weight(), plain.unit_weight()),
            ("saturated_weight", self.saturated_weight(), plain.saturated_weight()),
            ("loose_density", self.loose_density(), plain.loose_density()),
            ("friction_deg", self.friction_deg(), plain.friction_deg()),
            ("stand_up_deg", self.stand_up_deg(), plain.stand_up_deg()),
        ];
        let differing = numbers.into_iter().filter(|(_, own, plain)| own != plain);
        arguments.extend(differing.map(|(key, (value, low, high), _)| {
            format!("{key}={}", text::tuple([value, low, high].iter()))
        }));
        let words =
            [("digging", self.digging(), plain.digging()), ("grain", self.grain(), plain.grain())];
        let differing = words.into_iter().filter(|(_, own, plain)| own != plain);
        arguments.extend(differing.map(|(key, own, _)| format!("{key}={}", text::quoted(own))));
        format!("Soil({})", arguments.join(", "))
    }
}

fn turned(spread: Spread) -> Span {
    let [value, low, high] = [spread.value(), spread.low(), spread.high()].map(degrees);
    (value, low, high)
}

pickled!(Soil, Core);
