//! What a site is: its ground, its takeoff, its riders, and what a landing on it may be.

mod bounds;
mod class;
mod dist;
mod error;
mod interval;
mod place;
mod run_in;

pub use bounds::{Bounds, Obstacle};
pub use class::RiderClass;
pub use dist::Dist;
pub use error::SiteError;
pub use interval::Interval;
pub use place::{Mark, Wind};
pub use run_in::RunIn;

#[cfg(test)]
mod tests;
