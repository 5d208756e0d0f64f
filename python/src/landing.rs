//! An earth landing as asked for, and as built on a ground.

use crate::arrays::{self, pair};
use crate::errors::Failure;
use crate::ground::Ground;
use crate::pickle::{Pickled, Reduced, pickled, reduce};
use crate::text;
use crate::units::{degrees, radians};
use loamline::ground::{BuiltLanding as BuiltCore, Landing as Core};
use nalgebra::Vector2;
use numpy::{IntoPyArray, PyArray1, PyArray2};
use pyo3::prelude::*;

/// An earth landing: a straight face under a crest line, over the ground.
///
/// The crest line is where face and back meet before the crest is rounded, the foot where the
/// face ends; around them the earth stands at the batter. Arcs and cones are built as facets at
/// most 4 degrees apart.
///
/// Args:
///     crest: (x, y), m, of the crest line's middle.
///     heading_deg: in which the face falls, counter-clockwise from +x, degrees.
///     slope_deg: of the face below level, degrees, from 0 to below the batter.
///     length: level distance from crest line to foot, m, above 0 and at most 200.
///     width: of the face, m, above 0 and at most 200.
///     crest_height: z of the crest line, m; None lets the face meet the ground at the foot.
///     crest_radius: between back and face, m; 0 is a sharp crest.
///     foot_radius: between face and ground, m; 0 is a sharp foot.
///     batter_deg: at which the earth around the face stands, degrees (34: 1 in 1.5).
///
/// Raises:
///     InputError: a number outside its range.
///
/// >>> import loamline as ll
/// >>> landing = ll.Landing(crest=(4, 0), heading_deg=0, slope_deg=20, length=4, width=3)
/// >>> built = ll.Ground.plane().with_landing(landing)
/// >>> round(built.landing.crest_height, 3)
/// 1.456
#[pyclass(frozen, eq, module = "loamline")]
#[derive(Debug, Clone, PartialEq)]
pub struct Landing {
    /// The core's landing.
    pub core: Core,
}

#[pymethods]
impl Landing {
    #[new]
    #[pyo3(signature = (
        crest, heading_deg, slope_deg, length, width, crest_height=None, crest_radius=1.0,
        foot_radius=0.0, batter_deg=34.0,
    ))]
    fn new(
        crest: &Bound<'_, PyAny>,
        heading_deg: f64,
        slope_deg: f64,
        length: f64,
        width: f64,
        crest_height: Option<f64>,
        crest_radius: f64,
        foot_radius: f64,
        batter_deg: f64,
    ) -> Result<Self, Failure> {
        let crest = Vector2::from(pair("crest", crest)?);
        let heading = radians("heading_deg", heading_deg)?;
        let slope = radians("slope_deg", slope_deg)?;
        let core = Core::new(crest, heading, slope, length, width)?
            .with_crest_height(crest_height)?
            .with_crest_radius(crest_radius)?
            .with_foot_radius(foot_radius)?
            .with_batter(radians("batter_deg", batter_deg)?)?
            .checked()?;
        Ok(Self { core })
    }

    /// The landing as built on a ground.
    ///
    /// Raises:
    ///     InputError: no ground under it, a crest in the ground, or a batter that meets none.
    fn on(&self, py: Python<'_>, ground: &Ground) -> Result<BuiltLanding, Failure> {
        let (landing, ground) = (&self.core, &ground.core);
        Ok(BuiltLanding { core: py.detach(|| landing.resolve(ground))? })
    }

    /// Middle of the crest line, m, an array of two.
    #[getter]
    fn crest<'py>(&self, py: Python<'py>) -> Bound<'py, PyArray1<f64>> {
        let crest = self.core.crest();
        vec![crest.x, crest.y].into_pyarray(py)
    }

    /// Heading in which the face falls, degrees.
    #[getter]
    fn heading_deg(&self) -> f64 {
        degrees(self.core.heading())
    }

    /// Slope of the face below level, degrees.
    #[getter]
    fn slope_deg(&self) -> f64 {
        degrees(self.core.slope())
    }

    /// Level distance from crest line to foot, m.
    #[getter]
    fn length(&self) -> f64 {
        self.core.length()
    }

    /// Width of the face, m.
    #[getter]
    fn width(&self) -> f64 {
        self.core.width()
    }

    /// Height of the crest line, m; None where the ground at the foot sets it.
    #[getter]
    fn crest_height(&self) -> Option<f64> {
        self.core.crest_height()
    }

    /// Radius between back and face, m.
    #[getter]
    fn crest_radius(&self) -> f64 {
        self.core.crest_radius()
    }

    /// Radius between face and ground, m.
    #[getter]
    fn foot_radius(&self) -> f64 {
        self.core.foot_radius()
    }

    /// Steepest angle at which the earth around the face stands, degrees.
    #[getter]
    fn batter_deg(&self) -> f64 {
        degrees(self.core.batter())
    }

    fn __repr__(&self) -> String {
        let core = &self.core;
        text::call(
            "Landing",
            &[
                ("crest", text::tuple(core.crest().iter())),
                ("heading_deg", text::float(self.heading_deg())),
                ("slope_deg", text::float(self.slope_deg())),
                ("length", text::float(core.length())),
                ("width", text::float(core.width())),
                ("crest_height", text::maybe(core.crest_height())),
                ("crest_radius", text::float(core.crest_radius())),
                ("foot_radius", text::float(core.foot_radius())),
                ("batter_deg", text::float(self.batter_deg())),
            ],
        )
    }
}

