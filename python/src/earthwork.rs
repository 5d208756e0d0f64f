//! Earth between two grounds, and what carrying it takes.

use crate::earth_balance::{Balance, Borrow};
use crate::earth_soil::{Span, span};
use crate::earth_words::{AnySoil, tamping};
use crate::errors::Failure;
use crate::ground::Ground;
use crate::pickle::pickled;
use crate::units::degrees;
use loamline::earth::{Barrow, Earthwork as Core, Means, Trailer};
use pyo3::prelude::*;
use std::collections::BTreeMap;

/// Earth between two grounds by state, in mass, barrows, trailers, lifts and hours.
///
/// Made by `earthwork(...)`. Volumes between the grounds are exact; all that depends on the soil
/// is an estimate: weigh a barrow and count the first ten.
#[pyclass(frozen, eq, module = "loamline")]
#[derive(Debug, Clone, PartialEq)]
pub struct Earthwork {
    core: Core,
}

/// The earth between a ground before and one after.
///
/// Args:
///     before, after: the grounds, such as `site.ground` and the same with a landing.
///     soil: "loam", "sand", "gravel" or "clay", or a `Soil`.
///     barrow: loose earth in a barrow, m^3; None takes 0.08, a builder's barrow filled level
///         (common practice).
///     trailer_volume: loose earth in a trailer, m^3.
///     trailer_payload: what the trailer may carry, kg; it is full by volume or by mass. By default
///         a small one without brakes (from memory).
///     haul: how far the earth is carried, m one way; past 50 m the tables of labour end.
///     tamping: "hand" or "rammer".
///
/// Raises:
///     InputError: a soil that is not known, grounds that do not overlap or have no end.
///
/// >>> import loamline as ll
/// >>> level = ll.Ground.plane()
/// >>> landing = ll.Landing(crest=(4, 0), heading_deg=0, slope_deg=20, length=4, width=3)
/// >>> earth = ll.earthwork(level, level.with_landing(landing), soil="loam")
/// >>> round(earth.fill, 1)
/// 21.0
#[pyfunction]
#[pyo3(
    signature = (
        before, after, soil=None, barrow=None, *, trailer_volume=0.5, trailer_payload=500.0,
        haul=20.0, tamping="hand",
    ),
    text_signature = "(before, after, soil=\"loam\", barrow=None, *, trailer_volume=0.5, trailer_payload=500.0, haul=20.0, tamping=\"hand\")"
)]
pub fn earthwork(
    py: Python<'_>,
    before: &Ground,
    after: &Ground,
    soil: Option<AnySoil<'_>>,
    barrow: Option<f64>,
    trailer_volume: f64,
    trailer_payload: f64,
    haul: f64,
    tamping: &str,
) -> Result<Earthwork, Failure> {
    let soil = soil.map_or_else(|| Ok(loamline::earth::Soil::loam()), |soil| soil.core())?;
    let barrow = barrow.map_or_else(|| Ok(Barrow::default()), Barrow::new)?;
    let means = Means::default()
        .with_barrow(barrow)
        .with_trailer(Trailer::new(trailer_volume, trailer_payload)?)
        .with_tamping(self::tamping(tamping)?)
        .with_haul(haul)?;
    let (before, after) = (&before.core, &after.core);
    let core = py.detach(|| Core::between(before, after, &soil, &means))?;
    Ok(Earthwork { core })
}

#[pymethods]
impl Earthwork {
    /// Earth where the ground after is the higher, m^3.
    #[getter]
    fn fill(&self) -> f64 {
        self.core.volume.fill
    }

    /// Earth where the ground after is the lower, m^3.
    #[getter]
    fn cut(&self) -> f64 {
        self.core.volume.cut
    }

    /// Plan area of the fill, m^2.
    #[getter]
    fn fill_area(&self) -> f64 {
        self.core.volume.fill_area
    }

    /// Plan area of the cut, m^2.
    #[getter]
    fn cut_area(&self) -> f64 {
        self.core.volume.cut_area
    }

    /// The fill as built, m^3.
    #[getter]
    fn placed(&self) -> f64 {
        self.core.loads.placed
    }

    /// What is left of it when it has settled, m^3.
    #[getter]
    fn settled(&self) -> f64 {
        self.core.loads.settled
    }

    /// What has to be dug out of the ground for it, m^3.
    #[getter]
    fn bank(&self) -> f64 {
        self.core.loads.bank
    }

