//! From one line to the next.

use super::error::RideError;
use super::result::Ride;
use super::station::{Body, Station};
use crate::air::Air;
use crate::geometry::Line;
use crate::rider::Rider;

impl Ride {
    /// The tyres' speed at the start of `next`, m/s, which begins where this ride's line ends.
    ///
    /// `E + g c_z` carries over, so that where the surface's tilt or curvature jumps, the speed does. Errors: a
    /// ride that ended early, and too little energy for the centre of mass of the next line's start.
    pub fn carry_to(&self, next: &Line, rider: &Rider, air: &Air) -> Result<f64, RideError> {
        let exit = self.reached()?;
        let station = start_of(next, rider);
        let energy = exit.energy + air.gravity() * (exit.centre.z - station.centre.z);
        if energy < 0.0 {
            return Err(RideError::JointTooHigh { missing: -energy });
        }
        Ok(station.speed(energy))
    }
}

/// What the equation makes of a line's start, ridden square to the surface.
pub(super) fn start_of(line: &Line, rider: &Rider) -> Station {
    let first = line.sections().next();
    let (piece, parameter) = first.map_or((0, 0.0), |first| (first.piece, first.from));
    let (frame, _) = line.at(piece, parameter);
    Station::new(&frame, &Body::new(rider))
}
