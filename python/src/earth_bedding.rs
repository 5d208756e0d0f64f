//! What goes between earth, soft ground and timber, as quantities.

use crate::earth_words::AnySoil;
use crate::errors::Failure;
use loamline::earth::{BaseCourse, Roll, Strips};
use pyo3::prelude::*;
use pyo3::types::PyDict;

/// The stone and the fabric of a base course over soft ground.
///
/// Stone on a fabric that keeps it from sinking in; the fabric is turned up at both sides by the
/// depth, its strips overlap by 0.3 m (USDA Forest Service, Geosynthetics for Trails in Wet Areas,
/// 2008). How deep is common practice: 0.25 m, or until a heel leaves no print.
///
/// Args:
///     length, width: of the soft ground, m, above 0.
///     depth: of the stone when tamped, m, at least 0.
///     stone: "gravel" or another soil's name, or a `Soil`; silt and clay are no base.
///     roll_width: of the fabric, m, above 0.3.
///
/// Returns:
///     A dict: `placed` and `loose` stone, m^3; `mass`, kg; `barrows`; `strips` of fabric, how
///     many, `strip_length`, m, and `fabric_area`, m^2, as cut off the roll.
///
/// Raises:
///     InputError: a number outside its range, a soil that is not known.
///
/// >>> import loamline as ll
/// >>> course = ll.base_course(length=5.0, width=3.0)
/// >>> round(course.get("placed"), 2), course.get("strips")
/// (3.75, 1)
#[pyfunction]
#[pyo3(
    signature = (length, width, *, depth=0.25, stone=AnySoil::Name("gravel".into()), roll_width=4.0),
    text_signature = "(length, width, *, depth=0.25, stone=\"gravel\", roll_width=4.0)"
)]
pub fn base_course<'py>(
    py: Python<'py>,
    length: f64,
    width: f64,
    depth: f64,
    stone: AnySoil<'py>,
    roll_width: f64,
) -> Result<Bound<'py, PyDict>, Failure> {
    let roll = Roll::new(roll_width)?;
    let course = BaseCourse::over(length, width, depth, &stone.core()?, &roll)?;
    let dict = PyDict::new(py);
    dict.set_item("placed", course.stone.placed)?;
    dict.set_item("loose", course.stone.loose)?;
    dict.set_item("mass", course.stone.mass)?;
    dict.set_item("barrows", course.stone.barrows)?;
    with_strips(&dict, &course.fabric, "fabric_area")?;
    Ok(dict)
}

/// The membrane between earth and the timber that holds it.
///
/// On a face of logs, up over its top and down past its foot by 0.15 m (common practice). It keeps
/// the logs dry enough to last; they still have to be treated for ground contact, and the fill drained.
///
/// Args:
///     length, height: of the timber's face, m, above 0.
///     roll_width: of the membrane, m, above the overlap of 0.3.
///
/// Returns:
///     A dict: `strips`, how many, `strip_length`, m, and `area`, m^2, as cut off the roll.
///
/// Raises:
///     InputError: a number outside its range.
///
/// >>> import loamline as ll
/// >>> ll.membrane(length=5.0, height=1.1)
/// {'strips': 1, 'strip_length': 5.0, 'area': 10.0}
#[pyfunction]
#[pyo3(signature = (length, height, *, roll_width=2.0))]
pub fn membrane(
    py: Python<'_>,
    length: f64,
    height: f64,
    roll_width: f64,
) -> Result<Bound<'_, PyDict>, Failure> {
    let dict = PyDict::new(py);
    with_strips(&dict, &Roll::new(roll_width)?.behind_timber(length, height)?, "area")?;
    Ok(dict)
}

fn with_strips(dict: &Bound<'_, PyDict>, strips: &Strips, area: &str) -> PyResult<()> {
    dict.set_item("strips", strips.count)?;
    dict.set_item("strip_length", strips.length)?;
    dict.set_item(area, strips.area)
}