    /// What has to be carried, m^3.
    #[getter]
    fn loose(&self) -> f64 {
        self.core.loads.loose
    }

    /// Barrows full; round up.
    #[getter]
    fn barrows(&self) -> f64 {
        self.core.loads.barrows
    }

    /// Mass carried, kg.
    #[getter]
    fn mass(&self) -> f64 {
        self.core.loads.mass
    }

    /// Mass of one full barrow, kg.
    #[getter]
    fn barrow_mass(&self) -> f64 {
        self.core.loads.barrow_mass
    }

    /// Trailers full, by volume or by mass; round up.
    #[getter]
    fn trailers(&self) -> f64 {
        self.core.loads.trailers
    }

    /// Person-hours for all of it, dug, carried and tamped: value, low, high.
    #[getter]
    fn hours(&self) -> Span {
        span(self.core.hours.total())
    }

    /// Person-hours by job, "dig", "load", "haul" and "place": value, low, high of each.
    #[getter]
    fn hours_by_job(&self) -> BTreeMap<&'static str, Span> {
        let hours = &self.core.hours;
        let jobs = [
            ("dig", hours.dig),
            ("load", hours.load),
            ("haul", hours.haul),
            ("place", hours.place),
        ];
        jobs.into_iter().map(|(job, hours)| (job, span(hours))).collect()
    }

    /// How many layers the fill is tamped in at its deepest.
    #[getter]
    fn lifts(&self) -> u32 {
        self.core.lifts.count
    }

    /// How thick each layer is thrown on, loose, m.
    #[getter]
    fn lift_loose(&self) -> f64 {
        self.core.lifts.loose
    }

    /// How far the earth is carried, m one way.
    #[getter]
    fn haul(&self) -> f64 {
        self.core.means.haul()
    }

    /// The deepest fill, m.
    #[getter]
    fn deepest_fill(&self) -> f64 {
        self.core.shape.deepest_fill
    }

    /// The deepest cut, m.
    #[getter]
    fn deepest_cut(&self) -> f64 {
        self.core.shape.deepest_cut
    }

    /// The steepest face that is filled, degrees from level.
    #[getter]
    fn steepest_fill_deg(&self) -> f64 {
        degrees(self.core.shape.steepest_fill)
    }

    /// Share of its height that the placed earth loses with time.
    #[getter]
    fn settlement(&self) -> f64 {
        self.core.soil.settlement().value()
    }

    /// Growth from the bank to loose, as a share of the bank's volume.
    #[getter]
    fn swell(&self) -> f64 {
        self.core.soil.swell().value()
    }

    /// Loss from the bank to placed and tamped, as a share of the bank's volume.
    #[getter]
    fn shrinkage(&self) -> f64 {
        self.core.soil.shrinkage().value()
    }

    /// What the soil is called.
    #[getter]
    fn soil(&self) -> &str {
        self.core.soil.name()
    }

    /// What to beware of, in words.
    #[getter]
    fn warnings(&self) -> Vec<String> {
        self.core.warnings.iter().map(ToString::to_string).collect()
    }

    /// Where the earth of the fill comes from: its own cut first, then these places, nearest first.
    ///
    /// Args:
    ///     places: a list of `Borrow`.
    ///
    /// >>> import loamline as ll
    /// >>> level = ll.Ground.plane()
    /// >>> landing = ll.Landing(crest=(4, 0), heading_deg=0, slope_deg=20, length=4, width=3)
    /// >>> earth = ll.earthwork(level, level.with_landing(landing))
    /// >>> round(earth.balance([ll.Borrow("old ditch", available=20.0, distance=15.0)]).short, 1)
    /// 3.3
    fn balance(&self, places: Vec<PyRef<'_, Borrow>>) -> Result<Balance, Failure> {
        let places: Vec<_> = places.iter().map(|place| place.core.clone()).collect();
        Ok(Balance { core: self.core.balance(&places)? })
    }

    /// The model behind the numbers, what went in, its sources and its limits, in paragraphs.
    fn explain(&self) -> String {
        self.core.explain().to_string()
    }

    fn __repr__(&self) -> String {
        format!(
            "<Earthwork: fill {:.3} m^3, cut {:.3} m^3, {:.0} barrows of {}>",
            self.fill(),
            self.cut(),
            self.barrows().ceil(),
            self.soil()
        )
    }
}

pickled!(Earthwork, Core);
