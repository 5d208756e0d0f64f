//! What flags tell of a rider.

use crate::errors::Failure;
use crate::flag::{Flag, ride};
use crate::flag_forecast::FlagForecast;
use crate::ground::Ground;
use crate::line::lean_from;
use crate::next_step::{PocketCard, options};
use crate::pickle::pickled;
use crate::site::Site;
use crate::watch;
use loamline::flags::{self, FlagOptions, Found as Core, START_SD, Unknown};
use pyo3::prelude::*;
use pyo3::types::{PyDict, PyList};

/// What flags tell of a rider: unknowns with their spread, leans with their weight, how each flag fits.
///
/// Made by `fit_flags(...)`.
#[pyclass(frozen, eq, module = "loamline")]
#[derive(Debug, Clone, PartialEq)]
pub struct Found {
    /// The core's.
    pub core: Core,
}

/// How many rides a lean each forecast of a pocket card takes.
const CARD_DRAWS: usize = 48;

/// The unknown of a name.
pub fn unknown(name: &str) -> Result<Unknown, Failure> {
    Unknown::named(name).ok_or_else(|| {
        let known: Vec<&str> = Unknown::ALL.iter().map(|unknown| unknown.name()).collect();
        Failure::input(&format!("no unknown {name:?}; there are: {}", known.join(", ")))
            .about("free")
    })
}

/// What flags tell of the rider who planted them: the likeliest values, their spread, the leans' weights.
///
/// Unknowns: `crr`, `cda`, `brake` (held down the run-in), `pop`, `leave` (how much farther up he leaves
/// than told, or than his class does) and `speed` (how much faster he comes to the takeoff than the
/// run-in's model has it). A bad flag loses its say and is named.
///
/// Args:
///     site: the site.
///     flags: list of `Flag`, in the order ridden.
///     free: names of the unknowns to be fitted; None takes all.
///     lean: "deck", "balanced" or "settled"; None weighs all three.
///     who: class whose flags are taken; None where all flags are of one.
///     bad_share: how often a flag is bad, from 0 to 0.5.
///     accuracy: how close the fit comes to its place, in prior standard deviations.
///     threads: how many; None takes as many as the machine has.
///
/// Raises:
///     InputError: a flag that cannot be, with its name and what is wrong.
///     RideError: a ride that comes down with no lean.
///
/// >>> import loamline as ll
/// >>> site = ll.Site.demo()
/// >>> flag = ll.Flag(start=18.0, who="regulars", mark=(2.6, 0.6), leave=0.9)
/// >>> found = ll.fit_flags(site, [flag], free="speed pop".split())
/// >>> len(found.estimates)
/// 6
#[pyfunction]
#[pyo3(signature = (
    site, flags, free=None, lean=None, who=None, bad_share=0.05, accuracy=1e-4, threads=None,
))]
pub fn fit_flags(
    py: Python<'_>,
    site: &Site,
    flags: Vec<PyRef<'_, Flag>>,
    free: Option<Vec<String>>,
    lean: Option<&str>,
    who: Option<String>,
    bad_share: f64,
    accuracy: f64,
    threads: Option<usize>,
) -> Result<Found, Failure> {
    let mut wanted = FlagOptions::default().with_bad_share(bad_share)?.with_accuracy(accuracy)?;
    if let Some(free) = free {
        let free = free.iter().map(|name| unknown(name)).collect::<Result<Vec<_>, _>>()?;
        wanted = wanted.with_free(&free)?;
    }
    if let Some(lean) = lean {
        wanted = wanted.with_lean(lean_from(lean)?);
    }
    if let Some(who) = who {
        wanted = wanted.with_who(who);
    }
    let flags: Vec<flags::Flag> = flags.iter().map(|flag| flag.core.clone()).collect();
    let core = watch::crewed(py, threads, None, |crew| {
        flags::fit_flags(&site.core, &flags, &wanted, crew)
    })??;
    Ok(Found { core })
}

#[pymethods]
impl Found {
    /// Class of the rider.
    #[getter]
    fn who(&self) -> &str {
        &self.core.who
    }

