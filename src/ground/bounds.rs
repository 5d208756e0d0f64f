//! A box along the axes of the site frame.

use crate::math::Vec3;
use serde::{Deserialize, Serialize};

/// A box along the axes, from its lowest corner to its highest; metres.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize)]
pub struct Bounds {
    /// The least of each coordinate.
    pub low: Vec3,
    /// The greatest of each coordinate.
    pub high: Vec3,
}

impl Bounds {
    /// The least box about some points: inside out where there are none.
    pub fn of<'a>(points: impl IntoIterator<Item = &'a Vec3>) -> Self {
        points
            .into_iter()
            .fold(Self::nothing(), |all, p| Self { low: all.low.inf(p), high: all.high.sup(p) })
    }

    /// The least box about both.
    pub fn with(&self, other: &Self) -> Self {
        Self { low: self.low.inf(&other.low), high: self.high.sup(&other.high) }
    }

    /// The point of the box nearest to `c`: `c` itself where it lies inside.
    pub fn nearest(&self, c: &Vec3) -> Vec3 {
        c.sup(&self.low).inf(&self.high)
    }

    /// Whether the plan position lies over or under the box, its sides included.
    pub fn contains_plan(&self, x: f64, y: f64) -> bool {
        (self.low.x..=self.high.x).contains(&x) && (self.low.y..=self.high.y).contains(&y)
    }

    pub(super) fn nothing() -> Self {
        Self { low: Vec3::repeat(f64::INFINITY), high: Vec3::repeat(f64::NEG_INFINITY) }
    }

    pub(super) fn middle(&self) -> Vec3 {
        0.5 * (self.low + self.high)
    }

    pub(super) fn longest_axis(&self) -> usize {
        (self.high - self.low).imax()
    }
}
