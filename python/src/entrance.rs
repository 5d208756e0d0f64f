//! An entrance.

use crate::arrays::{self, Triple, vector};
use crate::errors::Failure;
use crate::line::{Line, Recipe};
use crate::pickle::{Pickled as _, pickled};
use crate::text as words;
use crate::units::{degrees, radians};
use loamline::feature::{Entrance as Core, EntranceShape};
use numpy::{PyArray1, PyArray3};
use pyo3::prelude::*;

/// A ramp of earth from the trail up to a deck: a hollow, a straight, a crest.
///
/// The straight is as long as the height wants. Grades are rise over run, uphill positive.
///
/// Args:
///     height: of the deck's start over the ramp's, m, above 0.
///     width: m, above 0.
///     ramp_grade: of the straight, steeper than trail and deck, above 0 and at most 1.
///     sag_radius: of the hollow at its foot, m, above 0.
///     crest_radius: of the crest at its top, m, above 0.
///     trail_grade: of the trail that comes in, -1 to 1.
///     deck_grade: of the deck, -1 to 1.
///     position: (x, y, z), m, of the middle of its start.
///     heading_deg: counter-clockwise from +x, degrees.
///
/// Raises:
///     InputError: a number outside its range, with its name; a height that the two curves alone
///         come above.
///
/// >>> import loamline as ll
/// >>> ramp = ll.Entrance(height=0.8, width=1.5, ramp_grade=0.3, sag_radius=4.0, crest_radius=3.0)
/// >>> round(ramp.length, 3), round(ramp.line().length, 3)
/// (3.797, 3.797)
#[pyclass(frozen, eq, module = "loamline")]
#[derive(Debug, Clone, PartialEq)]
pub struct Entrance {
    /// The core's entrance.
    pub core: Core,
}

#[pymethods]
impl Entrance {
    #[new]
    #[pyo3(
        signature = (
            height, width, ramp_grade, sag_radius, crest_radius, trail_grade=0.0, deck_grade=0.0,
            position=Triple::zero(), heading_deg=0.0
        ),
        text_signature = "(height, width, ramp_grade, sag_radius, crest_radius, trail_grade=0.0, deck_grade=0.0, position=(0, 0, 0), heading_deg=0.0)"
    )]
    fn new(
        height: f64,
        width: f64,
        ramp_grade: f64,
        sag_radius: f64,
        crest_radius: f64,
        trail_grade: f64,
        deck_grade: f64,
        position: Triple,
        heading_deg: f64,
    ) -> Result<Self, Failure> {
        let shape =
            EntranceShape { height, trail_grade, ramp_grade, deck_grade, sag_radius, crest_radius };
        let core = Core::new(shape, width)?
            .placed(position.named("position")?, radians("heading_deg", heading_deg)?)?;
        Ok(Self { core })
    }

    /// The line up it, from the trail to the deck.
    ///
    /// Args:
    ///     offset: metres across from its middle, to the left positive.
    ///
    /// Raises:
    ///     InputError: a line that is not on the ramp.
    #[pyo3(signature = (offset=0.0))]
    fn line(&self, offset: f64) -> Result<Line, Failure> {
        Line::from_core(Recipe::Entrance(self.core.clone(), offset))
    }

    /// Length along its curve, m.
    #[getter]
    fn length(&self) -> f64 {
        self.core.length()
    }

    /// Level length, m.
    #[getter]
    fn run(&self) -> f64 {
        self.core.run()
    }

    /// Height of the deck's start over the ramp's, m.
    #[getter]
    fn height(&self) -> f64 {
        self.core.shape().height
    }

    /// Width, m.
    #[getter]
    fn width(&self) -> f64 {
        self.core.width()
    }

    /// Middle of its start, m, an array of three.
    #[getter]
    fn position<'py>(&self, py: Python<'py>) -> Bound<'py, PyArray1<f64>> {
        vector(py, &self.core.position())
    }

    /// Heading, degrees.
    #[getter]
    fn heading_deg(&self) -> f64 {
        degrees(self.core.heading())
    }

    /// Its top at a place across, where the deck begins, m, an array of three.
    #[pyo3(signature = (offset=0.0))]
    fn edge<'py>(&self, py: Python<'py>, offset: f64) -> Bound<'py, PyArray1<f64>> {
        vector(py, &self.core.edge(offset))
    }

    /// Points of its surface for pictures, m, (along, across, 3), from right to left.
    ///
    /// Args:
    ///     along: how many along it, at least 2.
    ///     across: how many across it, at least 2.
    #[pyo3(signature = (along=40, across=2))]
    fn mesh<'py>(
        &self,
        py: Python<'py>,
        along: usize,
        across: usize,
    ) -> Result<Bound<'py, PyArray3<f64>>, Failure> {
        arrays::mesh(py, [("along", along), ("across", across)], |rows, columns| {
            self.core.mesh(rows, columns)
        })
    }

    fn __repr__(&self) -> String {
        text(&self.core)
    }
}

/// What `repr` shows of an entrance.
pub fn text(entrance: &Core) -> String {
    let shape = entrance.shape();
    words::call(
        "Entrance",
        &[
            ("height", words::float(shape.height)),
            ("width", words::float(entrance.width())),
            ("ramp_grade", words::float(shape.ramp_grade)),
            ("sag_radius", words::float(shape.sag_radius)),
            ("crest_radius", words::float(shape.crest_radius)),
            ("trail_grade", words::float(shape.trail_grade)),
            ("deck_grade", words::float(shape.deck_grade)),
            ("position", words::tuple(entrance.position().iter())),
            ("heading_deg", words::float(degrees(entrance.heading()))),
        ],
    )
}

pickled!(Entrance, Core);