    /// What is known of each unknown: a dict by name of dicts with `median`, `low` and `high` (5 % lie
    /// below and above), the same of what was believed before (`prior_...`), and `learnt`, from 0 to 1.
    #[getter]
    fn estimates<'py>(&self, py: Python<'py>) -> PyResult<Bound<'py, PyDict>> {
        let all = PyDict::new(py);
        for estimate in &self.core.estimates {
            let one = PyDict::new(py);
            one.set_item("median", estimate.median)?;
            one.set_item("low", estimate.low)?;
            one.set_item("high", estimate.high)?;
            one.set_item("prior_median", estimate.prior_median)?;
            one.set_item("prior_low", estimate.prior_low)?;
            one.set_item("prior_high", estimate.prior_high)?;
            one.set_item("learnt", estimate.learnt)?;
            one.set_item("is_free", estimate.is_free)?;
            one.set_item("unit", estimate.unknown.unit())?;
            all.set_item(estimate.unknown.name(), one)?;
        }
        Ok(all)
    }

    /// The leans with their weights, the likeliest first: a dict.
    #[getter]
    fn leans<'py>(&self, py: Python<'py>) -> PyResult<Bound<'py, PyDict>> {
        let all = PyDict::new(py);
        for lean in &self.core.leans {
            all.set_item(lean.lean.name(), lean.weight)?;
        }
        Ok(all)
    }

    /// How each flag fits: a list of dicts with `flag`, `missed` (m along x and y; None without a mark),
    /// `say` (1 good, near 0 bad), `tail` (share of what the others forecast that lies farther out),
    /// `is_outside` (of the 90 % region that the others forecast) and `is_bad`.
    #[getter]
    fn checks<'py>(&self, py: Python<'py>) -> PyResult<Bound<'py, PyList>> {
        let all = PyList::empty(py);
        for check in &self.core.checks {
            let one = PyDict::new(py);
            one.set_item("flag", &check.flag)?;
            one.set_item("missed", check.missed.map(|[x, y]| (x, y)))?;
            one.set_item("say", check.say)?;
            one.set_item("tail", check.tail)?;
            one.set_item("is_outside", check.is_outside)?;
            one.set_item("is_bad", check.is_bad)?;
            all.append(one)?;
        }
        Ok(all)
    }

    /// Unknowns that these flags cannot tell apart: a list of (one, other, correlation), worst first.
    #[getter]
    fn confused(&self) -> Vec<(&'static str, &'static str, f64)> {
        let pairs = self.core.confused.iter();
        pairs.map(|pair| (pair.a.name(), pair.b.name(), pair.correlation)).collect()
    }

    /// Unknowns that were left as believed before, for there were fewer numbers than unknowns.
    #[getter]
    fn held(&self) -> Vec<&'static str> {
        self.core.held.iter().map(|unknown| unknown.name()).collect()
    }

    /// What is to be known about it, in words.
    #[getter]
    fn warnings(&self) -> Vec<String> {
        self.core.warnings.iter().map(ToString::to_string).collect()
    }

    /// The flags it was fitted to.
    #[getter]
    fn flags(&self) -> Vec<Flag> {
        self.core.flags().iter().map(|flag| Flag { core: flag.clone() }).collect()
    }

    /// The site.
    #[getter]
    fn site(&self) -> Site {
        Site { core: self.core.site().clone() }
    }

    /// The ground as it is now.
    #[getter]
    fn ground(&self) -> Ground {
        Ground::from(self.core.ground().clone())
    }

    /// The same on the ground as it is now: a new survey, or a landing that was built.
    ///
    /// Args:
    ///     ground: the ground.
    fn on(&self, ground: &Ground) -> Self {
        Self { core: self.core.clone().on(ground.core.clone()) }
    }

    /// The forecast of a ride not yet tried, on the ground as it is now.
    ///
    /// Args:
    ///     start: start mark, level m up the hill from the run-in's end, above 0.
    ///     leave: where the rider is to leave, m; None where he leaves as he does at his speed.
    ///     brake: share of the habitual brake, from 0 to 1.
    ///     draws: how many rides a lean, from 16 to 65536.
    ///     seed: of the draws.
    ///     threads: how many; None takes as many as the machine has.
    ///
    /// Raises:
    ///     InputError: a number outside its range.
    #[pyo3(signature = (start, leave=None, brake=1.0, draws=128, seed=1, threads=None))]
    fn forecast(
        &self,
        py: Python<'_>,
        start: f64,
        leave: Option<f64>,
        brake: f64,
        draws: usize,
        seed: u64,
        threads: Option<usize>,
    ) -> Result<FlagForecast, Failure> {
        let ride = ride(&self.core.who, start, leave, brake, START_SD)?;
        let core =
            watch::crewed(py, threads, None, |crew| self.core.forecast(&ride, draws, seed, crew))??;
        Ok(FlagForecast { core })
    }

    /// The pocket card: from a flag's distance to exit speed, fall height and the next start mark.
    ///
    /// Args:
    ///     starts: start marks, m up the hill, 1 to 40 of them: one row each.
    ///     fall_limit: fall height allowed, m, above 0.
    ///     chance: of a bad end that is allowed, above 0 and at most 0.5.
    ///     leave: where the rides are to leave, m; None where riders leave as they do.
    ///     threads: how many; None takes as many as the machine has.
    ///
    /// Raises:
    ///     InputError: a number outside its range.
    #[pyo3(signature = (starts, fall_limit=1.0, chance=0.05, leave=None, threads=None))]
    fn pocket_card(
        &self,
        py: Python<'_>,
        starts: Vec<f64>,
        fall_limit: f64,
        chance: f64,
        leave: Option<f64>,
        threads: Option<usize>,
    ) -> Result<PocketCard, Failure> {
        // A row takes several forecasts: fewer draws than for one step.
        let options = options(fall_limit, chance, leave, None)?.with_draws(CARD_DRAWS, 1);
        let core = watch::crewed(py, threads, None, |crew| {
            self.core.pocket_card(&starts, &options, crew)
        })??;
        Ok(PocketCard { core })
    }

    /// What each way of measuring a next ride would tell of where a ride comes down, the best first.
    ///
    /// Args:
    ///     starts: start marks of the rides that might be measured, m up the hill.
    ///     target: start mark of the ride that is to be known, m up the hill.
    ///     leave: where they leave, m; None where riders leave as they do.
    ///
    /// Returns:
    ///     A list of dicts: `start`, `method` ("tape", "stopwatch", "video", "speed_gate"), `gain` (nats:
    ///     the logarithm of how many times smaller the region of the target's marks becomes), `tells`
    ///     (the unknown it tells most of) and `left` (the share of its standard deviation left).
    ///
    /// Raises:
    ///     InputError: a number outside its range.
    #[pyo3(signature = (starts, target, leave=None))]
    fn what_next<'py>(
        &self,
        py: Python<'py>,
        starts: Vec<f64>,
        target: f64,
        leave: Option<f64>,
    ) -> Result<Bound<'py, PyList>, Failure> {
        let made = |start: &f64| ride(&self.core.who, *start, leave, 1.0, START_SD);
        let rides = starts.iter().map(made).collect::<Result<Vec<_>, _>>()?;
        let target = made(&target)?;
        let found = py.detach(|| self.core.what_next(&rides, &target))?;
        let all = PyList::empty(py);
        for measurement in found {
            let one = PyDict::new(py);
            one.set_item("start", measurement.ride.start())?;
            one.set_item("method", measurement.method.name())?;
            one.set_item("gain", measurement.gain)?;
            one.set_item("tells", measurement.tells.map(|(unknown, _)| unknown.name()))?;
            one.set_item("left", measurement.tells.map(|(_, left)| left))?;
            all.append(one)?;
        }
        Ok(all)
    }

    /// The model behind the numbers, what went in, its sources and its limits, in paragraphs.
    fn explain(&self) -> String {
        self.core.explain().to_string()
    }

    fn __repr__(&self) -> String {
        let best = self.core.leans.first();
        let lean = best.map_or("", |lean| lean.lean.name());
        let weight = best.map_or(0.0, |lean| 100.0 * lean.weight);
        let count = self.core.flags().len();
        format!("<Found: {count} flags of {}, lean {lean} {weight:.0} %>", self.core.who)
    }
}

pickled!(Found, Core);
