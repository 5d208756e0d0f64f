//! Earth between two grounds, and what carrying it takes.

use crate::errors::Failure;
use crate::ground::Ground;
use crate::pickle::{Reduced, pickled, reduce};
use loamline::earth::{Barrow, Loads, Soil, Volume, volume};
use pyo3::prelude::*;
use serde::{Deserialize, Serialize};

/// The numbers of an earthwork.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct Figures {
    volume: Volume,
    loads: Loads,
    soil: Soil,
}

/// Earth between two grounds by state, in mass and in barrows.
///
/// Made by `earthwork(...)`. Volumes between the grounds are exact; all that depends on the soil
/// is an estimate: weigh a barrow and count the first ten.
#[pyclass(frozen, eq, module = "loamline")]
#[derive(Debug, Clone, PartialEq)]
pub struct Earthwork {
    core: Figures,
}

/// The earth between a ground before and one after.
///
/// Args:
///     before, after: the grounds, such as `site.ground` and the same with a landing.
///     soil: "loam", "sand", "gravel" or "clay".
///     barrow: loose earth in a barrow, m^3; None takes 0.08, a builder's barrow filled level
///         (common practice).
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
#[pyo3(signature = (before, after, soil="loam", barrow=None))]
pub fn earthwork(
    py: Python<'_>,
    before: &Ground,
    after: &Ground,
    soil: &str,
    barrow: Option<f64>,
) -> Result<Earthwork, Failure> {
    let soil = Soil::named(soil)?;
    let barrow = barrow.map_or_else(|| Ok(Barrow::default()), Barrow::new)?;
    let (before, after) = (&before.core, &after.core);
    let volume = py.detach(|| volume(before, after))?;
    let loads = Loads::of(volume.fill, &soil, &barrow)?;
    Ok(Earthwork { core: Figures { volume, loads, soil } })
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

    /// Share of its height that the placed earth loses with time.
    #[getter]
    fn settlement(&self) -> f64 {
        self.core.soil.settlement.value
    }

    /// Growth from the bank to loose, as a share of the bank's volume.
    #[getter]
    fn swell(&self) -> f64 {
        self.core.soil.swell.value
    }

    /// Loss from the bank to placed and tamped, as a share of the bank's volume.
    #[getter]
    fn shrinkage(&self) -> f64 {
        self.core.soil.shrinkage.value
    }

    /// What the soil is called.
    #[getter]
    fn soil(&self) -> &str {
        &self.core.soil.name
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

    fn _repr_html_<'py>(slf: &Bound<'py, Self>) -> PyResult<Bound<'py, PyAny>> {
        crate::cards::html(slf.as_any())
    }

    fn __reduce__<'py>(&self, py: Python<'py>) -> Result<Reduced<'py>, Failure> {
        reduce::<Self>(py, &self.core)
    }
}

pickled!(Earthwork, Figures);
