//! A site: all that is known about the place and who rides there.

use crate::air::Air;
use crate::arrays::{self, vector};
use crate::doubt::Doubt;
use crate::drop::Drop;
use crate::earth_soil::Soil;
use crate::errors::Failure;
use crate::ground::Ground;
use crate::line::{Line, Recipe, lean_from};
use crate::lip::Lip;
use crate::passes::{Passes, Recipe as PassesRecipe};
use crate::pickle::{Pickled as _, pickled};
use crate::profile::Profile;
use crate::ride::Ride;
use crate::rider_class::RiderClass;
use crate::text;
use crate::wall::Wall;
use crate::watch;
use loamline::earth::Loads;
use loamline::files;
use loamline::math::Vec2;
use loamline::site::{Descent, Site as Core, Takeoff};
use numpy::PyArray2;
use pyo3::prelude::*;
use pyo3::types::PyDict;
use std::path::PathBuf;

/// A site, values only: the place, its takeoff, who rides there, and what a landing may be.
///
/// Made by `Site.load(path)` and `Site.demo()`. The site frame is right-handed with z up, metres.
#[pyclass(frozen, eq, module = "loamline")]
#[derive(Debug, Clone, PartialEq)]
pub struct Site {
    /// The core's site.
    pub core: Core,
}

/// Name, place and radius.
type Obstacle = (String, (f64, f64, f64), f64);
/// Name and corners.
type KeepOut<'py> = (Option<String>, Bound<'py, PyArray2<f64>>);

fn corners<'py>(py: Python<'py>, corners: &[Vec2]) -> PyResult<Bound<'py, PyArray2<f64>>> {
    arrays::rows(py, corners.iter().map(|corner| [corner.x, corner.y]))
}

#[pymethods]
impl Site {
    /// The site that a file tells, with the tables it names.
    ///
    /// Args:
    ///     path: the site file (TOML).
    ///
    /// Raises:
    ///     FileError: names the file, the line, the key, the value and what may stand there.
    #[staticmethod]
    fn load(py: Python<'_>, path: PathBuf) -> Result<Self, Failure> {
        Ok(Self { core: py.detach(|| files::load_site(path))? })
    }

    /// The demo site: an invented heath with a right-hand wall that steepens, before a gully.
    ///
    /// >>> import loamline as ll
    /// >>> ll.Site.demo().invented
    /// True
    #[staticmethod]
    fn demo() -> Result<Self, Failure> {
        Ok(Self { core: files::demo_site()? })
    }

    /// Write the site to a file, with its tables beside it; whole or not at all.
    ///
    /// Args:
    ///     path: the site file (TOML).
    ///
    /// Raises:
    ///     FileError: a file that cannot be written.
    fn save(&self, py: Python<'_>, path: PathBuf) -> Result<(), Failure> {
        Ok(py.detach(|| files::save_site(path, &self.core))?)
    }

    /// What the site is called.
    #[getter]
    fn name(&self) -> &str {
        &self.core.name
    }

    /// What is to be known about it, in words.
    #[getter]
    fn note(&self) -> &str {
        &self.core.note
    }

    /// Whether the site is invented: an example, not a place.
    #[getter]
    fn invented(&self) -> bool {
        self.core.invented
    }

    /// Density, wind and gravity, in the middle of a wind that differs from pass to pass.
    ///
    /// Raises:
    ///     InputError: air that cannot be.
    #[getter]
    fn air(&self) -> Result<Air, Failure> {
        Ok(Air { core: self.core.middle_air()? })
    }

