//! Marks on a site, and the wind over it.

use super::{Dist, SiteError};
use crate::math::Vec3;
use crate::math::range::{coordinate, finite};
use serde::{Deserialize, Serialize};

/// A named mark on the site: a nail, a stake, a painted stone.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct Mark {
    /// Its name; no two have the same.
    pub name: String,
    /// Where it stands, m in the site frame.
    pub position: Vec3,
}

/// A level wind whose speed differs from pass to pass, constant during each.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize)]
pub struct Wind {
    /// Where it blows to, radians counter-clockwise from the x axis.
    pub heading: f64,
    /// Its speed, m/s; a negative one blows the other way.
    pub speed: Dist,
}

impl Mark {
    /// Nothing where the position is finite and on the Earth.
    pub fn check(&self) -> Result<(), SiteError> {
        for component in self.position.iter() {
            coordinate("mark.position", *component)?;
        }
        Ok(())
    }
}

impl Wind {
    /// The air's velocity at a speed, m/s.
    pub fn velocity(&self, speed: f64) -> Vec3 {
        Vec3::new(self.heading.cos(), self.heading.sin(), 0.0) * speed
    }

    /// Nothing where heading and speeds are finite.
    pub fn check(&self) -> Result<(), SiteError> {
        finite("wind.heading", self.heading)?;
        self.speed.check("wind.speed", "a finite number", f64::is_finite)?;
        Ok(())
    }
}
