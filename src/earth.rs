//! Earthwork: volumes between surfaces, sections for checking by hand, soils, loads.

mod loads;
mod overlay;
pub mod sections;
mod soil;
mod split;
mod volume;

pub use loads::{Barrow, Loads};
pub use soil::{Soil, SoilError, Spread};
pub use volume::{Volume, VolumeError, volume};
