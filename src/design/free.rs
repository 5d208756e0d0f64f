//! The free landing: the shape of the earth itself as the unknown, a height at every node of a grid.

mod error;
mod options;
mod patch;
mod program;
mod pull;
mod search;

pub use error::FreeLandingError;
pub use options::FreeOptions;
pub use search::free_landing;

use crate::explain::Explanation;
use crate::ground::Ground;
use crate::math::Vec2;
use patch::Patch;
use serde::{Deserialize, Serialize};

/// The landing on which the touchdowns of an ensemble are softest for a volume of earth, of any shape that earth stands at.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct FreeLanding {
    patch: Patch,
    earth: Vec<f64>,
    built: Ground,
    options: FreeOptions,
    fall_limit: f64,
    severities: Vec<f64>,
    share_told: f64,
    stopped: FreeStop,
    promised: f64,
}

/// Why the search for a free landing ended.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
#[non_exhaustive]
pub enum FreeStop {
    /// No small change of shape promises to make it better.
    NoBetter,
    /// What is promised does not come true any more, however small the change: the grid's facets rule.
    NoProgress,
    /// After as many steps as were allowed.
    Steps,
}

impl FreeLanding {
    /// The ground with the earth on it: the present ground and a bilinear patch.
    pub const fn built(&self) -> &Ground {
        &self.built
    }

    /// The first node, metres: the low corner.
    pub const fn origin(&self) -> Vec2 {
        self.patch.origin()
    }

    /// How far nodes are apart, metres.
    pub const fn spacing(&self) -> f64 {
        self.patch.spacing()
    }

    /// How many nodes there are along `x`, and along `y`.
    pub fn size(&self) -> (usize, usize) {
        self.patch.size()
    }

    /// The place of a node, metres, by its place in [`FreeLanding::earth`].
    pub fn place(&self, node: usize) -> Vec2 {
        self.patch.place(node)
    }

    /// How deep the earth lies on the present ground at each node, metres, row after row along `x`.
    pub fn earth(&self) -> &[f64] {
        &self.earth
    }

    /// The height of the present ground at each node, metres.
    pub fn bare(&self) -> &[f64] {
        self.patch.bare()
    }

    /// The earth in it, cubic metres in place: the sum under its facets.
    pub fn volume(&self) -> f64 {
        self.patch.volume(&self.earth)
    }

    /// What it was asked to be.
    pub const fn options(&self) -> &FreeOptions {
        &self.options
    }

    /// The severity at the start and after each step that was taken, all riders landed again.
    pub fn severities(&self) -> &[f64] {
        &self.severities
    }

    /// The severity of the present ground, and with the earth.
    pub fn severity(&self) -> Change {
        let at = |value: Option<&f64>| value.copied().unwrap_or(0.0);
        Change { before: at(self.severities.first()), after: at(self.severities.last()) }
    }

    /// The share of touchdowns, by weight, that the shape was led by at the end; the others touch before they are upright or
    /// off the patch.
    pub const fn share_told(&self) -> f64 {
        self.share_told
    }

    /// Why the search ended.
    pub const fn stopped(&self) -> FreeStop {
        self.stopped
    }

    /// How much lower the severity might still be, were every touchdown's answer to the nodes the same 0.2 m away: what the
    /// widest step promises from the end. An estimate of how far the shape is from the best near by; folds of the grid mostly
    /// keep such a step from coming true.
    pub const fn promised(&self) -> f64 {
        self.promised
    }

    /// The model behind the shape, its sources and its limits.
    pub fn explain(&self) -> Explanation {
        let model = "A height of earth at every node of a grid, bilinear between them, is sought that makes the weighted \
            mean of (fall height / limit) squared least. How each touchdown answers to the nodes under it is exact to \
            first order; each step is a convex program: the squares of the answers, each rider's of his hardest way, \
            within a bound on the step, with the volume, the slopes (cones) and the bends (second differences) held. After each step all riders are landed \
            again, and a step that does not help is taken back and made smaller.";
        let limits = "Earth is only added, never dug away, and only where the site has room for it. The search finds a best near where it starts, the present \
            ground, not surely the best of all; it suits the riders that were drawn: check with another seed. Where the \
            present ground is steeper or more bent than allowed, it may stay so. Whoever does not touch the ground counts \
            nothing.";
        let change = self.severity();
        Explanation::new(model, limits)
            .with_input("volume", self.options.volume(), "m3")
            .with_input("fall_limit", self.fall_limit, "m")
            .with_input("spacing", self.options.spacing(), "m")
            .with_input("radius", self.options.radius(), "m")
            .with_input("steepest", self.options.steepest(), "rad")
            .with_input("severity_before", change.before, "")
            .with_input("severity_after", change.after, "")
            .with_input("promised", self.promised, "")
            .with_source("sequential convex programming with a trust region: J. Nocedal, S. J. Wright, Numerical \
                Optimization, 2nd ed. 2006, chapters 4, 10 and 18 (from memory)")
            .with_source("cone programs: P. J. Goulart, Y. Chen, Clarabel: an interior-point solver for conic programs \
                with quadratic objectives, 2024")
    }
}

/// A number before and after the earth.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize)]
#[non_exhaustive]
pub struct Change {
    /// On the present ground.
    pub before: f64,
    /// On the ground with the earth.
    pub after: f64,
}

#[cfg(test)]
mod tests;
