//! Curves: plans seen from above, profiles and vertical curves seen from the side, and the lines that tyres follow, with their frames.

mod bends;
mod corners;
mod error;
mod frame;
mod line;
mod plan;
mod profile;
mod table;
mod vertical;

pub use error::GeometryError;
pub use frame::{Contact, Frame};
pub use line::{Line, OnPanel, Section, Track, Uphill};
pub use plan::{Piece, Plan, PlanPoint, Turn};
pub use profile::Profile;
pub(crate) use profile::ProfileCurve;
pub use vertical::{Bend, VerticalCurve, VerticalPoint};
