//! The flight: the path of the centre of mass from the launch to the ground.

pub mod batch;
mod course;
mod error;
mod integrate;
mod ledger;
mod path;
mod rigid;
mod rotation;
mod series;

pub use error::FlightError;
pub use ledger::{Ledger, Momentum};
pub use path::FlightPath;
pub use rigid::{RigidFlight, RigidOptions};
pub use rotation::{Body, Rotation, SpinLedger, Turning};

use crate::air::Air;
use crate::explain::Explanation;
use crate::force::Forces;
use crate::ground::{End, Ground, Reach, Search, Surface, Touch};
use crate::launch::Launch;
use crate::math::Vec3;
use crate::math::path::Motion;
use crate::math::range::OutOfRange;
use crate::rider::Rider;
use course::Course;
use serde::{Deserialize, Serialize};

/// What a flight assumes of the rider beyond what [`Rider`] says.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize)]
pub struct FlightOptions {
    /// How fast a rider who leaves leaning rights himself, rad/s: [`Reach::RIGHTING_RATE`] unless known better.
    pub righting_rate: f64,
}

impl Default for FlightOptions {
    fn default() -> Self {
        Self { righting_rate: Reach::RIGHTING_RATE }
    }
}

/// A flight from its launch to the ground, or to where it is known to find none.
///
/// One onto a plane asks for no heap, but for a few that come near to rest in the air; nor does one onto a grid of up to some
/// 0.8 s of flight at 4 m/s, 1.5 s at 12 m/s. The path is kept there, once it is asked for.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct Flight {
    launch: Launch,
    #[serde(rename = "path")]
    course: Course,
    ground: Ground,
    options: FlightOptions,
    /// The height of the centre of mass over the tyres at touchdown.
    height: f64,
    grip: f64,
    reach: Reach,
    end: End,
    end_velocity: Vec3,
}

impl Launch {
    /// The flight of this rider in this air until he touches the ground.
    ///
    /// The rider is a point that flies under gravity and drag; touchdown is the first time at which his distance to
    /// the ground comes down to his reach, to 1e-9 m on planes and 1e-7 m on grids and surveys. The rider as one rigid
    /// body, no gusts, no steering in the air.
    pub fn flight(&self, ground: &Ground, rider: &Rider, air: &Air) -> Result<Flight, FlightError> {
        self.flight_with(ground, rider, air, FlightOptions::default())
    }

    /// As [`Self::flight`], with other assumptions.
    pub fn flight_with(
        &self,
        ground: &Ground,
        rider: &Rider,
        air: &Air,
        options: FlightOptions,
    ) -> Result<Flight, FlightError> {
        let height = rider.com_height_landing();
        let reach = self.reach(ground, height, options)?;
        let forces = Forces::new(rider, air);
        let (end, end_velocity) = self.flown(ground, reach, forces)?;
        let course = Course::new(self.position, self.velocity, forces, end.time());
        let (launch, ground, grip) = (self.clone(), ground.clone(), rider.grip());
        Ok(Flight { launch, course, ground, options, height, grip, reach, end, end_velocity })
    }

    /// How the flight ends, and the velocity there: onto a plane in closed form where that is certain.
    fn flown(
        &self,
        ground: &Ground,
        reach: Reach,
        forces: Forces,
    ) -> Result<(End, Vec3), FlightError> {
        let (position, velocity) = path::checked(self.position, self.velocity)?;
        if let Some((touch, velocity)) = self.onto_plane(ground, &reach, &forces) {
            return Ok((End::Touch(touch), velocity));
        }
        let mut path = FlightPath::begun(position, velocity, forces);
        let end = path.fly_to(&mut Search::new(ground, reach))?;
        Ok((end, path.velocity(end.time())))
    }

    /// The touch of a plane with drag, and the velocity there, where they are certain.
    fn onto_plane(&self, ground: &Ground, reach: &Reach, forces: &Forces) -> Option<(Touch, Vec3)> {
        let [Surface::Plane(plane)] = ground.surfaces() else { return None };
        if forces.k() <= 0.0 {
            return None;
        }
        let (position, velocity) = (&self.position, &self.velocity);
        let landed = batch::touch(position, velocity, forces, plane, reach.height())?;
        // Before he is upright he reaches less far: he has not touched before.
        let touch = Touch::of_plane(plane, reach, landed.time, landed.position);
        (reach.lean_owed(landed.time) <= 0.0).then_some((touch, landed.velocity))
    }

