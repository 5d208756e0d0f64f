//! What bike and body take in a landing: force against time, peaks, the way used, and where the energy went.
//!
//! The model is a chain of masses along the surface's normal: tyre (and ground) - unsprung mass - suspension - frame -
//! legs and arms - body. It starts just touching, unloaded, everything at the speed into the surface, with the share of
//! gravity that presses on the slope. Within a stretch in which no member changes the way it holds, the motion is
//! its Taylor series; contacts, yielding and stops begin and end at roots of polynomials, of which none is missed.

mod band;
pub mod batch;
mod chain;
mod error;
mod impact;
mod ledger;
mod march;
mod part;
mod record;
mod response;
mod result;
mod series;
mod simple;
mod state;
mod warning;

pub use band::{BAND_STROKES, BandPoint};
pub(crate) use chain::STOP_STIFFER;
pub use chain::{Chain, Link, Stage};
pub use error::LoadError;
pub use impact::{Impact, Softness};
pub use ledger::Ledger;
pub use march::RecordEnd;
pub(crate) use part::STOP_RETURN;
pub use part::{Part, Stop, Strut, Suspension};
pub use record::Highest;
pub use response::{DAMPING_RATIO, OMEGA, ResponseIndex, response_index};
pub use result::{Loads, StageLoads};
pub use simple::{SprungThenYielding, Stroke, constant_force, undamped_spring};
pub use warning::LoadWarning;

use crate::rider::Rider;
use crate::touchdown::Touchdown;

impl Rider {
    /// The loads of a touchdown on rigid ground.
    pub fn loads(&self, touchdown: &Touchdown) -> Result<Loads, LoadError> {
        self.loads_of(&Impact::try_from(touchdown)?)
    }

    /// The loads of coming down on the bike.
    pub fn loads_of(&self, impact: &Impact) -> Result<Loads, LoadError> {
        self.chain(impact)?.loads(impact)
    }

    /// The loads of coming down on foot, without the bike: the legs alone.
    pub fn loads_on_foot(&self, impact: &Impact) -> Result<Loads, LoadError> {
        self.chain_on_foot(impact)?.loads(impact)
    }
}

#[cfg(test)]
mod tests;
