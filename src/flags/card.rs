//! The pocket card: from a flag's distance to exit speed, fall height and the next start mark, for a place without a laptop.

use super::error::FlagsError;
use super::found::Found;
use super::sight::Look;
use super::step::{SAME, StepOptions};
use super::unknown::Unknown;
use super::walk::Walk;
use crate::math::parallel::Crew;
use crate::math::range::OutOfRange;
use serde::{Deserialize, Serialize};

/// Rows that fit a pocket.
const MOST_ROWS: usize = 40;
/// How far the middle ride's entry speed is moved to either side for one start, m/s.
const REACH: f64 = 0.8;

/// One row of the card: a start that was ridden.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[non_exhaustive]
pub struct CardRow {
    /// The start mark that was ridden, m up the hill.
    pub start: f64,
    /// The flag's distance that is expected, m level from the edge.
    pub distance: f64,
    /// A flag nearer than this or farther than the next one is a surprise: do not go on; m.
    pub nearest: f64,
    /// The farthest one, m.
    pub farthest: f64,
    /// The exit speed at the expected distance, m/s.
    pub exit_speed: f64,
    /// How much faster a flag a metre farther than that was, m/s per m.
    pub speed_per_metre: f64,
    /// The equivalent fall height there, m.
    pub fall_height: f64,
    /// The next start mark, m; none where no step beyond is allowed.
    pub next_start: Option<f64>,
    /// Why not, or what limits it, in words.
    pub why: String,
}

/// The pocket card.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[non_exhaustive]
pub struct PocketCard {
    /// Whose it is.
    pub who: String,
    /// What was asked.
    pub options: StepOptions,
    /// Its rows, from the lowest start on.
    pub rows: Vec<CardRow>,
}

impl Found {
    /// The pocket card of these starts, m up the hill, 1 to 40 of them.
    ///
    /// Each row is for the ride from its start by the likeliest rider of the likeliest lean; what a flag off the expected distance
    /// says of the speed is taken as said by the speed at the takeoff alone. The next start keeps all rules for steps, judged
    /// by the lean that makes it hardest.
    pub fn pocket_card(
        &self,
        starts: &[f64],
        options: &StepOptions,
        crew: &Crew,
    ) -> Result<PocketCard, FlagsError> {
        if !(1..=MOST_ROWS).contains(&starts.len()) {
            let allowed = format!("from 1 to {MOST_ROWS}");
            return Err(OutOfRange::new("starts", starts.len() as f64, allowed).into());
        }
        let course = self.course()?;
        let walk = Walk::new(self, &course, options, crew)?;
        let mut rows = Vec::new();
        for start in starts {
            if let Some(row) = walk.card_row(*start)? {
                rows.push(row);
            }
        }
        Ok(PocketCard { who: self.who.clone(), options: options.clone(), rows })
    }
}

impl Walk<'_> {
    /// The row of a start; none where its ride leaves no mark.
    fn card_row(&self, start: f64) -> Result<Option<CardRow>, FlagsError> {
        let ride = self.ride(start)?;
        ride.check(self.found.site())?;
        let notable = self.found.notable();
        let Some((lean, _)) = notable.first() else { return Ok(None) };
        let look = Look::at_mark(&ride);
        let at = |faster: f64| {
            let mut values = self.found.likeliest(lean);
            values[Unknown::Speed.index()] += faster;
            look.come(self.course, &values, lean.lean).ok()
        };
        let (Some(here), Some(slow), Some(fast)) = (at(0.0), at(-0.5 * REACH), at(0.5 * REACH))
        else {
            return Ok(None);
        };
        let farther = fast.contact.distance - slow.contact.distance;
        let forecast = self.forecast(&ride)?;
        let Some(region) = forecast.distance else { return Ok(None) };
        let scatter =
            1.645 * self.found.flags.iter().map(super::flag::Flag::mark_sd).fold(0.0, f64::max);
        let spread = |away: f64| (away * away + scatter * scatter).sqrt();
        let (next_start, why) = match self.farther(&ride)? {
            Ok(step) if step.ride.start() - start > SAME => {
                (Some(step.ride.start()), step.limit.to_string())
            }
            Ok(step) => (None, step.limit.to_string()),
            Err(refusal) => (None, refusal.to_string()),
        };
        Ok(Some(CardRow {
            start,
            distance: here.contact.distance,
            nearest: here.contact.distance - spread(region.median - region.p5),
            farthest: here.contact.distance + spread(region.p95 - region.median),
            exit_speed: here.exit_speed,
            speed_per_metre: (fast.exit_speed - slow.exit_speed) / farther,
            fall_height: here.contact.fall_height,
            next_start,
            why,
        }))
    }
}
