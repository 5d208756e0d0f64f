//! What a site is: its ground, its takeoff, its riders, and what a landing on it may be.

mod approach;
mod bounds;
mod class;
mod descent;
mod dist;
mod error;
mod interval;
mod place;
mod room;
mod run_in;
mod takeoff;

pub use bounds::{Bounds, KeepOut, Obstacle};
pub use class::RiderClass;
pub(crate) use descent::{Approach, Attempt};
pub use descent::{Descent, Part};
pub use dist::Dist;
pub use error::SiteError;
pub use interval::Interval;
pub use place::{Mark, Wind};
pub use room::Room;
pub use run_in::RunIn;
pub use takeoff::Takeoff;

use crate::air::Air;
use crate::earth::{Barrow, Soil};
use crate::ground::Ground;
use crate::math::Vec3;
use crate::math::range::positive;
use serde::{Deserialize, Serialize};

/// A landing's face has to be so much gentler than its batters, radians: 2 degrees, an assumption.
const FACE_BELOW_BATTER: f64 = 0.035;

/// A site, values only: all that is known about the place and who rides there.
///
/// The site frame is right-handed with z up; metres, radians, m/s. Everything may be changed;
/// [`check`](Self::check) says whether it makes a site, and what is done with a site checks first.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct Site {
    /// What the site is called.
    pub name: String,
    /// What is to be known about it, in words.
    pub note: String,
    /// Whether the site is invented: an example, not a place.
    pub invented: bool,
    /// Density, wind and gravity.
    pub air: Air,
    /// A wind that differs from pass to pass, instead of the air's own.
    pub wind: Option<Wind>,
    /// Marks to tape from.
    pub marks: Vec<Mark>,
    /// Points of the ground as surveyed; the ground is triangulated between them.
    pub survey: Vec<Vec3>,
    /// The run-in down to the takeoff.
    pub run_in: RunIn,
    /// What is ridden and left.
    pub takeoff: Takeoff,
    /// How far up the panel from its foot the tyres come onto a wall, m, within its width; 0 for a lip or a drop, whose
    /// lines keep their place across.
    pub enter: f64,
    /// How far up a wall's panel from its foot riders leave it at most, m, above 0: what a rail or a painted line there holds
    /// them to; none where there is none.
    #[serde(default)]
    pub leave_at_most: Option<f64>,
    /// Who rides here; the weights add up to 1.
    pub classes: Vec<RiderClass>,
    /// The earth.
    pub soil: Soil,
    /// The barrow it is carried in.
    pub barrow: Barrow,
    /// How many barrows of it there are, at least 1.
    pub barrow_count: u32,
    /// What a landing may be.
    pub landing: Bounds,
    /// The equivalent fall height up to which a touchdown counts as soft, m, above 0.
    pub fall_limit: f64,
}

impl Site {
    /// Nothing where these values make a site; otherwise the first that does not.
    pub fn check(&self) -> Result<(), SiteError> {
        if let Some(wind) = &self.wind {
            wind.check()?;
        }
        error::check_names("mark", self.marks.iter().map(|mark| mark.name.as_str()))?;
        self.marks.iter().try_for_each(Mark::check)?;
        self.takeoff.check_enter(self.enter)?;
        self.check_classes()?;
        positive("barrow_count", f64::from(self.barrow_count))?;
        self.landing.check()?;
        self.check_slope()?;
        positive("fall_limit", self.fall_limit)?;
        positive("leave_at_most", self.leave_at_most.unwrap_or(1.0))?;
        positive("speed_check", self.run_in.speed_check.unwrap_or(1.0))?;
        Ok(())
    }

    /// An error where the gentlest face that is allowed is steeper than the soil can be built to hold up.
    fn check_slope(&self) -> Result<(), SiteError> {
        let (gentlest, stands) = (self.landing.slope.low, self.soil.stand_up().value());
        if gentlest <= stands - FACE_BELOW_BATTER {
            return Ok(());
        }
        let [slope_deg, stands_deg, below_deg] =
            [gentlest, stands, FACE_BELOW_BATTER].map(f64::to_degrees);
        let soil = self.soil.name().to_owned();
        Err(SiteError::SlopeTooSteep { slope_deg, stands_deg, below_deg, soil })
    }

    fn check_classes(&self) -> Result<(), SiteError> {
        if self.classes.is_empty() {
            return Err(SiteError::NoClasses);
        }
        error::check_names("class", self.classes.iter().map(|class| class.name.as_str()))?;
        let run_in = self.run_in.level_length();
        for class in &self.classes {
            class.check(run_in, &self.takeoff)?;
        }
        error::check_weights(self.classes.iter().map(|class| class.weight))
    }

    /// The class of a name.
    pub fn class(&self, name: &str) -> Result<&RiderClass, SiteError> {
        self.classes.iter().find(|class| class.name == name).ok_or_else(|| {
            let known = self.classes.iter().map(|class| class.name.clone()).collect();
            SiteError::NoSuchClass { name: name.to_owned(), known }
        })
    }

    /// The ground as surveyed: triangles between the points, nothing beyond their hull.
    pub fn ground(&self) -> Result<Ground, SiteError> {
        Ok(Ground::survey(&self.survey)?)
    }
}

#[cfg(test)]
mod tests;
