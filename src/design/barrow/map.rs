//! The map: how much better one barrow makes it, place by place.

use super::error::BarrowError;
use super::mound::Mound;
use super::response::Response;
use super::severity;
use crate::explain::Explanation;
use crate::math::Vec2;
use crate::math::count::whole;
use crate::math::range::positive;
use crate::passes::Passes;
use serde::{Deserialize, Serialize};

/// The most places of a map.
const MOST: usize = 250_000;

/// How much one barrow of earth lowers the severity of the touchdowns, by where its middle is put. To first order: the
/// present ground and the present touchdowns.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct BarrowMap {
    origin: Vec2,
    spacing: f64,
    columns: usize,
    gain: Vec<f64>,
    free: Vec<bool>,
    severity: f64,
    share_told: f64,
    mound: Mound,
    fall_limit: f64,
}

/// The map of the next barrow for an ensemble on its ground: how much a mound lowers [`severity`] by where it is put.
///
/// Places are `spacing` metres apart and reach a mound's radius past all touchdowns. Each upright touchdown away from edges
/// answers to height and slope of the mound under it ([`Response`]); how many do, [`BarrowMap::share_told`] says. A mound
/// may lie only where the passes' site has room for all of it ([`crate::site::Room`]). Errors: numbers that are not above
/// 0, too fine a map, nobody who answers, room nowhere.
pub fn barrow_map(
    passes: &Passes,
    fall_limit: f64,
    mound: &Mound,
    spacing: f64,
) -> Result<BarrowMap, BarrowError> {
    positive("fall_limit", fall_limit)?;
    positive("spacing", spacing)?;
    let pulls = Pulls::of(passes, fall_limit)?;
    let (origin, columns, rows) = pulls.frame(mound, spacing)?;
    let middle =
        |i: usize| origin + Vec2::new((i % columns) as f64, (i / columns) as f64) * spacing;
    let gain = (0..columns * rows).map(|i| pulls.gain(mound, middle(i))).collect();
    let free = |i| passes.room().takes_disc(&middle(i), mound.radius());
    let free: Vec<bool> = (0..columns * rows).map(free).collect();
    if !free.contains(&true) {
        return Err(BarrowError::NoRoom { radius: mound.radius() });
    }
    let severity = severity(passes, fall_limit);
    let (share_told, mound) = (pulls.share, *mound);
    Ok(BarrowMap { origin, spacing, columns, gain, free, severity, share_told, mound, fall_limit })
}

impl BarrowMap {
    /// The first place, metres: the low corner.
    pub const fn origin(&self) -> Vec2 {
        self.origin
    }

    /// How far places are apart, metres.
    pub const fn spacing(&self) -> f64 {
        self.spacing
    }

    /// How many places there are along `x`, and along `y`.
    pub fn size(&self) -> (usize, usize) {
        (self.columns, self.gain.len() / self.columns)
    }

    /// By how much a barrow at each place lowers the severity, row after row along `x`; negative makes it worse.
    pub fn gain(&self) -> &[f64] {
        &self.gain
    }

    /// Whether a barrow may be put at each place: within the allowed area, off keep-outs, clear of obstacles and edge.
    pub fn free(&self) -> &[bool] {
        &self.free
    }

    /// The severity as it is.
    pub const fn severity(&self) -> f64 {
        self.severity
    }

    /// The share of touchdowns, by weight, whose answer to a change of the ground is told.
    pub const fn share_told(&self) -> f64 {
        self.share_told
    }

    /// The place at which a barrow helps most, of those where it may be put, and by how much.
    pub fn best(&self) -> (Vec2, f64) {
        let start = (self.origin, f64::NEG_INFINITY);
        self.places().fold(start, |best, place| if place.1 > best.1 { place } else { best })
    }

