//! The landing that takes most riders softly for the earth at hand.

use crate::errors::Failure;
use crate::ground::Ground;
use crate::landing::Landing;
use crate::passes::Passes;
use crate::pickle::pickled;
use crate::site::Site;
use crate::watch;
use loamline::design::{self, Fit as Core, FitOptions, Form, Score};
use loamline::math::range::OutOfRange;
use loamline::site::Interval;
use numpy::{IntoPyArray, PyArray1};
use pyo3::prelude::*;
use serde::{Deserialize, Serialize};

/// The share that does not leave the edge above which it is said first.
const MANY: f64 = 0.05;

/// A fit and the ground it was made on.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct Fitted {
    pub fit: Core,
    pub bare: loamline::Ground,
}

/// A landing fitted to riders, what it takes, and how it takes them.
///
/// Made by `fit_landing(...)`. Shares but `leaving` are of those who leave the edge.
#[pyclass(frozen, eq, module = "loamline")]
#[derive(Debug, Clone, PartialEq)]
pub struct Fit {
    /// The fit.
    pub core: Fitted,
}

/// The landing that takes most riders softly, for a budget of earth and within the site's bounds.
///
/// Better is a landing that takes more of those who leave the edge softly, and among equals the
/// one with the lower 95th percentile of fall height. The same passes, site, budget and seed give
/// the same landing on any number of threads; a search of this kind proves no optimum.
///
/// Args:
///     passes: who comes down, on the site's ground without a landing.
///     site: the bounds, the soil.
///     volume: placed earth at hand, m^3, above 0.
///     fall_limit: fall height up to which a touchdown counts as soft, m; None takes the site's.
///     seed: of the search.
///     faces: 1 for one face, 2 for two side by side: a line for the slow and one for the fast.
///     foot_radius: from and to which radius the foot of one face is rounded, m, 0 to 60; None leaves it sharp.
///     threads: how many; None takes as many as the machine has.
///     progress: True for a line on standard error, or a function of (done, total) that may
///         return False to stop.
///
/// Raises:
///     InputError: a number outside its range, a site that is none.
///     FitError: no landing within the bounds, too little earth, nobody who comes down.
///     Cancelled: stopped by the progress function.
#[pyfunction]
#[pyo3(signature = (
    passes, site, volume, fall_limit=None, seed=1, faces=1, foot_radius=None, threads=None,
    progress=None,
))]
pub fn fit_landing(
    py: Python<'_>,
    passes: &Passes,
    site: &Site,
    volume: f64,
    fall_limit: Option<f64>,
    seed: u64,
    faces: usize,
    foot_radius: Option<(f64, f64)>,
    threads: Option<usize>,
    progress: Option<Bound<'_, PyAny>>,
) -> Result<Fit, Failure> {
    let progress = watch::listener(progress)?;
    let (passes, site) = (&passes.core, &site.core);
    let limit = fall_limit.unwrap_or(site.fall_limit);
    let options = FitOptions::of(form(faces, foot_radius)?, seed);
    let fit = watch::crewed(py, threads, progress.as_ref(), |crew| {
        design::fit_form(passes, site, (volume, limit), &options, crew)
    })??;
    Ok(Fit::new(fit, passes.ground().clone()))
}

/// The form that is asked for.
pub fn form(faces: usize, foot_radius: Option<(f64, f64)>) -> Result<Form, Failure> {
    match (faces, foot_radius) {
        (1, None) => Ok(Form::Straight),
        (1, Some((low, high))) => Ok(Form::RoundedFoot { radius: Interval::new(low, high) }),
        (2, None) => Ok(Form::TwoFaces),
        (2, Some(_)) => {
            let said = "foot_radius: only one face can have its foot rounded in a search";
            Err(Failure::input(said).about("foot_radius"))
        }
        _ => Err(OutOfRange::new("faces", faces as f64, "1 or 2").into()),
    }
}

#[pymethods]
impl Fit {
    /// The landing, its crest height settled; of two faces the first.
    #[getter]
    fn landing(&self) -> Landing {
        Landing { core: self.core.fit.landing }
    }

    /// All its faces, in the order built: one, or two side by side.
    #[getter]
    fn landings(&self) -> Vec<Landing> {
        self.core.fit.landings().into_iter().map(|core| Landing { core }).collect()
    }

