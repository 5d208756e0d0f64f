//! What the same landing takes with legs of other strokes.

use super::LoadError;
use super::chain::Chain;
use super::impact::Impact;
use super::march::{Until, march};
use super::part::Strut;
use super::result::Loads;
use crate::math::bernstein;
use crate::math::range::positive;
use crate::math::roots;
use serde::{Deserialize, Serialize};

/// The strokes of the band, m: from legs nearly straight to a deep crouch.
pub const BAND_STROKES: [f64; 4] = [0.2, 0.3, 0.4, 0.5];

/// The share of the stroke within which the band's legs come to their full force.
const RISE: f64 = 0.1;
/// The least force the band's legs have: enough to stand on, body weights.
const LEAST: f64 = 1.05;
/// The highest force tried, body weights.
const MOST: f64 = 400.0;
/// How exact the force is, body weights.
const TOLERANCE: f64 = 1e-6;

/// A point of the band: legs of a stroke, and the least force with which they take the landing.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize)]
#[non_exhaustive]
pub struct BandPoint {
    /// The legs' stroke, m.
    pub stroke: f64,
    /// The lowest peak on the body with which it is stopped within that stroke, body weights.
    pub bodyweights: f64,
}

impl Loads {
    /// For legs of 0.2 to 0.5 m of stroke, the least force with which they take this landing on this bike.
    ///
    /// Legs that hold back from the first with one force use their stroke best: no other legs of the same stroke have a
    /// lower peak but by chance. Data on riders are few, so this band belongs beside every peak.
    pub fn band(&self) -> Result<Vec<BandPoint>, LoadError> {
        BAND_STROKES
            .iter()
            .map(|stroke| self.chain.least_leg_force(&self.impact, *stroke))
            .collect()
    }
}

impl Chain {
    /// The least force with which legs of this stroke, m, stop the body without coming to their stop.
    ///
    /// The legs come to their force within the first tenth of their stroke, and yield at it. Where even legs that hardly
    /// hold the body up do not use up their stroke, the peak is theirs. To 1e-6 body weights.
    pub fn least_leg_force(&self, impact: &Impact, stroke: f64) -> Result<BandPoint, LoadError> {
        let stroke = positive("leg_stroke", stroke)?;
        let mut failed = None;
        let mut left = |force: f64| match self.used_by_legs(impact, stroke, force) {
            Ok(used) => stroke - used,
            Err(error) => {
                failed = Some(error);
                f64::NAN
            }
        };
        let (mut low, mut high) = (LEAST, LEAST);
        while left(high) < 0.0 && high < MOST {
            (low, high) = (high, 2.0 * high);
        }
        let force =
            if low < high { roots::bracketed(&mut left, low, high, TOLERANCE) } else { Ok(high) };
        if let Some(error) = failed {
            return Err(error);
        }
        let bodyweights = force.map_err(|_| LoadError::NoForce { most: MOST, stroke })?;
        Ok(BandPoint { stroke, bodyweights })
    }

    /// The way that legs of this force use, m.
    fn used_by_legs(&self, impact: &Impact, stroke: f64, force: f64) -> Result<f64, LoadError> {
        let own = self.legs().ok_or(LoadError::NoLegs)?;
        let force = force * self.body_mass() * impact.gravity();
        let mut legs = Strut::spring(force / (RISE * stroke))?.yielding_at(force)?;
        legs.damping = own.damping;
        let chain = self.with_legs(legs)?;
        let mut used = 0.0_f64;
        march(&chain, impact, Until::Stopped, |stretch| {
            if let Some(series) = stretch.piece.links.last() {
                used = used.max(bernstein::highest(&series.compression, stretch.length).1);
            }
        })?;
        Ok(used)
    }
}
