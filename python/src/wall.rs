//! A swept wall.

use crate::air::Air;
use crate::arrays::{self, Triple, vector};
use crate::errors::Failure;
use crate::free::{Given, Wanted};
use crate::hold::HoldSpeeds;
use crate::line::{Line, Recipe};
use crate::pickle::{Pickled as _, pickled};
use crate::plan;
use crate::rider::Rider;
use crate::text as words;
use crate::units::{degrees, radians};
use loamline::feature::{Bank, FreeAim, FreeEntry, Wall as Core};
use loamline::geometry::Plan;
use numpy::{PyArray1, PyArray3};
use pyo3::prelude::*;

/// A panel carried along a curve in plan and banked to the outside of the turn.
///
/// An even bank is a wall ride, a growing one a steepening wall, a small one on a turn a berm.
///
/// Args:
///     radius: of the foot line in plan, m, with `sweep_deg`; or give `pieces`.
///     sweep_deg: how far the foot line turns, degrees, with `radius`.
///     bank_deg: at the start and the end, degrees, 0 to 90, even between; or one number all
///         along; or rows (station along the foot in m, degrees), smooth through them.
///     width: of the panel from its foot up, m, above 0 and at most 1000.
///     grade: rise of the foot line over its run, -1 to 1.
///     turn: "left" or "right", seen by the rider.
///     position: (x, y, z), m, of the foot line's start.
///     heading_deg: of the foot line at its start, counter-clockwise from +x, degrees.
///     pieces: the foot line in plan piece by piece: dicts of `length` (a straight), `radius` and
///         `sweep_deg` (an arc), or `length`, `radius_start` and `radius_end` (a clothoid;
///         `float("inf")` is straight); m and degrees.
///     end_skew_deg: the end edge off square, degrees, -60 to 60; positive where the top reaches on.
///     hollow_radius: by which the panel bends up across, m, above 0; None for a flat panel. The bank
///         is that at the foot, and grows by `width / hollow_radius` to the top, where it is at most 90
///         degrees; heights up the panel are measured along it.
///
/// Raises:
///     InputError: a number outside its range, with its name.
///
/// >>> import loamline as ll
/// >>> wall = ll.Wall(radius=7.0, sweep_deg=55.0, bank_deg=(20.0, 68.0), width=2.4)
/// >>> round(wall.length, 3)
/// 6.72
#[pyclass(frozen, eq, module = "loamline")]
#[derive(Debug, Clone, PartialEq)]
pub struct Wall {
    /// The core's wall.
    pub core: Core,
}

