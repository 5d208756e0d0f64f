//! The flight: the path of the centre of mass from the launch to the ground.

mod error;
mod integrate;
mod ledger;
mod path;

pub use error::FlightError;
pub use ledger::Ledger;
pub use path::FlightPath;
