//! Earthwork: volumes between surfaces, sections for checking by hand, soils, loads, hours, backs that hold earth.

mod backfill;
mod balance;
mod bedding;
mod crib;
mod earthwork;
mod labour;
mod lifts;
mod loads;
mod means;
mod overlay;
mod ponding;
mod retaining;
pub mod sections;
mod shape;
mod soil;
mod split;
mod spread;
mod theory;
mod volume;

pub use backfill::{Backfill, Pressure, Push, Thrust, WATER_WEIGHT};
pub use balance::{Balance, Borrow, Draw};
pub use bedding::{BaseCourse, CROWN, Roll, Strips};
pub use crib::{Crib, Footing};
pub use earthwork::{Earthwork, EarthworkError, Unwise};
pub use labour::{Digging, Hours, Task};
pub use lifts::{Grain, Lifts, Tamping};
pub use loads::{Barrow, Loads, Trailer};
pub use means::Means;
pub use ponding::{Drain, Drainage, Flat, Pond, Ponding, PondingError};
pub use retaining::{Bearing, Caution, ENGINEER_HEIGHT, Retaining};
pub use shape::{Shape, shape};
pub use soil::{Soil, SoilError};
pub use spread::Spread;
pub use theory::{PressureError, Theory, equivalent_friction};
pub use volume::{Volume, VolumeError, volume};
