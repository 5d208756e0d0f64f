//! Site files, tables and exports: all that the core reads and writes.

mod angle;
mod atomic;
mod check;
mod demo;
mod document;
mod error;
mod fault;
mod keys;
mod load;
mod mesh;
mod points;
mod quantity;
mod raster;
mod raw;
mod read;
mod rules;
mod save;
mod schema;
mod spot;
mod stakes;
mod table;

pub use atomic::{write_bytes, write_text};
pub use demo::{demo_files, demo_site};
pub use error::FileError;
pub use load::load_site;
pub use mesh::{write_obj, write_ply};
pub use raster::{Lattice, write_ascii_grid};
pub use save::save_site;
pub use schema::site_schema;
pub use spot::Spot;
pub use stakes::write_stakes;
