//! What small changes of the takeoff save in earth.

use crate::errors::Failure;
use crate::fit::{Fit, Fitted};
use crate::pickle::{Pickled, Reduced, reduce};
use crate::site::Site;
use crate::units::{degrees, radians};
use crate::watch;
use loamline::design::{self, Bargain as Core, BargainOptions, Offer, TakeoffChange as Change};
use numpy::{IntoPyArray, PyArray1};
use pyo3::prelude::*;
use pyo3::types::PyDict;
use serde::{Deserialize, Serialize};

/// A bargain and the ground it was made on.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct Struck {
    bargain: Core,
    bare: loamline::Ground,
}

/// Takeoffs compared by the earth they ask for; arrays with the takeoff as it is first, then each change.
///
/// Made by `bargain(...)`.
#[pyclass(frozen, eq, module = "loamline")]
#[derive(Debug, Clone, PartialEq)]
pub struct Bargain {
    core: Struck,
}

/// What each small change of a site's takeoff saves in earth.
///
/// For each takeoff the least volume is looked for whose best landing catches as many softly as all the
/// earth does off the takeoff as it is; to about 4 %. The timber's own cost and strength are not weighed.
///
/// Args:
///     site: the site.
///     volume: placed earth at hand, m^3, above 0.
///     changes: a list of dicts of one number each, or None for some worth a look: `end_bank_deg` (a wall
///         whose bank ends so much steeper), `length` (a wall so much longer, m), `leave_at_most` (a rail
///         or a line that nobody leaves above, m up the panel), `lip_angle_deg` (a lip so much steeper at
///         its edge), `speed_check` (nobody comes onto the takeoff faster, m/s).
///     n: how many riders.
///     fall_limit: fall height up to which a touchdown counts as soft, m; None takes the site's.
///     seed: of riders and searches.
///     threads: how many; None takes as many as the machine has.
///     progress: True for a line on standard error, or a function of (done, total) that may
///         return False to stop.
///
/// Raises:
///     InputError: a number outside its range, a change that is none or that the takeoff cannot have.
///     FitError: no landing for one of the takeoffs.
///     PassesError: nobody leaves the edge.
///     Cancelled: stopped by the progress function.
#[pyfunction]
#[pyo3(signature = (
    site, volume, changes=None, n=1024, fall_limit=None, seed=1, threads=None, progress=None,
))]
pub fn bargain(
    py: Python<'_>,
    site: &Site,
    volume: f64,
    changes: Option<Vec<Bound<'_, PyAny>>>,
    n: usize,
    fall_limit: Option<f64>,
    seed: u64,
    threads: Option<usize>,
    progress: Option<Bound<'_, PyAny>>,
) -> Result<Bargain, Failure> {
    let given = changes.map(|all| all.iter().map(change).collect::<Result<Vec<_>, _>>());
    let given = given.transpose()?;
    let progress = watch::listener(progress)?;
    let site = &site.core;
    let fall_limit = fall_limit.unwrap_or(site.fall_limit);
    let options = BargainOptions { passes: n, seed, volume, fall_limit };
    let bargain = watch::crewed(py, threads, progress.as_ref(), |crew| {
        let changes = match given {
            Some(changes) => changes,
            None => Change::usual(site, &site.passes(n, seed, crew)?),
        };
        design::bargain(site, &options, &changes, crew)
    })??;
    Ok(Bargain { core: Struck { bargain, bare: site.ground()? } })
}

/// The change that a dict tells.
fn change(given: &Bound<'_, PyAny>) -> Result<Change, Failure> {
    let wrong = || {
        let message = format!(
            "changes: {given:?} is none of dict(end_bank_deg=), dict(length=), dict(leave_at_most=), \
             dict(lip_angle_deg=) and dict(speed_check=)"
        );
        Failure::input(&message).about("changes")
    };
    let named = given.cast::<PyDict>().map_err(|_| wrong())?;
    if named.len() != 1 {
        return Err(wrong());
    }
    let Some((key, value)) = named.iter().next() else { return Err(wrong()) };
    let (key, value): (String, f64) =
        (key.extract().map_err(|_| wrong())?, value.extract().map_err(|_| wrong())?);
    Ok(match key.as_str() {
        "end_bank_deg" => Change::EndBank(radians("end_bank_deg", value)?),
        "length" => Change::Length(value),
        "leave_at_most" => Change::LeaveAtMost(value),
        "lip_angle_deg" => Change::LipAngle(radians("lip_angle_deg", value)?),
        "speed_check" => Change::SpeedCheck(value),
        _ => return Err(wrong()),
    })
}

#[pymethods]
impl Bargain {
    /// What each takeoff is, in words, (n,): "as it is" first.
    #[getter]
    fn words(&self) -> Vec<String> {
        let said =
            |offer: &Offer| offer.change.map_or_else(|| "as it is".into(), |c| c.to_string());
        self.rows().map(said).collect()
    }