#[pymethods]
impl Wall {
    #[new]
    #[pyo3(
        signature = (
            radius=None, sweep_deg=None, bank_deg=None, width=None, grade=0.0, turn="left",
            position=Triple::zero(), heading_deg=0.0, pieces=None, end_skew_deg=0.0,
            hollow_radius=None,
        ),
        text_signature = "(radius=None, sweep_deg=None, bank_deg=None, width=None, grade=0.0, turn='left', position=(0, 0, 0), heading_deg=0.0, pieces=None, end_skew_deg=0.0, hollow_radius=None)"
    )]
    fn new(
        radius: Option<f64>,
        sweep_deg: Option<f64>,
        bank_deg: Option<&Bound<'_, PyAny>>,
        width: Option<f64>,
        grade: f64,
        turn: &str,
        position: Triple,
        heading_deg: f64,
        pieces: Option<&Bound<'_, PyAny>>,
        end_skew_deg: f64,
        hollow_radius: Option<f64>,
    ) -> Result<Self, Failure> {
        let (Some(bank_deg), Some(width)) = (bank_deg, width) else {
            return Err(Failure::input("a wall needs bank_deg and width"));
        };
        let plan = plan::from(radius, sweep_deg, pieces, turn)?;
        let core = Core::new(plan, bank(bank_deg)?, width)?
            .with_grade(grade)?
            .placed(position.named("position")?, radians("heading_deg", heading_deg)?)?
            .with_end_skew(radians("end_skew_deg", end_skew_deg)?)?
            .with_hollow(hollow_radius.unwrap_or(f64::INFINITY))?;
        Ok(Self { core })
    }

    /// A line on the wall.
    ///
    /// Args:
    ///     enter: metres up the panel from its foot, at the start.
    ///     leave: the same at the end edge; a quintic lies between, level along the panel at both
    ///         ends.
    ///     points: instead, rows (station along the foot, metres up the panel), smooth through them,
    ///         up to the end edge.
    ///
    /// Raises:
    ///     InputError: a line that is not on the panel, and where.
    ///
    /// >>> import loamline as ll
    /// >>> wall = ll.Wall(radius=7.0, sweep_deg=55.0, bank_deg=(20.0, 68.0), width=2.4)
    /// >>> round(wall.line(enter=0.25, leave=1.6).length, 2)
    /// 7.49
    #[pyo3(signature = (enter=None, leave=None, points=None))]
    fn line(
        &self,
        enter: Option<f64>,
        leave: Option<f64>,
        points: Option<&Bound<'_, PyAny>>,
    ) -> Result<Line, Failure> {
        let wall = self.core.clone();
        let recipe = match (enter, leave, points) {
            (Some(enter), Some(leave), None) => Recipe::Wall(wall, enter, leave),
            (None, None, Some(points)) => Recipe::Through(wall, arrays::pairs("points", points)?),
            _ => return Err(Failure::input("a line wants enter and leave, or points")),
        };
        Line::from_core(recipe)
    }

    /// The line of a rider who just lets it run: nothing is carried across it anywhere.
    ///
    /// The centre of mass is a particle on the surface parallel to the wall; drag, rolling resistance
    /// and the wheels' inertia hold it back along the line. Ridden again at the same speed, the
    /// line has no side load. It says where a wall leads, not where a rider steers.
    ///
    /// Args:
    ///     rider, air: who rides, through what.
    ///     enter: metres up the panel from its foot, at the start.
    ///     speed: the tyres' there, m/s, 0.1 to 100.
    ///     heading_deg: the tyres' direction there, from level along the panel, positive up it,
    ///         -90 to 90 degrees.
    ///     end: "edge": only a line that reaches the end edge is given; "any": also one that ends
    ///         otherwise, up to there. `line.free_end` says how.
    ///
    /// Returns:
    ///     Line: to be ridden like any other.
    ///
    /// Raises:
    ///     InputError: a number outside its range, with its name.
    ///     RideError: a line that does not reach the edge: it runs off the top, comes down to the foot,
    ///         turns back over the start, stalls (below 0.1 m/s) or leaves the surface; `outcome`, `station` and
    ///         `height` on the error say how and where. Or a hollow tighter than twice the height of the
    ///         centre of mass.
    ///
    /// >>> import loamline as ll
    /// >>> wall = ll.Wall(radius=7.0, sweep_deg=55.0, bank_deg=(20.0, 68.0), width=2.4)
    /// >>> line = wall.free_line(ll.Rider(), ll.Air(), enter=0.25, speed=8.0)
    /// >>> round(line.free_end.get("height"), 2)
    /// 0.71
    #[pyo3(
        signature = (rider, air, enter, speed, heading_deg=0.0, end="edge"),
        text_signature = "($self, rider, air, enter, speed, heading_deg=0.0, end='edge')"
    )]
    fn free_line(
        &self,
        py: Python<'_>,
        rider: &Rider,
        air: &Air,
        enter: f64,
        speed: f64,
        heading_deg: f64,
        end: &str,
    ) -> Result<Line, Failure> {
        let entry = FreeEntry::new(enter, speed).with_heading(radians("heading_deg", heading_deg)?);
        let (wall, rider) = (self.core.clone(), rider.core.clone());
        let wanted = Wanted::from_word(end)?;
        let given = Given { wall, rider, air: air.core, entry, wanted };
        py.detach(|| Line::from_core(Recipe::Free(Box::new(given))))
    }

    /// The entry speed whose free line leaves the end edge at a wanted height, m/s, up to 60.
    ///
    /// Args:
    ///     rider, air: who rides, through what.
    ///     enter, leave: metres up the panel from its foot, at the start and at the end edge.
    ///     heading_deg: the tyres' direction at the start, as in `free_line`.
    ///
    /// Raises:
    ///     InputError: a number outside its range, with its name.
    ///     RideError: no speed found gives that height.
    ///
    /// >>> import loamline as ll
    /// >>> wall = ll.Wall(radius=7.0, sweep_deg=55.0, bank_deg=(20.0, 68.0), width=2.4)
    /// >>> speed = wall.free_speed(ll.Rider(), ll.Air(), enter=0.25, leave=1.6)
    /// >>> line = wall.free_line(ll.Rider(), ll.Air(), enter=0.25, speed=speed)
    /// >>> round(line.free_end.get("height"), 6)
    /// 1.6
    #[pyo3(signature = (rider, air, enter, leave, heading_deg=0.0))]
    fn free_speed(
        &self,
        py: Python<'_>,
        rider: &Rider,
        air: &Air,
        enter: f64,
        leave: f64,
        heading_deg: f64,
    ) -> Result<f64, Failure> {
        let aim = FreeAim::new(enter, leave).with_heading(radians("heading_deg", heading_deg)?);
        let (wall, rider, air) = (&self.core, &rider.core, &air.core);
        Ok(py.detach(|| wall.free_speed(rider, air, &aim))?)
    }

    /// The entry speeds that hold a line to its end: `line.hold_speeds(rider, air, lean)`.
    ///
    /// Returns:
    ///     HoldSpeeds: unpacks as `slow, fast`, m/s; None, None where nothing holds, with `reason`.
    #[pyo3(
        signature = (line, rider, air, lean="balanced"),
        text_signature = "($self, line, rider, air, lean='balanced')"
    )]
    #[allow(clippy::unused_self, reason = "the line brings its wall; the call reads as it is said")]
    fn hold_speeds(
        &self,
        py: Python<'_>,
        line: &Line,
        rider: &Rider,
        air: &Air,
        lean: &str,
    ) -> Result<HoldSpeeds, Failure> {
        line.hold_speeds(py, rider, air, lean)
    }

    /// Length of the foot seen from above, m.
    #[getter]
    fn length(&self) -> f64 {
        self.core.length()
    }

    /// Width of the panel from its foot up, m.
    #[getter]
    fn width(&self) -> f64 {
        self.core.width()
    }

    /// Rise of the foot over its run.
    #[getter]
    fn grade(&self) -> f64 {
        self.core.grade()
    }

    /// To which side it turns, "left" or "right".
    #[getter]
    fn turn(&self) -> &'static str {
        plan::side(self.core.plan().turn())
    }

    /// Where the foot starts, m, an array of three.
    #[getter]
    fn position<'py>(&self, py: Python<'py>) -> Bound<'py, PyArray1<f64>> {
        vector(py, &self.core.position())
    }

    /// Heading of the foot where it starts, degrees.
    #[getter]
    fn heading_deg(&self) -> f64 {
        degrees(self.core.heading())
    }

    /// Skew of the end edge, degrees.
    #[getter]
    fn end_skew_deg(&self) -> f64 {
        degrees(self.core.end_skew())
    }

    /// Radius by which the panel bends up across, m; None for a flat one.
    #[getter]
    fn hollow_radius(&self) -> Option<f64> {
        self.core.hollow_radius()
    }

    /// Bank at a station along the foot, degrees; that of the foot itself for a hollow panel.
    fn bank_deg_at(&self, station: f64) -> f64 {
        degrees(self.core.bank_at(station))
    }

    /// The end edge at a height up the panel, m, an array of three.
    fn edge<'py>(&self, py: Python<'py>, height: f64) -> Bound<'py, PyArray1<f64>> {
        vector(py, &self.core.edge(height))
    }

    /// Points of the panel for pictures, m, (along, up, 3).
    ///
    /// Args:
    ///     along: how many along the foot, at least 2.
    ///     up: how many up the panel, at least 2.
    #[pyo3(signature = (along=60, up=12))]
    fn mesh<'py>(
        &self,
        py: Python<'py>,
        along: usize,
        up: usize,
    ) -> Result<Bound<'py, PyArray3<f64>>, Failure> {
        arrays::mesh(py, [("along", along), ("up", up)], |rows, columns| {
            self.core.mesh(rows, columns)
        })
    }

    fn __repr__(&self) -> String {
        text(&self.core)
    }
}

