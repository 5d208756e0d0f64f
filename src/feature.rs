//! What is ridden to leave the ground: each feature gives the lines that can be ridden on it.

mod bank;
mod drop;
mod entrance;
mod error;
pub mod free;
mod height;
mod lip;
mod panel;
mod ramp;
mod surface;
mod wall;
mod wall_line;

pub use bank::Bank;
pub use drop::Drop;
pub use entrance::{Entrance, EntranceShape};
pub use error::WallError;
pub use free::{FreeAim, FreeEnd, FreeEntry, FreeError, FreeLine, FreeOutcome};
pub use lip::Lip;
pub use ramp::RampError;
pub use surface::SurfacePoint;
pub use wall::Wall;
