//! Riding along a given line: run-in, entrance, wall and run-out by one model.
//!
//! The tyres follow the line; the centre of mass stands `h` off it along `u`. With `E` the kinetic energy per mass,
//! wheels' spin included, `dE/ds = -g c_z' - rolling - drag - brake + pedal`. What is integrated is `E + g c_z`, so that a ride
//! without friction keeps it to rounding: by Gauss collocation of order 24 on panels that follow the line and end at its
//! joints. The rider is one rigid body that does not pump, on one normal for both wheels; steering and the body's
//! own rotation (about 1 % of `E`) are neglected. How the rider leans is [`Lean`]: `deck` rides are marched, `balanced` and
//! `settled` ones are boundary-value problems, for a lean that is a little off falls over.

mod answers;
mod balance;
mod beside;
mod brake;
mod carry;
mod conclude;
mod course;
mod edge;
mod equation;
mod error;
mod events;
mod every;
mod hold;
mod hold_balanced;
mod hold_linear;
mod ledger;
mod march;
mod options;
mod outcome;
mod panel;
mod peak;
mod record;
mod resolved;
mod result;
mod samples;
mod start_mark;
mod station;
mod words;
mod zones;

pub(crate) use answers::{Cause, ExitAnswer, Passing, Row};
pub(crate) use beside::Beside;
pub use brake::{Brake, Slowing, Zone};
pub use edge::{Bend, Bike, Edge};
pub use error::RideError;
pub(crate) use every::EveryRide;
pub use hold::HoldSpeeds;
pub use ledger::{Ledger, Momentum};
pub(crate) use options::TOP_SPEED;
pub use options::{Lean, RideOptions};
pub use outcome::{Outcome, Slide, Slip, Warning};
pub use peak::Peak;
pub use result::{Exit, Ride};
pub use samples::Samples;
