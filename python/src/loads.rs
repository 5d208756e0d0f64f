//! What bike and body take in a landing.

use crate::errors::Failure;
use crate::pickle::pickled;
use crate::rider::Rider;
use crate::touchdown::Touchdown;
use crate::units::radians_within;
use loamline::load::batch::Onto;
use loamline::load::{BandPoint, Impact, Loads as Core, Softness, Stage, StageLoads};
use numpy::{IntoPyArray, PyArray1};
use pyo3::prelude::*;
use pyo3::types::PyDict;

/// What bike and body take in a landing: force against time, peaks, the way used.
///
/// Made by `rider.loads(...)`. Stages go by their names, from the ground up: "ground" (tyres and ground, or
/// feet), "suspension", "legs" (legs and arms: what the body feels). Bike-specific data are few and the legs'
/// stroke rules the result: look at `band` beside `peak_bodyweights`.
///
/// >>> import loamline as ll
/// >>> loads = ll.Rider().loads(fall_height=0.6)
/// >>> round(loads.peak_bodyweights, 3), loads.bottomed["legs"]
/// (3.2, False)
#[pyclass(frozen, eq, module = "loamline")]
#[derive(Debug, Clone, PartialEq)]
pub struct Loads {
    /// The core's loads.
    pub core: Core,
}