    /// The path of this rider through this air for a time, at most 60 s, whatever the ground.
    pub fn fly_free(
        &self,
        rider: &Rider,
        air: &Air,
        duration: f64,
    ) -> Result<FlightPath, FlightError> {
        let mut path = FlightPath::start(self.position, self.velocity, Forces::new(rider, air))?;
        path.fly(duration)?;
        Ok(path)
    }

    /// The reach of a rider who leaves like this: his lean is the angle between "up through the bike" and the normal
    /// of the nearest ground, none for a launch without attitude.
    pub fn reach(
        &self,
        ground: &Ground,
        height: f64,
        options: FlightOptions,
    ) -> Result<Reach, FlightError> {
        let lean = self.attitude.as_ref().map_or(0.0, |attitude| {
            let near = ground.nearest(self.position, f64::INFINITY);
            near.map_or(0.0, |near| angle(&attitude.u, &near.normal))
        });
        if lean.is_nan() {
            return Err(OutOfRange::new("attitude.u", lean, "a finite vector").into());
        }
        Ok(Reach::leaning(height, lean, options.righting_rate)?)
    }
}

impl Flight {
    /// The same flight onto another ground, as if it had been there from the launch: the path is kept.
    pub fn on(&self, ground: &Ground) -> Result<Self, FlightError> {
        let reach = self.launch.reach(ground, self.height, self.options)?;
        let end = self.course.path().touch(ground, reach)?;
        let course = self.course.until(end.time())?;
        let end_velocity = course.path().velocity(end.time());
        let (ground, launch) = (ground.clone(), self.launch.clone());
        Ok(Self { launch, course, ground, reach, end, end_velocity, ..*self })
    }

    /// Seconds from the launch to the end.
    pub fn time(&self) -> f64 {
        self.end.time()
    }

    /// How it ended.
    pub fn end(&self) -> &End {
        &self.end
    }

    /// Where it began.
    pub fn launch(&self) -> &Launch {
        &self.launch
    }

    /// What it was flown onto.
    pub fn ground(&self) -> &Ground {
        &self.ground
    }

    /// How far the tyres reach down over time.
    pub fn reach(&self) -> &Reach {
        &self.reach
    }

    /// The grip between tyre and ground.
    pub fn grip(&self) -> f64 {
        self.grip
    }

    /// The path through the air, which goes on a little past the end.
    pub fn flight_path(&self) -> &FlightPath {
        self.course.path()
    }

    /// What moved the rider.
    pub fn forces(&self) -> &Forces {
        self.course.forces()
    }

    /// The velocity of the centre of mass at the end.
    pub(crate) const fn end_velocity(&self) -> Vec3 {
        self.end_velocity
    }

    /// The centre of mass at a time since the launch.
    pub fn position(&self, t: f64) -> Vec3 {
        self.flight_path().position(t)
    }

    /// Its velocity at a time since the launch.
    pub fn velocity(&self, t: f64) -> Vec3 {
        self.flight_path().velocity(t)
    }

    /// The highest moment of the flight.
    pub fn apex(&self) -> Motion {
        self.flight_path().apex(self.time())
    }

    /// `n` places of the centre of mass, evenly spaced in time from launch to end, both included.
    pub fn path(&self, n: usize) -> Vec<Vec3> {
        self.flight_path().sample(self.time(), n)
    }

    /// Where the energy went.
    pub fn ledger(&self) -> Ledger {
        self.flight_path().ledger(self.time())
    }

    /// Where the momentum went.
    pub fn momentum(&self) -> Momentum {
        self.flight_path().momentum(self.time())
    }

    /// The model behind the numbers, what went in, its sources and its limits.
    pub fn explain(&self) -> Explanation {
        let (forces, launch) = (self.forces(), &self.launch);
        let model = "The centre of mass flies as a point: gravity, and drag that grows with the square of the air speed, in \
            air of constant density and wind. Without drag the path is a parabola; with drag a Taylor series in time, \
            good to 1e-10 m, and the touch of a plane an integral over the path's slope, as good.";
        let limits =
            "No lift, no gusts, no change of drag area with posture, no steering in the air.";
        Explanation::new(model, limits)
            .with_source("Newton's laws; quadratic drag as in J. R. Taylor, Classical Mechanics, 2005, chapter 2 (from memory)")
            .with_input("gravity", forces.g(), "m/s^2")
            .with_input("k", forces.k(), "1/m")
            .with_input("speed", launch.velocity.norm(), "m/s")
            .with_input("time", self.time(), "s")
    }
}

fn angle(a: &Vec3, b: &Vec3) -> f64 {
    a.cross(b).norm().atan2(a.dot(b))
}

#[cfg(test)]
mod tests;
