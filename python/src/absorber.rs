//! What takes up a landing between tyres and rider.

use crate::errors::Failure;
use crate::pickle::pickled;
use crate::text;
use loamline::Rider;
use loamline::rider::Absorber as Core;
use pyo3::prelude::*;

/// Tyres, suspension, and legs and arms, as one chain along the surface's normal.
///
/// Both wheels count together. Data on bikes are few; the legs' stroke rules the result and should
/// be varied from 0.2 to 0.5 m. What is left out takes a round default. A bike without suspension is
/// `Absorber.rigid(...)`.
///
/// Args:
///     tyre_stiffness: both tyres', N/m, above 0.
///     unsprung_mass: between tyres and suspension, kg, above 0.
///     frame_mass: of the bike between suspension and rider, kg, above 0.
///     travel: of the suspension at the wheels, m, above 0.
///     sag: share of the travel used at rest, above 0 and below 1.
///     progression: spring force at full travel over a linear spring's with the same sag, 1 to 20.
///     compression: damping as the suspension goes in, N s/m, at least 0.
///     rebound: damping as it comes out, N s/m, at least 0.
///     leg_stroke: how far legs and arms can give, m, above 0.
///     leg_force: at which legs and arms yield, body weights, above 1.
///     leg_stiffness: up to that force, N/m, above 0.
///     leg_damping: N s/m, at least 0.
///
/// Raises:
///     InputError: a number outside its range.
///
/// >>> import loamline as ll
/// >>> ll.Absorber(leg_stroke=0.5).leg_stroke
/// 0.5
#[pyclass(frozen, eq, module = "loamline")]
#[derive(Debug, Clone, PartialEq)]
pub struct Absorber {
    /// The core's absorber, its values checked.
    pub core: Core,
}

macro_rules! absorber {
    (bike: $($(#[$doc:meta])* $name:ident),*; suspension: $($(#[$sdoc:meta])* $sprung:ident),* $(,)?) => {
        #[pymethods]
        impl Absorber {
            #[new]
            #[pyo3(signature = (*, travel=None, $($name=None,)* $($sprung=None),*))]
            fn new(
                travel: Option<f64>,
                $($name: Option<f64>,)*
                $($sprung: Option<f64>),*
            ) -> Result<Self, Failure> {
                let usual = Core::default();
                Self::checked(Core {
                    travel: travel.or(usual.travel),
                    $($name: $name.unwrap_or(usual.$name),)*
                    $($sprung: $sprung.unwrap_or(usual.$sprung)),*
                })
            }

            /// The absorber of a bike without suspension: tyres, the whole bike's mass, legs and arms.
            ///
            /// Args:
            ///     tyre_stiffness: both tyres', N/m, above 0.
            ///     unsprung_mass: a part of the bike's mass, kg, above 0.
            ///     frame_mass: the rest of the bike's mass, kg, above 0.
            ///     leg_stroke: how far legs and arms can give, m, above 0.
            ///     leg_force: at which legs and arms yield, body weights, above 1.
            ///     leg_stiffness: up to that force, N/m, above 0.
            ///     leg_damping: N s/m, at least 0.
            ///
            /// Raises:
            ///     InputError: a number outside its range.
            ///
            /// >>> import loamline as ll
            /// >>> ll.Absorber.rigid().travel is None
            /// True
            #[staticmethod]
            #[pyo3(signature = (*, $($name=None),*))]
            fn rigid($($name: Option<f64>),*) -> Result<Self, Failure> {
                let usual = Core::rigid();
                Self::checked(Core { $($name: $name.unwrap_or(usual.$name),)* ..usual })
            }

            /// Travel of the suspension at the wheels, m; None for a rigid bike.
            #[getter]
            fn travel(&self) -> Option<f64> {
                self.core.travel
            }

            $($(#[$doc])*
            #[getter]
            fn $name(&self) -> f64 {
                self.core.$name
            })*

            $($(#[$sdoc])*
            #[getter]
            fn $sprung(&self) -> f64 {
                self.core.$sprung
            })*

            fn __repr__(&self) -> String {
                self.text()
            }
        }

        impl Absorber {
            /// What `repr` shows.
            pub fn text(&self) -> String {
                let mut parts = vec![$((stringify!($name), text::float(self.core.$name))),*];
                let Some(travel) = self.core.travel else {
                    return text::call("Absorber.rigid", &parts);
                };
                parts.push(("travel", text::float(travel)));
                parts.extend([$((stringify!($sprung), text::float(self.core.$sprung))),*]);
                text::call("Absorber", &parts)
            }
        }
    };
}

absorber! {
    bike:
    /// Both tyres' stiffness, N/m.
    tyre_stiffness,
    /// Mass between tyres and suspension, kg.
    unsprung_mass,
    /// The bike's mass between suspension and rider, kg.
    frame_mass,
    /// How far legs and arms can give, m.
    leg_stroke,
    /// Force at which legs and arms yield, body weights.
    leg_force,
    /// Legs' and arms' stiffness up to that force, N/m.
    leg_stiffness,
    /// Legs' and arms' damping, N s/m.
    leg_damping;
    suspension:
    /// Share of the travel used at rest.
    sag,
    /// Spring force at full travel over a linear spring's with the same sag.
    progression,
    /// Damping as the suspension goes in, N s/m.
    compression,
    /// Damping as it comes out, N s/m.
    rebound,
}

impl Absorber {
    /// The absorber, once a rider has taken it: riders check what they take over.
    fn checked(core: Core) -> Result<Self, Failure> {
        Rider::default().with_absorber(core)?;
        Ok(Self { core })
    }
}

pickled!(Absorber, Core);
