//! Where mountain-bike riders land off a takeoff, how hard, and which landing to build for them.
//!
//! The layers, top first; each may use those above it, none below it:
//!
//! - [`math`]: numerics that know no physics

pub mod math;
