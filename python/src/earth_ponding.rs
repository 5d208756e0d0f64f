//! Where a ground holds water.

use crate::arrays::{self, vector};
use crate::errors::Failure;
use crate::ground::Ground;
use crate::pickle::pickled;
use loamline::earth::{Drain, Drainage, Pond as CorePond, Ponding as Core};
use nalgebra::{Vector2, Vector3};
use numpy::{PyArray1, PyArray2};
use pyo3::prelude::*;

/// Where a ground holds water, and where it is too flat to shed it.
///
/// Made by `ponding(...)`.
#[pyclass(frozen, eq, module = "loamline")]
#[derive(Debug, Clone, PartialEq)]
pub struct Ponding {
    core: Core,
}

/// Water that cannot run off: how deep, how much, where it spills, and what to shave.
///
/// Made by `ponding(...)`.
#[pyclass(frozen, eq, module = "loamline")]
#[derive(Debug, Clone, PartialEq)]
pub struct Pond {
    core: CorePond,
}

/// Where a ground holds water, how deep and how much, and what to shave to let it out.
///
/// Each point's water stands as high as the lowest way out to the border makes it (priority-flood).
/// A lone survey is taken as its own triangles, exactly; any other ground at its own points and at a
/// lattice, which overlooks what is smaller. Water leaves over the border.
///
/// Args:
///     ground: the finished ground.
///     spacing: of the lattice, m, above 0.
///     area: (x0, y0, x1, y1), m, what to look at; None takes all of the ground.
///     shallowest: ponds less deep than this are left out, m.
///     outslope: slope that sheds water, rise over run; 5 % is the least for a full bench (USDA Forest
///         Service, Trail Construction and Maintenance Notebook).
///     fall: how a drain falls, rise over run; 2 % is the least for a crown (the same).
///     trench_width: m; a spade's.
///
/// Raises:
///     InputError: a number outside its range, or a ground without end and no area.
///
/// >>> import loamline as ll
/// >>> pit = [(0, 0, -0.4), (2, 0, 0), (0, 2, 0), (-2, 0, 0), (0, -2, 0)]
/// >>> round(ll.ponding(ll.Ground.survey(pit)).volume, 3)
/// 1.067
#[pyfunction]
#[pyo3(
    signature = (
        ground, *, spacing=0.25, area=None, shallowest=0.005, outslope=0.05, fall=0.02,
        trench_width=0.3,
    )
)]
pub fn ponding(
    py: Python<'_>,
    ground: &Ground,
    spacing: f64,
    area: Option<(f64, f64, f64, f64)>,
    shallowest: f64,
    outslope: f64,
    fall: f64,
    trench_width: f64,
) -> Result<Ponding, Failure> {
    let mut drainage = Drainage::default()
        .with_spacing(spacing)?
        .with_shallowest(shallowest)?
        .with_outslope(outslope)?
        .with_fall(fall)?
        .with_trench_width(trench_width)?;
    if let Some((x0, y0, x1, y1)) = area {
        drainage = drainage.with_area(Vector2::new(x0, y0), Vector2::new(x1, y1))?;
    }
    let ground = &ground.core;
    Ok(Ponding { core: py.detach(|| ground.ponding(&drainage))? })
}

#[pymethods]
impl Ponding {
    /// The ponds, deepest first.
    #[getter]
    fn ponds(&self) -> Vec<Pond> {
        self.core.ponds.iter().map(|core| Pond { core: core.clone() }).collect()
    }

    /// The water in all ponds, m^3.
    #[getter]
    fn volume(&self) -> f64 {
        self.core.volume()
    }

    /// The depth of the deepest pond, m; 0 where no water stands.
    #[getter]
    fn depth(&self) -> f64 {
        self.core.ponds.first().map_or(0.0, |pond| pond.depth)
    }

    /// Places outside the ponds with less than the outslope, largest first, (n, 4): x and y of the middle in m, area in
    /// m^2, slope as rise over run.
    #[getter]
    fn flats<'py>(&self, py: Python<'py>) -> PyResult<Bound<'py, PyArray2<f64>>> {
        let rows: Vec<Vec<f64>> = self
            .core
            .flats
            .iter()
            .map(|flat| vec![flat.middle.x, flat.middle.y, flat.area, flat.slope])
            .collect();
        if rows.is_empty() {
            return Ok(PyArray2::zeros(py, [0, 4], false));
        }
        Ok(PyArray2::from_vec2(py, &rows)?)
    }

    /// What to beware of, in words: each pond, and what would drain it.
    #[getter]
    fn warnings(&self) -> Vec<String> {
        self.core.ponds.iter().map(ToString::to_string).collect()
    }

    /// The model behind the numbers, what went in, its sources and its limits, in paragraphs.
    fn explain(&self) -> String {
        self.core.explain().to_string()
    }

    fn __repr__(&self) -> String {
        let (ponds, flats) = (self.core.ponds.len(), self.core.flats.len());
        format!(
            "<Ponding: {ponds} ponds, {:.3} m^3, {:.3} m deep; {flats} flat places>",
            self.volume(),
            self.depth()
        )
    }
}

#[pymethods]
impl Pond {
    /// The height of its surface, m.
    #[getter]
    fn level(&self) -> f64 {
        self.core.level
    }

    /// How deep it is, m.
    #[getter]
    fn depth(&self) -> f64 {
        self.core.depth
    }

    /// Its water, m^3; and the earth that would fill it.
    #[getter]
    fn volume(&self) -> f64 {
        self.core.volume
    }

    /// Its surface, m^2.
    #[getter]
    fn area(&self) -> f64 {
        self.core.area
    }

    /// The ground at its deepest place, m, an array of three.
    #[getter]
    fn deepest<'py>(&self, py: Python<'py>) -> Bound<'py, PyArray1<f64>> {
        vector(py, &self.core.deepest)
    }

    /// The ground where it spills, m, an array of three.
    #[getter]
    fn spill<'py>(&self, py: Python<'py>) -> Bound<'py, PyArray1<f64>> {
        vector(py, &self.core.spill)
    }

    /// The bottom of the trench that lets it out, from the deepest place, m, (n, 3); None where no ground beyond is low
    /// enough: then fill it.
    #[getter]
    fn drain<'py>(&self, py: Python<'py>) -> PyResult<Option<Bound<'py, PyArray2<f64>>>> {
        let bottom = |drain: &Drain| -> Vec<Vector3<f64>> {
            let along = drain.path.iter().zip(&drain.bottom);
            along.map(|(at, z)| Vector3::new(at.x, at.y, *z)).collect()
        };
        self.core.drain.as_ref().map(|drain| arrays::vectors(py, &bottom(drain))).transpose()
    }

    /// How deep the trench is cut at most, m; None where there is none.
    #[getter]
    fn drain_cut(&self) -> Option<f64> {
        self.core.drain.as_ref().map(|drain| drain.deepest_cut)
    }

    /// Earth to shave for the trench, m^3; None where there is none.
    #[getter]
    fn drain_volume(&self) -> Option<f64> {
        self.core.drain.as_ref().map(|drain| drain.volume)
    }

    fn __repr__(&self) -> String {
        format!("<Pond: {}>", self.core)
    }
}

pickled!(Ponding, Core);
pickled!(Pond, CorePond);
