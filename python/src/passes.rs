//! Everyone who comes down the hill, as arrays.

mod columns;
mod recipe;

pub use recipe::Recipe;

use crate::arrays;
use crate::errors::Failure;
use crate::flight::Flight;
use crate::ground::Ground;
use crate::line::lean_from;
use crate::pickle::{Pickled, Reduced, reduce};
use crate::ride;
use crate::units::degrees;
use crate::watch;
use loamline::flight::Flight as FlightCore;
use loamline::passes::{LEANS, Pass, Passes as Core};
use loamline::ride::Lean;
use numpy::PyArray2;
use pyo3::prelude::*;
use std::collections::BTreeMap;

/// Everyone who comes down the hill: who, how they rode, flew and came down; a row per pass.
///
/// Made by `site.passes(...)`. A number that a pass does not have is NaN: who does not come to the
/// wall has no entry speed, who does not leave the edge no launch, who does not touch no mark.
/// A pickle keeps site, size, seed and ground, and rides again: the same numbers.
#[pyclass(frozen, eq, module = "loamline")]
#[derive(Debug, Clone, PartialEq)]
pub struct Passes {
    recipe: Recipe,
    /// The core's passes.
    pub core: Core,
}

#[pymethods]
impl Passes {
    /// Class of the rider, a place in `class_names`, (n,).
    #[getter]
    fn who<'py>(&self, py: Python<'py>) -> PyResult<Bound<'py, PyAny>> {
        self.places(py, |pass| pass.drawn.who)
    }

    /// Share of all passes that each stands for, (n,); they add up to 1.
    #[getter]
    fn weight<'py>(&self, py: Python<'py>) -> PyResult<Bound<'py, PyAny>> {
        self.numbers(py, |pass| Some(pass.drawn.weight))
    }

    /// Level distance of the start up the hill from the run-in's end, m, (n,).
    #[getter]
    fn start<'py>(&self, py: Python<'py>) -> PyResult<Bound<'py, PyAny>> {
        self.numbers(py, |pass| Some(pass.drawn.start))
    }

    /// How far up the panel the rider leaves or would have left, m, (n,).
    #[getter]
    fn leave<'py>(&self, py: Python<'py>) -> PyResult<Bound<'py, PyAny>> {
        self.numbers(py, |pass| pass.leave)
    }

    /// Push off the edge, m/s, (n,).
    #[getter]
    fn pop<'py>(&self, py: Python<'py>) -> PyResult<Bound<'py, PyAny>> {
        self.numbers(py, |pass| Some(pass.drawn.pop))
    }

    /// Mass of rider and bike, kg, (n,).
    #[getter]
    fn mass<'py>(&self, py: Python<'py>) -> PyResult<Bound<'py, PyAny>> {
        self.numbers(py, |pass| Some(pass.drawn.mass))
    }

    /// Drag area, m^2, (n,).
    #[getter]
    fn cda<'py>(&self, py: Python<'py>) -> PyResult<Bound<'py, PyAny>> {
        self.numbers(py, |pass| Some(pass.drawn.cda))
    }

    /// Brake held down the run-in, m/s^2, (n,).
    #[getter]
    fn brake<'py>(&self, py: Python<'py>) -> PyResult<Bound<'py, PyAny>> {
        self.numbers(py, |pass| Some(pass.drawn.brake))
    }

    /// The air's velocity, m/s, (n, 3).
    #[getter]
    fn wind<'py>(&self, py: Python<'py>) -> PyResult<Bound<'py, PyAny>> {
        self.vectors(py, |pass| Some(pass.drawn.wind))
    }

    /// The scenario each was drawn in, from 0, (n,); 0 all along where nothing was in doubt.
    #[getter]
    fn scenario<'py>(&self, py: Python<'py>) -> PyResult<Bound<'py, PyAny>> {
        self.places(py, |pass| pass.drawn.scenario)
    }

    /// What the speed onto the takeoff was multiplied by, (n,); 1 where nothing was in doubt.
    #[getter]
    fn speed_factor<'py>(&self, py: Python<'py>) -> PyResult<Bound<'py, PyAny>> {
        self.numbers(py, |pass| Some(pass.drawn.speed_factor))
    }

    /// The tyres' speed at the wall's start, m/s, (n,).
    #[getter]
    fn entry_speed<'py>(&self, py: Python<'py>) -> PyResult<Bound<'py, PyAny>> {
        self.numbers(py, |pass| pass.entry_speed)
    }

    /// The tyres' speed at the edge, m/s, (n,).
    #[getter]
    fn exit_speed<'py>(&self, py: Python<'py>) -> PyResult<Bound<'py, PyAny>> {
        self.numbers(py, Pass::exit_speed)
    }

    /// The most grip asked for on the way, (n,).
    #[getter]
    fn ride_grip_demand<'py>(&self, py: Python<'py>) -> PyResult<Bound<'py, PyAny>> {
        self.numbers(py, |pass| Some(pass.grip_demand))
    }

    /// How each ride ended, (n,) of str: "reached" for who leaves the edge, else "slid",
    /// "stalled", "did_not_start", "left_surface", "hung_up" or "unbalanced" (no lean was found that
    /// keeps the balance).
    #[getter]
    fn ride_outcome<'py>(&self, py: Python<'py>) -> PyResult<Bound<'py, PyAny>> {
        self.words(py, |pass| ride::word(&pass.outcome))
    }

    /// The lean on the takeoff that each is judged by, (n,) of str: the hardest of `leans`; "" for who does not leave.
    #[getter]
    fn hardest_lean<'py>(&self, py: Python<'py>) -> PyResult<Bound<'py, PyAny>> {
        self.words(py, |pass| pass.hardest().map_or("", |way| way.lean.name()))
    }

    /// How each came down, (n,) of str: "landed", "caught", "short", "long", "wide",
    /// "rolled_off", "off_survey", "no_touchdown", or "not_launched".
    #[getter]
    fn outcome<'py>(&self, py: Python<'py>) -> PyResult<Bound<'py, PyAny>> {
        self.words(py, |pass| pass.touchdown().map_or("not_launched", |t| t.outcome.word()))
    }

    /// Centre of mass at the launch, m, (n, 3).
    #[getter]
    fn launch_position<'py>(&self, py: Python<'py>) -> PyResult<Bound<'py, PyAny>> {
        self.vectors(py, |pass| Some(pass.flight()?.launch().position))
    }

    /// Velocity of the centre of mass at the launch, m/s, (n, 3).
    #[getter]
    fn launch_velocity<'py>(&self, py: Python<'py>) -> PyResult<Bound<'py, PyAny>> {
        self.vectors(py, |pass| Some(pass.flight()?.launch().velocity))
    }

    /// Time of flight, s, (n,).
    #[getter]
    fn time<'py>(&self, py: Python<'py>) -> PyResult<Bound<'py, PyAny>> {
        self.numbers(py, |pass| pass.flight().map(FlightCore::time))
    }

    /// The tyres' mark, m, (n, 3).
    #[getter]
    fn mark<'py>(&self, py: Python<'py>) -> PyResult<Bound<'py, PyAny>> {
        self.vectors(py, |pass| pass.contact().map(|contact| contact.mark))
    }

    /// Velocity at the touchdown, m/s, (n, 3).
    #[getter]
    fn velocity<'py>(&self, py: Python<'py>) -> PyResult<Bound<'py, PyAny>> {
        self.vectors(py, |pass| pass.contact().map(|contact| contact.velocity))
    }

    /// Speed into the surface, m/s, (n,).
    #[getter]
    fn normal_speed<'py>(&self, py: Python<'py>) -> PyResult<Bound<'py, PyAny>> {
        self.contacts(py, |contact| contact.normal_speed)
    }

    /// Speed over the surface to the left of forward, m/s, (n,).
    #[getter]
    fn sideways_speed<'py>(&self, py: Python<'py>) -> PyResult<Bound<'py, PyAny>> {
        self.contacts(py, |contact| contact.sideways_speed)
    }

    /// Equivalent fall height, m, (n,).
    #[getter]
    fn fall_height<'py>(&self, py: Python<'py>) -> PyResult<Bound<'py, PyAny>> {
        self.contacts(py, |contact| contact.fall_height)
    }

    /// Angle between path and surface, degrees, (n,).
    #[getter]
    fn angle_deg<'py>(&self, py: Python<'py>) -> PyResult<Bound<'py, PyAny>> {
        self.contacts(py, |contact| degrees(contact.angle))
    }

    /// Level distance from the tyres' point at the launch to the mark, m, (n,).
    #[getter]
    fn distance<'py>(&self, py: Python<'py>) -> PyResult<Bound<'py, PyAny>> {
        self.contacts(py, |contact| contact.distance)
    }

    /// How far the mark is below that point, m, (n,).
    #[getter]
    fn drop<'py>(&self, py: Python<'py>) -> PyResult<Bound<'py, PyAny>> {
        self.contacts(py, |contact| contact.drop)
    }

    /// Lean still owed at the touchdown, degrees, (n,).
    #[getter]
    fn lean_owed_deg<'py>(&self, py: Python<'py>) -> PyResult<Bound<'py, PyAny>> {
        self.contacts(py, |contact| degrees(contact.lean_owed))
    }

    /// The leans on the takeoff that the passes were ridden with, of "deck", "balanced" and "settled".
    ///
    /// Nobody knows beforehand how a rider leans. "balanced" judges who holds; of those who leave each is judged by his
    /// hardest way down: `with_lean` gives one lean alone.
    #[getter]
    fn leans(&self) -> Vec<&'static str> {
        self.recipe
            .lean
            .map_or_else(|| LEANS.to_vec(), |lean| vec![lean])
            .into_iter()
            .map(Lean::name)
            .collect()
    }

    /// Names of the rider classes.
    #[getter]
    fn class_names(&self) -> Vec<String> {
        self.core.classes().to_vec()
    }

    /// Seed they were drawn from.
    #[getter]
    fn seed(&self) -> u64 {
        self.core.seed()
    }

    /// The ground they come down on.
    #[getter]
    fn ground(&self) -> Ground {
        Ground::from(self.core.ground().clone())
    }

    /// Share of all passes that leaves over the edge.
    #[getter]
    fn leaving(&self) -> f64 {
        self.core.share_leaving()
    }

    /// Why the others do not, in words, the commonest first.
    #[getter]
    fn reasons(&self) -> Vec<String> {
        self.core.reasons().iter().map(ToString::to_string).collect()
    }

    /// What is not wrong but unwise: who does not leave, who falls high, in words.
    #[getter]
    fn warnings(&self) -> Vec<String> {
        warnings(&self.core)
    }

    /// The model behind the numbers, what went in, its sources and its limits, in paragraphs.
    fn explain(&self) -> String {
        self.core.explain().to_string()
    }

    /// The flight of one pass.
    ///
    /// Args:
    ///     i: which, from 0.
    ///
    /// Raises:
    ///     InputError: no such pass, or one that does not leave the edge.
    fn flight(&self, i: usize) -> Result<Flight, Failure> {
        let pass = self.core.members().get(i).ok_or_else(|| {
            Failure::input(&format!("i = {i} is out of range: below {}", self.core.len()))
        })?;
        let flight = pass.flight().cloned().ok_or_else(|| {
            Failure::input(&format!("pass {i} does not leave the edge: {}", pass.outcome))
        })?;
        Ok(Flight { core: flight })
    }

    /// `n` places of the centre of mass of one pass in the air, m, (n, 3).
    ///
    /// Args:
    ///     i: which pass, from 0.
    ///     n: how many places, evenly spaced in time from launch to end.
    ///
    /// Raises:
    ///     InputError: no such pass, or one that does not leave the edge.
    #[pyo3(signature = (i, n=60))]
    fn path<'py>(
        &self,
        py: Python<'py>,
        i: usize,
        n: usize,
    ) -> Result<Bound<'py, PyArray2<f64>>, Failure> {
        Ok(arrays::vectors(py, &self.flight(i)?.core.path(arrays::places("n", n)?))?)
    }

    /// The same rides and paths through the air onto another ground, such as one with a
    /// landing: only the touch is looked for again.
    ///
    /// Args:
    ///     ground: onto what.
    ///     threads: how many; None takes as many as the machine has.
    ///
    /// Raises:
    ///     PassesError: a touch that cannot be computed.
    #[pyo3(signature = (ground, threads=None))]
    fn on(&self, py: Python<'_>, ground: &Ground, threads: Option<usize>) -> Result<Self, Failure> {
        let (passes, onto) = (&self.core, &ground.core);
        let core = watch::crewed(py, threads, None, |crew| passes.on(onto, crew))??;
        let recipe = Recipe { ground: Some(ground.core.clone()), ..self.recipe.clone() };
        Ok(Self { recipe, core })
    }

    /// The same passes judged by one lean alone: who does not come over the edge with it does not leave.
    ///
    /// Args:
    ///     lean: one of `leans`.
    ///
    /// Raises:
    ///     InputError: a lean that they were not ridden with.
    fn with_lean(&self, lean: &str) -> Result<Self, Failure> {
        let lean = lean_from(lean)?;
        if self.recipe.lean.is_some_and(|only| only != lean) {
            let said = format!("lean = \"{}\" is not one of {:?}", lean.name(), self.leans());
            return Err(Failure::input(&said).about("lean"));
        }
        let recipe = Recipe { lean: Some(lean), ..self.recipe.clone() };
        Ok(Self { recipe, core: self.core.with_lean(lean) })
    }

    /// The same passes with the weight of each named class multiplied by a factor, all weights together 1
    /// again: to have first-timers count three times, say.
    ///
    /// Args:
    ///     factors: a dict of class name and factor, at least 0.
    ///
    /// Raises:
    ///     InputError: a name that is no class, a factor below 0, nobody left with a weight.
    fn weighted(&self, factors: BTreeMap<String, f64>) -> Result<Self, Failure> {
        let factors: Vec<(String, f64)> = factors.into_iter().collect();
        let core = self.core.weighted(&factors)?;
        let weights = self.recipe.weights.iter().cloned().chain(factors).collect();
        Ok(Self { recipe: Recipe { weights, ..self.recipe.clone() }, core })
    }

    /// A `pandas.DataFrame` with a row per pass; needs pandas.
    fn to_pandas<'py>(slf: &Bound<'py, Self>) -> PyResult<Bound<'py, PyAny>> {
        crate::frames::to_pandas(slf.py(), columns::all(slf)?, "pass")
    }

    /// An `xarray.Dataset` along `pass`; needs xarray.
    fn to_xarray<'py>(slf: &Bound<'py, Self>) -> PyResult<Bound<'py, PyAny>> {
        crate::frames::to_xarray(slf.py(), columns::all(slf)?, "pass")
    }

    fn __len__(&self) -> usize {
        self.core.len()
    }

    fn __repr__(&self) -> String {
        format!(
            "<Passes: {} over {:?} from seed {}, {:.1} % leave the edge>",
            self.core.len(),
            self.recipe.site.name,
            self.core.seed(),
            100.0 * self.core.share_leaving(),
        )
    }

    fn _repr_html_<'py>(slf: &Bound<'py, Self>) -> PyResult<Bound<'py, PyAny>> {
        crate::cards::html(slf.as_any())
    }

    fn __reduce__<'py>(&self, py: Python<'py>) -> Result<Reduced<'py>, Failure> {
        reduce::<Self>(py, &self.recipe)
    }
}

impl Passes {
    /// Passes and what they were made from.
    pub fn new(core: Core, recipe: Recipe) -> Self {
        Self { recipe, core }
    }
}

/// The share that does not leave above which it is said first.
const MANY: f64 = 0.05;
/// The fall height above which a caution is given, m.
const HIGH: f64 = 1.5;

fn warnings(passes: &Core) -> Vec<String> {
    let mut said = Vec::new();
    let staying = 1.0 - passes.share_leaving();
    if staying > MANY {
        said.push(format!("{:.1} % do not leave the edge: see reasons", 100.0 * staying));
    }
    let high = passes
        .members()
        .iter()
        .filter(|pass| pass.contact().is_some_and(|contact| contact.fall_height > HIGH));
    let share: f64 = high.map(|pass| pass.drawn.weight).sum();
    if share > 0.0 {
        said.push(format!(
            "{:.1} % come down harder than a fall height of {HIGH} m, which can hurt",
            100.0 * share
        ));
    }
    said
}

impl Pickled for Passes {
    const NAME: &'static str = "Passes";
    type Core = Recipe;

    fn from_core(recipe: Recipe) -> Result<Self, Failure> {
        Ok(Self { core: recipe.ride(&watch::Crew::default())?, recipe })
    }
}
