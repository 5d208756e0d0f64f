//! What is ridden to leave the ground: each feature gives the lines that can be ridden on it.

mod bank;
mod error;
mod height;
mod panel;
mod surface;
mod wall;
mod wall_line;

pub use bank::Bank;
pub use error::WallError;
pub use surface::SurfacePoint;
pub use wall::Wall;
