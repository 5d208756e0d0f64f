//! The whole act on two wheels: run-in, leaving, flight, landing and riding out, in the plane of travel.
//!
//! A rigid body on two wheels with suspension and tyres rides over a [`Terrain`] of profiles, with edges and gaps between
//! them: [`Rider::two_wheel_ride`](crate::Rider::two_wheel_ride). It pitches as the front wheel leaves, lands on one wheel
//! or both, and rides out or does not ([`TwoWheelOutcome`]).
//!
//! # Model
//!
//! Coordinates: place `(x, z)` and pitch of the sprung body, and the compression `s_r`, `s_f` of both ends. A hub is at
//! `c + a t + (e + s) u`, with `t` forward and `u` up through the bike; its guide along `u` is straight, without mass or
//! friction. The tyre pushes with `k` times the depth to which the ground reaches into the wheel's circle, along the
//! shortest way out of it. Rolling resistance `Crr N` pulls at the hub; a brake pulls at the ground and turns the frame.

mod bike;
mod contacts;
mod error;
mod explain;
mod ledger;
mod march;
mod motion;
mod options;
mod outcome;
mod peaks;
mod phase;
mod result;
mod samples;
mod settle;
mod strut;
mod terrain;

pub use contacts::{First, Hop, WheelMark};
pub use error::TwoWheelError;
pub use ledger::{Stored, TwoWheelLedger, TwoWheelMomentum};
pub use options::{Braking, Clearance, Pose, Start, TwoWheelOptions};
pub use outcome::{End, Spot, TwoWheelOutcome, TwoWheelWarning};
pub use peaks::{At, TwoWheelPeaks};
pub use result::TwoWheelRide;
pub use samples::{TwoWheelSamples, WheelSamples};
pub use terrain::{Feature, Section, Terrain, Touch};
