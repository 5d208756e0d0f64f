//! What may be tried next, the whole ladder, and the pocket card.

use crate::errors::Failure;
use crate::flag_forecast::{FlagForecast, risk};
use crate::flags::Found;
use crate::landing::Landing;
use crate::pickle::pickled;
use crate::watch;
use loamline::flags::{self, Need, NextStep as Core, StepOptions};
use pyo3::prelude::*;
use pyo3::types::{PyDict, PyList};

/// What may be tried next, or why nothing may.
///
/// Made by `next_step(...)`.
#[pyclass(frozen, eq, module = "loamline")]
#[derive(Debug, Clone, PartialEq)]
pub struct NextStep {
    /// The core's.
    pub core: Core,
}

/// The whole ladder, rung by rung, to the ride without a brake.
///
/// Made by `ladder(...)`.
#[pyclass(frozen, eq, module = "loamline")]
#[derive(Debug, Clone, PartialEq)]
pub struct Ladder {
    /// The core's.
    pub core: flags::Ladder,
}

/// From a flag's distance to exit speed, fall height and the next start mark: one row a start.
///
/// Made by `found.pocket_card(...)`.
#[pyclass(frozen, eq, module = "loamline")]
#[derive(Debug, Clone, PartialEq)]
pub struct PocketCard {
    /// The core's.
    pub core: flags::PocketCard,
}

/// What is asked of a step.
pub fn options(
    fall_limit: f64,
    chance: f64,
    leave: Option<f64>,
    planned: Option<&Landing>,
) -> Result<StepOptions, Failure> {
    let mut options = StepOptions::new(fall_limit, chance)?;
    if let Some(leave) = leave {
        options = options.leaving(leave)?;
    }
    if let Some(planned) = planned {
        options = options.with_planned(planned.core);
    }
    Ok(options)
}

/// What may be tried next, from what the flags say and the ground as it is now.
///
/// The farthest start mark up the hill for which, by the lean that makes it hardest, the chance of a bad end
/// (not over the edge; short, long, wide, off the survey; harder than the limit) stays under `chance`. No
/// step raises the median fall height by more than 0.25 m or the median exit speed by more than 10 %; the
/// first is the slowest ride that holds with a quarter of the grip to spare. There is none while the last
/// flag lies outside its 90 % region, or where planned ground in between is not built.
///
/// Args:
///     found: what the flags tell; `found.on(ground)` for the ground as it is now.
///     fall_limit: fall height allowed, m, above 0.
///     chance: of a bad end, at least 0.001 and at most 0.5.
///     leave: where the next ride is to leave, m; None where the rider leaves as he does.
///     planned: the landing that is being built; what of it is missing bars the way.
///     draws: how many rides a lean, from 16 to 65536.
///     seed: of the draws.
///     threads: how many; None takes as many as the machine has.
///
/// Raises:
///     InputError: a number outside its range.
#[pyfunction]
#[pyo3(signature = (
    found, fall_limit=1.0, chance=0.05, leave=None, planned=None, draws=128, seed=1, threads=None,
))]
pub fn next_step(
    py: Python<'_>,
    found: &Found,
    fall_limit: f64,
    chance: f64,
    leave: Option<f64>,
    planned: Option<&Landing>,
    draws: usize,
    seed: u64,
    threads: Option<usize>,
) -> Result<NextStep, Failure> {
    let options = options(fall_limit, chance, leave, planned)?.with_draws(draws, seed);
    let core =
        watch::crewed(py, threads, None, |crew| flags::next_step(&found.core, &options, crew))??;
    Ok(NextStep { core })
}