    /// The model behind the map, its sources and its limits.
    pub fn explain(&self) -> Explanation {
        let model = "Each touchdown answers to a little earth under it in two ways: higher ground is met sooner, and tilted \
            ground is met flatter or steeper. Both answers are derivatives of the touch itself, exact to first order. A \
            barrow is a round mound that runs out smoothly; what it does to the weighted mean of (fall height / limit) \
            squared is summed over all touchdowns under it.";
        let limits = "To first order: a whole barrow does up to a fifth more or less, and more than that where many come \
            down beside a fold of the survey. Touches of edges of the ground, and riders not yet upright, do not answer. Who does not touch the ground counts nothing.";
        Explanation::new(model, limits)
            .with_input("barrow", self.mound.volume(), "m3")
            .with_input("radius", self.mound.radius(), "m")
            .with_input("fall_limit", self.fall_limit, "m")
            .with_input("severity", self.severity, "")
            .with_input("share_told", self.share_told, "")
            .with_source("the implicit function theorem on the equations of the touch; checked by landing again")
    }

    /// The places in order where a barrow may be put, with what it gives there.
    pub(super) fn places(&self) -> impl Iterator<Item = (Vec2, f64)> + '_ {
        let free = self.free.iter().zip(&self.gain).enumerate().filter(|(_, (free, _))| **free);
        free.map(|(i, (_, gain))| (self.place(i), *gain))
    }

    fn place(&self, i: usize) -> Vec2 {
        let (column, row) = ((i % self.columns) as f64, (i / self.columns) as f64);
        self.origin + Vec2::new(column, row) * self.spacing
    }
}

/// What each touchdown pulls at the ground with: the change of the mean severity by height and slope under it.
struct Pulls {
    pulls: Vec<(Response, f64)>,
    share: f64,
}

impl Pulls {
    fn of(passes: &Passes, fall_limit: f64) -> Result<Self, BarrowError> {
        let touched = passes.members().iter().filter(|pass| pass.contact().is_some());
        let total: f64 = touched.clone().map(|pass| pass.drawn.weight).sum();
        let told = touched
            .filter_map(|pass| Some((pass.flight()?.response()?, pass.drawn.weight / total)));
        let (responses, shares): (Vec<Response>, Vec<f64>) = told.unzip();
        if responses.is_empty() {
            return Err(BarrowError::NobodyLands);
        }
        let weighed = |(response, share): (&Response, &f64)| {
            (*response, 2.0 * share * response.fall_height / (fall_limit * fall_limit))
        };
        let pulls = responses.iter().zip(&shares).map(weighed).collect();
        Ok(Self { pulls, share: shares.iter().sum() })
    }

    fn frame(&self, mound: &Mound, spacing: f64) -> Result<(Vec2, usize, usize), BarrowError> {
        let far = Vec2::repeat(f64::INFINITY);
        let marks = || self.pulls.iter().map(|(response, _)| response.mark);
        let low = marks().fold(far, |low, mark| low.inf(&mark));
        let high = marks().fold(-far, |high, mark| high.sup(&mark));
        let margin = Vec2::repeat(mound.radius());
        // On whole multiples of the spacing, so that maps of other passes have the same places.
        let first = ((low - margin) / spacing).map(f64::floor);
        let count = ((high + margin) / spacing).map(f64::ceil) - first + Vec2::repeat(1.0);
        let places = count.x * count.y;
        if places.is_nan() || places > MOST as f64 {
            return Err(BarrowError::TooFine { spacing, places, most: MOST });
        }
        Ok((first * spacing, whole(count.x), whole(count.y)))
    }

    /// By how much a mound at a place lowers the mean severity.
    fn gain(&self, mound: &Mound, middle: Vec2) -> f64 {
        let near =
            self.pulls.iter().map(|(response, weight)| (response, weight, response.mark - middle));
        let near = near.filter(|(_, _, away)| away.norm_squared() < mound.radius().powi(2));
        let change = near.map(|(response, weight, away)| {
            let tilted = response.by_slope.dot(&mound.gradient(away));
            weight * (response.by_height * mound.height(away) + tilted)
        });
        -change.sum::<f64>()
    }
}
