//! What more earth would give.

use crate::arrays;
use crate::errors::Failure;
use crate::fit::{Fit, Fitted, form};
use crate::landing::Landing;
use crate::passes::Passes;
use crate::pickle::{Pickled, Reduced, reduce};
use crate::site::Site;
use crate::watch;
use loamline::design::{self, FitOptions, Front};
use numpy::{IntoPyArray, PyArray1};
use pyo3::prelude::*;
use pyo3::types::PyDict;

/// The columns of a table, in their order.
const COLUMNS: [&str; 11] = [
    "volumes",
    "placed",
    "caught",
    "p95_fall_height",
    "on_face",
    "short",
    "long",
    "wide",
    "rolled_off",
    "off",
    "leaving",
];

/// The best landing for each of several volumes of earth; arrays in the order asked for.
///
/// Made by `tradeoff(...)`. Shares but `leaving` are of those who leave the edge.
#[pyclass(frozen, eq, module = "loamline")]
#[derive(Debug, Clone, PartialEq)]
pub struct Tradeoff {
    budgets: Vec<f64>,
    fits: Vec<Fit>,
}

/// The best landing for each of several volumes of earth.
///
/// A larger budget is never worse than a smaller one: less earth than there is fits both.
///
/// Args:
///     passes: who comes down, on the site's ground without a landing.
///     site: the bounds, the soil.
///     volumes: placed earth at hand, m^3, (n,), each above 0.
///     fall_limit: fall height up to which a touchdown counts as soft, m; None takes the site's.
///     seed: of the search.
///     faces: 1 for one face, 2 for two side by side.
///     foot_radius: from and to which radius the foot of one face is rounded, m, 0 to 60; None leaves it sharp.
///     threads: how many; None takes as many as the machine has.
///     progress: True for a line on standard error, or a function of (done, total) that may
///         return False to stop.
///
/// Raises:
///     InputError: a number outside its range, no volumes, a site that is none.
///     FitError: no landing within the bounds, too little earth, nobody who comes down.
///     Cancelled: stopped by the progress function.
#[pyfunction]
#[pyo3(signature = (
    passes, site, volumes, fall_limit=None, seed=1, faces=1, foot_radius=None, threads=None,
    progress=None,
))]
pub fn tradeoff(
    py: Python<'_>,
    passes: &Passes,
    site: &Site,
    volumes: &Bound<'_, PyAny>,
    fall_limit: Option<f64>,
    seed: u64,
    faces: usize,
    foot_radius: Option<(f64, f64)>,
    threads: Option<usize>,
    progress: Option<Bound<'_, PyAny>>,
) -> Result<Tradeoff, Failure> {
    let budgets = arrays::row("volumes", volumes)?;
    if budgets.is_empty() {
        return Err(Failure::input("volumes: at least one is wanted").about("volumes"));
    }
    let progress = watch::listener(progress)?;
    let (passes, site) = (&passes.core, &site.core);
    let limit = fall_limit.unwrap_or(site.fall_limit);
    let options = FitOptions::of(form(faces, foot_radius)?, seed);
    let fits = watch::crewed(py, threads, progress.as_ref(), |crew| {
        design::tradeoff_form(passes, site, (&budgets, limit), &options, crew)
    })??;
    let bare = passes.ground();
    let fits = fits.into_iter().map(|fit| Fit::new(fit, bare.clone())).collect();
    Ok(Tradeoff { budgets, fits })
}

#[pymethods]
impl Tradeoff {
    /// The fit of each budget.
    #[getter]
    fn fits(&self) -> Vec<Fit> {
        self.fits.clone()
    }

    /// The landing of each budget.
    #[getter]
    fn landings(&self) -> Vec<Landing> {
        self.fits.iter().map(|fit| Landing { core: fit.core.fit.landing }).collect()
    }

