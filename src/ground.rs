//! The ground that is flown onto: its shape, how far a point is from it, and the first touch.

mod bounds;
mod error;
mod mesh;
mod nearest;
mod tree;
mod triangle;

pub use bounds::Bounds;
pub use error::{GroundError, MeshError};
pub use mesh::Mesh;
pub use nearest::Nearest;
