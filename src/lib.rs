//! Where mountain-bike riders land off a takeoff, how hard, and which landing to build for them.
//!
//! The layers, top first; each may use those above it, none below it:
//!
//! - [`math`]: numerics that know no physics
//! - air ([`Air`]): density, wind and gravity at a site
//! - [`rider`]: rider and bike as one: mass, resistance, sizes, inertia, what soaks up a landing
//! - [`ground`]: the ground that is flown onto
//! - [`site`]: what a site is: riders, marks, bounds of a landing; values only

mod air;
pub mod ground;
pub mod math;
pub mod rider;
pub mod site;

pub use air::{Air, AirError};
pub use rider::{Rider, RiderError};
