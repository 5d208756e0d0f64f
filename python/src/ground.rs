//! The ground that is flown onto.

use crate::arrays::{self, Triple, pair, vector};
use crate::errors::Failure;
use crate::landing::Landing;
use crate::pickle::pickled;
use crate::text;
use crate::units::{degrees, radians, radians_within};
use loamline::Ground as Core;
use loamline::flight::batch::Batch;
use loamline::ground::{Plane, Surface};
use nalgebra::Vector2;
use numpy::{IntoPyArray, PyArray1, PyArray2, PyArray3, PyArrayMethods};
use pyo3::prelude::*;
use pyo3::types::PyFloat;
use std::sync::{Arc, Mutex};

/// The steepest slope of a plane, degrees either way.
const STEEPEST: f64 = 89.0;

/// The ground: a plane, a grid, a survey, or the highest of several.
///
/// Made by `Ground.plane`, `Ground.grid`, `Ground.survey`, `ground.higher` and
/// `ground.with_landing`. Known only where its points are: nothing is extrapolated.
#[pyclass(frozen, eq, module = "loamline")]
#[derive(Debug, Clone, PartialEq)]
pub struct Ground {
    /// The core's ground.
    pub core: Core,
    known: Known,
}

/// The last batch of flights onto a ground: it knows of it what the next one must know. Whatever is known, a ground is the same.
#[derive(Debug, Clone, Default)]
struct Known(Arc<Mutex<Option<Batch>>>);

impl PartialEq for Known {
    fn eq(&self, _: &Self) -> bool {
        true
    }
}

impl From<Core> for Ground {
    fn from(core: Core) -> Self {
        Self { core, known: Known::default() }
    }
}

impl Ground {
    /// Many flights onto it.
    pub fn batch(&self, rider: &loamline::Rider, air: &loamline::Air) -> Result<Batch, Failure> {
        let known = self.known.0.lock().ok().and_then(|last| last.clone());
        let batch = match known {
            Some(last) => last.with(rider, air)?,
            None => Batch::new(&self.core, rider, air)?,
        };
        if let Ok(mut last) = self.known.0.lock() {
            *last = Some(batch.clone());
        }
        Ok(batch)
    }
}