#[pymethods]
impl Loads {
    /// The stages that there are, from the ground up.
    #[getter]
    fn stages(&self) -> Vec<&'static str> {
        self.core.stages.iter().map(|loads| loads.stage.word()).collect()
    }

    /// Time since the touch, s, (n,).
    #[getter]
    fn time<'py>(&self, py: Python<'py>) -> Bound<'py, PyArray1<f64>> {
        self.core.time.clone().into_pyarray(py)
    }

    /// Force on the body, N, (n,): that of the topmost stage.
    #[getter]
    fn force<'py>(&self, py: Python<'py>) -> Bound<'py, PyArray1<f64>> {
        self.core.force().to_vec().into_pyarray(py)
    }

    /// Force of the ground on tyres or feet, N, (n,).
    #[getter]
    fn ground_force<'py>(&self, py: Python<'py>) -> Bound<'py, PyArray1<f64>> {
        let lowest = self.core.stages.first().map(|loads| loads.force.clone());
        lowest.unwrap_or_default().into_pyarray(py)
    }

    /// Force in the suspension, N, (n,); None where there is none.
    #[getter]
    fn suspension_force<'py>(&self, py: Python<'py>) -> Option<Bound<'py, PyArray1<f64>>> {
        let loads = self.core.stage(Stage::Suspension)?;
        Some(loads.force.clone().into_pyarray(py))
    }

    /// How far each stage is pressed together, m, (n,), by its name.
    #[getter]
    fn compression<'py>(&self, py: Python<'py>) -> PyResult<Bound<'py, PyDict>> {
        self.by_stage(py, |loads| loads.compression.clone().into_pyarray(py))
    }

    /// Force in each stage, N, (n,), by its name.
    #[getter]
    fn forces<'py>(&self, py: Python<'py>) -> PyResult<Bound<'py, PyDict>> {
        self.by_stage(py, |loads| loads.force.clone().into_pyarray(py))
    }

    /// Highest force in each stage, N, by its name; between samples too.
    #[getter]
    fn peaks<'py>(&self, py: Python<'py>) -> PyResult<Bound<'py, PyDict>> {
        self.by_stage(py, |loads| loads.peak.value)
    }

    /// Time of each stage's highest force, s, by its name.
    #[getter]
    fn peak_times<'py>(&self, py: Python<'py>) -> PyResult<Bound<'py, PyDict>> {
        self.by_stage(py, |loads| loads.peak.time)
    }

    /// How far each stage was pressed together at most, m, by its name.
    #[getter]
    fn travel_used<'py>(&self, py: Python<'py>) -> PyResult<Bound<'py, PyDict>> {
        self.by_stage(py, |loads| loads.used.value)
    }

    /// Whether each stage came to its stop, by its name.
    #[getter]
    fn bottomed<'py>(&self, py: Python<'py>) -> PyResult<Bound<'py, PyDict>> {
        self.by_stage(py, StageLoads::bottomed)
    }

    /// Highest force on the body, N.
    #[getter]
    fn peak_force(&self) -> f64 {
        self.core.peak().value
    }

    /// Highest force on the body in weights of the body (without the bike).
    #[getter]
    fn peak_bodyweights(&self) -> f64 {
        self.core.peak_bodyweights()
    }

    /// Time to the highest force on the body, s.
    #[getter]
    fn peak_time(&self) -> f64 {
        self.core.peak().time
    }

    /// The force, in weights, that would have stopped the body over the same way had it been constant:
    /// no peak is below it. NaN where it is not stopped.
    #[getter]
    fn mean_bodyweights(&self) -> f64 {
        self.core.mean_bodyweights()
    }

    /// How far the body came down after the touch, m.
    #[getter]
    fn stopping_distance(&self) -> f64 {
        self.core.lowest.value
    }

    /// Impulse that the ground gave over the record, N s.
    #[getter]
    fn impulse(&self) -> f64 {
        self.core.impulse()
    }

    /// For legs of 0.2 to 0.5 m of stroke, by the stroke: the least force with which they take this
    /// landing on this bike, in body weights. Data on riders are few: this belongs beside every peak.
    #[getter]
    fn band<'py>(&self, py: Python<'py>) -> Result<Bound<'py, PyDict>, Failure> {
        let band = PyDict::new(py);
        for BandPoint { stroke, bodyweights, .. } in self.core.band()? {
            band.set_item(stroke, bodyweights)?;
        }
        Ok(band)
    }

    /// The published dynamic response index of what the body feels. It was made for people seated and
    /// strapped in, in ejection seats and vehicles over blasts; a standing rider's legs come first. It
    /// compares landings and predicts no injury.
    #[getter]
    fn response_index(&self) -> Result<f64, Failure> {
        Ok(self.core.response_index()?.value)
    }

    /// Speed into the surface, m/s.
    #[getter]
    fn normal_speed(&self) -> f64 {
        self.core.impact.normal_speed()
    }

    /// Equivalent fall height, m.
    #[getter]
    fn fall_height(&self) -> f64 {
        self.core.impact.fall_height()
    }

    /// Mass of the body, kg.
    #[getter]
    fn body_mass(&self) -> f64 {
        self.core.chain.body_mass()
    }

    /// How long the record runs, s.
    #[getter]
    fn duration(&self) -> f64 {
        self.core.duration
    }

    /// Why the record ends, in words.
    #[getter]
    fn end(&self) -> String {
        self.core.end.to_string()
    }

    /// Where the energy went, J, by name: what came in (`kinetic`, `gravity`), what is left
    /// (`kinetic_left`, `stored`), what was `lost`, and the `residual` as a share.
    #[getter]
    fn energy<'py>(&self, py: Python<'py>) -> PyResult<Bound<'py, PyDict>> {
        let ledger = &self.core.ledger;
        let energy = PyDict::new(py);
        energy.set_item("kinetic", ledger.energy)?;
        energy.set_item("gravity", ledger.gravity_work)?;
        energy.set_item("kinetic_left", ledger.energy_left)?;
        energy.set_item("stored", ledger.stored)?;
        energy.set_item("lost", ledger.lost)?;
        energy.set_item("residual", ledger.energy_residual())?;
        Ok(energy)
    }

    /// What is not wrong but unwise, or past what the model is good for, in words.
    #[getter]
    fn warnings(&self) -> Vec<String> {
        self.core.warnings.iter().map(ToString::to_string).collect()
    }

    /// The model behind the numbers, what went in, its sources and its limits, in paragraphs.
    fn explain(&self) -> String {
        self.core.explain().to_string()
    }

    /// A `pandas.DataFrame` with a row per time: `time`, and `force_` and `compression_` of each
    /// stage; needs pandas.
    fn to_pandas<'py>(&self, py: Python<'py>) -> PyResult<Bound<'py, PyAny>> {
        let columns = PyDict::new(py);
        columns.set_item("time", self.time(py))?;
        for loads in &self.core.stages {
            let word = loads.stage.word();
            columns.set_item(format!("force_{word}"), loads.force.clone().into_pyarray(py))?;
            let compression = loads.compression.clone().into_pyarray(py);
            columns.set_item(format!("compression_{word}"), compression)?;
        }
        crate::frames::to_pandas(py, columns, "sample")
    }

    fn __repr__(&self) -> String {
        let bottomed: Vec<&str> = self
            .core
            .stages
            .iter()
            .filter(|loads| loads.bottomed())
            .map(|loads| loads.stage.word())
            .collect();
        let past = if bottomed.is_empty() {
            String::new()
        } else {
            format!(", bottomed: {}", bottomed.join(", "))
        };
        format!(
            "<Loads: fall height {:.3} m, {:.2} body weights after {:.3} s{past}>",
            self.fall_height(),
            self.peak_bodyweights(),
            self.peak_time(),
        )
    }
}