    /// Marks to tape from: a dict of name and (x, y, z), m, an array of three.
    #[getter]
    fn marks<'py>(&self, py: Python<'py>) -> PyResult<Bound<'py, PyDict>> {
        let marks = PyDict::new(py);
        for mark in &self.core.marks {
            marks.set_item(&mark.name, vector(py, &mark.position))?;
        }
        Ok(marks)
    }

    /// Level length of the run-in, m: the farthest start mark up the hill.
    #[getter]
    fn run_in_length(&self) -> f64 {
        self.core.run_in.level_length()
    }

    /// Points of the ground as surveyed, m, (n, 3).
    #[getter]
    fn survey<'py>(&self, py: Python<'py>) -> PyResult<Bound<'py, PyArray2<f64>>> {
        arrays::vectors(py, &self.core.survey)
    }

    /// The ground as surveyed: triangles between the points, nothing beyond their hull.
    ///
    /// Raises:
    ///     InputError: points that make no surface.
    #[getter]
    fn ground(&self) -> Result<Ground, Failure> {
        Ok(Ground::from(self.core.ground()?))
    }

    /// The run-in's profile, as given; only differences count: its end lies where the tyres come
    /// onto the takeoff.
    ///
    /// Raises:
    ///     InputError: points that make no profile.
    #[getter]
    fn profile(&self) -> Result<Profile, Failure> {
        let run_in = self.core.run_in.clone();
        Profile::plain(run_in.distance, run_in.height, run_in.corner_radius)
    }

    /// What is ridden and left: a `Wall`, `Lip` or `Drop`.
    #[getter]
    fn takeoff<'py>(&self, py: Python<'py>) -> Result<Bound<'py, PyAny>, Failure> {
        Ok(match &self.core.takeoff {
            Takeoff::Wall(core) => Bound::new(py, Wall { core: core.clone() })?.into_any(),
            Takeoff::Lip(core) => Bound::new(py, Lip { core: core.clone() })?.into_any(),
            Takeoff::Drop(core) => Bound::new(py, Drop { core: core.clone() })?.into_any(),
            other => {
                let message = format!("no class for a takeoff of kind {}", other.name());
                return Err(Failure::input(&message));
            }
        })
    }

    /// The wall that is ridden and left; None where the takeoff is another.
    #[getter]
    fn wall(&self) -> Option<Wall> {
        self.core.takeoff.as_wall().map(|core| Wall { core: core.clone() })
    }

    /// How far up the panel from its foot the tyres come onto a wall, m; 0 on a lip or a drop.
    #[getter]
    fn enter(&self) -> f64 {
        self.core.enter
    }

    /// How far up a wall's panel riders leave it at most, m; None where nothing holds them to it.
    #[getter]
    fn leave_at_most(&self) -> Option<f64> {
        self.core.leave_at_most
    }

    /// Speed above which nobody comes onto the takeoff, m/s; None where there is no speed check.
    #[getter]
    fn speed_check(&self) -> Option<f64> {
        self.core.run_in.speed_check
    }

    /// Who rides here.
    #[getter]
    fn classes(&self) -> Vec<RiderClass> {
        self.core.classes.iter().map(|class| RiderClass { core: class.clone() }).collect()
    }

    /// What the soil is called.
    #[getter]
    fn soil(&self) -> &str {
        self.core.soil.name()
    }

    /// The soil with its numbers.
    #[getter]
    fn earth(&self) -> Soil {
        Soil { core: self.core.soil.clone() }
    }

    /// Loose earth in a barrow, m^3.
    #[getter]
    fn barrow_volume(&self) -> f64 {
        self.core.barrow.volume()
    }

    /// How many barrows there are.
    #[getter]
    fn barrow_count(&self) -> u32 {
        self.core.barrow_count
    }

    /// Placed earth that one barrow makes in the site's soil, before it settles, m^3.
    ///
    /// Raises:
    ///     InputError: a soil that holds none.
    #[getter]
    fn barrow_in_place(&self) -> Result<f64, Failure> {
        Ok(Loads::placed_from_barrows(1.0, &self.core.soil, &self.core.barrow)?)
    }

    /// Equivalent fall height up to which a touchdown counts as soft, m.
    #[getter]
    fn fall_limit(&self) -> f64 {
        self.core.fall_limit
    }

    /// How far in plan a landing must stay from the edge that is left, m.
    #[getter]
    fn edge_clearance(&self) -> f64 {
        self.core.landing.edge_clearance
    }

    /// Corners in plan, in order, of the area that a landing's deck, and all earth of a free landing,
    /// must lie in, m, (n, 2); no rows where it may lie anywhere.
    #[getter]
    fn area<'py>(&self, py: Python<'py>) -> PyResult<Bound<'py, PyArray2<f64>>> {
        corners(py, &self.core.landing.area)
    }

    /// Where no earth may lie at all: rows of name (None where it has none) and corners in plan, in
    /// order, m, (n, 2).
    #[getter]
    fn keep_outs<'py>(&self, py: Python<'py>) -> PyResult<Vec<KeepOut<'py>>> {
        let outs = self.core.landing.keep_outs.iter();
        outs.map(|out| Ok((out.name.clone(), corners(py, &out.corners)?))).collect()
    }

    /// What stays where it is: rows of name, (x, y, z) in m with z of the ground there (NaN off
    /// the survey), and radius in m.
    ///
    /// Raises:
    ///     InputError: points that make no ground.
    #[getter]
    fn obstacles(&self) -> Result<Vec<Obstacle>, Failure> {
        let ground = self.core.ground()?;
        let obstacles = self.core.landing.obstacles.iter().map(|obstacle| {
            let (x, y) = (obstacle.position.x, obstacle.position.y);
            let z = ground.height(x, y).unwrap_or(f64::NAN);
            (obstacle.name.clone(), (x, y, z), obstacle.radius)
        });
        Ok(obstacles.collect())
    }

    /// The tyres' line down the run-in from a start mark.
    ///
    /// Args:
    ///     start: level distance up the hill from the run-in's end, m.
    ///
    /// Raises:
    ///     InputError: a start mark off the run-in.
    fn run_in(&self, start: f64) -> Result<Line, Failure> {
        Line::from_core(Recipe::Site(Box::new(self.core.clone()), start))
    }

    /// How the middle rider of a class rides the takeoff, from rest at a start mark.
    ///
    /// Args:
    ///     start: level distance up the hill from the run-in's end, m.
    ///     leave: where he leaves the edge, m: up a wall's panel; or to the left of the middle of a
    ///         lip or a drop.
    ///     who: the class's name.
    ///     lean: how he leans on the takeoff: "deck", "balanced" or "settled", as in `line.ride`.
    ///
    /// Returns:
    ///     Ride: on the takeoff, or down the run-in where he does not come farther.
    ///
    /// Raises:
    ///     InputError: a class, start, place or lean that there is not.
    #[pyo3(signature = (start, leave, who, lean="deck"))]
    fn ride(
        &self,
        py: Python<'_>,
        start: f64,
        leave: f64,
        who: &str,
        lean: &str,
    ) -> Result<Ride, Failure> {
        let descent = self.descent(py, start, leave, who, lean)?;
        Ok(Ride { core: descent.wall.unwrap_or(descent.run_in) })
    }

    /// Both rides of `ride`: down the run-in, and on the takeoff (None where he does not come there).
    ///
    /// Args:
    ///     start: level distance up the hill from the run-in's end, m.
    ///     leave: where he leaves the edge, m, as in `ride`.
    ///     who: the class's name.
    ///     lean: how he leans on the takeoff, as in `ride`.
    ///
    /// Raises:
    ///     InputError: a class, start, place or lean that there is not.
    #[pyo3(signature = (start, leave, who, lean="deck"))]
    fn descend(
        &self,
        py: Python<'_>,
        start: f64,
        leave: f64,
        who: &str,
        lean: &str,
    ) -> Result<(Ride, Option<Ride>), Failure> {
        let descent = self.descent(py, start, leave, who, lean)?;
        Ok((Ride { core: descent.run_in }, descent.wall.map(|core| Ride { core })))
    }

    /// Everyone who comes down the hill: rides, flights and touchdowns on the site's ground.
    ///
    /// The same numbers to the last bit for the same site, `n` and `seed` on any number of threads.
    ///
    /// Args:
    ///     n: how many, 1 to 1048576.
    ///     seed: of the scrambled low-discrepancy sequence they are drawn by.
    ///     doubt: what nobody knows, drawn again in scenarios; None rides as the site says.
    ///     threads: how many; None takes as many as the machine has.
    ///     progress: True for a line on standard error, or a function of (done, total) that may
    ///         return False to stop.
    ///
    /// Raises:
    ///     InputError: a number outside its range, a site that is none.
    ///     PassesError: nobody leaves the edge, and why.
    ///     Cancelled: stopped by the progress function.
    #[pyo3(signature = (n=4096, seed=1, doubt=None, threads=None, progress=None))]
    fn passes(
        &self,
        py: Python<'_>,
        n: usize,
        seed: u64,
        doubt: Option<&Doubt>,
        threads: Option<usize>,
        progress: Option<Bound<'_, PyAny>>,
    ) -> Result<Passes, Failure> {
        let progress = watch::listener(progress)?;
        let doubt = doubt.map(|doubt| doubt.core);
        let recipe = PassesRecipe::new(self.core.clone(), n, seed, doubt);
        let work = |crew: &watch::Crew<'_>| recipe.ride(crew);
        let core = watch::crewed(py, threads, progress.as_ref(), work)??;
        Ok(Passes::new(core, recipe))
    }

    fn __repr__(&self) -> String {
        let invented = if self.core.invented { " (invented)" } else { "" };
        format!(
            "<Site {}{invented}: {} rider classes, {} surveyed points, {} barrows of {}>",
            text::quoted(&self.core.name),
            self.core.classes.len(),
            self.core.survey.len(),
            self.core.barrow_count,
            self.core.soil.name(),
        )
    }
}

impl Site {
    fn descent(
        &self,
        py: Python<'_>,
        start: f64,
        leave: f64,
        who: &str,
        lean: &str,
    ) -> Result<Descent, Failure> {
        let (site, lean) = (&self.core, lean_from(lean)?);
        Ok(py.detach(|| site.ride(start, leave, who, lean))?)
    }
}

pickled!(Site, Core);
