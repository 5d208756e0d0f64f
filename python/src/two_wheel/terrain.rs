//! What two wheels ride over.

use crate::arrays::{self, pair};
use crate::errors::Failure;
use crate::ground::Ground;
use crate::pickle::pickled;
use crate::profile::Profile;
use crate::units::{degrees, radians};
use loamline::two_wheel::{Section, Terrain as Core};
use nalgebra::Vector2;
use numpy::PyArray2;
use pyo3::prelude::*;

/// What two wheels ride over, seen from the side: profiles one after the other.
///
/// Each profile keeps its own level distances and heights; its placement in the site is left aside.
/// Where one begins at the distance at which the one before ends, a difference in height is a
/// vertical face; where it begins farther on there is a gap without bottom. The ground is rigid.
///
/// Args:
///     profiles: in the order in which they are ridden, at least one.
///     heading_deg: along which they are ridden, counter-clockwise from +x, degrees: wind is seen
///         from there.
///
/// Raises:
///     InputError: no profile, or one that begins before the one before it ends.
///
/// >>> import loamline as ll
/// >>> deck = ll.Profile([0, 10], [1.0, 1.0], radius=1.0)
/// >>> ground = ll.Profile([10, 30], [0.0, -2.0], radius=1.0)
/// >>> ll.Terrain([deck, ground]).span
/// (0.0, 30.0)
#[pyclass(frozen, eq, module = "loamline")]
#[derive(Debug, Clone, PartialEq)]
pub struct Terrain {
    /// The core's terrain.
    pub core: Core,
}

#[pymethods]
impl Terrain {
    #[new]
    #[pyo3(signature = (profiles, heading_deg=0.0))]
    fn new(profiles: Vec<Bound<'_, Profile>>, heading_deg: f64) -> Result<Self, Failure> {
        let profiles: Vec<_> = profiles.iter().map(|given| given.get().core.clone()).collect();
        let heading = radians("heading_deg", heading_deg)?;
        Ok(Self { core: Core::new(&profiles)?.with_heading(heading)? })
    }

    /// Straights between points, corners left sharp.
    ///
    /// Args:
    ///     distance: level distances, m, (n,), rising.
    ///     height: m, (n,).
    ///     heading_deg: along which it is ridden, degrees.
    ///
    /// Raises:
    ///     InputError: points that do not rise or are not finite.
    ///
    /// >>> import loamline as ll
    /// >>> ll.Terrain.polyline([0, 5, 9], [0.0, 0.0, 1.0]).height_at(7.0)
    /// 0.5
    #[staticmethod]
    #[pyo3(signature = (distance, height, heading_deg=0.0))]
    fn polyline(
        distance: &Bound<'_, PyAny>,
        height: &Bound<'_, PyAny>,
        heading_deg: f64,
    ) -> Result<Self, Failure> {
        let distance = arrays::row("distance", distance)?;
        let height = arrays::row("height", height)?;
        let heading = radians("heading_deg", heading_deg)?;
        Ok(Self { core: Core::polyline(&distance, &height)?.with_heading(heading)? })
    }

    /// A section of a ground along a heading, distances counted from where it begins.
    ///
    /// Heights are taken every 0.05 m, those within 1 mm of a straight left out, and corners
    /// rounded over at most 0.1 m to either side.
    ///
    /// Args:
    ///     ground: what is cut, a built landing's too.
    ///     start: (x, y), m, where the section begins.
    ///     heading_deg: counter-clockwise from +x, degrees.
    ///     length: level, m, from 0.05 to 10000.
    ///
    /// Raises:
    ///     InputError: a section that leaves the ground; says where.
    ///
    /// >>> import loamline as ll
    /// >>> hill = ll.Ground.plane(slope_deg=45.0)
    /// >>> round(ll.Terrain.over(hill, (0, 0), 0.0, 20.0).height_at(8.0), 9)
    /// -8.0
    #[staticmethod]
    fn over(
        ground: &Ground,
        start: &Bound<'_, PyAny>,
        heading_deg: f64,
        length: f64,
    ) -> Result<Self, Failure> {
        let [x, y] = pair("start", start)?;
        let heading = radians("heading_deg", heading_deg)?;
        let section = Section { from: Vector2::new(x, y), heading, length };
        Ok(Self { core: Core::over(&ground.core, &section)? })
    }

    /// First and last level distance, m.
    #[getter]
    fn span(&self) -> (f64, f64) {
        self.core.span()
    }

    /// Heading along which it is ridden, degrees.
    #[getter]
    fn heading_deg(&self) -> f64 {
        degrees(self.core.heading())
    }

    /// Height at a level distance, m; None off the terrain and in a gap.
    fn height_at(&self, distance: f64) -> Option<f64> {
        self.core.height(distance)
    }

    /// Rise over run at a level distance, positive uphill; None off the terrain and in a gap.
    fn grade_at(&self, distance: f64) -> Option<f64> {
        self.core.grade(distance)
    }

    /// The surface for drawing: level distances and heights, m, (n, 2); NaN in a gap.
    ///
    /// Args:
    ///     spacing: the farthest that points lie apart, level metres, at least 0.001.
    #[pyo3(signature = (spacing=0.05))]
    fn outline<'py>(&self, py: Python<'py>, spacing: f64) -> PyResult<Bound<'py, PyArray2<f64>>> {
        arrays::rows(py, self.core.outline(spacing).iter().map(|p| [p.x, p.y]))
    }

    fn __repr__(&self) -> String {
        let (from, to) = self.core.span();
        format!("<Terrain: {from:.2} to {to:.2} m>")
    }
}

pickled!(Terrain, Core);
