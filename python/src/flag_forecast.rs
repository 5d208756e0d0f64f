//! The forecast of a ride not yet tried.

use crate::arrays;
use crate::errors::Failure;
use crate::frames;
use crate::pickle::pickled;
use loamline::flags::{Band, Draw, Forecast as Core, Landed, Region, Risk, Unknown};
use nalgebra::Vector2;
use numpy::{PyArray1, PyArray2, PyArrayLike2, ToPyArray};
use pyo3::prelude::*;
use pyo3::types::PyDict;

/// Where a ride not yet tried comes down, and how hard: drawn from what the flags left open.
///
/// Made by `found.forecast(...)`; rows of its arrays are drawn rides.
#[pyclass(frozen, eq, module = "loamline")]
#[derive(Debug, Clone, PartialEq)]
pub struct FlagForecast {
    /// The core's.
    pub core: Core,
}

/// A risk as a dict.
pub fn risk<'py>(py: Python<'py>, risk: &Risk) -> PyResult<Bound<'py, PyDict>> {
    let parts = PyDict::new(py);
    parts.set_item("total", risk.total())?;
    parts.set_item("not_leaving", risk.not_leaving)?;
    parts.set_item("short", risk.short)?;
    parts.set_item("long", risk.long)?;
    parts.set_item("wide", risk.wide)?;
    parts.set_item("off_survey", risk.off_survey)?;
    parts.set_item("hard", risk.hard)?;
    Ok(parts)
}

fn band<'py>(py: Python<'py>, band: Option<&Band>) -> PyResult<Option<Bound<'py, PyDict>>> {
    let Some(band) = band else { return Ok(None) };
    let parts = PyDict::new(py);
    parts.set_item("p5", band.p5)?;
    parts.set_item("p25", band.p25)?;
    parts.set_item("median", band.median)?;
    parts.set_item("p75", band.p75)?;
    parts.set_item("p95", band.p95)?;
    Ok(Some(parts))
}

/// How a drawn ride comes down.
fn word(draw: &Draw) -> &'static str {
    draw.fate.as_ref().map_or("not_leaving", |landed| landed.outcome.word())
}

#[pymethods]
impl FlagForecast {
    /// Start mark, level m up the hill.
    #[getter]
    fn start(&self) -> f64 {
        self.core.ride.start()
    }

