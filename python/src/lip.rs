//! A lip.

use crate::arrays::{self, Triple, vector};
use crate::errors::Failure;
use crate::line::{Line, Recipe};
use crate::pickle::{Pickled as _, pickled};
use crate::plan;
use crate::rider::Rider;
use crate::text as words;
use crate::units::{degrees, radians};
use loamline::feature::Lip as Core;
use loamline::geometry::{Bend, Piece, VerticalCurve};
use numpy::{PyArray1, PyArray3};
use pyo3::prelude::*;
use pyo3::types::PyDict;

/// A takeoff that rises in one vertical plane up to an edge; set across the trail it is a hip.
///
/// Its shape is one arc, by `radius` or by `height`, or `pieces`. Places on it are metres along its
/// curve and metres across, from its middle to the left.
///
/// Args:
///     radius: of the arc, m, with `end_angle_deg`.
///     end_angle_deg: from level at the edge, degrees, at most 90.
///     width: across the travel, along the surface, m, above 0.
///     height: of the edge over the start, m, with `end_angle_deg`, instead of `radius`.
///     grade: at its start, rise over run, -1 to 1; negative where it begins on a trail that falls.
///     pieces: instead, its shape piece by piece: dicts of `length` (a straight), `radius` and
///         `sweep_deg` (an arc), or `length`, `radius_start` and `radius_end` (a clothoid;
///         `float("inf")` is straight); `bend="down"` in one that bends down.
///     position: (x, y, z), m, of the middle of its start.
///     heading_deg: of the travel over it, counter-clockwise from +x, degrees.
///     hip_deg: from the travel to the lip's own direction, degrees, -60 to 60, positive to the left.
///         Its sides, and lines on it, still run along the travel seen from above.
///     end_skew_deg: the end edge off square, degrees, -60 to 60; positive where the left side reaches
///         on.
///     tilt_deg: how far the surface is banked sideways, degrees from level across, -60 to 60, positive
///         where the left side is higher; one number all along, or two: at the start and at the end,
///         even between.
///
/// Raises:
///     InputError: a number outside its range, with its name; a shape past vertical.
///
/// >>> import loamline as ll
/// >>> lip = ll.Lip(radius=4.0, end_angle_deg=40.0, width=1.5)
/// >>> round(lip.height, 3), round(lip.length, 3)
/// (0.936, 2.793)
/// >>> ll.Lip(height=0.9, end_angle_deg=40.0, width=1.5).end_angle_deg
/// 40.0
#[pyclass(frozen, eq, module = "loamline")]
#[derive(Debug, Clone, PartialEq)]
pub struct Lip {
    /// The core's lip.
    pub core: Core,
}