    /// Budgets asked for, m^3, (n,).
    #[getter]
    fn volumes<'py>(&self, py: Python<'py>) -> Bound<'py, PyArray1<f64>> {
        self.budgets.clone().into_pyarray(py)
    }

    /// Earth that each landing takes as placed, m^3, (n,).
    #[getter]
    fn placed<'py>(&self, py: Python<'py>) -> Bound<'py, PyArray1<f64>> {
        self.column(py, |fit| fit.core.fit.volume)
    }

    /// Share that comes down softly, (n,).
    #[getter]
    fn caught<'py>(&self, py: Python<'py>) -> Bound<'py, PyArray1<f64>> {
        self.column(py, |fit| fit.score().caught)
    }

    /// 95th percentile of the equivalent fall height, m, (n,).
    #[getter]
    fn p95_fall_height<'py>(&self, py: Python<'py>) -> Bound<'py, PyArray1<f64>> {
        self.column(py, |fit| fit.score().p95_fall_height)
    }

    /// Share that comes down on the face, softly or not, (n,).
    #[getter]
    fn on_face<'py>(&self, py: Python<'py>) -> Bound<'py, PyArray1<f64>> {
        self.column(py, |fit| fit.score().on_face)
    }

    /// Share that comes down before the crest, (n,).
    #[getter]
    fn short<'py>(&self, py: Python<'py>) -> Bound<'py, PyArray1<f64>> {
        self.column(py, |fit| fit.score().short)
    }

    /// Share that comes down past the foot, (n,).
    #[getter]
    fn long<'py>(&self, py: Python<'py>) -> Bound<'py, PyArray1<f64>> {
        self.column(py, |fit| fit.score().long)
    }

    /// Share that comes down off a side, (n,).
    #[getter]
    fn wide<'py>(&self, py: Python<'py>) -> Bound<'py, PyArray1<f64>> {
        self.column(py, |fit| fit.score().wide)
    }

    /// Share that rolls off the edge, (n,).
    #[getter]
    fn rolled_off<'py>(&self, py: Python<'py>) -> Bound<'py, PyArray1<f64>> {
        self.column(py, |fit| fit.score().rolled_off)
    }

    /// Share that leaves the known ground or finds none, (n,).
    #[getter]
    fn off<'py>(&self, py: Python<'py>) -> Bound<'py, PyArray1<f64>> {
        self.column(py, |fit| fit.score().off)
    }

    /// Share of all riders that leaves the edge at all, (n,).
    #[getter]
    fn leaving<'py>(&self, py: Python<'py>) -> Bound<'py, PyArray1<f64>> {
        self.column(py, |fit| fit.score().leaving)
    }

    /// Whether each is on the front, (n,), bool: no other takes as little earth and is as good in share caught and
    /// 95th percentile of fall height.
    #[getter]
    fn on_front<'py>(&self, py: Python<'py>) -> Bound<'py, PyArray1<bool>> {
        self.front().on_front.into_pyarray(py)
    }

    /// The place of the budget from which on more earth gives clearly less than before; None where there is no
    /// such knee.
    #[getter]
    fn knee(&self) -> Option<usize> {
        self.front().knee
    }

    /// What the trade-off comes to, in sentences: the knee and why, and what is not worth its earth.
    #[getter]
    fn reasons(&self) -> Vec<String> {
        self.front().reasons
    }

    /// A `pandas.DataFrame` with a row per budget; needs pandas.
    fn to_pandas<'py>(slf: &Bound<'py, Self>) -> PyResult<Bound<'py, PyAny>> {
        crate::frames::to_pandas(slf.py(), columns(slf)?, "budget")
    }

    /// An `xarray.Dataset` along `budget`; needs xarray.
    fn to_xarray<'py>(slf: &Bound<'py, Self>) -> PyResult<Bound<'py, PyAny>> {
        crate::frames::to_xarray(slf.py(), columns(slf)?, "budget")
    }

    fn __len__(&self) -> usize {
        self.fits.len()
    }

    fn __repr__(&self) -> String {
        let points = self.budgets.iter().zip(&self.fits);
        let told: Vec<String> = points
            .map(|(budget, fit)| format!("{budget} m^3: {:.1} %", 100.0 * fit.score().caught))
            .collect();
        format!("<Tradeoff: caught softly for {}>", told.join(", "))
    }

    fn _repr_html_<'py>(slf: &Bound<'py, Self>) -> PyResult<Bound<'py, PyAny>> {
        crate::cards::html(slf.as_any())
    }

    fn __reduce__<'py>(&self, py: Python<'py>) -> Result<Reduced<'py>, Failure> {
        let fits = self.fits.iter().map(|fit| fit.core.clone()).collect();
        reduce::<Self>(py, &(self.budgets.clone(), fits))
    }
}

impl Tradeoff {
    fn front(&self) -> Front {
        Front::of(&self.fits.iter().map(|fit| fit.core.fit.clone()).collect::<Vec<_>>())
    }

    fn column<'py>(&self, py: Python<'py>, of: impl Fn(&Fit) -> f64) -> Bound<'py, PyArray1<f64>> {
        self.fits.iter().map(of).collect::<Vec<f64>>().into_pyarray(py)
    }
}

fn columns<'py>(curve: &Bound<'py, Tradeoff>) -> PyResult<Bound<'py, PyDict>> {
    let dict = PyDict::new(curve.py());
    for name in COLUMNS {
        dict.set_item(name, curve.getattr(name)?)?;
    }
    Ok(dict)
}

impl Pickled for Tradeoff {
    const NAME: &'static str = "Tradeoff";
    type Core = (Vec<f64>, Vec<Fitted>);

    fn from_core((budgets, fits): Self::Core) -> Result<Self, Failure> {
        Ok(Self { budgets, fits: fits.into_iter().map(|core| Fit { core }).collect() })
    }
}