fn bank(given: &Bound<'_, PyAny>) -> Result<Bank, Failure> {
    if let Ok(all_along) = given.extract::<f64>() {
        return Ok(Bank::constant(radians("bank_deg", all_along)?)?);
    }
    if let Ok([start, end]) = given.extract::<[f64; 2]>() {
        return Ok(Bank::linear(radians("bank_deg", start)?, radians("bank_deg", end)?)?);
    }
    let rows = arrays::pairs("bank_deg", given)?;
    let turned: Vec<(f64, f64)> = rows.iter().map(|(s, bank)| (*s, bank.to_radians())).collect();
    Ok(Bank::stations(&turned)?)
}

/// What `repr` shows of a wall.
pub fn text(wall: &Core) -> String {
    let plan: &Plan = wall.plan();
    let bank = match wall.bank().ends() {
        Some((start, end)) => words::tuple(&[degrees(start), degrees(end)]),
        None => words::pairs(
            &wall.bank().rows().iter().map(|(s, b)| (*s, degrees(*b))).collect::<Vec<_>>(),
        ),
    };
    words::call(
        "Wall",
        &[
            ("pieces", plan::text(plan)),
            ("bank_deg", bank),
            ("width", words::float(wall.width())),
            ("grade", words::float(wall.grade())),
            ("turn", words::quoted(plan::side(plan.turn()))),
            ("position", words::tuple(wall.position().iter())),
            ("heading_deg", words::float(degrees(wall.heading()))),
            ("end_skew_deg", words::float(degrees(wall.end_skew()))),
            ("hollow_radius", words::maybe(wall.hollow_radius())),
        ],
    )
}

pickled!(Wall, Core);
