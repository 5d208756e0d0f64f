//! A trench that lets a pond out.

use super::{Drainage, flood::Flood, net::Net};
use crate::math::Vec3;
use serde::{Deserialize, Serialize};

/// A trench from a pond's deepest place to where it comes out on the ground: what to shave.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct Drain {
    /// The ground along it, from the deepest place out.
    pub path: Vec<Vec3>,
    /// The trench's bottom under each point of the path, metres.
    pub bottom: Vec<f64>,
    /// How long it is in plan, metres.
    pub length: f64,
    /// How deep it is cut at most, metres.
    pub deepest_cut: f64,
    /// Earth shaved, with upright sides, cubic metres.
    pub volume: f64,
}

impl Drain {
    /// Follows the way out until the ground is as low as the trench; `None` where it never is.
    pub(super) fn from(
        start: usize,
        net: &Net,
        flood: &Flood,
        drainage: &Drainage,
    ) -> Option<Self> {
        let mut drain = Self {
            path: Vec::new(),
            bottom: Vec::new(),
            length: 0.0,
            deepest_cut: 0.0,
            volume: 0.0,
        };
        let first = net.points()[start].z;
        for point in flood.way_out(start) {
            let here = net.points()[point];
            let step = drain.path.last().map_or(0.0, |last| (here - last).xy().norm());
            let bottom = first - drainage.fall() * (drain.length + step);
            let before = drain.path.last().zip(drain.bottom.last()).map_or(0.0, |(p, z)| p.z - z);
            let cut = here.z - bottom;
            drain.length += step;
            drain.volume += drainage.trench_width() * wedge(before, cut, step);
            drain.deepest_cut = drain.deepest_cut.max(cut);
            drain.path.push(here);
            drain.bottom.push(bottom);
            // Out of the pond, and down to the trench's bottom.
            if drain.path.len() > 1 && cut <= 0.0 && !flood.is_wet(net, point) {
                return Some(drain);
            }
        }
        None
    }
}

/// The section of a cut that changes evenly from `a` to `b` over a length, where it is above nothing.
fn wedge(a: f64, b: f64, length: f64) -> f64 {
    match (a > 0.0, b > 0.0) {
        (true, true) => 0.5 * (a + b) * length,
        (true, false) => 0.5 * a * a / (a - b) * length,
        (false, true) => 0.5 * b * b / (b - a) * length,
        (false, false) => 0.0,
    }
}
