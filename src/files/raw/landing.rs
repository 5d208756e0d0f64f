//! What a landing may be, as a site file writes it.

use crate::files::angle::degrees;
use crate::files::fault::Fault;
use crate::files::quantity::{Heading, Length, Metres, Reach, Slope};
use crate::math::Vec2;
use crate::site::{self, Bounds, Interval};
use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

/// What a landing may be.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub(in crate::files) struct Landing {
    /// The equivalent fall height up to which a touchdown counts as soft.
    pub(in crate::files) fall_limit: Length,
    /// The corners in plan, in order, of the area that the landing's deck must lie in; anywhere where it is not given.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    area: Vec<[Metres; 2]>,
    /// Where no earth may lie at all: trees and their roots, mud, the trail's edge.
    #[serde(default, rename = "keep_out", skip_serializing_if = "Vec::is_empty")]
    pub(in crate::files) keep_outs: Vec<KeepOut>,
    /// How far in plan the landing stays from the edge that is left.
    edge_clearance: Reach,
    /// How steep the face may be: least and most.
    slope_deg: [Slope; 2],
    /// Where the face may head: the one end and, counter-clockwise from it, the other.
    heading_deg: [Heading; 2],
    /// How long the face may be in plan: least and most.
    length: [Length; 2],
    /// How wide it may be: least and most.
    width: [Length; 2],
    /// What stays where it is.
    #[serde(default, rename = "obstacle", skip_serializing_if = "Vec::is_empty")]
    pub(in crate::files) obstacles: Vec<Obstacle>,
}

/// A stretch of ground that no earth may lie on.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub(in crate::files) struct KeepOut {
    /// What it is; need not be given.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub(in crate::files) name: Option<String>,
    /// Its corners in plan, in order: x, y.
    #[schemars(length(min = 3))]
    corners: Vec<[Metres; 2]>,
}

/// Something that stays: a rock, a trunk, a post.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub(in crate::files) struct Obstacle {
    /// What it is.
    pub(in crate::files) name: String,
    /// Where its middle stands: x, y.
    position: [Metres; 2],
    /// How far it reaches from there.
    radius: Length,
}

impl Landing {
    /// The keys for a site's bounds and fall limit.
    pub(in crate::files) fn of(bounds: &Bounds, fall_limit: f64) -> Self {
        let obstacle = |obstacle: &site::Obstacle| Obstacle {
            name: obstacle.name.clone(),
            position: <[f64; 2]>::from(obstacle.position).map(Metres),
            radius: Length(obstacle.radius),
        };
        let corner = |corner: &Vec2| <[f64; 2]>::from(*corner).map(Metres);
        let keep_out = |keep_out: &site::KeepOut| KeepOut {
            name: keep_out.name.clone(),
            corners: keep_out.corners.iter().map(corner).collect(),
        };
        Self {
            fall_limit: Length(fall_limit),
            area: bounds.area.iter().map(corner).collect(),
            keep_outs: bounds.keep_outs.iter().map(keep_out).collect(),
            edge_clearance: Reach(bounds.edge_clearance),
            slope_deg: ends(bounds.slope).map(|end| Slope(degrees(end))),
            heading_deg: ends(bounds.heading).map(|end| Heading(degrees(end))),
            length: ends(bounds.length).map(Length),
            width: ends(bounds.width).map(Length),
            obstacles: bounds.obstacles.iter().map(obstacle).collect(),
        }
    }

    /// The bounds.
    pub(in crate::files) fn bounds(&self) -> Result<Bounds, Fault> {
        let plan = |point: &[Metres; 2]| Vec2::new(point[0].0, point[1].0);
        let obstacle = |obstacle: &Obstacle| site::Obstacle {
            name: obstacle.name.clone(),
            position: plan(&obstacle.position),
            radius: obstacle.radius.0,
        };
        let keep_out = |keep_out: &KeepOut| site::KeepOut {
            name: keep_out.name.clone(),
            corners: keep_out.corners.iter().map(plan).collect(),
        };
        let heading = interval("heading_deg", self.heading_deg)?;
        let turn = heading.high - heading.low;
        if turn > 360.0 {
            let allowed = format!("at most {}, a whole turn on", heading.low + 360.0);
            return Err(Fault::range("heading_deg[1]", heading.high, allowed));
        }
        Ok(Bounds {
            area: self.area.iter().map(plan).collect(),
            keep_outs: self.keep_outs.iter().map(keep_out).collect(),
            edge_clearance: self.edge_clearance.0,
            obstacles: self.obstacles.iter().map(obstacle).collect(),
            slope: radians(interval("slope_deg", self.slope_deg)?),
            heading: radians(heading),
            length: interval("length", self.length)?,
            width: interval("width", self.width)?,
        })
    }
}

fn ends(interval: Interval) -> [f64; 2] {
    [interval.low, interval.high]
}

fn radians(interval: Interval) -> Interval {
    Interval::new(interval.low.to_radians(), interval.high.to_radians())
}

fn interval(field: &str, ends: [impl Into<f64>; 2]) -> Result<Interval, Fault> {
    let [low, high] = ends.map(Into::into);
    if low <= high {
        return Ok(Interval::new(low, high));
    }
    let allowed = format!("at least {low}, the first of the two");
    Err(Fault::range(&format!("{field}[1]"), high, allowed))
}
