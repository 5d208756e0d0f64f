//! The next barrows, one after the other.

use super::error::BarrowError;
use super::map::{BarrowMap, barrow_map};
use super::mound::Mound;
use super::severity;
use crate::ground::Ground;
use crate::math::Vec2;
use crate::math::parallel::Crew;
use crate::passes::Passes;
use serde::{Deserialize, Serialize};

/// So many of the map's best places are tried for each barrow, and more where none of them helps.
const TRIED: usize = 12;
/// After so many there is said to be none that helps.
const MOST_TRIED: usize = 30;
/// Places of the map and points of the earth on the ground are this share of the mound's radius apart.
const SHARE: f64 = 0.125;
/// Where no earth lies, the patch of earth stays this far below the ground, metres.
const SUNK: f64 = 0.3;

/// One barrow of a list, and what it does.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize)]
#[non_exhaustive]
pub struct NextBarrow {
    /// Where its middle is put.
    pub place: Vec2,
    /// By how much it should lower the severity, to first order.
    pub expected: f64,
    /// The severity with it, all riders landed again.
    pub severity: f64,
}

/// Where the next `count` barrows go, one after the other: of the places where the map says that a barrow helps most, that
/// on which it does when all riders are landed again.
///
/// The list ends early where no barrow helps any more. It is greedy: barrow by barrow the best, together not the best that
/// so much earth can do ([`crate::design::free_landing`]). Mounds add up; each is a bilinear patch on the ground. Errors as
/// [`barrow_map`].
pub fn next_barrows(
    passes: &Passes,
    fall_limit: f64,
    mound: &Mound,
    count: usize,
    crew: &Crew,
) -> Result<Vec<NextBarrow>, BarrowError> {
    let mut heap = Heap { passes, fall_limit, mound, crew, middles: Vec::new() };
    let (mut list, mut present) = (Vec::new(), passes.clone());
    let mut now = severity(passes, fall_limit);
    while list.len() < count {
        let map = barrow_map(&present, fall_limit, mound, SHARE * mound.radius())?;
        let Some((landed, next)) = heap.best_of(&map, now)? else { break };
        heap.middles.push(next.place);
        (present, now) = (landed, next.severity);
        list.push(next);
    }
    Ok(list)
}

/// The barrows so far, and who lands on them.
struct Heap<'a> {
    passes: &'a Passes,
    fall_limit: f64,
    mound: &'a Mound,
    crew: &'a Crew<'a>,
    middles: Vec<Vec2>,
}

impl Heap<'_> {
    /// The best of the map's best places for one barrow more, with all riders landed on it; none where none is better than
    /// it is now.
    fn best_of(
        &self,
        map: &BarrowMap,
        now: f64,
    ) -> Result<Option<(Passes, NextBarrow)>, BarrowError> {
        let mut best: Option<(Passes, NextBarrow)> = None;
        for (tried, (place, expected)) in best_of(map, self.mound).into_iter().enumerate() {
            if tried >= TRIED && best.is_some() {
                break;
            }
            let Some(landed) = self.with(place)? else { continue };
            let severity = severity(&landed, self.fall_limit);
            if severity < best.as_ref().map_or(now, |(_, best)| best.severity) {
                best = Some((landed, NextBarrow { place, expected, severity }));
            }
        }
        Ok(best)
    }

    /// All riders on the ground with one barrow more; none where it would reach past what is known.
    fn with(&self, place: Vec2) -> Result<Option<Passes>, BarrowError> {
        let middles: Vec<Vec2> = self.middles.iter().copied().chain([place]).collect();
        let ground = with_mounds(self.passes.ground(), self.mound, &middles)?;
        Ok(ground.map(|ground| self.passes.on(&ground, self.crew)).transpose()?)
    }
}

/// The best places, none within half a mound of a better one.
fn best_of(map: &BarrowMap, mound: &Mound) -> Vec<(Vec2, f64)> {
    let mut places: Vec<(Vec2, f64)> = map.places().filter(|(_, gain)| *gain > 0.0).collect();
    places.sort_by(|a, b| b.1.total_cmp(&a.1));
    let mut best: Vec<(Vec2, f64)> = Vec::new();
    for place in places {
        let near = |other: &(Vec2, f64)| (other.0 - place.0).norm() < 0.5 * mound.radius();
        if best.len() < MOST_TRIED && !best.iter().any(near) {
            best.push(place);
        }
    }
    best
}

/// The ground with all mounds on it; none where one would reach past what is known.
fn with_mounds(
    ground: &Ground,
    mound: &Mound,
    middles: &[Vec2],
) -> Result<Option<Ground>, BarrowError> {
    let (far, spacing) = (Vec2::repeat(f64::INFINITY), SHARE * mound.radius());
    let margin = Vec2::repeat(mound.radius() + spacing);
    let low = middles.iter().fold(far, |low, at| low.inf(at)) - margin;
    let high = middles.iter().fold(-far, |high, at| high.sup(at)) + margin;
    let (mut heights, mut columns) = (Vec::new(), 0);
    for y in along(low.y, high.y, spacing) {
        columns = 0;
        for x in along(low.x, high.x, spacing) {
            let at = Vec2::new(x, y);
            let earth: f64 = middles.iter().map(|middle| mound.height(at - middle)).sum();
            let Some(bare) = ground.height(x, y) else { return Ok(None) };
            heights.push(if earth > 0.0 { bare + earth } else { bare - SUNK });
            columns += 1;
        }
    }
    let rows = heights.len() / columns.max(1);
    let patch = Ground::grid(low, Vec2::repeat(spacing), columns, rows, heights)?;
    Ok(Some(ground.higher(&patch)))
}

fn along(low: f64, high: f64, spacing: f64) -> impl Iterator<Item = f64> {
    let steps = ((high - low) / spacing).ceil();
    (0..).map(f64::from).take_while(move |i: &f64| *i <= steps).map(move |i| low + spacing * i)
}
