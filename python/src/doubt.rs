//! What nobody knows beforehand, drawn again for everybody alike.

use crate::errors::Failure;
use crate::pickle::pickled;
use crate::text;
use loamline::passes::Doubt as Core;
use pyo3::prelude::*;

/// How far the guesses behind an ensemble may be off for all riders alike: standard deviations, in scenarios.
///
/// The spreads of a site's classes say how riders differ. What they cannot say is that the whole run-in
/// may roll faster than was thought, that everybody pushes off more, or that the wind is another: each
/// scenario draws such an error once and gives it to everybody. The defaults are assumptions.
///
/// Args:
///     speed: of the speed with which riders come onto the takeoff, a share of it, 0 to 0.3.
///     pop: of the push off the edge, m/s, at least 0.
///     wind: of the wind along x and along y, m/s, at least 0.
///     scenarios: how many are drawn, 2 to 64.
///
/// Raises:
///     InputError: a number outside its range.
///
/// >>> import loamline as ll
/// >>> ll.Doubt(speed=0.1).scenarios
/// 8
#[pyclass(frozen, eq, module = "loamline")]
#[derive(Debug, Clone, PartialEq)]
pub struct Doubt {
    /// The core's doubt, its values checked.
    pub core: Core,
}

#[pymethods]
impl Doubt {
    #[new]
    #[pyo3(signature = (speed=0.05, pop=0.15, wind=1.0, scenarios=8))]
    fn new(speed: f64, pop: f64, wind: f64, scenarios: usize) -> Result<Self, Failure> {
        let core = Core::default().with_speed(speed)?.with_pop(pop)?;
        Ok(Self { core: core.with_wind(wind)?.with_scenarios(scenarios)? })
    }

    /// Of the speed onto the takeoff, a share of it.
    #[getter]
    fn speed(&self) -> f64 {
        self.core.speed()
    }

    /// Of the push off the edge, m/s.
    #[getter]
    fn pop(&self) -> f64 {
        self.core.pop()
    }

    /// Of the wind along x and along y, m/s.
    #[getter]
    fn wind(&self) -> f64 {
        self.core.wind()
    }

    /// How many are drawn.
    #[getter]
    fn scenarios(&self) -> usize {
        self.core.scenarios()
    }

    fn __repr__(&self) -> String {
        text::call(
            "Doubt",
            &[
                ("speed", text::float(self.speed())),
                ("pop", text::float(self.pop())),
                ("wind", text::float(self.wind())),
                ("scenarios", self.scenarios().to_string()),
            ],
        )
    }
}

pickled!(Doubt, Core);
