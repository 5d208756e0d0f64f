//! Where a finished surface holds water: how deep, how much, where it spills, and what to shave to let it out.

mod drain;
mod drainage;
mod flat;
mod flood;
mod net;

pub use drain::Drain;
pub use drainage::Drainage;
pub use flat::Flat;

use crate::explain::Explanation;
use crate::ground::{Ground, GroundError};
use crate::math::Vec3;
use crate::math::range::OutOfRange;
use flood::Flood;
use net::Net;
use serde::{Deserialize, Serialize};
use std::fmt;

/// Where a ground holds water, deepest first, and where it is too flat to shed it.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct Ponding {
    /// The ponds, deepest first.
    pub ponds: Vec<Pond>,
    /// Places outside the ponds with less slope than sheds water, largest first.
    pub flats: Vec<Flat>,
    /// What was asked of the surface.
    pub drainage: Drainage,
    /// Points that the surface was taken at.
    pub points: usize,
}

/// Water that cannot run off.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct Pond {
    /// The height of its surface, metres.
    pub level: f64,
    /// How deep it is, metres.
    pub depth: f64,
    /// Its water, cubic metres; and the earth that would fill it.
    pub volume: f64,
    /// Its surface, square metres.
    pub area: f64,
    /// The ground at its deepest place.
    pub deepest: Vec3,
    /// The ground where it spills.
    pub spill: Vec3,
    /// What to shave so that it runs dry; none where the ground beyond the spill is nowhere low enough: then fill it.
    pub drain: Option<Drain>,
}

/// Why nothing can be said of a ground's ponds.
#[derive(Debug, Clone, PartialEq, thiserror::Error)]
#[non_exhaustive]
pub enum PondingError {
    /// A number out of its range.
    #[error(transparent)]
    OutOfRange(#[from] OutOfRange),
    /// The ground runs on for ever, and no area of it was named.
    #[error("the ground has no end: name the area to look at")]
    Unbounded,
    /// There is no ground in the area that was named.
    #[error("there is no ground in the area from ({}, {}) to ({}, {})", low[0], low[1], high[0], high[1])]
    NoGround {
        /// Its low corner.
        low: [f64; 2],
        /// Its high corner.
        high: [f64; 2],
    },
    /// The points taken make no surface.
    #[error(transparent)]
    Ground(#[from] GroundError),
}

impl Ground {
    /// Where the ground holds water, what would drain it, and where it is too flat to shed it.
    ///
    /// Each point's water stands as high as the lowest way out to the border makes it, found by priority-flood. A lone
    /// survey is taken as its own triangles, for which levels, depths and volumes are exact; any other ground as
    /// triangles between its own points and a lattice of [`Drainage::with_spacing`], which overlooks what is smaller.
    /// Water leaves over the border of the ground, or of the area looked at.
    pub fn ponding(&self, drainage: &Drainage) -> Result<Ponding, PondingError> {
        let net = Net::of(self, drainage)?;
        let flood = Flood::over(&net);
        let mut ponds: Vec<Pond> = flood
            .ponds(&net, drainage.shallowest())
            .into_iter()
            .map(|wet| wet.pond(&net, &flood, drainage))
            .collect();
        ponds.sort_by(|a, b| b.depth.total_cmp(&a.depth));
        let flats = flat::flats(&net, &flood, drainage.outslope());
        Ok(Ponding { ponds, flats, drainage: *drainage, points: net.points().len() })
    }
}

impl Ponding {
    /// The water in all ponds, cubic metres.
    pub fn volume(&self) -> f64 {
        self.ponds.iter().map(|pond| pond.volume).sum()
    }

    /// Whether no water stands anywhere.
    pub fn is_dry(&self) -> bool {
        self.ponds.is_empty()
    }

    /// The model behind the numbers, what went in, its sources and its limits.
    pub fn explain(&self) -> Explanation {
        let model = "Water stands at each point as high as the lowest way out to the border makes it \
            (priority-flood over the triangles' corners); the volume is integrated over the triangles. A drain is dug \
            from the deepest place along the way out, falling evenly, to where it comes out on the ground. Flats are \
            triangles outside the ponds with less than the outslope.";
        let limits = "The ground takes up no water, and nothing flows in from above the area. Water is let out freely \
            over the border: survey past the lowest places. What is smaller than the spacing is overlooked, and a \
            wheel's rut later on too. Settling makes new hollows.";
        Explanation::new(model, limits)
            .with_input("spacing", self.drainage.spacing(), "m")
            .with_input("outslope", self.drainage.outslope(), "")
            .with_input("fall", self.drainage.fall(), "")
            .with_input("trench_width", self.drainage.trench_width(), "m")
            .with_source("R. Barnes, C. Lehman, D. Mulla, Priority-flood, Computers & Geosciences 62, 2014")
            .with_source("USDA Forest Service, Trail Construction and Maintenance Notebook (outslope of 5 % at least, crown of 2 %)")
    }
}

impl fmt::Display for Pond {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        let Self { depth, volume, area, deepest, spill, .. } = self;
        let litres = 1000.0 * volume;
        write!(
            f,
            "holds {depth:.2} m of water ({litres:.0} litres, {area:.1} m^2) about ({:.2}, {:.2}) until it spills at \
             ({:.2}, {:.2})",
            deepest.x, deepest.y, spill.x, spill.y
        )?;
        match &self.drain {
            Some(drain) => {
                let end = drain.path.last().unwrap_or(spill);
                write!(
                    f,
                    ": shave a way out {:.1} m long to ({:.2}, {:.2}), up to {:.2} m deep, {:.2} m^3",
                    drain.length, end.x, end.y, drain.deepest_cut, drain.volume
                )
            }
            None => write!(
                f,
                ": no ground beyond is low enough to drain it to; fill it, {volume:.2} m^3 and a crown"
            ),
        }
    }
}

#[cfg(test)]
mod tests;
