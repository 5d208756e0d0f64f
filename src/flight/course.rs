//! The way of a flight, flown when it is first asked for.

use super::error::FlightError;
use super::path::FlightPath;
use crate::force::Forces;
use crate::math::Vec3;
use serde::{Deserialize, Serialize};
use std::sync::OnceLock;

/// Where and how a flight begins and until when it lasts: its path follows from that.
#[derive(Debug, Clone, Serialize, Deserialize)]
#[serde(from = "FlightPath", into = "FlightPath")]
pub(super) struct Course {
    forces: Forces,
    position: Vec3,
    velocity: Vec3,
    until: f64,
    /// Apart, for it is large, and most flights are only asked for their end.
    path: OnceLock<Box<FlightPath>>,
}

impl Course {
    /// The way from a launch, all numbers, until a time.
    pub(super) const fn new(position: Vec3, velocity: Vec3, forces: Forces, until: f64) -> Self {
        Self { forces, position, velocity, until, path: OnceLock::new() }
    }

    pub(super) const fn forces(&self) -> &Forces {
        &self.forces
    }

    /// The path, at least until the end where numbers hold it that far.
    pub(super) fn path(&self) -> &FlightPath {
        self.path.get_or_init(|| {
            let mut path = FlightPath::begun(self.position, self.velocity, self.forces);
            // Who made this has found the end: the path comes to it.
            path.fly(self.until).ok();
            Box::new(path)
        })
    }

    /// The same way until another time.
    pub(super) fn until(&self, time: f64) -> Result<Self, FlightError> {
        let mut path = self.path().clone();
        path.fly(time)?;
        Ok(path.into())
    }
}

impl From<FlightPath> for Course {
    fn from(path: FlightPath) -> Self {
        let (forces, start, until) = (*path.forces(), *path.first(), path.duration());
        let path = OnceLock::from(Box::new(path));
        Self { path, ..Self::new(start.position, start.velocity, forces, until) }
    }
}

impl From<Course> for FlightPath {
    fn from(course: Course) -> Self {
        course.path().clone()
    }
}

/// Whether it is flown yet makes no difference.
impl PartialEq for Course {
    fn eq(&self, other: &Self) -> bool {
        (self.forces, self.position, self.velocity)
            == (other.forces, other.position, other.velocity)
    }
}
