//! The line that the tyres follow.

use crate::air::Air;
use crate::arrays;
use crate::brake;
use crate::errors::Failure;
use crate::free;
use crate::hold::HoldSpeeds;
use crate::pickle::{Pickled, Reduced, reduce};
use crate::profile::{self, Profile};
use crate::ride::Ride;
use crate::rider::Rider;
use crate::text;
use loamline::feature::{Drop, Entrance, FreeEnd, Lip, Wall};
use loamline::geometry::{Frame, Line as Core};
use loamline::ride::{Lean, RideOptions};
use loamline::site::Site;
use numpy::{IntoPyArray, PyArray1, PyArray2};
use pyo3::prelude::*;
use pyo3::types::PyDict;
use serde::{Deserialize, Serialize};

/// What a line was made of: a line itself is a curve of any kind and cannot be written down.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub enum Recipe {
    /// Along a whole profile.
    Profile(profile::Given),
    /// Along a profile from a start mark.
    RunIn(profile::Given, f64),
    /// Down a site's run-in, from a start mark.
    Site(Box<Site>, f64),
    /// On a wall, from an entry height to an exit height.
    Wall(Wall, f64, f64),
    /// On a wall, through rows of station and height.
    Through(Wall, Vec<(f64, f64)>),
    /// Over a lip, so far across.
    Lip(Lip, f64),
    /// Along a drop's deck, so far across.
    Drop(Drop, f64),
    /// Up an entrance, so far across.
    Entrance(Entrance, f64),
    /// On a wall, as who lets it run goes.
    Free(Box<free::Given>),
}

impl Recipe {
    /// The line, and how a free one ends.
    fn build(&self) -> Result<(Core, Option<FreeEnd>), Failure> {
        let line = match self {
            Self::Profile(given) => Profile::from_core(given.clone())?.core.line(),
            Self::RunIn(given, start) => Profile::from_core(given.clone())?.core.run_in(*start)?,
            Self::Site(site, start) => site.run_in(*start)?,
            Self::Wall(wall, enter, leave) => wall.line(*enter, *leave)?,
            Self::Through(wall, points) => wall.line_through(points)?,
            Self::Lip(lip, offset) => lip.line(*offset)?,
            Self::Drop(drop, offset) => drop.line(*offset)?,
            Self::Entrance(entrance, offset) => entrance.line(*offset)?,
            Self::Free(given) => {
                let free = given.build()?;
                return Ok((free.line().clone(), Some(*free.end())));
            }
        };
        Ok((line, None))
    }

    /// Whether the rider's wheels fit what is ridden.
    fn check_rider(&self, rider: &Rider) -> Result<(), Failure> {
        match self {
            Self::Lip(lip, _) => lip.check_rider(&rider.core)?,
            Self::Entrance(entrance, _) => entrance.check_rider(&rider.core)?,
            _ => {}
        }
        Ok(())
    }

    fn text(&self) -> String {
        match self {
            Self::Profile(given) => format!("{}.line()", given.text()),
            Self::RunIn(given, start) => {
                format!("{}.run_in({})", given.text(), text::float(*start))
            }
            Self::Site(site, start) => {
                format!(
                    "<Line: run-in of {} from {} m>",
                    text::quoted(&site.name),
                    text::float(*start)
                )
            }
            Self::Wall(wall, enter, leave) => {
                let [enter, leave] = [*enter, *leave].map(text::float);
                format!("{}.line(enter={enter}, leave={leave})", crate::wall::text(wall))
            }
            Self::Through(wall, points) => {
                format!("{}.line(points={})", crate::wall::text(wall), text::pairs(points))
            }
            Self::Lip(lip, offset) => across(&crate::lip::text(lip), *offset),
            Self::Drop(drop, offset) => across(&crate::drop::text(drop), *offset),
            Self::Entrance(entrance, offset) => across(&crate::entrance::text(entrance), *offset),
            Self::Free(given) => given.text(),
        }
    }
}

fn across(ramp: &str, offset: f64) -> String {
    format!("{ramp}.line(offset={})", text::float(offset))
}

