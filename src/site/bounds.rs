//! What a landing on the site may be, and what it must keep clear of.

use super::{Interval, SiteError};
use crate::math::range::{OutOfRange, finite, non_negative, positive};
use crate::math::{Vec2, outline};
use serde::{Deserialize, Serialize};
use std::f64::consts::{FRAC_PI_2, TAU};

/// What a landing may be.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct Bounds {
    /// The corners, in order, of the plan area in which the landing's deck must lie, m in the site
    /// frame; none where it may lie anywhere. Earth of a free shape must lie in it as a whole.
    pub area: Vec<Vec2>,
    /// Where no earth may lie at all.
    pub keep_outs: Vec<KeepOut>,
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

/// A stretch of ground that no earth may lie on: trees and their roots, mud, the trail's edge.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct KeepOut {
    /// What it is, where it has a name; no two have the same.
    pub name: Option<String>,
    /// Its corners in plan, in order, m in the site frame; three at least.
    pub corners: Vec<Vec2>,
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
        self.check_keep_outs()?;
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
        if self.area.is_empty() {
            return Ok(());
        }
        check_outline("area", &self.area, || "area".into())
    }

    fn check_keep_outs(&self) -> Result<(), SiteError> {
        let named = self.keep_outs.iter().enumerate();
        let named = named.filter_map(|(at, keep_out)| Some((at, keep_out.name.as_deref()?)));
        super::error::check_numbered("keep-out", named)?;
        for (at, keep_out) in self.keep_outs.iter().enumerate() {
            let field = || format!("keep_out[{at}].corners");
            check_outline("keep_out.corners", &keep_out.corners, field)?;
        }
        Ok(())
    }
}

fn check_outline(
    field: &'static str,
    corners: &[Vec2],
    place: impl Fn() -> String,
) -> Result<(), SiteError> {
    for corner in corners {
        check_point(field, *corner)?;
    }
    outline::check(corners).map_err(|source| SiteError::Outline { field: place(), source })
}

fn check_point(field: &'static str, point: Vec2) -> Result<(), SiteError> {
    for component in point.iter() {
        finite(field, *component)?;
    }
    Ok(())
}