    /// Level distance from the edge to the mark, m: `p5`, `p25`, `median`, `p75`, `p95`; None where no ride
    /// leaves a mark.
    #[getter]
    fn distance<'py>(&self, py: Python<'py>) -> PyResult<Option<Bound<'py, PyDict>>> {
        band(py, self.core.distance.as_ref())
    }

    /// Equivalent fall height, m, likewise.
    #[getter]
    fn fall_height<'py>(&self, py: Python<'py>) -> PyResult<Option<Bound<'py, PyDict>>> {
        band(py, self.core.fall_height.as_ref())
    }

    /// The tyres' speed at the edge, m/s, likewise.
    #[getter]
    fn exit_speed<'py>(&self, py: Python<'py>) -> PyResult<Option<Bound<'py, PyDict>>> {
        band(py, self.core.exit_speed.as_ref())
    }

    /// Share of the drawn rides that leaves a mark.
    #[getter]
    fn share_marked(&self) -> f64 {
        self.core.share_marked
    }

    /// Weight of each drawn ride; together 1.
    #[getter]
    fn weight<'py>(&self, py: Python<'py>) -> Bound<'py, PyArray1<f64>> {
        self.column(|draw| draw.weight).to_pyarray(py)
    }

    /// Marks, m, (n, 3); NaN for who leaves none.
    #[getter]
    fn mark<'py>(&self, py: Python<'py>) -> PyResult<Bound<'py, PyArray2<f64>>> {
        let mark = |draw: &Draw| {
            let mark = draw.fate.as_ref().ok().and_then(|landed| landed.mark);
            mark.map_or([f64::NAN; 3], Into::into)
        };
        arrays::rows(py, self.core.draws.iter().map(mark))
    }

    /// How each drawn ride leans.
    #[getter]
    fn lean(&self) -> Vec<&'static str> {
        self.core.draws.iter().map(|draw| draw.lean.name()).collect()
    }

    /// How each comes down, in one word, or "not_leaving".
    #[getter]
    fn outcome(&self) -> Vec<&'static str> {
        self.core.draws.iter().map(word).collect()
    }

    /// Chances of bad ends by the lean that makes them likeliest: a dict of `total`, `not_leaving`, `short`,
    /// `long`, `wide`, `off_survey`, `hard`.
    ///
    /// Args:
    ///     fall_limit: fall height above which a touch counts as hard, m.
    ///     by: "hardest" lean, or "weight" of all leans together.
    ///
    /// Raises:
    ///     InputError: another word.
    #[pyo3(signature = (fall_limit=1.0, by="hardest"))]
    fn risk<'py>(
        &self,
        py: Python<'py>,
        fall_limit: f64,
        by: &str,
    ) -> Result<Bound<'py, PyDict>, Failure> {
        let found = match by {
            "hardest" => self.core.judged(fall_limit),
            "weight" => self.core.risk(fall_limit),
            _ => {
                let wrong = format!("by = {by:?} is none of: \"hardest\", \"weight\"");
                return Err(Failure::input(&wrong).about("by"));
            }
        };
        Ok(risk(py, &found)?)
    }

    /// How thickly marks lie at places, 1/m^2: an array of n.
    ///
    /// Args:
    ///     places: x and y, m, (n, 2).
    ///     flag: whether the scatter of flags is in it.
    ///
    /// Raises:
    ///     InputError: another shape.
    #[pyo3(signature = (places, flag=false))]
    fn density<'py>(
        &self,
        py: Python<'py>,
        places: &Bound<'py, PyAny>,
        flag: bool,
    ) -> Result<Bound<'py, PyArray1<f64>>, Failure> {
        let places: PyArrayLike2<'_, f64, numpy::AllowTypeChange> =
            places.extract().map_err(|_| Failure::shape("places", places, "(n, 2)"))?;
        let view = places.as_array();
        if view.ncols() != 2 {
            return Err(Failure::input("places wants the shape (n, 2)").about("places"));
        }
        let region = self.region(flag);
        let at = |row: numpy::ndarray::ArrayView1<'_, f64>| {
            region.map_or(0.0, |region| region.density(&Vector2::new(row[0], row[1])))
        };
        let all: Vec<f64> = view.rows().into_iter().map(at).collect();
        Ok(all.to_pyarray(py))
    }

    /// Densities on the rims of the regions that hold half and nine tenths of all marks; None where fewer
    /// than half of the rides leave one.
    ///
    /// Args:
    ///     flag: whether the scatter of flags is in it.
    #[pyo3(signature = (flag=false))]
    fn levels(&self, flag: bool) -> Option<(f64, f64)> {
        self.region(flag).map(|region| (region.levels()[0], region.levels()[1]))
    }

    /// Whether a place lies in the region that holds half, and in the one that holds nine tenths of all marks.
    ///
    /// Args:
    ///     x, y: the place, m.
    ///     flag: whether the scatter of flags is in it.
    #[pyo3(signature = (x, y, flag=false))]
    fn holds(&self, x: f64, y: f64, flag: bool) -> (bool, bool) {
        let at = Vector2::new(x, y);
        let region = self.region(flag);
        region.map_or((false, false), |r| (r.holds_half(&at), r.holds_nine_tenths(&at)))
    }

    /// The drawn rides as a `pandas.DataFrame`.
    ///
    /// Raises:
    ///     ImportError: pandas is not installed.
    fn to_pandas<'py>(&self, py: Python<'py>) -> PyResult<Bound<'py, PyAny>> {
        let columns = PyDict::new(py);
        columns.set_item("weight", self.column(|draw| draw.weight).to_pyarray(py))?;
        let draws = &self.core.draws;
        columns.set_item("lean", arrays::words(py, draws.iter().map(|draw| draw.lean.name()))?)?;
        columns.set_item("outcome", arrays::words(py, draws.iter().map(word))?)?;
        for (i, unknown) in Unknown::ALL.into_iter().enumerate() {
            let values = self.column(|draw| draw.values[i]);
            columns.set_item(unknown.name(), values.to_pyarray(py))?;
        }
        columns.set_item("x", self.landed(|l| l.mark.map(|mark| mark.x)).to_pyarray(py))?;
        columns.set_item("y", self.landed(|l| l.mark.map(|mark| mark.y)).to_pyarray(py))?;
        columns.set_item("distance", self.landed(|l| l.distance).to_pyarray(py))?;
        columns.set_item("fall_height", self.landed(|l| Some(l.fall_height)).to_pyarray(py))?;
        columns.set_item("exit_speed", self.landed(|l| Some(l.exit_speed)).to_pyarray(py))?;
        columns.set_item("grip_demand", self.landed(|l| Some(l.grip_demand)).to_pyarray(py))?;
        frames::to_pandas(py, columns, "draw")
    }

    /// The model behind the numbers, what went in, its sources and its limits, in paragraphs.
    fn explain(&self) -> String {
        self.core.explain().to_string()
    }

    fn __repr__(&self) -> String {
        let distance = self.core.distance.map_or_else(
            || "no mark".to_owned(),
            |d| format!("mark {:.2} m out ({:.2} to {:.2})", d.median, d.p5, d.p95),
        );
        let fall = self.core.fall_height.map_or(f64::NAN, |fall| fall.median);
        format!("<FlagForecast from {} m: {distance}, fall height {fall:.2} m>", self.start())
    }
}

impl FlagForecast {
    fn region(&self, flag: bool) -> Option<&Region> {
        if flag { self.core.flag_region.as_ref() } else { self.core.region.as_ref() }
    }

    fn column(&self, of: impl Fn(&Draw) -> f64) -> Vec<f64> {
        self.core.draws.iter().map(of).collect()
    }

    /// NaN for who does not come down.
    fn landed(&self, of: impl Fn(&Landed) -> Option<f64>) -> Vec<f64> {
        self.column(|draw| draw.fate.as_ref().ok().and_then(&of).unwrap_or(f64::NAN))
    }
}

pickled!(FlagForecast, Core);