/// The whole ladder from the farthest good flag to the ride without a brake, with the barrows beside each step.
///
/// Args:
///     found: what the flags tell; `found.on(ground)` for the ground as it is now.
///     fall_limit: fall height allowed, m, above 0.
///     chance: of a bad end, at least 0.001 and at most 0.5.
///     goal: start mark of the ride without a brake, m up the hill; None takes the class's middle one.
///     leave: where the rides are to leave, m; None where the rider leaves as he does.
///     planned: a landing towards which barrows are counted; None draws one for each rung.
///     draws: how many rides a lean, from 16 to 65536.
///     seed: of the draws.
///     threads: how many; None takes as many as the machine has.
///
/// Raises:
///     InputError: a number outside its range.
#[pyfunction]
#[pyo3(signature = (
    found, fall_limit=1.0, chance=0.05, goal=None, leave=None, planned=None, draws=128, seed=1,
    threads=None,
))]
pub fn ladder(
    py: Python<'_>,
    found: &Found,
    fall_limit: f64,
    chance: f64,
    goal: Option<f64>,
    leave: Option<f64>,
    planned: Option<&Landing>,
    draws: usize,
    seed: u64,
    threads: Option<usize>,
) -> Result<Ladder, Failure> {
    let options = options(fall_limit, chance, leave, planned)?.with_draws(draws, seed);
    let core =
        watch::crewed(py, threads, None, |crew| flags::ladder(&found.core, &options, goal, crew))??;
    Ok(Ladder { core })
}

fn need<'py>(py: Python<'py>, need: &Need) -> PyResult<Bound<'py, PyDict>> {
    let parts = PyDict::new(py);
    parts.set_item("start", need.ride.start())?;
    parts.set_item("brake", need.ride.brake_share())?;
    parts.set_item("chance_now", need.chance_now)?;
    parts.set_item("landing", need.landing.map(|core| Landing { core }))?;
    parts.set_item("volume", need.volume)?;
    parts.set_item("barrows", need.barrows)?;
    parts.set_item("chance_built", need.chance_built)?;
    parts.set_item("is_enough", need.is_enough)?;
    Ok(parts)
}

#[pymethods]
impl NextStep {
    /// Start mark of the next ride, level m up the hill; None where it is refused.
    #[getter]
    fn start(&self) -> Option<f64> {
        self.core.step.as_ref().map(|step| step.ride.start())
    }

    /// Where it leaves, m; None where the rider leaves as he does, or where it is refused.
    #[getter]
    fn leave(&self) -> Option<f64> {
        self.core.step.as_ref().and_then(|step| step.ride.leave())
    }

    /// Start mark of the farthest ride that a good flag stands for; None before the first.
    #[getter(from_start)]
    fn before(&self) -> Option<f64> {
        self.core.from.as_ref().map(flags::TestRide::start)
    }

    /// Its forecast; None where it is refused.
    #[getter]
    fn forecast(&self) -> Option<FlagForecast> {
        self.core.step.as_ref().map(|step| FlagForecast { core: step.forecast.clone() })
    }

    /// Chances of bad ends by the lean that makes them likeliest: a dict; None where it is refused.
    #[getter]
    fn risk<'py>(&self, py: Python<'py>) -> PyResult<Option<Bound<'py, PyDict>>> {
        self.core.step.as_ref().map(|step| risk(py, &step.risk)).transpose()
    }

    /// What ended the step there, in words; None where it is refused.
    #[getter]
    fn limit(&self) -> Option<String> {
        self.core.step.as_ref().map(|step| step.limit.to_string())
    }

    /// What landing the step after that (or the refused one) would need: a dict of `start`, `brake`,
    /// `chance_now`, `landing`, `volume` (m^3), `barrows`, `chance_built`, `is_enough`; or None.
    #[getter]
    fn then<'py>(&self, py: Python<'py>) -> PyResult<Option<Bound<'py, PyDict>>> {
        self.core.then.as_ref().map(|then| need(py, then)).transpose()
    }

    /// The caution that stands with every step.
    #[classattr]
    #[pyo3(name = "caution")]
    const CAUTION: &'static str = Core::CAUTION;

    fn __repr__(&self) -> String {
        match (&self.core.step, &self.core.refusal) {
            (Some(step), _) => format!(
                "<NextStep: start {:.2} m up, chance of a bad end {:.1} %>",
                step.ride.start(),
                100.0 * step.risk.total()
            ),
            (None, Some(refusal)) => format!("<NextStep: none, {refusal}>"),
            (None, None) => "<NextStep: none>".to_owned(),
        }
    }
}