#[pymethods]
impl Lip {
    #[new]
    #[pyo3(
        signature = (
            radius=None, end_angle_deg=None, width=None, height=None, grade=0.0, pieces=None,
            position=Triple::zero(), heading_deg=0.0, hip_deg=0.0, end_skew_deg=0.0, tilt_deg=None,
        ),
        text_signature = "(radius=None, end_angle_deg=None, width=None, height=None, grade=0.0, pieces=None, position=(0, 0, 0), heading_deg=0.0, hip_deg=0.0, end_skew_deg=0.0, tilt_deg=0.0)"
    )]
    fn new(
        radius: Option<f64>,
        end_angle_deg: Option<f64>,
        width: Option<f64>,
        height: Option<f64>,
        grade: f64,
        pieces: Option<&Bound<'_, PyAny>>,
        position: Triple,
        heading_deg: f64,
        hip_deg: f64,
        end_skew_deg: f64,
        tilt_deg: Option<&Bound<'_, PyAny>>,
    ) -> Result<Self, Failure> {
        let end = end_angle_deg.map(|angle| radians("end_angle_deg", angle)).transpose()?;
        let curve = match (radius, height, end, pieces) {
            (Some(radius), None, Some(end), None) => VerticalCurve::arc(grade, radius, end)?,
            (None, Some(height), Some(end), None) => {
                VerticalCurve::arc_of_height(grade, height, end)?
            }
            (None, None, None, Some(pieces)) => VerticalCurve::new(grade, bent(pieces)?)?,
            _ => {
                return Err(Failure::input(
                    "a lip wants radius and end_angle_deg, or height and end_angle_deg, or pieces",
                ));
            }
        };
        let Some(width) = width else {
            return Err(Failure::input("a lip needs width").about("width"));
        };
        let [tilt_start, tilt_end] = tilt(tilt_deg)?;
        let core = Core::new(curve, width)?
            .placed(position.named("position")?, radians("heading_deg", heading_deg)?)?
            .with_hip(radians("hip_deg", hip_deg)?)?
            .with_end_skew(radians("end_skew_deg", end_skew_deg)?)?
            .with_tilt(tilt_start, tilt_end)?;
        Ok(Self { core })
    }

    /// The line over it: straight along the travel seen from above, from its start to its edge.
    ///
    /// Args:
    ///     offset: metres across from its middle, to the left positive.
    ///
    /// Raises:
    ///     InputError: a line that is not on the lip.
    ///
    /// >>> import loamline as ll
    /// >>> round(ll.Lip(radius=4.0, end_angle_deg=40.0, width=1.5).line().length, 3)
    /// 2.793
    #[pyo3(signature = (offset=0.0))]
    fn line(&self, offset: f64) -> Result<Line, Failure> {
        Line::from_core(Recipe::Lip(self.core.clone(), offset))
    }

    /// Says whether the rider's wheels fit into its curve; every ride over it asks this.
    ///
    /// Raises:
    ///     RideError: a hollow tighter than the wheels, with both radii.
    fn check_rider(&self, rider: &Rider) -> Result<(), Failure> {
        Ok(self.core.check_rider(&rider.core)?)
    }

    /// Length along its curve, m.
    #[getter]
    fn length(&self) -> f64 {
        self.core.length()
    }

    /// Height of its edge over its start, in the middle, m.
    #[getter]
    fn height(&self) -> f64 {
        self.core.height()
    }

    /// Angle from level at its edge, in its own direction and in the middle, degrees.
    #[getter]
    fn end_angle_deg(&self) -> f64 {
        degrees(self.core.end_angle())
    }

    /// Width across the travel, along the surface, m.
    #[getter]
    fn width(&self) -> f64 {
        self.core.width()
    }

    /// Grade at its start, rise over run.
    #[getter]
    fn grade(&self) -> f64 {
        self.core.curve().grade()
    }

    /// Middle of its start, m, an array of three.
    #[getter]
    fn position<'py>(&self, py: Python<'py>) -> Bound<'py, PyArray1<f64>> {
        vector(py, &self.core.position())
    }

    /// Heading of the travel over it, degrees.
    #[getter]
    fn heading_deg(&self) -> f64 {
        degrees(self.core.heading())
    }

    /// Angle from the travel to its own direction, degrees, positive to the left.
    #[getter]
    fn hip_deg(&self) -> f64 {
        degrees(self.core.hip())
    }

    /// Skew of the end edge, degrees.
    #[getter]
    fn end_skew_deg(&self) -> f64 {
        degrees(self.core.end_skew())
    }

    /// Tilt at its start and at its end, degrees.
    #[getter]
    fn tilt_deg(&self) -> (f64, f64) {
        let (start, end) = self.core.tilt();
        (degrees(start), degrees(end))
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
    #[pyo3(signature = (along=40, across=8))]
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

/// Pieces with the way each bends.
fn bent(given: &Bound<'_, PyAny>) -> Result<Vec<(Bend, Piece)>, Failure> {
    given.try_iter()?.map(|one| bent_piece(&one?)).collect()
}

fn bent_piece(given: &Bound<'_, PyAny>) -> Result<(Bend, Piece), Failure> {
    let Ok(named) = given.cast::<PyDict>() else {
        return Ok((Bend::Up, plan::piece(given)?));
    };
    let named = named.copy()?;
    let bend = named.get_item("bend")?.map(|bend| bend.extract::<String>()).transpose()?;
    let bend = match bend.as_deref() {
        None => return Ok((Bend::Up, plan::piece(&named)?)),
        Some("up") => Bend::Up,
        Some("down") => Bend::Down,
        Some(other) => {
            let message = format!("pieces: bend = {other:?}: \"up\" or \"down\" is wanted");
            return Err(Failure::input(&message).about("pieces"));
        }
    };
    named.del_item("bend")?;
    Ok((bend, plan::piece(&named)?))
}

/// Tilt at start and end, radians.
fn tilt(given: Option<&Bound<'_, PyAny>>) -> Result<[f64; 2], Failure> {
    let Some(given) = given else { return Ok([0.0; 2]) };
    let degrees = match given.extract::<f64>() {
        Ok(all_along) => [all_along; 2],
        Err(_) => arrays::pair("tilt_deg", given)?,
    };
    Ok([radians("tilt_deg", degrees[0])?, radians("tilt_deg", degrees[1])?])
}

/// What `repr` shows of a lip.
pub fn text(lip: &Core) -> String {
    let pieces: Vec<String> = lip.curve().pieces().iter().map(piece_text).collect();
    let (tilt_start, tilt_end) = lip.tilt();
    words::call(
        "Lip",
        &[
            ("pieces", format!("[{}]", pieces.join(", "))),
            ("width", words::float(lip.width())),
            ("grade", words::float(lip.curve().grade())),
            ("position", words::tuple(lip.position().iter())),
            ("heading_deg", words::float(degrees(lip.heading()))),
            ("hip_deg", words::float(degrees(lip.hip()))),
            ("end_skew_deg", words::float(degrees(lip.end_skew()))),
            ("tilt_deg", words::tuple(&[degrees(tilt_start), degrees(tilt_end)])),
        ],
    )
}

fn piece_text((bend, piece): &(Bend, Piece)) -> String {
    let plain = plan::piece_text(piece);
    match (bend, plain.strip_suffix(')')) {
        (Bend::Down, Some(open)) => format!("{open}, bend=\"down\")"),
        _ => plain,
    }
}

pickled!(Lip, Core);
