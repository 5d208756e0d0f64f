//! Loamline in C: grounds, flights, touchdowns, loads and sites, through a small header.
//!
//! Every function gives a [`LoamlineStatus`]; on any but [`LoamlineStatus::Ok`] nothing is written, and
//! [`loamline_last_error`] says in words what was wrong. No panic crosses the border: `border` catches it.
//!
//! # Safety
//!
//! One contract for all functions. A pointer is null, or it points to what its type says, aligned, for as many as the count
//! beside it says, and nothing else writes there during the call. A text ends in a zero byte. What a function makes is
//! handed back once, to the function of its name that ends in `_free`, and not used afterwards. Null is always safe: where
//! something is needed it gives [`LoamlineStatus::NullPointer`].

mod border;
mod flight;
mod ground;
mod loads;
mod site;
mod values;

pub use border::{LoamlineStatus, loamline_last_error, loamline_version};
pub use flight::{
    LoamlineFlight, loamline_flight, loamline_flight_free, loamline_flight_position,
    loamline_flight_touchdown, loamline_flights,
};
pub use ground::{
    LoamlineGround, loamline_ground_free, loamline_ground_grid, loamline_ground_height,
    loamline_ground_plane, loamline_ground_survey, loamline_ground_with_landing,
};
pub use loads::{LoamlineLoads, loamline_loads};
pub use site::{
    LoamlineSite, loamline_site_demo, loamline_site_flight, loamline_site_free,
    loamline_site_ground, loamline_site_load,
};
pub use values::{
    LoamlineAir, LoamlineLanding, LoamlineLaunch, LoamlineOutcome, LoamlineRider,
    LoamlineTouchdown, loamline_air_default, loamline_rider_default, loamline_rider_typical,
};