#[pymethods]
impl Ladder {
    /// Its rungs, from the slowest on: a list of dicts with `start`, `brake` (share of the habitual one),
    /// `exit_speed`, `fall_height`, `distance`, `chance` (of a bad end now), `barrows`, `volume`, `landing`,
    /// `chance_built`, `is_enough` and `limit`.
    #[getter]
    fn rungs<'py>(&self, py: Python<'py>) -> PyResult<Bound<'py, PyList>> {
        let all = PyList::empty(py);
        for rung in &self.core.rungs {
            let one = need(py, &rung.need)?;
            one.set_item("exit_speed", rung.exit_speed)?;
            one.set_item("fall_height", rung.fall_height)?;
            one.set_item("distance", rung.distance)?;
            one.set_item("limit", rung.limit.to_string())?;
            all.append(one)?;
        }
        Ok(all)
    }

    /// Start mark of the ride without a brake that it leads to, m.
    #[getter]
    fn goal(&self) -> f64 {
        self.core.goal.start()
    }

    /// Whether it gets there.
    #[getter]
    fn is_whole(&self) -> bool {
        self.core.is_whole
    }

    /// The most barrows that any one rung needs.
    #[getter]
    fn barrows(&self) -> f64 {
        self.core.barrows()
    }

    fn __repr__(&self) -> String {
        let whole = if self.core.is_whole { "" } else { ", not whole" };
        format!("<Ladder: {} rungs to {:.1} m{whole}>", self.core.rungs.len(), self.goal())
    }
}

#[pymethods]
impl PocketCard {
    /// Its rows, from the lowest start on: a list of dicts with `start`, `distance` (level, from the edge, m),
    /// `nearest` and `farthest` (a flag outside is a surprise), `exit_speed`, `speed_per_metre`,
    /// `fall_height`, `next_start` (None where no step is allowed) and `why`.
    #[getter]
    fn rows<'py>(&self, py: Python<'py>) -> PyResult<Bound<'py, PyList>> {
        let all = PyList::empty(py);
        for row in &self.core.rows {
            let one = PyDict::new(py);
            one.set_item("start", row.start)?;
            one.set_item("distance", row.distance)?;
            one.set_item("nearest", row.nearest)?;
            one.set_item("farthest", row.farthest)?;
            one.set_item("exit_speed", row.exit_speed)?;
            one.set_item("speed_per_metre", row.speed_per_metre)?;
            one.set_item("fall_height", row.fall_height)?;
            one.set_item("next_start", row.next_start)?;
            one.set_item("why", &row.why)?;
            all.append(one)?;
        }
        Ok(all)
    }

    /// Class of the rider.
    #[getter]
    fn who(&self) -> &str {
        &self.core.who
    }

    fn __repr__(&self) -> String {
        format!("<PocketCard of {}: {} starts>", self.core.who, self.core.rows.len())
    }
}

/// What steps and ladders say of themselves alike.
macro_rules! steps {
    ($class:ident) => {
        #[pymethods]
        impl $class {
            /// Why there is no (first) step, in words; None where there is one.
            #[getter]
            fn refusal(&self) -> Option<String> {
                self.core.refusal.as_ref().map(ToString::to_string)
            }

            /// The model behind the numbers, what went in, its sources and its limits, in paragraphs.
            fn explain(&self) -> String {
                self.core.explain().to_string()
            }
        }
    };
}

steps!(NextStep);
steps!(Ladder);
pickled!(NextStep, Core);
pickled!(Ladder, flags::Ladder);
pickled!(PocketCard, flags::PocketCard);
