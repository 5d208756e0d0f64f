//! Stakes: where to measure, how high to fill.

use super::BuiltLanding;
use crate::math::{Vec3, range};
use serde::{Deserialize, Serialize};

/// What a stake marks.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize)]
#[non_exhaustive]
pub enum Mark {
    /// A point of the deck.
    Deck,
    /// Where a batter comes down to the ground.
    Toe,
}

/// A stake on the ground, and how much earth comes over it.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize)]
pub struct Stake {
    /// What it marks.
    pub mark: Mark,
    /// Metres along the heading from the crest line.
    pub along: f64,
    /// Metres to the left of the centre line.
    pub across: f64,
    /// The ground at the stake.
    pub ground: Vec3,
    /// Metres of earth over the ground; negative where the landing's surface lies in the ground,
    /// to be cut away or left, as the higher of the two stands.
    pub fill: f64,
}

impl BuiltLanding {
    /// Stakes along both edges and the centre line, at most `spacing` apart, and the toes beside them.
    ///
    /// Back first, right to left at each station; stations are the deck's ends, the crest line, the
    /// foot and those between. Toes are square off the deck's sides, and ahead and behind on the
    /// centre line: what can be taped from the deck.
    pub fn stakes(&self, spacing: f64) -> Result<Vec<Stake>, range::OutOfRange> {
        let spacing = range::positive("spacing", spacing)?;
        let half = 0.5 * self.landing().width();
        let mut stakes = Vec::new();
        stakes.extend(self.toe_from(self.deck_span().0, 0.0, [-1.0, 0.0]));
        for along in self.stations(spacing) {
            stakes.extend(self.toe_from(along, -half, [0.0, -1.0]));
            stakes.extend([-half, 0.0, half].iter().filter_map(|c| self.deck_stake(along, *c)));
            stakes.extend(self.toe_from(along, half, [0.0, 1.0]));
        }
        stakes.extend(self.toe_from(self.deck_span().1, 0.0, [1.0, 0.0]));
        Ok(stakes)
    }

    fn stations(&self, spacing: f64) -> Vec<f64> {
        let (from, to) = self.deck_span();
        let mut ends = vec![from, 0.0, self.landing().length(), to];
        ends.dedup_by(|a, b| (*a - *b).abs() < 1e-9);
        let mut stations = Vec::new();
        for pair in ends.windows(2) {
            let [a, b] = pair else { continue };
            let parts = ((b - a) / spacing).ceil().max(1.0);
            let mut part = 0.0;
            while part < parts {
                stations.push(a + (b - a) * part / parts);
                part += 1.0;
            }
        }
        stations.push(to);
        stations
    }

    fn deck_stake(&self, along: f64, across: f64) -> Option<Stake> {
        let deck = self.deck_point(along, across)?;
        let height = self.ground().height(deck.x, deck.y)?;
        let ground = Vec3::new(deck.x, deck.y, height);
        Some(Stake { mark: Mark::Deck, along, across, ground, fill: deck.z - height })
    }

    /// The toe straight out from a point of the deck's edge; none where the edge lies in the ground.
    fn toe_from(&self, along: f64, across: f64, out: [f64; 2]) -> Option<Stake> {
        const STEP: f64 = 0.05;
        let above = |distance: f64| {
            let at = self.landing().plan(along + distance * out[0], across + distance * out[1]);
            Some(self.mesh().height(at.x, at.y)? - self.ground().height(at.x, at.y)?)
        };
        let mut over = 1e-9;
        if above(over)? <= 0.0 {
            return None;
        }
        let mut under = STEP;
        while above(under)? > 0.0 {
            (over, under) = (under, under + STEP);
        }
        while under - over > 1e-7 {
            let middle = 0.5 * (over + under);
            if above(middle)? > 0.0 { over = middle } else { under = middle }
        }
        let (along, across) = (along + under * out[0], across + under * out[1]);
        let at = self.landing().plan(along, across);
        let ground = at.push(self.ground().height(at.x, at.y)?);
        Some(Stake { mark: Mark::Toe, along, across, ground, fill: 0.0 })
    }
}
