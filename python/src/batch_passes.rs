//! Many passes over one takeoff at once, as arrays.

use crate::air::Air;
use crate::arrays;
use crate::columns::columns_class;
use crate::drop::Drop;
use crate::errors::Failure;
use crate::ground::Ground;
use crate::line::lean_from;
use crate::lip::Lip;
use crate::rider::Rider;
use crate::units::degrees;
use crate::wall::Wall;
use crate::watch::Crew;
use loamline::passes::batch::{Batch, Columns, Entries, Status};
use loamline::site::Takeoff;
use pyo3::prelude::*;

columns_class! {
    /// Many passes over one takeoff: entry, edge, launch and the same fields as a touchdown's as arrays; a row per pass.
    ///
    /// Made by `passes(...)`. A number that a pass does not have is NaN, and its `status` says why.
    class BatchPasses of Columns, Status, "pass";
    /// How each came out, (n,) of str: "landed"; on a landing "caught", "short", "long" or "wide";
    /// else "rolled_off", "off_survey", "no_touchdown"; who does not leave the edge "slid", "stalled",
    /// "did_not_start", "left_surface", "unbalanced" or "hung_up"; "bad_input" (a number that is not
    /// finite or out of its range) or "failed" (what numbers do not hold).
    outcome;
    /// The tyres' speed at the takeoff's start, m/s, (n,).
    entry_speed: f64 = entry_speed;
    /// The tyres' speed at the edge, m/s, (n,).
    exit_speed: f64 = exit_speed;
    /// Time from the launch to the touch, s, (n,).
    time: f64 = time;
    /// Speed into the surface, m/s, (n,).
    normal_speed: f64 = normal_speed;
    /// Equivalent fall height, m, (n,).
    fall_height: f64 = fall_height;
    /// Angle between path and surface, degrees, (n,).
    angle_deg: f64 = angle by degrees;
    /// Level distance from the tyres' point at the launch to the mark, m, (n,).
    distance: f64 = distance;
    /// How far the mark is below that point, m, (n,).
    drop: f64 = drop;
    /// Speed over the surface, forward, m/s, (n,).
    along_speed: f64 = along_speed;
    /// Speed over the surface to the left of forward, m/s, (n,).
    sideways_speed: f64 = sideways_speed;
    /// Grip that stopping the sideways speed would take, (n,).
    grip_demand: f64 = grip_demand;
    /// Lean still owed at the touch, degrees, (n,).
    lean_owed_deg: f64 = lean_owed by degrees;
    /// Distance to the ground less reach, m, (n,).
    residual: f64 = residual;
    /// The centre of mass at the launch, m, (n, 3).
    launch_position: [f64; 3] = launch_position;
    /// Its velocity there, m/s, (n, 3).
    launch_velocity: [f64; 3] = launch_velocity;
    /// The tyres' mark, m, (n, 3).
    mark: [f64; 3] = mark;
    /// Velocity of the centre of mass at the touch, m/s, (n, 3).
    velocity: [f64; 3] = velocity;
    /// Unit vector from the touched place to the centre of mass, (n, 3).
    normal: [f64; 3] = normal;
}

/// What is ridden to leave the ground.
#[derive(Debug, FromPyObject)]
pub enum AnyTakeoff<'py> {
    /// A wall.
    Wall(PyRef<'py, Wall>),
    /// A lip.
    Lip(PyRef<'py, Lip>),
    /// A drop.
    Drop(PyRef<'py, Drop>),
}

impl AnyTakeoff<'_> {
    fn core(&self) -> Takeoff {
        match self {
            Self::Wall(wall) => wall.core.clone().into(),
            Self::Lip(lip) => lip.core.clone().into(),
            Self::Drop(drop) => drop.core.clone().into(),
        }
    }
}

/// Many passes over one takeoff at once: as the takeoff's line to each `leave`, its ride, launch,
/// flight and touchdown row by row, in parallel.
///
/// Onto a plane places are within 1e-8 m of that, onto all other grounds within 1e-6 m; speeds over
/// the surface are within 1e-6 m/s. Square to the takeoff in calm air ("deck") a pass that holds takes
/// less than a microsecond onto a plane and some five onto a grid, once the takeoff's lines are known
/// (some tens of milliseconds); in wind and with the other leans each is ridden by itself. The same numbers to the last bit on any number of threads of
/// one machine, and whatever the other rows. A row with a number that is not finite or out of its
/// range gives NaN and the status "bad_input".
///
/// A forecast is judged by the hardest of three leans (`Site.passes`): "deck" alone is soft on slow
/// riders. Numbers guide; they certify nothing.
///
/// Args:
///     takeoff: Wall, Lip or Drop.
///     speed: the tyres' at the takeoff's start, m/s, 0 to 100, (n,).
///     leave: where on the edge they leave, m, (n,): up a wall's panel, to the left of the middle of a
///         lip or a drop.
///     ground, rider, air: onto what, who, through what.
///     enter: how far up a wall's panel they come onto it, m.
///     pop: the push off the edge, m/s, -5 to 5, (n,) or one number.
///     lean: "deck", "balanced" or "settled".
///     threads: how many; None takes as many as the machine has.
///     out: BatchPasses of the same n whose arrays are written over and given back.
///     progress: True for a line on standard error, or a function of (done, total) that may
///         return False to stop.
///
/// Raises:
///     InputError: arrays whose shapes do not fit, or an `enter` off the panel.
///     Cancelled: stopped by the progress function.
///
/// >>> import loamline as ll
/// >>> wall = ll.Wall(radius=7.0, sweep_deg=55.0, bank_deg=(20.0, 68.0), width=2.4)
/// >>> scene = (ll.Ground.plane(), ll.Rider(grip=0.9), ll.Air())
/// >>> many = ll.passes(wall, [8.0, 9.0], [1.2, 1.6], *scene, enter=0.25)
/// >>> print(*many.outcome)
/// landed landed
#[pyfunction]
#[pyo3(signature = (
    takeoff, speed, leave, ground, rider, air, enter=0.0, pop=None, lean="deck", threads=None,
    out=None, progress=None,
), text_signature = "(takeoff, speed, leave, ground, rider, air, enter=0.0, pop=0.0, lean='deck', threads=None, out=None, progress=None)")]
pub fn passes<'py>(
    py: Python<'py>,
    takeoff: AnyTakeoff<'py>,
    speed: &Bound<'py, PyAny>,
    leave: &Bound<'py, PyAny>,
    ground: &Ground,
    rider: &Rider,
    air: &Air,
    enter: f64,
    pop: Option<&Bound<'py, PyAny>>,
    lean: &str,
    threads: Option<usize>,
    out: Option<Bound<'py, BatchPasses>>,
    progress: Option<Bound<'py, PyAny>>,
) -> Result<Bound<'py, BatchPasses>, Failure> {
    let speed = arrays::row("speed", speed)?;
    let n = speed.len();
    let leave = arrays::column("leave", leave, n)?;
    let pop = pop.map_or_else(|| Ok(vec![0.0; n]), |pop| arrays::column_or_one("pop", pop, n))?;
    let out = BatchPasses::over(py, out, n)?;
    let lean = lean_from(lean)?;
    let batch = Batch::new(&takeoff.core(), enter, &ground.core, &rider.core, &air.core)?;
    let batch = batch.with_lean(lean);
    let entries = Entries { speed: &speed, leave: &leave, pop: &pop };
    let work =
        |columns: &mut Columns<'_>, crew: &Crew<'_>| batch.passes_into(entries, columns, crew);
    out.get().write(py, threads, progress, work)?;
    Ok(out)
}
