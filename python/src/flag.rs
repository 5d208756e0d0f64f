//! What was seen of a test ride.

use crate::arrays;
use crate::errors::Failure;
use crate::flags::unknown;
use crate::ground::Ground;
use crate::line::lean_from;
use crate::pickle::pickled;
use crate::site::Site;
use crate::text;
use loamline::flags::{Flag as Core, Gate, Priors, Speed, Spot, TestRide, Timing, Tyre, Unknown};
use nalgebra::Vector2;
use pyo3::prelude::*;
use pyo3::types::PyDict;
use std::collections::HashMap;

/// One test ride and what was seen of it: the tyres' mark, times, speeds, each with how sure it is.
///
/// Args:
///     start: start mark, level m up the hill from the run-in's end, above 0.
///     who: name of the rider's class.
///     mark: (x, y) in the site frame, m; or (mark, mark, along, left): by tape from one named mark of
///         the site towards another, m along it and m to the left of it; None where it was not measured.
///     name: what the flag is called; None takes the start.
///     mark_sd: standard deviation of the mark in each level direction, m, above 0. The default is an
///         assumption: reading and taping 0.1 m, and rides from one mark that differ by 0.2 m.
///     leave: where the rider was seen to leave the edge, m (up a wall's panel, or to the left of the
///         middle); None where it was not seen.
///     brake: share of the rider's habitual brake that was used, from 0 to 1.
///     start_sd: standard deviation of the start mark, m, at least 0: taped 0.05; paced 2 % of the way.
///     tyre: what left the mark: "middle" (between both tyres' marks), "rear" or "front".
///     timings: list of (from, to, seconds, sd); places are level m up the hill, "edge" or "touch".
///     speeds: list of (place, m/s, sd), the tyres' speed before the flight.
///     ground: the ground as it was then; None takes the site's.
///
/// Raises:
///     InputError: a number outside its range, a timing that runs backwards.
///
/// >>> import loamline as ll
/// >>> ll.Flag(start=14.0, who="regulars", mark=(5.2, 1.1), leave=1.2).start
/// 14.0
#[pyclass(frozen, eq, module = "loamline")]
#[derive(Debug, Clone, PartialEq)]
pub struct Flag {
    /// The core's flag.
    pub core: Core,
}

/// The mark as Python gives it.
#[derive(FromPyObject)]
pub enum Where {
    /// By coordinates.
    At((f64, f64)),
    /// By tape.
    Taped((String, String, f64, f64)),
}

/// A place along the way as Python gives it.
#[derive(FromPyObject)]
pub enum Place {
    /// So far up the hill.
    UpHill(f64),
    /// By its name.
    Named(String),
}

impl Place {
    fn gate(self) -> Result<Gate, Failure> {
        match self {
            Self::UpHill(distance) => Ok(Gate::UpHill(distance)),
            Self::Named(name) if name == "edge" => Ok(Gate::Edge),
            Self::Named(name) if name == "touch" => Ok(Gate::Touch),
            Self::Named(name) => Err(Failure::input(&format!(
                "no place {name:?} to take a time at: give m up the hill, \"edge\" or \"touch\""
            ))
            .about("timings")),
        }
    }
}

fn tyre(name: &str) -> Result<Tyre, Failure> {
    match name {
        "middle" => Ok(Tyre::Middle),
        "rear" => Ok(Tyre::Rear),
        "front" => Ok(Tyre::Front),
        _ => Err(Failure::input(&format!(
            "tyre = {name:?} is none of: \"middle\", \"rear\", \"front\""
        ))
        .about("tyre")),
    }
}

/// A test ride.
pub fn ride(
    who: &str,
    start: f64,
    leave: Option<f64>,
    brake: f64,
    start_sd: f64,
) -> Result<TestRide, Failure> {
    let ride = TestRide::new(who, start)?.braking(brake)?.with_start_sd(start_sd)?;
    Ok(match leave {
        Some(leave) => ride.leaving(leave)?,
        None => ride,
    })
}