/// The line that the tyres follow, with the surface's normal under it.
///
/// Made by `profile.line()`, `profile.run_in(start)`, `wall.line(...)`, `wall.free_line(...)` and
/// `lip.line(...)`. Stations are metres of arc length from its start.
#[pyclass(frozen, module = "loamline")]
#[derive(Debug, Clone)]
pub struct Line {
    recipe: Recipe,
    /// The core's line.
    pub core: Core,
    /// How a free line ends.
    free_end: Option<FreeEnd>,
}

#[pymethods]
impl Line {
    /// Length along the tyres' line, m.
    #[getter]
    fn length(&self) -> f64 {
        self.core.length()
    }

    /// Stations where curvature may jump, ends not included, m, (n,).
    #[getter]
    fn joints<'py>(&self, py: Python<'py>) -> Bound<'py, PyArray1<f64>> {
        self.core.joints().into_pyarray(py)
    }

    /// `n` points evenly along the line, ends included, m, (n, 3).
    #[pyo3(signature = (n=200))]
    fn points<'py>(&self, py: Python<'py>, n: usize) -> Result<Bound<'py, PyArray2<f64>>, Failure> {
        let places = self.frames(arrays::places("n", n)?).map(|frame| frame.position);
        Ok(arrays::vectors(py, places.collect::<Vec<_>>().iter())?)
    }

    /// Unit normals of the surface at the stations of `points(n)`, (n, 3).
    #[pyo3(signature = (n=200))]
    fn normals<'py>(
        &self,
        py: Python<'py>,
        n: usize,
    ) -> Result<Bound<'py, PyArray2<f64>>, Failure> {
        let normals = self.frames(arrays::places("n", n)?).map(|frame| frame.normal);
        Ok(arrays::vectors(py, normals.collect::<Vec<_>>().iter())?)
    }

    /// Where `n` points evenly along a line on a wall are on its panel, m, (n, 2).
    ///
    /// Columns are the station along the wall's foot and the distance up the panel: what
    /// `loamline.plot.wall` draws.
    ///
    /// Raises:
    ///     InputError: a line that is not on a wall.
    #[pyo3(signature = (n=200))]
    fn on_panel<'py>(
        &self,
        py: Python<'py>,
        n: usize,
    ) -> Result<Bound<'py, PyArray2<f64>>, Failure> {
        let places: Option<Vec<[f64; 2]>> = self
            .stations(arrays::places("n", n)?)
            .map(|station| self.core.on_panel(station).map(|at| [at.station, at.height]))
            .collect();
        let places = places.ok_or_else(|| Failure::input("this line is not on a wall"))?;
        Ok(arrays::rows(py, places)?)
    }

    /// How a free line ends; None for a line that was given.
    ///
    /// A dict of `outcome` ("edge", "top", "foot", "start", "stalled" or "left_surface"), `station`
    /// (m along the foot), `height` (m up the panel), `speed` (of the tyres, m/s), `heading_deg` (of
    /// the tyres, from level along the panel, positive up it) and `time` (s).
    #[getter]
    fn free_end<'py>(&self, py: Python<'py>) -> PyResult<Option<Bound<'py, PyDict>>> {
        self.free_end.as_ref().map(|end| free::dict(py, end)).transpose()
    }

    /// The ride along this line.
    ///
    /// What goes wrong on the way is the ride's `outcome`, not an error. The rider is one rigid
    /// body that does not pump; speeds are good to about 1e-11 within that model.
    ///
    /// Args:
    ///     rider, air: who rides, through what.
    ///     speed: the tyres' at the line's start, m/s, 0 (from rest) to 100.
    ///     brake: a deceleration all along, m/s^2; or zones in order: rows (from, to, deceleration)
    ///         with stations in m, or dicts with `from`, `to` and `deceleration` or `speed` (the
    ///         speed wanted at the zone's end, m/s). Always limited to the grip left.
    ///     lean: "deck": square to what is under the tyres, soft on slow riders; "balanced": the
    ///         contact force passes through the centre of mass at every station, without swing
    ///         across at the line's end; "settled": balanced, and at the line's end leant as a
    ///         point on the tyres' line would be, so that a slow rider nearly stands.
    ///     power: pedalling, W, at least 0.
    ///     drive_limit: the most that pedalling pushes, m/s^2 (3 is an assumption).
    ///     sample: the farthest that stations may lie apart, m, 1e-4 to 1; None keeps the exit only.
    ///
    /// Raises:
    ///     InputError: a number outside its range.
    ///     RideError: a hollow, or a bend leant into, tighter than twice the height of the centre
    ///         of mass; a balance that is not found; a lip tighter than the wheels.
    ///
    /// >>> import loamline as ll
    /// >>> level = ll.Profile([0, 30], [0, 0]).line()
    /// >>> ride = level.ride(ll.Rider(crr=0.0, cda=0.0), ll.Air(), speed=8.0)
    /// >>> ride.outcome, round(ride.exit_speed, 9)
    /// ('reached', 8.0)
    #[pyo3(
        signature = (
            rider, air, speed, brake=None, lean="deck", power=0.0, drive_limit=3.0,
            sample=Some(0.02)
        ),
        text_signature = "($self, rider, air, speed, brake=None, lean='deck', power=0.0, drive_limit=3.0, sample=0.02)"
    )]
    fn ride(
        &self,
        py: Python<'_>,
        rider: &Rider,
        air: &Air,
        speed: f64,
        brake: Option<&Bound<'_, PyAny>>,
        lean: &str,
        power: f64,
        drive_limit: f64,
        sample: Option<f64>,
    ) -> Result<Ride, Failure> {
        self.recipe.check_rider(rider)?;
        let (lean, brake) = (lean_from(lean)?, brake::from(brake)?);
        let options = RideOptions { speed, brake, power, drive_limit, lean, sample };
        let (line, rider, air) = (&self.core, &rider.core, &air.core);
        let core = py.detach(|| line.ride(rider, air, &options))?;
        Ok(Ride { core })
    }

    /// The entry speeds that hold this line to its end, without braking or pedalling.
    ///
    /// Args:
    ///     rider, air: who rides, through what.
    ///     lean: "balanced", which alone judges what holds; or "settled", or "deck", whose side
    ///         load goes through a roll moment that two tyres cannot give.
    ///
    /// Returns:
    ///     HoldSpeeds: unpacks as `slow, fast`, m/s; None, None where nothing holds, with `reason`.
    #[pyo3(
        signature = (rider, air, lean="balanced"),
        text_signature = "($self, rider, air, lean='balanced')"
    )]
    pub fn hold_speeds(
        &self,
        py: Python<'_>,
        rider: &Rider,
        air: &Air,
        lean: &str,
    ) -> Result<HoldSpeeds, Failure> {
        self.recipe.check_rider(rider)?;
        let lean = lean_from(lean)?;
        let (line, rider, air) = (&self.core, &rider.core, &air.core);
        Ok(HoldSpeeds { core: py.detach(|| line.hold_speeds(rider, air, lean))? })
    }

    fn __eq__(&self, other: &Self) -> bool {
        self.recipe == other.recipe
    }

    fn __repr__(&self) -> String {
        self.recipe.text()
    }

    fn _repr_html_<'py>(slf: &Bound<'py, Self>) -> PyResult<Bound<'py, PyAny>> {
        crate::cards::html(slf.as_any())
    }

    fn __reduce__<'py>(&self, py: Python<'py>) -> Result<Reduced<'py>, Failure> {
        reduce::<Self>(py, &self.recipe)
    }
}

impl Line {
    /// The line along a whole profile.
    pub fn of_profile(profile: Profile) -> Self {
        let recipe = Recipe::Profile(profile.given.clone());
        Self { core: profile.core.line(), recipe, free_end: None }
    }

    fn stations(&self, n: usize) -> impl Iterator<Item = f64> + '_ {
        let step = self.core.length() / n.saturating_sub(1).max(1) as f64;
        (0..n).map(move |i| i as f64 * step)
    }

    fn frames(&self, n: usize) -> impl Iterator<Item = Frame> + '_ {
        self.stations(n).map(|station| self.core.frame(station))
    }
}

/// A lean from its name.
pub fn lean_from(name: &str) -> Result<Lean, Failure> {
    Lean::ALL.into_iter().find(|lean| lean.name() == name).ok_or_else(|| {
        let known = "\"deck\", \"balanced\" and \"settled\" are";
        Failure::input(&format!("lean = \"{name}\" is not known: {known}")).about("lean")
    })
}

impl Pickled for Line {
    const NAME: &'static str = "Line";
    type Core = Recipe;

    fn from_core(recipe: Recipe) -> Result<Self, Failure> {
        let (core, free_end) = recipe.build()?;
        Ok(Self { recipe, core, free_end })
    }
}
