//! The way from the hill onto the takeoff.

use super::{RunIn, Site, SiteError};
use crate::geometry::{Line, Profile};

impl RunIn {
    /// The profile, placed with its zero at the site's origin along the x axis.
    pub fn profile(&self) -> Result<Profile, SiteError> {
        let (distance, height) = (&self.distance, &self.height);
        Ok(match self.corner_radius {
            None => Profile::smooth(distance, height)?,
            Some(radius) => Profile::cornered(distance, height, radius)?,
        })
    }
}

impl Site {
    /// The run-in's profile where it lies: it ends where the tyres come onto the takeoff (the middle of a lip or a drop),
    /// heading as they do there.
    pub fn run_in_profile(&self) -> Result<Profile, SiteError> {
        let entry = self.takeoff.entry(self.enter)?.frame(0.0);
        let heading = entry.tangent.y.atan2(entry.tangent.x);
        Ok(self.run_in.profile()?.ending_at(entry.position, heading)?)
    }

    /// The tyres' line down the run-in from a start mark, which is its level distance up the hill
    /// from the run-in's end, m: above 0 and at most the run-in's level length.
    pub fn run_in(&self, start: f64) -> Result<Line, SiteError> {
        Ok(self.run_in_profile()?.run_in(start)?)
    }

    /// The tyres' line on the takeoff that leaves at a place of its edge, m: so far up a wall's panel, so far to the left
    /// of the middle of a lip or a drop.
    pub fn takeoff_line(&self, leave: f64) -> Result<Line, SiteError> {
        self.takeoff.line(self.enter, leave)
    }
}
