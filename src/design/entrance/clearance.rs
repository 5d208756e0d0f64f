//! What clears the crest: a chainring between two wheels.

use super::error::EntranceError;
use super::side::Side;
use crate::feature::Entrance;
use crate::math::Vec2;
use crate::math::range::{OutOfRange, positive};
use crate::math::roots::bracketed;
use crate::math::search::lowest;
use crate::rider::Rider;
use serde::{Deserialize, Serialize};

/// The bike is looked at every so many metres.
const STEP: f64 = 0.01;
/// So many steps of the golden section take a step of the search down to rounding.
const GOLDEN_STEPS: usize = 40;

/// The chainring as it stands between the wheels.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize)]
pub struct Chainring {
    height: f64,
    radius: f64,
    ahead: f64,
}

impl Default for Chainring {
    /// 32 teeth of half-inch pitch with the chain on them, 0.07 m; bottom bracket 0.335 m high and 0.44 m ahead of the rear
    /// axle: common practice.
    fn default() -> Self {
        Self { height: 0.335, radius: 0.07, ahead: 0.44 }
    }
}

impl Chainring {
    /// A ring of a radius with the chain on it, its middle so high over level ground and so far ahead of the rear axle;
    /// metres, above 0.
    pub fn new(height: f64, radius: f64, ahead: f64) -> Result<Self, OutOfRange> {
        let (height, radius) = (positive("height", height)?, positive("radius", radius)?);
        Ok(Self { height, radius, ahead: positive("ahead", ahead)? })
    }

    /// The height of its middle over level ground, metres.
    pub const fn height(&self) -> f64 {
        self.height
    }

    /// Its radius with the chain on it, metres.
    pub const fn radius(&self) -> f64 {
        self.radius
    }

    /// How far its middle is ahead of the rear axle along the line of the axles, metres.
    pub const fn ahead(&self) -> f64 {
        self.ahead
    }
}

/// How near the chainring comes to the ground.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize)]
#[non_exhaustive]
pub struct Clearance {
    /// The least distance, metres; below 0 it hits.
    pub least: f64,
    /// The rear wheel's station there.
    pub rear_station: f64,
    /// The distance on the level, metres.
    pub level: f64,
}

impl Entrance {
    /// How near a chainring comes to this entrance with the rider's wheels on it: exact to rounding for wheels that fit
    /// into the hollow.
    ///
    /// From a wheelbase and more before the entrance to the rear wheel on the deck. Errors: a chainring that is not between
    /// the wheels, a hollow tighter than the wheels.
    pub fn clearance(&self, rider: &Rider, ring: &Chainring) -> Result<Clearance, EntranceError> {
        self.check_rider(rider)?;
        if ring.ahead >= rider.wheelbase() {
            let allowed = "below the wheelbase: the ring is between the wheels";
            return Err(OutOfRange::new("ahead", ring.ahead, allowed).into());
        }
        let bike = Bike { side: Side::of(self.shape()), rider, ring };
        let (from, to) = (-2.0 * rider.wheelbase(), bike.side.length());
        let mut least = (f64::INFINITY, from);
        let mut station = from;
        while station <= to + STEP {
            let gap = bike.gap(station)?;
            if gap < least.0 {
                least = (gap, station);
            }
            station += STEP;
        }
        let (least, rear_station) = bike.refined(least.1)?;
        Ok(Clearance { least, rear_station, level: ring.height - ring.radius })
    }
}

/// A bike on the curve.
struct Bike<'a> {
    side: Side,
    rider: &'a Rider,
    ring: &'a Chainring,
}

impl Bike<'_> {
    fn axle(&self, station: f64) -> Vec2 {
        let (place, angle) = self.side.at(station);
        place + Vec2::new(-angle.sin(), angle.cos()) * self.rider.wheel_radius()
    }

    /// The ring's distance to the ground with the rear wheel at a station.
    fn gap(&self, station: f64) -> Result<f64, EntranceError> {
        let (rear, wheelbase) = (self.axle(station), self.rider.wheelbase());
        let short = |front: f64| (self.axle(front) - rear).norm() - wheelbase;
        // In a hollow an axle's way is shorter than the wheel's, over a crest longer.
        let farthest = station + 3.0 * wheelbase + self.side.length();
        let front = bracketed(short, station, farthest, 1e-12)?;
        let along = (self.axle(front) - rear) / wheelbase;
        let up = Vec2::new(-along.y, along.x);
        let above_axles = self.ring.height - self.rider.wheel_radius();
        let middle = rear + along * self.ring.ahead + up * above_axles;
        Ok(self.side.gap(&middle) - self.ring.radius)
    }

    /// The least distance about a station, and where.
    fn refined(&self, about: f64) -> Result<(f64, f64), EntranceError> {
        let around = (about - STEP, about + STEP);
        let (station, gap) = lowest(|station| self.gap(station), around, GOLDEN_STEPS)?;
        Ok((gap, station))
    }
}
