//! Where mountain-bike riders land off a takeoff, how hard, and which landing to build for them.
//!
//! The layers, top first; each may use those above it, none below it:
//!
//! - [`explain`]: the form in which every result says what stands behind it
//! - [`math`]: numerics that know no physics
//! - [`geometry`]: plan curves, profiles and frames along a line
//! - air ([`Air`]): density, wind and gravity at a site
//! - [`rider`]: rider and bike as one: mass, resistance, sizes, inertia, what soaks up a landing
//! - [`force`]: the one assembly of the forces on rider and bike
//! - [`ground`]: plane, grid, survey, landing, the higher of two; how far a point is from them
//! - [`feature`]: what is ridden to leave the ground: the wall, its lines and its free line; lip, drop, entrance
//! - [`earth`]: volumes between surfaces, sections for checking by hand, soils, loads, hours, backs, ponds
//! - [`ride`]: motion along a line: speeds, loads, outcomes, hold speeds, start marks
//! - [`launch`]: leaving the edge
//! - [`flight`]: the path through the air and how it ends
//! - [`touchdown`]: the moment of landing: where, how hard, and what to beware of
//! - [`load`]: what bike and body take in a landing
//! - [`two_wheel`]: the whole act on two wheels with suspension, in the plane of travel
//! - [`site`]: what a site is: riders, marks, bounds of a landing; values only
//! - [`passes`]: ensembles: who comes down the hill, and where each comes down
//! - [`design`]: which landing to build: score, fit, trade-off, even landing, run-out, next barrow
//! - [`flags`]: what test rides' marks tell, where faster rides come down, what may be tried next
//! - [`files`]: site files, tables and exports: the only part that reads and writes

mod air;
pub mod design;
pub mod earth;
pub mod explain;
pub mod feature;
pub mod files;
pub mod flags;
pub mod flight;
pub mod force;
pub mod geometry;
pub mod ground;
pub mod launch;
pub mod load;
pub mod math;
pub mod passes;
pub mod ride;
pub mod rider;
pub mod site;
pub mod touchdown;
pub mod two_wheel;

pub use air::{Air, AirError};
pub use ground::Ground;
pub use rider::{Rider, RiderError};

/// The README's Rust compiles and runs.
#[cfg(doctest)]
#[doc = include_str!("../README.md")]
struct Readme;
