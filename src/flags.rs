//! Flags: what the marks of test rides tell of a rider, where faster rides would come down, and what may be tried next.
//!
//! A test ride from a start mark leaves a mark where the tyres come down. The model gives the mark for a rider's rolling
//! resistance, drag area, braking habit, pop, how far he leaves from where he is seen to, and how much faster he comes to the
//! takeoff than the run-in's model has it. [`fit_flags`] turns that round: maximum a posteriori with what is believed of each
//! beforehand, a normal distribution about it (Laplace), the lean an unknown too. [`Found::forecast`] rides what is left open,
//! and [`next_step`] says how far up the hill the next start may be.

mod card;
mod cases;
mod check;
mod course;
mod error;
mod estimate;
mod explain;
mod flag;
mod flown;
mod forecast;
mod found;
mod ladder;
mod measure;
mod miss;
mod mode;
mod need;
mod refusal;
mod region;
mod sampled;
mod seen;
mod sight;
mod slopes;
mod step;
mod test_ride;
mod unknown;
mod walk;
mod warning;

pub use card::{CardRow, PocketCard};
pub use check::FlagCheck;
pub use error::FlagsError;
pub use estimate::{Estimate, Pair};
pub use flag::{
    Flag, GATE_SPEED_SD, Gate, MARK_SD, PACED_SHARE, PHONE_SD, PHONE_SPEED_SD, START_SD,
    STOPWATCH_SD, Speed, Spot, Timing, Tyre,
};
pub use forecast::{Band, DRAWS, Draw, Forecast, Landed, Risk};
pub use found::{FlagOptions, Found, LeanFound, NOTABLE, fit_flags};
pub use ladder::{Ladder, Rung, ladder};
pub use measure::{Measurement, Method};
pub use miss::Stop;
pub use need::Need;
pub use refusal::{Limit, Refusal};
pub use region::{Cloud, Region};
pub use sampled::Sampled;
pub use seen::Seen;
pub use step::{FALL_STEP, GRIP_SPARE, NextStep, SPEED_STEP, Step, StepOptions, next_step};
pub use test_ride::TestRide;
pub use unknown::{Priors, Unknown, Values};
pub use warning::FlagsWarning;
