//! A drop as a site file writes it.

use super::lip::fault;
use crate::feature;
use crate::files::angle::degrees;
use crate::files::fault::Fault;
use crate::files::quantity::{Grade, Heading, Length, Metres, Skew};
use crate::math::Vec3;
use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

/// A drop: a straight deck, level across, that ends at an edge without rising to it.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub(in crate::files) struct Drop {
    /// Its length along the middle.
    length: Length,
    /// Its width.
    width: Length,
    /// The grade of the deck; 0 where it is not given.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    grade: Option<Grade>,
    /// The middle of its start: x, y, z.
    position: [Metres; 3],
    /// Its heading.
    heading_deg: Heading,
    /// How far its edge is off square, positive where the left side reaches on; 0 where it is not given.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    end_skew_deg: Option<Skew>,
}

impl Drop {
    /// The keys for a drop.
    pub(in crate::files) fn of(drop: &feature::Drop) -> Self {
        Self {
            length: Length(drop.length()),
            width: Length(drop.width()),
            grade: (drop.grade() != 0.0).then_some(Grade(drop.grade())),
            position: <[f64; 3]>::from(drop.position()).map(Metres),
            heading_deg: Heading(degrees(drop.heading())),
            end_skew_deg: (drop.end_skew() != 0.0).then_some(Skew(degrees(drop.end_skew()))),
        }
    }

    /// The drop.
    pub(in crate::files) fn drop(&self) -> Result<feature::Drop, Fault> {
        let position = Vec3::from(self.position.map(f64::from));
        let skew = self.end_skew_deg.map_or(0.0, f64::from).to_radians();
        feature::Drop::new(self.length.0, self.width.0, self.grade.map_or(0.0, f64::from))
            .and_then(|drop| drop.placed(position, self.heading_deg.0.to_radians()))
            .and_then(|drop| drop.with_end_skew(skew))
            .map_err(fault)
    }
}
