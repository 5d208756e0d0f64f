//! The earth in an entrance.

use super::error::EntranceError;
use super::side::Side;
use crate::feature::Entrance;
use crate::ground::Ground;
use crate::math::Vec2;
use serde::{Deserialize, Serialize};

/// Strips are at most this wide, metres.
const STRIP: f64 = 0.02;
/// A side that has not met the ground so far from the middle does not, metres.
const WIDEST: f64 = 60.0;

/// The earth in a ramp of earth.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize)]
#[non_exhaustive]
pub struct RampEarth {
    /// In place, cubic metres, with its side batters.
    pub volume: f64,
    /// How high the deck's start stands over the ground under its middle, metres: what a crib has to hold.
    pub back_height: f64,
    /// How high the entrance's start stands over the ground under its middle, metres; below 0 it starts under ground.
    pub start_gap: f64,
}

impl Entrance {
    /// The earth between this entrance and a ground, with sides that fall at `batter` radians and an upright back under the
    /// deck's start.
    ///
    /// By the midpoint rule over strips of at most 2 cm along and across: within a few parts in a thousand. Errors: ground
    /// that is not known under it.
    pub(super) fn ramp_earth(
        &self,
        ground: &Ground,
        batter: f64,
    ) -> Result<RampEarth, EntranceError> {
        let side = Side::of(self.shape());
        let (run, start) = (self.run(), self.position());
        let (sin, cos) = self.heading().sin_cos();
        let depth = |along: f64, across: f64| {
            let at = Vec2::new(
                start.x + cos * along - sin * across,
                start.y + sin * along + cos * across,
            );
            let bare =
                ground.height(at.x, at.y).ok_or(EntranceError::NoGround { x: at.x, y: at.y })?;
            let off = (across.abs() - 0.5 * self.width()).max(0.0);
            Ok::<_, EntranceError>(start.z + side.height(along) - off * batter.tan() - bare)
        };
        let strips = strips(run);
        let step = run / strips as f64;
        let mut volume = 0.0;
        for i in 0..strips {
            let along = (i as f64 + 0.5) * step;
            for left in [1.0, -1.0] {
                volume += step * half_section(|across| depth(along, left * across), self.width())?;
            }
        }
        Ok(RampEarth { volume, back_height: depth(run, 0.0)?, start_gap: depth(0.0, 0.0)? })
    }
}

/// The area of a section from the middle to one side: over the width, and on down the batter until it meets the ground.
fn half_section(
    depth: impl Fn(f64) -> Result<f64, EntranceError>,
    width: f64,
) -> Result<f64, EntranceError> {
    let half = 0.5 * width;
    let strips = strips(half);
    let step = half / strips as f64;
    let mut area = 0.0;
    for i in 0..strips {
        area += step * depth((i as f64 + 0.5) * step)?.max(0.0);
    }
    let mut across = half;
    while across < WIDEST && depth(across + 0.5 * STRIP)? > 0.0 {
        area += STRIP * depth(across + 0.5 * STRIP)?;
        across += STRIP;
    }
    if across >= WIDEST {
        return Err(EntranceError::NoFoot { width: WIDEST });
    }
    Ok(area)
}

#[allow(
    clippy::cast_possible_truncation,
    clippy::cast_sign_loss,
    reason = "a ramp's length in strips"
)]
fn strips(length: f64) -> usize {
    (length / STRIP).ceil().clamp(1.0, 100_000.0) as usize
}