#[pymethods]
impl Flag {
    #[new]
    #[pyo3(signature = (
        start, who, mark=None, *, name=None, mark_sd=0.25, leave=None, brake=1.0,
        start_sd=0.05, tyre="middle", timings=None, speeds=None, ground=None,
    ))]
    fn new(
        start: f64,
        who: &str,
        mark: Option<Where>,
        name: Option<String>,
        mark_sd: f64,
        leave: Option<f64>,
        brake: f64,
        start_sd: f64,
        tyre: &str,
        timings: Option<Vec<(Place, Place, f64, f64)>>,
        speeds: Option<Vec<(Place, f64, f64)>>,
        ground: Option<&Ground>,
    ) -> Result<Self, Failure> {
        let ride = ride(who, start, leave, brake, start_sd)?;
        let mut core = Core::new(name.unwrap_or_else(|| format!("{start}")), ride);
        core = core.of_tyre(self::tyre(tyre)?);
        if let Some(mark) = mark {
            let spot = match mark {
                Where::At((x, y)) => Spot::At(Vector2::new(x, y)),
                Where::Taped((from, towards, along, left)) => {
                    Spot::Taped { from, towards, along, left }
                }
            };
            core = core.with_mark(spot, mark_sd)?;
        }
        for (from, to, seconds, sd) in timings.unwrap_or_default() {
            core = core.with_timing(Timing::new(from.gate()?, to.gate()?, seconds, sd)?);
        }
        for (at, speed, sd) in speeds.unwrap_or_default() {
            core = core.with_speed(Speed::new(at.gate()?, speed, sd)?);
        }
        if let Some(ground) = ground {
            core = core.on(ground.core.clone());
        }
        Ok(Self { core })
    }

    /// What the flag is called.
    #[getter]
    fn name(&self) -> &str {
        self.core.name()
    }

    /// Class of the rider.
    #[getter]
    fn who(&self) -> &str {
        self.core.ride().who()
    }

    /// Start mark, level m up the hill from the run-in's end.
    #[getter]
    fn start(&self) -> f64 {
        self.core.ride().start()
    }

    /// Where the rider was seen to leave, m; None where it was not seen.
    #[getter]
    fn leave(&self) -> Option<f64> {
        self.core.ride().leave()
    }

    /// Share of the habitual brake that was used.
    #[getter]
    fn brake(&self) -> f64 {
        self.core.ride().brake_share()
    }

    /// Standard deviation of the mark in each level direction, m.
    #[getter]
    fn mark_sd(&self) -> f64 {
        self.core.mark_sd()
    }

    /// The mark's (x, y) on a site, m; None where it was not measured.
    ///
    /// Args:
    ///     site: the site, for its marks to tape from.
    ///
    /// Raises:
    ///     InputError: a mark that the site does not have.
    fn mark(&self, site: &Site) -> Result<Option<(f64, f64)>, Failure> {
        let Some(mark) = self.core.mark() else { return Ok(None) };
        let at = mark.resolve(&site.core)?;
        Ok(Some((at.x, at.y)))
    }

    /// What the model has this flag see of its ride by a rider with given values, whatever was measured.
    ///
    /// Args:
    ///     site: the site.
    ///     values: a dict of `crr`, `cda`, `brake`, `pop`, `leave`, `speed`; what is missing is taken as believed.
    ///     lean: "deck", "balanced" or "settled".
    ///
    /// Returns:
    ///     A dict: `numbers` (the mark's x and y where it has one, then timings, then speeds), `answers` (an array,
    ///     (n, 7): the derivatives of each by the six unknowns and by the start), `mark` (x, y, z),
    ///     `fall_height`, `exit_speed`.
    ///
    /// Raises:
    ///     InputError: a number outside its range.
    ///     RideError: a ride that leaves no mark.
    #[pyo3(signature = (site, values, lean="balanced"))]
    fn seen<'py>(
        &self,
        py: Python<'py>,
        site: &Site,
        values: HashMap<String, f64>,
        lean: &str,
    ) -> Result<Bound<'py, PyDict>, Failure> {
        let class = site.core.class(self.core.ride().who())?;
        let told = self.core.ride().leave().is_some();
        let mut all = Priors::of(&site.core, class, told)?.medians();
        for (name, value) in values {
            let wanted = unknown(&name)?;
            let places = Unknown::ALL.iter().zip(&mut all);
            places.filter(|(one, _)| **one == wanted).for_each(|(_, place)| *place = value);
        }
        let lean = lean_from(lean)?;
        let seen = py.detach(|| self.core.seen(&site.core, &all, lean))?;
        let told = PyDict::new(py);
        told.set_item("numbers", seen.numbers)?;
        told.set_item("answers", arrays::rows(py, seen.answers)?)?;
        told.set_item("mark", (seen.mark.x, seen.mark.y, seen.mark.z))?;
        told.set_item("fall_height", seen.fall_height)?;
        told.set_item("exit_speed", seen.exit_speed)?;
        Ok(told)
    }

    /// The same flag, ridden onto this ground: as it was then.
    ///
    /// Args:
    ///     ground: the ground.
    fn on(&self, ground: &Ground) -> Self {
        Self { core: self.core.clone().on(ground.core.clone()) }
    }

    fn __repr__(&self) -> String {
        let ride = self.core.ride();
        text::call(
            "Flag",
            &[
                ("start", text::float(ride.start())),
                ("who", text::quoted(ride.who())),
                ("name", text::quoted(self.core.name())),
                ("leave", text::maybe(ride.leave())),
            ],
        )
    }
}

pickled!(Flag, Core);
