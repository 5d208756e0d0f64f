//! What is ridden to leave the ground on a site.

use super::{Interval, SiteError};
use crate::feature::{Drop, Lip, Wall};
use crate::geometry::Line;
use crate::math::Vec3;
use crate::math::range::within;
use crate::rider::Rider;
use serde::{Deserialize, Serialize};

/// What is ridden to leave the ground.
///
/// Where riders leave its edge is said in metres: up the panel from its foot on a wall, across from the middle to the left
/// on a lip or a drop.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
#[non_exhaustive]
pub enum Takeoff {
    /// A swept wall.
    Wall(Wall),
    /// A lip.
    Lip(Lip),
    /// A drop.
    Drop(Drop),
}

impl Takeoff {
    /// What it is called: "wall", "lip" or "drop".
    pub const fn name(&self) -> &'static str {
        match self {
            Self::Wall(_) => "wall",
            Self::Lip(_) => "lip",
            Self::Drop(_) => "drop",
        }
    }

    /// The wall, where it is one.
    pub const fn as_wall(&self) -> Option<&Wall> {
        match self {
            Self::Wall(wall) => Some(wall),
            _ => None,
        }
    }

    /// From where to where its edge can be left, m.
    pub fn places(&self) -> Interval {
        let across = |width: f64| Interval::new(-0.5 * width, 0.5 * width);
        match self {
            Self::Wall(wall) => Interval::new(0.0, wall.width()),
            Self::Lip(lip) => across(lip.width()),
            Self::Drop(drop) => across(drop.width()),
        }
    }

    /// The point of the edge at a place on it, metres.
    pub fn edge(&self, place: f64) -> Vec3 {
        match self {
            Self::Wall(wall) => wall.edge(place),
            Self::Lip(lip) => lip.edge(place),
            Self::Drop(drop) => drop.edge(place),
        }
    }

    /// The two ends of the edge: a wall's foot and top, the right and left of a lip or a drop, metres.
    pub fn edge_ends(&self) -> [Vec3; 2] {
        let Interval { low, high } = self.places();
        [self.edge(low), self.edge(high)]
    }

    /// The tyres' line that leaves at a place of the edge; onto a wall it comes `enter` metres up the panel, onto a lip or a
    /// drop where it leaves.
    pub fn line(&self, enter: f64, leave: f64) -> Result<Line, SiteError> {
        Ok(match self {
            Self::Wall(wall) => wall.line(enter, leave)?,
            Self::Lip(lip) => lip.line(leave)?,
            Self::Drop(drop) => drop.line(leave)?,
        })
    }

    /// The line at whose start the run-in ends: `enter` metres up a wall's panel, the middle of a lip or a drop.
    pub(super) fn entry(&self, enter: f64) -> Result<Line, SiteError> {
        let leave = if self.as_wall().is_some() { enter } else { 0.0 };
        self.line(enter, leave)
    }

    /// Nothing where riders can come onto it `enter` metres up; a lip or a drop has no such height.
    pub(crate) fn check_enter(&self, enter: f64) -> Result<(), SiteError> {
        let most = self.as_wall().map_or(0.0, Wall::width);
        within("enter", enter, 0.0, most)?;
        Ok(())
    }

    /// Nothing where the rider's wheels fit into every hollow of it.
    pub(crate) fn check_rider(&self, rider: &Rider) -> Result<(), SiteError> {
        if let Self::Lip(lip) = self {
            lip.check_rider(rider)?;
        }
        Ok(())
    }
}

impl From<Wall> for Takeoff {
    fn from(wall: Wall) -> Self {
        Self::Wall(wall)
    }
}

impl From<Lip> for Takeoff {
    fn from(lip: Lip) -> Self {
        Self::Lip(lip)
    }
}

impl From<Drop> for Takeoff {
    fn from(drop: Drop) -> Self {
        Self::Drop(drop)
    }
}
