//! The two-wheel rider: what is ridden, and the ride.

mod marks;
mod ride;
mod start;
mod terrain;

pub use ride::TwoWheelRide;
pub use start::options;
pub use terrain::Terrain;