    /// Least placed earth found that catches as many as all of it does off the takeoff as it is, m^3, (n,);
    /// NaN where not even all does.
    #[getter]
    fn needed<'py>(&self, py: Python<'py>) -> Bound<'py, PyArray1<f64>> {
        self.column(py, |offer| offer.needed.unwrap_or(f64::NAN))
    }

    /// Earth saved against the takeoff as it is, m^3, (n,); below 0 where it asks for more, NaN where not even
    /// all the earth catches as many.
    #[getter]
    fn saved<'py>(&self, py: Python<'py>) -> Bound<'py, PyArray1<f64>> {
        self.column(py, |offer| self.core.bargain.saved(offer).unwrap_or(f64::NAN))
    }

    /// Share caught softly by the best landing for all the earth, (n,).
    #[getter]
    fn caught<'py>(&self, py: Python<'py>) -> Bound<'py, PyArray1<f64>> {
        self.column(py, |offer| offer.fit.score.caught)
    }

    /// Its 95th percentile of the equivalent fall height, m, (n,).
    #[getter]
    fn p95_fall_height<'py>(&self, py: Python<'py>) -> Bound<'py, PyArray1<f64>> {
        self.column(py, |offer| offer.fit.score.p95_fall_height)
    }

    /// Share of all riders who leave the edge, (n,).
    #[getter]
    fn leaving<'py>(&self, py: Python<'py>) -> Bound<'py, PyArray1<f64>> {
        self.column(py, |offer| offer.leaving)
    }

    /// The best landing for all the earth of each takeoff.
    #[getter]
    fn fits(&self) -> Vec<Fit> {
        let fit = |offer: &Offer| Fit {
            core: Fitted { fit: offer.fit.clone(), bare: self.core.bare.clone() },
        };
        self.rows().map(fit).collect()
    }

    /// The changes as dicts of one number each, None for the takeoff as it is.
    #[getter]
    fn changes<'py>(&self, py: Python<'py>) -> PyResult<Vec<Option<Bound<'py, PyDict>>>> {
        let told = |offer: &Offer| offer.change.map(|change| dict(py, change)).transpose();
        self.rows().map(told).collect()
    }

    /// The model behind the numbers, what went in, its sources and its limits, in paragraphs.
    fn explain(&self) -> String {
        self.core.bargain.explain().to_string()
    }

    /// A `pandas.DataFrame` with a row per takeoff; needs pandas.
    fn to_pandas<'py>(slf: &Bound<'py, Self>) -> PyResult<Bound<'py, PyAny>> {
        let dict = PyDict::new(slf.py());
        for name in ["words", "needed", "saved", "caught", "p95_fall_height", "leaving"] {
            dict.set_item(name, slf.getattr(name)?)?;
        }
        crate::frames::to_pandas(slf.py(), dict, "takeoff")
    }

    fn __len__(&self) -> usize {
        self.rows().count()
    }

    fn __repr__(&self) -> String {
        let told: Vec<String> = self
            .rows()
            .zip(self.words())
            .map(|(offer, words)| {
                offer.needed.map_or_else(
                    || format!("{words}: not caught as many"),
                    |m3| format!("{words}: {m3:.1} m^3"),
                )
            })
            .collect();
        format!("<Bargain: {}>", told.join("; "))
    }

    fn _repr_html_<'py>(slf: &Bound<'py, Self>) -> PyResult<Bound<'py, PyAny>> {
        crate::cards::html(slf.as_any())
    }

    fn __reduce__<'py>(&self, py: Python<'py>) -> Result<Reduced<'py>, Failure> {
        reduce::<Self>(py, &self.core)
    }
}

fn dict(py: Python<'_>, change: Change) -> PyResult<Bound<'_, PyDict>> {
    let dict = PyDict::new(py);
    let (key, value) = match change {
        Change::EndBank(by) => ("end_bank_deg", degrees(by)),
        Change::Length(by) => ("length", by),
        Change::LeaveAtMost(most) => ("leave_at_most", most),
        Change::LipAngle(by) => ("lip_angle_deg", degrees(by)),
        Change::SpeedCheck(speed) => ("speed_check", speed),
        _ => return Ok(dict),
    };
    dict.set_item(key, value)?;
    Ok(dict)
}

impl Bargain {
    fn rows(&self) -> impl Iterator<Item = &Offer> {
        std::iter::once(&self.core.bargain.as_it_is).chain(&self.core.bargain.offers)
    }

    fn column<'py>(
        &self,
        py: Python<'py>,
        of: impl Fn(&Offer) -> f64,
    ) -> Bound<'py, PyArray1<f64>> {
        self.rows().map(of).collect::<Vec<f64>>().into_pyarray(py)
    }
}

impl Pickled for Bargain {
    const NAME: &'static str = "Bargain";
    type Core = Struck;

    fn from_core(core: Struck) -> Result<Self, Failure> {
        Ok(Self { core })
    }
}
