//! Python bindings of `loamline`: the extension module `loamline._native`.
//!
//! One noun a file. Angles turn from degrees to radians here and nowhere else; errors turn into
//! exceptions in [`errors`]; long work goes through [`watch`].

mod absorber;
mod air;
mod arrays;
mod bargain;
mod barrow;
mod batch_loads;
mod batch_passes;
mod brake;
mod cards;
mod columns;
mod doubt;
mod drop;
mod earth_balance;
mod earth_bedding;
mod earth_ponding;
mod earth_retaining;
mod earth_soil;
mod earth_words;
mod earthwork;
mod entrance;
mod entrance_check;
mod errors;
mod even;
mod even_surface;
mod files;
mod fit;
mod flag;
mod flag_errors;
mod flag_forecast;
mod flags;
mod flight;
mod flight_paths;
mod flights;
mod frames;
mod free;
mod free_landing;
mod ground;
mod hold;
mod landing;
mod launch;
mod line;
mod lip;
mod loads;
mod next_step;
mod passes;
mod pickle;
mod plan;
mod profile;
mod ride;
mod rider;
mod rider_class;
mod rigid;
mod rigid_flights;
mod run_out;
mod site;
mod text;
mod touchdown;
mod tradeoff;
mod two_wheel;
mod units;
mod wall;
mod watch;

use pyo3::prelude::*;

/// Native part of loamline.
#[pymodule]
mod _native {
    use super::{Bound, PyModule, PyModuleMethods, PyResult, errors};

    #[pymodule_export]
    use super::absorber::Absorber;
    #[pymodule_export]
    use super::air::Air;
    #[pymodule_export]
    use super::bargain::{Bargain, bargain};
    #[pymodule_export]
    use super::barrow::{BarrowMap, barrow_map, next_barrows};
    #[pymodule_export]
    use super::batch_loads::{BatchLoads, loads};
    #[pymodule_export]
    use super::batch_passes::{BatchPasses, passes};
    #[pymodule_export]
    use super::columns::_columns;
    #[pymodule_export]
    use super::doubt::Doubt;
    #[pymodule_export]
    use super::drop::Drop;
    #[pymodule_export]
    use super::earth_balance::{Balance, Borrow};
    #[pymodule_export]
    use super::earth_bedding::{base_course, membrane};
    #[pymodule_export]
    use super::earth_ponding::{Pond, Ponding, ponding};
    #[pymodule_export]
    use super::earth_retaining::{Retaining, retaining};
    #[pymodule_export]
    use super::earth_soil::Soil;
    #[pymodule_export]
    use super::earthwork::{Earthwork, earthwork};
    #[pymodule_export]
    use super::entrance::Entrance;
    #[pymodule_export]
    use super::entrance_check::{EntranceCheck, check_entrance};
    #[pymodule_export]
    use super::even::{EvenLanding, even_landing};
    #[pymodule_export]
    use super::even_surface::{EvenSurface, even_surface};
    #[pymodule_export]
    use super::files::{site_schema, write_ascii_grid, write_obj, write_ply};
    #[pymodule_export]
    use super::fit::{Fit, fit_landing};
    #[pymodule_export]
    use super::flag::Flag;
    #[pymodule_export]
    use super::flag_forecast::FlagForecast;
    #[pymodule_export]
    use super::flags::{Found, fit_flags};
    #[pymodule_export]
    use super::flight::Flight;
    #[pymodule_export]
    use super::flight_paths::flight_paths;
    #[pymodule_export]
    use super::flights::{Flights, flights};
    #[pymodule_export]
    use super::free_landing::{FreeLanding, free_landing};
    #[pymodule_export]
    use super::ground::Ground;
    #[pymodule_export]
    use super::hold::HoldSpeeds;
    #[pymodule_export]
    use super::landing::{BuiltLanding, Landing};
    #[pymodule_export]
    use super::launch::Launch;
    #[pymodule_export]
    use super::line::Line;
    #[pymodule_export]
    use super::lip::Lip;
    #[pymodule_export]
    use super::loads::Loads;
    #[pymodule_export]
    use super::next_step::{Ladder, NextStep, PocketCard, ladder, next_step};
    #[pymodule_export]
    use super::passes::Passes;
    #[pymodule_export]
    use super::pickle::_restore;
    #[pymodule_export]
    use super::profile::Profile;
    #[pymodule_export]
    use super::ride::Ride;
    #[pymodule_export]
    use super::rider::Rider;
    #[pymodule_export]
    use super::rider_class::RiderClass;
    #[pymodule_export]
    use super::rigid::RigidFlight;
    #[pymodule_export]
    use super::rigid_flights::{RigidFlights, rigid_flights};
    #[pymodule_export]
    use super::run_out::{RunOut, run_out};
    #[pymodule_export]
    use super::site::Site;
    #[pymodule_export]
    use super::touchdown::Touchdown;
    #[pymodule_export]
    use super::tradeoff::{Tradeoff, tradeoff};
    #[pymodule_export]
    use super::two_wheel::{Terrain, TwoWheelRide};
    #[pymodule_export]
    use super::wall::Wall;

    #[pymodule_init]
    fn init(m: &Bound<'_, PyModule>) -> PyResult<()> {
        m.add("__version__", env!("CARGO_PKG_VERSION"))?;
        errors::register(m)
    }
}