#[pymethods]
impl Ground {
    /// A plane without end.
    ///
    /// Args:
    ///     point: (x, y, z), m, through which it goes.
    ///     slope_deg: positive downhill along the heading, degrees, from -89 to 89.
    ///     heading_deg: counter-clockwise from +x, degrees.
    ///
    /// Raises:
    ///     InputError: a number outside its range.
    ///
    /// >>> import loamline as ll
    /// >>> round(ll.Ground.plane(slope_deg=45.0).height(2.0, 0.0), 9)
    /// -2.0
    #[staticmethod]
    #[pyo3(
        signature = (point=Triple::zero(), slope_deg=0.0, heading_deg=0.0),
        text_signature = "(point=(0, 0, 0), slope_deg=0.0, heading_deg=0.0)"
    )]
    fn plane(point: Triple, slope_deg: f64, heading_deg: f64) -> Result<Self, Failure> {
        let slope = radians_within("slope_deg", slope_deg, -STEEPEST, STEEPEST)?;
        let heading = radians("heading_deg", heading_deg)?;
        Ok(Core::plane(point.named("point")?, slope, heading)?.into())
    }

    /// Heights on a regular grid, bilinear between them.
    ///
    /// Args:
    ///     origin: (x, y), m, of `heights[0, 0]`.
    ///     spacing: (along x, along y), m, above 0.
    ///     heights: (ny, nx), m: rows along y, columns along x.
    ///
    /// Raises:
    ///     InputError: a number that is not finite, or fewer than two rows or columns.
    ///
    /// >>> import loamline as ll
    /// >>> ll.Ground.grid((0, 0), (1, 1), [[0, 1], [0, 1]]).height(0.5, 0.5)
    /// 0.5
    #[staticmethod]
    fn grid(
        origin: &Bound<'_, PyAny>,
        spacing: &Bound<'_, PyAny>,
        heights: &Bound<'_, PyAny>,
    ) -> Result<Self, Failure> {
        let (origin, spacing) = (pair("origin", origin)?, pair("spacing", spacing)?);
        let (rows, columns, heights) = arrays::grid("heights", heights)?;
        let (origin, spacing) = (Vector2::from(origin), Vector2::from(spacing));
        Ok(Core::grid(origin, spacing, columns, rows, heights)?.into())
    }

    /// Surveyed points with flat triangles between neighbours (Delaunay in plan).
    ///
    /// Args:
    ///     points: (n, 3), m, at least three, not all on one line, no two at one plan position.
    ///
    /// Raises:
    ///     InputError: points that make no surface, and which.
    ///
    /// >>> import loamline as ll
    /// >>> round(ll.Ground.survey([(0, 0, 0), (4, 0, 0), (0, 4, 2)]).height(1.0, 2.0), 9)
    /// 1.0
    #[staticmethod]
    fn survey(points: &Bound<'_, PyAny>) -> Result<Self, Failure> {
        Ok(Core::survey(&arrays::points("points", points)?)?.into())
    }

    /// The higher of this ground and another; where only one is known, that one.
    fn higher(&self, other: &Self) -> Self {
        self.core.higher(&other.core).into()
    }

    /// Height over a plan position, m; NaN where the ground is not known.
    ///
    /// Args:
    ///     x, y: m; numbers, or two arrays (n,).
    ///
    /// Returns:
    ///     A float, or an array (n,).
    fn height<'py>(
        &self,
        x: &Bound<'py, PyAny>,
        y: &Bound<'py, PyAny>,
    ) -> Result<Bound<'py, PyAny>, Failure> {
        let py = x.py();
        let height = |x, y| self.core.height(x, y).unwrap_or(f64::NAN);
        if let (Ok(x), Ok(y)) = (x.extract(), y.extract()) {
            return Ok(PyFloat::new(py, height(x, y)).into_any());
        }
        let (x, y) = (arrays::row("x", x)?, arrays::row("y", y)?);
        if x.len() != y.len() {
            return Err(Failure::input(&format!("x has {} numbers and y {}", x.len(), y.len())));
        }
        let heights: Vec<f64> = x.into_iter().zip(y).map(|(x, y)| height(x, y)).collect();
        Ok(heights.into_pyarray(py).into_any())
    }

    /// Unit normal over a plan position, an array of three; None where the ground is not known.
    fn normal<'py>(&self, py: Python<'py>, x: f64, y: f64) -> Option<Bound<'py, PyArray1<f64>>> {
        self.core.normal(x, y).map(|normal| vector(py, &normal))
    }

    /// Whether the ground is known at a plan position, borders included.
    fn contains(&self, x: f64, y: f64) -> bool {
        self.core.contains(x, y)
    }

    /// Lowest and highest corner of the box about the ground, m, (2, 3); None for one without end.
    #[getter]
    fn bounds<'py>(&self, py: Python<'py>) -> PyResult<Option<Bound<'py, PyArray2<f64>>>> {
        let corners = self.core.bounds().map(|b| [b.low, b.high]);
        corners.map(|corners| arrays::vectors(py, &corners)).transpose()
    }

    /// Corners of the triangles of all surfaces, m, (n, 3, 3); None for a ground without end.
    fn triangles<'py>(&self, py: Python<'py>) -> PyResult<Option<Bound<'py, PyArray3<f64>>>> {
        let Some(triangles) = self.core.triangles() else {
            return Ok(None);
        };
        let count = triangles.len();
        let flat: Vec<f64> = triangles.iter().flatten().flat_map(|p| [p.x, p.y, p.z]).collect();
        flat.into_pyarray(py).reshape([count, 3, 3]).map(Some)
    }

    /// This ground with a landing built on it: the higher of the two.
    ///
    /// Raises:
    ///     InputError: no ground under it, a crest in the ground, or a batter that meets none.
    fn with_landing(&self, py: Python<'_>, landing: &Landing) -> Result<Self, Failure> {
        let (ground, landing) = (&self.core, &landing.core);
        Ok(py.detach(|| ground.with_landing(landing))?.into())
    }

    /// The landing on this ground, its crest height settled; None where there is none.
    #[getter]
    fn landing(&self) -> Option<Landing> {
        self.core.landing().map(|landing| Landing { core: *landing })
    }

    /// Vertices, m, (n, 3), and triangles, (m, 3) of places among them, of the landing's earth,
    /// down to under the ground below; None where there is no landing.
    #[getter]
    fn mesh<'py>(&self, py: Python<'py>) -> PyResult<Option<Meshed<'py>>> {
        let meshes = self.core.surfaces().iter().rev().find_map(|surface| match surface {
            Surface::Landing { mesh, .. } => Some(mesh),
            _ => None,
        });
        let Some(mesh) = meshes else {
            return Ok(None);
        };
        let places: Vec<u32> = mesh.triangles().iter().flatten().copied().collect();
        let places = places.into_pyarray(py).reshape([mesh.triangles().len(), 3])?;
        Ok(Some((arrays::vectors(py, mesh.vertices())?, places)))
    }

    fn __repr__(&self) -> String {
        match self.core.surfaces() {
            [Surface::Plane(plane)] => plane_text(plane),
            surfaces => {
                let parts: Vec<String> = surfaces.iter().map(surface_text).collect();
                format!("<Ground: {}>", parts.join(", the higher of it and "))
            }
        }
    }
}

/// Vertices and triangles.
type Meshed<'py> = (Bound<'py, PyArray2<f64>>, Bound<'py, PyArray2<u32>>);

fn plane_text(plane: &Plane) -> String {
    text::call(
        "Ground.plane",
        &[
            ("point", text::tuple(plane.point().iter())),
            ("slope_deg", text::float(degrees(plane.slope()))),
            ("heading_deg", text::float(degrees(plane.heading()))),
        ],
    )
}

fn surface_text(surface: &Surface) -> String {
    match surface {
        Surface::Plane(plane) => {
            format!("plane sloping {} degrees", text::float(degrees(plane.slope())))
        }
        Surface::Grid(grid) => format!("grid of {} rows by {}", grid.rows(), grid.columns()),
        Surface::Survey(survey) => format!("survey of {} points", survey.points().len()),
        Surface::Landing { landing, .. } => {
            format!("landing of slope {} degrees", text::float(degrees(landing.slope())))
        }
        _ => "surface".into(),
    }
}

pickled!(Ground, Core, known);
