//! Pickles: the numbers of a value in MessagePack, which keeps every bit of a float.
//!
//! JSON has no infinity and no NaN, and constructor arguments in degrees may come back one bit off.

use crate::errors::Failure;
use pyo3::prelude::*;
use pyo3::types::PyBytes;
use serde::{Serialize, de::DeserializeOwned};

/// What `__reduce__` returns: `_restore` and its arguments.
pub type Reduced<'py> = (Bound<'py, PyAny>, (&'static str, Bound<'py, PyBytes>));

/// A class that is made again from one serialisable value.
pub trait Pickled: Sized {
    /// The class's name, by which it is found again.
    const NAME: &'static str;
    /// The value that tells it all.
    type Core: Serialize + DeserializeOwned;
    /// The class about a value read, or what does not hold in it.
    fn from_core(core: Self::Core) -> Result<Self, Failure>;
}

/// The pickle of a `T` that is told by `core`.
pub fn reduce<'py, T: Pickled>(py: Python<'py>, core: &T::Core) -> Result<Reduced<'py>, Failure> {
    let restore = py.import("loamline._native")?.getattr("_restore")?;
    let bytes = rmp_serde::to_vec_named(core).map_err(|e| Failure::pickle(T::NAME, &e))?;
    Ok((restore, (T::NAME, PyBytes::new(py, &bytes))))
}

fn read<T: Pickled>(bytes: &[u8]) -> Result<T, Failure> {
    let core = rmp_serde::from_slice(bytes).map_err(|e| Failure::pickle(T::NAME, &e))?;
    T::from_core(core)
}

/// Says that `$class` is all told by its field `core`, others come back as they begin: it pickles, and has a card in notebooks.
macro_rules! pickled {
    ($class:ident, $core:ty $(, $other:ident)*) => {
        impl crate::pickle::Pickled for $class {
            const NAME: &'static str = stringify!($class);
            type Core = $core;

            fn from_core(core: $core) -> Result<Self, crate::errors::Failure> {
                Ok(Self { core $(, $other: Default::default())* })
            }
        }

        #[pymethods]
        impl $class {
            fn _repr_html_<'py>(slf: &Bound<'py, Self>) -> PyResult<Bound<'py, PyAny>> {
                crate::cards::html(slf.as_any())
            }

            fn __reduce__<'py>(
                &self,
                py: Python<'py>,
            ) -> Result<crate::pickle::Reduced<'py>, crate::errors::Failure> {
                crate::pickle::reduce::<Self>(py, &self.core)
            }
        }
    };
}
pub(crate) use pickled;

macro_rules! restorers {
    ($($module:ident::$class:ident),* $(,)?) => {
        /// The object of class `name` that `data` tells; only pickles call it.
        #[pyfunction]
        pub fn _restore(py: Python<'_>, name: &str, data: &[u8]) -> Result<Py<PyAny>, Failure> {
            match name {
                $(<crate::$module::$class as Pickled>::NAME => {
                    Ok(Py::new(py, read::<crate::$module::$class>(data)?)?.into_any())
                })*
                _ => Err(Failure::pickle(name, &"no such class in this version")),
            }
        }
    };
}

restorers!(
    absorber::Absorber,
    air::Air,
    bargain::Bargain,
    barrow::BarrowMap,
    doubt::Doubt,
    drop::Drop,
    earth_balance::Balance,
    earth_balance::Borrow,
    earth_ponding::Pond,
    earth_ponding::Ponding,
    earth_retaining::Retaining,
    earth_soil::Soil,
    earthwork::Earthwork,
    entrance::Entrance,
    entrance_check::EntranceCheck,
    even::EvenLanding,
    even_surface::EvenSurface,
    fit::Fit,
    flag::Flag,
    flag_forecast::FlagForecast,
    flags::Found,
    free_landing::FreeLanding,
    flight::Flight,
    ground::Ground,
    hold::HoldSpeeds,
    landing::BuiltLanding,
    landing::Landing,
    launch::Launch,
    line::Line,
    lip::Lip,
    loads::Loads,
    next_step::Ladder,
    next_step::NextStep,
    next_step::PocketCard,
    passes::Passes,
    profile::Profile,
    ride::Ride,
    rider::Rider,
    rider_class::RiderClass,
    rigid::RigidFlight,
    run_out::RunOut,
    site::Site,
    touchdown::Touchdown,
    tradeoff::Tradeoff,
    two_wheel::Terrain,
    two_wheel::TwoWheelRide,
    wall::Wall,
);
