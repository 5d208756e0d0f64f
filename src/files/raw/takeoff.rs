//! The takeoff of a site file: one of its tables `[wall]`, `[lip]` and `[drop]`.

use super::deck::Drop;
use super::lip::Lip;
use super::wall::Wall;
use super::{Ride, SiteFile};
use crate::files::fault::Fault;
use crate::files::quantity::{Length, Reach};
use crate::site::{Site, Takeoff};

/// The tables that say what is ridden and left.
#[derive(Debug, Default)]
pub(super) struct Tables {
    pub(super) wall: Option<Wall>,
    pub(super) lip: Option<Lip>,
    pub(super) drop: Option<Drop>,
    pub(super) ride: Option<Ride>,
}

impl Tables {
    /// The tables for a site.
    pub(super) fn of(site: &Site) -> Self {
        let none = Self::default();
        match &site.takeoff {
            Takeoff::Wall(wall) => {
                let leave_at_most = site.leave_at_most.map(Length);
                let ride = Some(Ride { enter: Reach(site.enter), leave_at_most });
                Self { wall: Some(Wall::of(wall)), ride, ..none }
            }
            Takeoff::Lip(lip) => Self { lip: Some(Lip::of(lip)), ..none },
            Takeoff::Drop(drop) => Self { drop: Some(Drop::of(drop)), ..none },
        }
    }
}

impl SiteFile {
    /// The one takeoff, and how far up its panel the tyres come onto a wall.
    pub(super) fn takeoff(&self) -> Result<(Takeoff, f64), Fault> {
        let takeoff = match (&self.wall, &self.lip, &self.drop) {
            (Some(wall), None, None) => {
                let wall = wall.wall().map_err(|fault| fault.within("wall"))?;
                let enter = self.ride.as_ref().map(|ride| ride.enter.0);
                let lacks = "expected a table [ride] with `enter`: how far up the panel the tyres come onto the wall";
                return Ok((wall.into(), enter.ok_or_else(|| Fault::unfit("wall", lacks))?));
            }
            (None, Some(lip), None) => lip.lip().map_err(|fault| fault.within("lip"))?.into(),
            (None, None, Some(drop)) => drop.drop().map_err(|fault| fault.within("drop"))?.into(),
            (None, None, None) => {
                return Err(Fault::unfit("takeoff", "expected one table [wall], [lip] or [drop]"));
            }
            (_, lip, _) => {
                let second = if lip.is_some() { "lip" } else { "drop" };
                return Err(Fault::unfit(second, "expected only one of [wall], [lip] and [drop]"));
            }
        };
        if self.ride.is_some() {
            let reason =
                "expected no table [ride] with a lip or a drop: its lines keep their place across";
            return Err(Fault::unfit("ride", reason));
        }
        Ok((takeoff, 0.0))
    }
}