pickled!(Landing, Core);

/// A landing on its ground: heights settled, and what to stake out.
///
/// Made by `landing.on(ground)`.
#[pyclass(frozen, module = "loamline")]
#[derive(Debug, Clone)]
pub struct BuiltLanding {
    /// The core's built landing.
    pub core: BuiltCore,
}

#[pymethods]
impl BuiltLanding {
    /// The landing as asked for.
    #[getter]
    fn landing(&self) -> Landing {
        Landing { core: *self.core.landing() }
    }

    /// The ground with the landing on it.
    #[getter]
    fn ground(&self) -> Ground {
        Ground::from(self.core.ground().with_built(&self.core))
    }

    /// Height of the crest line, where face and back meet unrounded, m.
    #[getter]
    fn crest_height(&self) -> f64 {
        self.core.crest_height()
    }

    /// Height of the highest earth, which rounding leaves under the crest line, m.
    #[getter]
    fn crest_top(&self) -> f64 {
        self.core.crest_top()
    }

    /// Earth above the ground, m^3.
    ///
    /// Raises:
    ///     InputError: no volume between the two.
    #[getter]
    fn volume(&self) -> Result<f64, Failure> {
        Ok(self.core.volume()?.fill)
    }

    /// Outline of the face and crest, counter-clockwise from its back right corner, m, (4, 3).
    #[getter]
    fn outline<'py>(&self, py: Python<'py>) -> PyResult<Bound<'py, PyArray2<f64>>> {
        arrays::vectors(py, &self.core.deck_outline())
    }

    /// Ends of the crest line on the earth as built, left and right, m, (2, 3).
    #[getter]
    fn crest_line<'py>(&self, py: Python<'py>) -> PyResult<Bound<'py, PyArray2<f64>>> {
        arrays::vectors(py, &self.core.crest_line())
    }

    /// Ends of the foot line on the earth as built, left and right, m, (2, 3).
    #[getter]
    fn foot_line<'py>(&self, py: Python<'py>) -> PyResult<Bound<'py, PyArray2<f64>>> {
        arrays::vectors(py, &self.core.foot_line())
    }

    /// Where the earth meets the ground, counter-clockwise, m, (n, 3).
    #[getter]
    fn toe<'py>(&self, py: Python<'py>) -> PyResult<Bound<'py, PyArray2<f64>>> {
        arrays::vectors(py, self.core.toe())
    }

    fn __eq__(&self, other: &Self) -> bool {
        self.core.landing() == other.core.landing() && self.core.ground() == other.core.ground()
    }

    fn __repr__(&self) -> String {
        format!("<BuiltLanding: {}>", self.landing().__repr__())
    }

    fn _repr_html_<'py>(slf: &Bound<'py, Self>) -> PyResult<Bound<'py, PyAny>> {
        crate::cards::html(slf.as_any())
    }

    fn __reduce__<'py>(&self, py: Python<'py>) -> Result<Reduced<'py>, Failure> {
        let recipe = (*self.core.landing(), self.core.ground().clone());
        reduce::<Self>(py, &recipe)
    }
}

impl Pickled for BuiltLanding {
    const NAME: &'static str = "BuiltLanding";
    type Core = (Core, loamline::Ground);

    fn from_core((landing, ground): Self::Core) -> Result<Self, Failure> {
        Ok(Self { core: landing.resolve(&ground)? })
    }
}
