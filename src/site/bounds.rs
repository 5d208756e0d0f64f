//! What a landing on the site may be, and what it must keep clear of.

use super::{Interval, SiteError};
use crate::math::Vec2;
use crate::math::range::{OutOfRange, finite, non_negative, positive};
use serde::{Deserialize, Serialize};
use std::f64::consts::{FRAC_PI_2, TAU};

/// What a landing may be.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct Bounds {
    /// The corners, in order, of the plan area in which the landing's deck must lie, m in the site
    /// frame; none where it may lie anywhere.
    pub area: Vec<Vec2>,
    /// How far in plan the landing must stay from the edge that is left, m, at least 0.
    pub edge_clearance: f64,
    /// What stays where it is.
    pub obstacles: Vec<Obstacle>,
    /// How steep the face may be, radians, above 0 and below a right angle.
    pub slope: Interval,
    /// Where the face may head, radians, over one turn at most.
    pub heading: Interval,
    /// How long the face may be in plan, m, above 0.
    pub length: Interval,
    /// How wide it may be, m, above 0.
    pub width: Interval,
}

/// Something that stays: a rock, a trunk, a post.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct Obstacle {
    /// What it is; no two have the same name.
    pub name: String,
    /// Where its middle stands in plan, m in the site frame.
    pub position: Vec2,
    /// How far it reaches from there, m, above 0.
    pub radius: f64,
}

impl Bounds {
    /// Nothing where these are bounds; otherwise the first number that cannot be.
    pub fn check(&self) -> Result<(), SiteError> {
        self.check_area()?;
        non_negative("edge_clearance", self.edge_clearance)?;
        super::error::check_names("obstacle", self.obstacles.iter().map(|o| o.name.as_str()))?;
        for obstacle in &self.obstacles {
            check_point("obstacle.position", obstacle.position)?;
            positive("obstacle.radius", obstacle.radius)?;
        }
        let steep = |slope| slope > 0.0 && slope < FRAC_PI_2;
        self.slope.check("slope", "above 0 and below a right angle", steep)?;
        self.heading.check("heading", "any", |_| true)?;
        let turn = self.heading.high - self.heading.low;
        if turn > TAU {
            return Err(OutOfRange::new("heading", turn, "over one turn at most").into());
        }
        self.length.check("length", "above 0", |length| length > 0.0)?;
        self.width.check("width", "above 0", |width| width > 0.0)?;
        Ok(())
    }

    fn check_area(&self) -> Result<(), SiteError> {
        for corner in &self.area {
            check_point("area", *corner)?;
        }
        if self.area.is_empty() {
            return Ok(());
        }
        let corners = self.area.iter().zip(self.area.iter().cycle().skip(1));
        let twice: f64 = corners.map(|(a, b)| a.perp(b)).sum();
        if self.area.len() < 3 || twice.abs() < f64::EPSILON {
            let allowed = "three corners or more around an area above 0 m^2";
            return Err(OutOfRange::new("area", 0.5 * twice.abs(), allowed).into());
        }
        Ok(())
    }
}

fn check_point(field: &'static str, point: Vec2) -> Result<(), SiteError> {
    for component in point.iter() {
        finite(field, *component)?;
    }
    Ok(())
}