impl Loads {
    fn by_stage<'py, T: IntoPyObject<'py>>(
        &self,
        py: Python<'py>,
        of: impl Fn(&StageLoads) -> T,
    ) -> PyResult<Bound<'py, PyDict>> {
        let by = PyDict::new(py);
        for loads in &self.core.stages {
            by.set_item(loads.stage.word(), of(loads))?;
        }
        Ok(by)
    }
}

/// What the ground does: rigid, a spring, or crushed at a force.
pub fn softness(stiffness: Option<f64>, crush_force: Option<f64>) -> Result<Softness, Failure> {
    match (stiffness, crush_force) {
        (None, None) => Ok(Softness::Rigid),
        (Some(stiffness), None) => Ok(Softness::spring(stiffness)?),
        (Some(stiffness), Some(force)) => Ok(Softness::crushing(stiffness, force)?),
        (None, Some(_)) => {
            let text =
                "crush_force wants ground_stiffness too: how the ground gives before it is crushed";
            Err(Failure::input(text).about("crush_force"))
        }
    }
}

/// What takes a landing, by its word.
pub fn chain_from(word: &str) -> Result<Onto, Failure> {
    match word {
        "bike" => Ok(Onto::Bike),
        "legs" => Ok(Onto::Foot),
        other => {
            let text = format!("chain = \"{other}\" is neither \"bike\" nor \"legs\"");
            Err(Failure::input(&text).about("chain"))
        }
    }
}

/// How a landing is told: by a touchdown, or by height or speed, slope and gravity.
pub struct Told<'a> {
    /// The moment of landing.
    pub touchdown: Option<&'a Touchdown>,
    /// Equivalent fall height, m.
    pub fall_height: Option<f64>,
    /// Speed into the surface, m/s.
    pub normal_speed: Option<f64>,
    /// Slope of the surface, degrees.
    pub slope_deg: Option<f64>,
    /// Gravity, m/s^2.
    pub gravity: Option<f64>,
    /// Stiffness of the ground, N/m.
    pub ground_stiffness: Option<f64>,
    /// Force at which the ground is crushed, N.
    pub crush_force: Option<f64>,
}

impl Told<'_> {
    fn impact(&self) -> Result<Impact, Failure> {
        let ground = softness(self.ground_stiffness, self.crush_force)?;
        Ok(self.rigid()?.onto(ground))
    }

    fn rigid(&self) -> Result<Impact, Failure> {
        let several = || Failure::input("give one of touchdown, fall_height and normal_speed");
        if let Some(touchdown) = self.touchdown {
            if self.fall_height.or(self.normal_speed).is_some() {
                return Err(several());
            }
            if self.slope_deg.or(self.gravity).is_some() {
                let text =
                    "slope and gravity of a touchdown are its own: leave slope_deg and gravity out";
                return Err(Failure::input(text).about("slope_deg"));
            }
            return Ok(Impact::try_from(&touchdown.core)?);
        }
        let impact = match (self.fall_height, self.normal_speed) {
            (Some(height), None) => Impact::from_height(height)?,
            (None, Some(speed)) => Impact::at_speed(speed)?,
            _ => return Err(several()),
        };
        let impact = match self.gravity {
            None => impact,
            Some(gravity) => {
                let impact = impact.with_gravity(gravity)?;
                // A fall of that height is another speed under another gravity.
                let speed = self.fall_height.map(|height| (2.0 * gravity * height).sqrt());
                speed.map_or(Ok(impact), |v| Impact::at_speed(v)?.with_gravity(gravity))?
            }
        };
        Ok(impact.with_slope(radians_within(
            "slope_deg",
            self.slope_deg.unwrap_or(0.0),
            0.0,
            90.0,
        )?)?)
    }

    /// The loads of a rider who comes down so, on the bike or on foot.
    pub fn loads(&self, rider: &Rider, chain: &str) -> Result<Loads, Failure> {
        let impact = self.impact()?;
        let core = match chain_from(chain)? {
            Onto::Foot => rider.core.loads_on_foot(&impact)?,
            _ => rider.core.loads_of(&impact)?,
        };
        Ok(Loads { core })
    }
}

pickled!(Loads, Core);