    /// Share caught by which it was judged: `caught`, or for passes in doubt the mean over the worse half of
    /// the scenarios.
    #[getter]
    fn judged(&self) -> f64 {
        self.core.fit.judged()
    }

    /// Share caught softly in each scenario, (scenarios,); empty where nothing was in doubt.
    #[getter]
    fn caught_by_scenario<'py>(&self, py: Python<'py>) -> Bound<'py, PyArray1<f64>> {
        let caught: Vec<f64> = self.core.fit.scenarios.iter().map(|score| score.caught).collect();
        caught.into_pyarray(py)
    }

    /// The ground with the landing on it.
    ///
    /// Raises:
    ///     InputError: a landing that cannot be built.
    #[getter]
    fn ground(&self) -> Result<Ground, Failure> {
        Ok(Ground::from(self.core.fit.on(&self.core.bare)?))
    }

    /// Earth of the landing as placed, m^3, exactly; at most the budget.
    #[getter]
    fn volume(&self) -> f64 {
        self.core.fit.volume
    }

    /// Share that comes down softly: on the face at or below the fall limit, or rolls off so.
    #[getter]
    fn caught(&self) -> f64 {
        self.score().caught
    }

    /// 95th percentile of the equivalent fall height, m; infinite where more than 5 % come down
    /// where no ground is known.
    #[getter]
    fn p95_fall_height(&self) -> f64 {
        self.score().p95_fall_height
    }

    /// Share that comes down on the face, softly or not.
    #[getter]
    fn on_face(&self) -> f64 {
        self.score().on_face
    }

    /// Share that comes down before the crest.
    #[getter]
    fn short(&self) -> f64 {
        self.score().short
    }

    /// Share that comes down past the foot.
    #[getter]
    fn long(&self) -> f64 {
        self.score().long
    }

    /// Share that comes down off a side.
    #[getter]
    fn wide(&self) -> f64 {
        self.score().wide
    }

    /// Share that rolls off the edge.
    #[getter]
    fn rolled_off(&self) -> f64 {
        self.score().rolled_off
    }

    /// Share that leaves the known ground or finds none.
    #[getter]
    fn off(&self) -> f64 {
        self.score().off
    }

    /// Share of all riders that leaves the edge at all.
    #[getter]
    fn leaving(&self) -> f64 {
        self.score().leaving
    }

    /// Fall height up to which a touchdown counted as soft, m.
    #[getter]
    fn fall_limit(&self) -> f64 {
        self.score().fall_limit
    }

    /// What is not wrong but unwise, in words, and a caution.
    #[getter]
    fn warnings(&self) -> Vec<String> {
        warnings(self.score())
    }

    /// The model behind the numbers, what went in, its sources and its limits, in paragraphs.
    fn explain(&self) -> String {
        self.core.fit.explain().to_string()
    }

    fn __repr__(&self) -> String {
        format!(
            "<Fit: {:.1} % caught softly, p95 fall height {:.2} m, {:.2} m^3>",
            100.0 * self.caught(),
            self.p95_fall_height(),
            self.volume(),
        )
    }
}

impl Fit {
    /// A fit on bare ground.
    pub fn new(fit: Core, bare: loamline::Ground) -> Self {
        Self { core: Fitted { fit, bare } }
    }

    /// How the landing takes the riders.
    pub fn score(&self) -> &Score {
        &self.core.fit.score
    }
}

fn warnings(score: &Score) -> Vec<String> {
    let mut said = Vec::new();
    let staying = 1.0 - score.leaving;
    if staying > MANY {
        said.push(format!("{:.1} % of riders do not leave the edge", 100.0 * staying));
    }
    if score.p95_fall_height > score.fall_limit {
        said.push(format!(
            "one in twenty comes down harder than {:.2} m, the limit being {:.2} m",
            score.p95_fall_height, score.fall_limit
        ));
    }
    let past = score.short + score.long + score.wide + score.off;
    if past > 0.0 {
        said.push(format!(
            "{:.1} % miss the face: short, long, beside it or off the survey",
            100.0 * past
        ));
    }
    said
}

pickled!(Fit, Fitted);
