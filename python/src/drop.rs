//! A drop.

use crate::arrays::{self, Triple, vector};
use crate::errors::Failure;
use crate::line::{Line, Recipe};
use crate::pickle::{Pickled as _, pickled};
use crate::text as words;
use crate::units::{degrees, radians};
use loamline::feature::Drop as Core;
use numpy::{PyArray1, PyArray3};
use pyo3::prelude::*;

/// A straight deck, level across, that ends at an edge without rising to it.
///
/// Args:
///     length: along its middle, m, above 0.
///     width: m, above 0.
///     grade: rise over run, -1 to 1, uphill positive.
///     position: (x, y, z), m, of the middle of its start.
///     heading_deg: counter-clockwise from +x, degrees.
///     end_skew_deg: the end edge off square, degrees, -60 to 60; positive where the left side reaches
///         on.
///
/// Raises:
///     InputError: a number outside its range, with its name.
///
/// >>> import loamline as ll
/// >>> ll.Drop(length=3.0, width=1.2, position=(0, 0, 1.5)).edge().tolist()
/// [3.0, 0.0, 1.5]
#[pyclass(frozen, eq, module = "loamline")]
#[derive(Debug, Clone, PartialEq)]
pub struct Drop {
    /// The core's drop.
    pub core: Core,
}

#[pymethods]
impl Drop {
    #[new]
    #[pyo3(
        signature = (
            length, width, grade=0.0, position=Triple::zero(), heading_deg=0.0, end_skew_deg=0.0
        ),
        text_signature = "(length, width, grade=0.0, position=(0, 0, 0), heading_deg=0.0, end_skew_deg=0.0)"
    )]
    fn new(
        length: f64,
        width: f64,
        grade: f64,
        position: Triple,
        heading_deg: f64,
        end_skew_deg: f64,
    ) -> Result<Self, Failure> {
        let core = Core::new(length, width, grade)?
            .placed(position.named("position")?, radians("heading_deg", heading_deg)?)?
            .with_end_skew(radians("end_skew_deg", end_skew_deg)?)?;
        Ok(Self { core })
    }

    /// The line along it, from its start to its edge.
    ///
    /// Args:
    ///     offset: metres across from its middle, to the left positive.
    ///
    /// Raises:
    ///     InputError: a line that is not on the deck.
    #[pyo3(signature = (offset=0.0))]
    fn line(&self, offset: f64) -> Result<Line, Failure> {
        Line::from_core(Recipe::Drop(self.core.clone(), offset))
    }

    /// Length along its middle, m.
    #[getter]
    fn length(&self) -> f64 {
        self.core.length()
    }

    /// Width, m.
    #[getter]
    fn width(&self) -> f64 {
        self.core.width()
    }

    /// Rise over run, uphill positive.
    #[getter]
    fn grade(&self) -> f64 {
        self.core.grade()
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

    /// Skew of the end edge, degrees.
    #[getter]
    fn end_skew_deg(&self) -> f64 {
        degrees(self.core.end_skew())
    }

    /// The end edge at a place across, m, an array of three.
    #[pyo3(signature = (offset=0.0))]
    fn edge<'py>(&self, py: Python<'py>, offset: f64) -> Bound<'py, PyArray1<f64>> {
        vector(py, &self.core.edge(offset))
    }

    /// Points of its surface for pictures, m, (along, across, 3), from right to left.
    ///
    /// Args:
    ///     along: how many along it, at least 2.
    ///     across: how many across it, at least 2.
    #[pyo3(signature = (along=2, across=2))]
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

/// What `repr` shows of a drop.
pub fn text(drop: &Core) -> String {
    words::call(
        "Drop",
        &[
            ("length", words::float(drop.length())),
            ("width", words::float(drop.width())),
            ("grade", words::float(drop.grade())),
            ("position", words::tuple(drop.position().iter())),
            ("heading_deg", words::float(degrees(drop.heading()))),
            ("end_skew_deg", words::float(degrees(drop.end_skew()))),
        ],
    )
}

pickled!(Drop, Core);
