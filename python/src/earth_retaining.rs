//! How a back of logs holds the earth behind it.

use crate::earth_soil::{Span, span};
use crate::earth_words::{AnySoil, unknown};
use crate::errors::Failure;
use crate::pickle::pickled;
use crate::units::{degrees, radians_within};
use loamline::earth::{Backfill, Crib, Footing, Retaining as Core, Soil, Theory};
use pyo3::prelude::*;

/// How a metre of log or crib back holds the earth behind it: an indication, not a design.
///
/// Made by `retaining(...)`. Ratios are (value, low, high) over the spans of the soil's friction and
/// weight; codes ask for 1.5 against sliding, textbooks for 2 against overturning.
#[pyclass(frozen, eq, module = "loamline")]
#[derive(Debug, Clone, PartialEq)]
pub struct Retaining {
    core: Core,
}

/// How a back of logs or cribs, a block that holds by its weight, holds the earth behind it.
///
/// Args:
///     height: from the bottom of its footing to its top, m.
///     width: front to back, m.
///     soil: of the earth behind it: "loam", "sand", "gravel", "clay", or a `Soil`.
///     slope_deg: how the earth rises behind its top, degrees.
///     surcharge: load on that earth, Pa; by default people and riders close together, 90 lb/ft^2
///         (AASHTO, LRFD Guide Specifications for the Design of Pedestrian Bridges, 2009).
///     water: how high water stands behind it above its foot, m.
///     lean_deg: how far it leans back into the earth, degrees from upright, up to 30.
///     weight: of the whole block, N/m^3; by default logs filled with earth (an assumption).
///     footing: what it stands on, "sand" (or loam), "gravel" or "clay".
///     theory: "rankine", "coulomb" or "at rest".
///     wall_friction_deg: between earth and back, for Coulomb; None takes half of the soil's friction
///         (common practice).
///
/// Raises:
///     InputError: a number outside its range, or earth that rises more steeply than it stands.
///
/// >>> import loamline as ll
/// >>> held = ll.retaining(height=0.8, width=0.9, soil="gravel", surcharge=0.0, footing="gravel")
/// >>> round(held.thrust / 1000.0, 2)
/// 1.72
#[pyfunction]
#[pyo3(
    signature = (
        height, width, soil=None, *, slope_deg=0.0, surcharge=4310.0, water=0.0, lean_deg=0.0,
        weight=13000.0, footing="sand", theory="rankine", wall_friction_deg=None,
    ),
    text_signature = "(height, width, soil=\"loam\", *, slope_deg=0.0, surcharge=4310.0, water=0.0, lean_deg=0.0, weight=13000.0, footing=\"sand\", theory=\"rankine\", wall_friction_deg=None)"
)]
pub fn retaining(
    height: f64,
    width: f64,
    soil: Option<AnySoil<'_>>,
    slope_deg: f64,
    surcharge: f64,
    water: f64,
    lean_deg: f64,
    weight: f64,
    footing: &str,
    theory: &str,
    wall_friction_deg: Option<f64>,
) -> Result<Retaining, Failure> {
    let soil = soil.map_or_else(|| Ok(Soil::loam()), |soil| soil.core())?;
    let crib = Crib::new(height, width)?
        .with_lean(radians_within("lean_deg", lean_deg, 0.0, 30.0)?)?
        .with_unit_weight(weight)?
        .with_footing(self::footing(footing)?);
    let backfill = Backfill::of(&soil)
        .with_slope(radians_within("slope_deg", slope_deg, -89.0, 89.0)?)?
        .with_surcharge(surcharge)?
        .with_water(water)?;
    let theory = self::theory(theory, wall_friction_deg, soil.friction().value())?;
    Ok(Retaining { core: crib.holds(&backfill, theory)? })
}

fn footing(word: &str) -> Result<Footing, Failure> {
    match word {
        "sand" | "loam" => Ok(Footing::sand()),
        "gravel" => Ok(Footing::gravel()),
        "clay" => Ok(Footing::clay()),
        _ => Err(unknown("footing", word, &["sand", "loam", "gravel", "clay"])),
    }
}

fn theory(word: &str, wall_friction_deg: Option<f64>, friction: f64) -> Result<Theory, Failure> {
    match word {
        "rankine" => Ok(Theory::Rankine),
        "at rest" => Ok(Theory::AtRest),
        "coulomb" => {
            let most = degrees(friction);
            let rough = |angle| radians_within("wall_friction_deg", angle, 0.0, most);
            let wall_friction = wall_friction_deg.map_or(Ok(0.5 * friction), rough)?;
            Ok(Theory::Coulomb { wall_friction: wall_friction.min(friction) })
        }
        _ => Err(unknown("theory", word, &["rankine", "coulomb", "at rest"])),
    }
}

#[pymethods]
impl Retaining {
    /// Level thrust on a metre of it, N/m.
    #[getter]
    fn thrust(&self) -> f64 {
        self.core.thrust.level().force
    }

    /// How high above the foot the thrust acts, m.
    #[getter]
    fn thrust_height(&self) -> f64 {
        self.core.thrust.level().height
    }

    /// Sideways pressure of the earth over its upright pressure.
    #[getter]
    fn coefficient(&self) -> f64 {
        self.core.thrust.coefficient
    }

    /// The weight of a metre of it, N/m.
    #[getter]
    fn weight(&self) -> f64 {
        self.core.crib.weight()
    }

    /// What holds it from sliding over what pushes it: value, low, high.
    #[getter]
    fn sliding(&self) -> Span {
        span(self.core.sliding)
    }

    /// What holds it from tipping about its foot over what tips it: value, low, high.
    #[getter]
    fn overturning(&self) -> Span {
        span(self.core.overturning)
    }

    /// Pressure on the ground under its toe, Pa; None where it tips.
    #[getter]
    fn toe_pressure(&self) -> Option<f64> {
        self.core.bearing.map(|bearing| bearing.toe)
    }

    /// Pressure on the ground under its heel, Pa, 0 where that lifts; None where it tips.
    #[getter]
    fn heel_pressure(&self) -> Option<f64> {
        self.core.bearing.map(|bearing| bearing.heel)
    }

    /// What the ground bears by the code, Pa.
    #[getter]
    fn allowed_pressure(&self) -> f64 {
        self.core.crib.footing().bearing()
    }

    /// What to beware of, in words.
    #[getter]
    fn warnings(&self) -> Vec<String> {
        self.core.warnings.iter().map(ToString::to_string).collect()
    }

    /// The model behind the numbers, what went in, its sources and its limits, in paragraphs.
    fn explain(&self) -> String {
        self.core.explain().to_string()
    }

    fn __repr__(&self) -> String {
        format!(
            "<Retaining: {:.2} m high, sliding {:.2}, overturning {:.2}; an indication>",
            self.core.crib.height(),
            self.core.sliding.value(),
            self.core.overturning.value()
        )
    }
}

pickled!(Retaining, Core);
