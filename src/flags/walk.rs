//! Looking up the hill: middle rides, forecasts, and what bars the way.

use super::course::Course;
use super::error::FlagsError;
use super::forecast::{Forecast, fate};
use super::found::Found;
use super::need::Need;
use super::refusal::Refusal;
use super::step::{Step, StepOptions, look};
use super::test_ride::TestRide;
use crate::earth::{Loads, Trailer};
use crate::ground::Ground;
use crate::math::Vec2;
use crate::math::parallel::Crew;

/// Planned ground is built where no more than this is missing, m: a hand's width, which settles or is raked away.
const BUILT: f64 = 0.10;
/// How finely planned ground is looked at, m.
const CELL: f64 = 0.2;
/// How finely starts are tried for the first ride that holds, m.
const TRY: f64 = 0.5;

/// The middle ride of what the flags left open, by the lean that makes it hardest.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) struct Median {
    pub(super) fall_height: f64,
    pub(super) exit_speed: f64,
    pub(super) grip_demand: f64,
}

/// A look up the hill.
pub(super) struct Walk<'a> {
    pub(super) found: &'a Found,
    pub(super) course: &'a Course<'a>,
    pub(super) options: &'a StepOptions,
    pub(super) crew: &'a Crew<'a>,
    planned: Option<Ground>,
}

impl<'a> Walk<'a> {
    pub(super) fn new(
        found: &'a Found,
        course: &'a Course<'a>,
        options: &'a StepOptions,
        crew: &'a Crew<'a>,
    ) -> Result<Self, FlagsError> {
        let ground = |landing| found.ground.with_landing(landing);
        let planned = options.planned.as_ref().map(ground).transpose()?;
        Ok(Self { found, course, options, crew, planned })
    }

    /// The farthest ride whose flag is good.
    pub(super) fn from(&self) -> Option<TestRide> {
        let good =
            |name: &str| self.found.checks.iter().any(|check| check.flag == name && !check.is_bad);
        let flags = self.found.flags.iter().filter(|flag| good(flag.name()));
        let farthest = flags.max_by(|a, b| a.ride().start().total_cmp(&b.ride().start()));
        farthest.map(|flag| flag.ride().clone())
    }

    /// The farthest start of the run-in.
    pub(super) fn top(&self) -> f64 {
        self.course.top()
    }

    pub(super) fn grip(&self) -> f64 {
        self.course.grip()
    }

    /// A ride as the next ones are to be.
    pub(super) fn ride(&self, start: f64) -> Result<TestRide, FlagsError> {
        let ride = TestRide::new(self.found.who.clone(), start)?;
        self.options.leave.map_or(Ok(ride.clone()), |leave| ride.leaving(leave))
    }

    /// A ride like another from another start; it leaves where asked, or where riders do at its speed.
    pub(super) fn ride_like(&self, other: &TestRide, start: f64) -> Result<TestRide, FlagsError> {
        let ride = self.ride(start)?.braking(other.brake_share())?;
        match (self.options.leave, other.leave()) {
            (None, Some(leave)) => ride.leaving(leave),
            _ => Ok(ride),
        }
    }

    /// The middle ride by the lean that makes it hardest; none where with one of them it does not come down.
    pub(super) fn medians(&self, ride: &TestRide) -> Result<Option<Median>, FlagsError> {
        let mut hardest: Option<Median> = None;
        for (lean, _) in self.found.notable() {
            let values = self.found.likeliest(lean);
            let Ok(landed) = fate(&look(ride), self.course, &values, lean.lean)? else {
                return Ok(None);
            };
            let known =
                hardest.unwrap_or(Median { fall_height: 0.0, exit_speed: 0.0, grip_demand: 0.0 });
            hardest = Some(Median {
                fall_height: known.fall_height.max(landed.fall_height),
                exit_speed: known.exit_speed.max(landed.exit_speed),
                grip_demand: known.grip_demand.max(landed.grip_demand),
            });
        }
        Ok(hardest)
    }

    /// The lowest start for which something holds, found on a grid and then closer.
    pub(super) fn lowest(
        &self,
        holds: impl Fn(f64) -> Result<bool, FlagsError>,
    ) -> Result<Option<f64>, FlagsError> {
        let (mut bad, mut good) = (0.0, TRY);
        while !holds(good)? {
            if good >= self.top() {
                return Ok(None);
            }
            (bad, good) = (good, (good + TRY).min(self.top()));
        }
        while good - bad > super::step::SAME {
            let middle = 0.5 * (bad + good);
            if holds(middle)? { good = middle } else { bad = middle }
        }
        Ok(Some(good))
    }

    pub(super) fn forecast(&self, ride: &TestRide) -> Result<Forecast, FlagsError> {
        let StepOptions { draws, seed, .. } = *self.options;
        self.found.forecast_on(self.course, ride, draws, seed, self.crew)
    }

    /// What of the planned ground is missing from the last mark to where the next ones come down.
    pub(super) fn unbuilt(&self, step: &Step) -> Option<Refusal> {
        let planned = self.planned.as_ref()?;
        let (middle, ahead, span, half) = self.strip(step)?;
        let left = Vec2::new(-ahead.y, ahead.x);
        let (mut lower, mut volume) = (0.0_f64, 0.0);
        let mut along = span.0;
        while along <= span.1 {
            let mut across = -half;
            while across <= half {
                let at = middle + ahead * along + left * across;
                let heights = (planned.height(at.x, at.y), self.found.ground.height(at.x, at.y));
                if let (Some(wanted), Some(there)) = heights {
                    lower = lower.max(wanted - there);
                    volume += (wanted - there).max(0.0) * CELL * CELL;
                }
                across += CELL;
            }
            along += CELL;
        }
        let barrows = self.barrows(volume)?;
        (lower > BUILT).then_some(Refusal::Unbuilt { lower, volume, barrows })
    }

    /// The strip of ground between the last mark and nine tenths of the next ones: its middle, direction, span and half width.
    fn strip(&self, step: &Step) -> Option<(Vec2, Vec2, (f64, f64), f64)> {
        let region = step.forecast.region.as_ref()?;
        let middle = region.middle();
        let last = self.found.flags.iter().rev().find_map(|flag| flag.mark());
        let last = last.and_then(|mark| mark.resolve(&self.found.site).ok());
        let landed = step.forecast.draws.iter().find_map(|draw| draw.fate.as_ref().ok()?.velocity);
        let ahead = landed?.xy().try_normalize(1e-6)?;
        // 1.645 standard deviations either side hold nine tenths of a normal distribution.
        let spread = 1.645 * region.spread_along(&ahead);
        let half = 1.645 * region.spread_along(&Vec2::new(-ahead.y, ahead.x));
        let back = last.map_or(0.0, |last| (last - middle).dot(&ahead)).min(0.0);
        Some((middle, ahead, (back.min(-spread), spread), half.max(0.4)))
    }

    /// Barrows for a volume as built.
    pub(super) fn barrows(&self, volume: f64) -> Option<f64> {
        let site = &self.found.site;
        let loads = Loads::of(volume.max(0.0), &site.soil, &site.barrow, &Trailer::default());
        loads.ok().map(|loads| loads.barrows)
    }

    /// What the step beyond a ride would need.
    pub(super) fn need_beyond(&self, ride: &TestRide) -> Result<Option<Need>, FlagsError> {
        let Some(here) = self.medians(ride)? else { return Ok(None) };
        let (start, _) = self.by_rules(ride, &here)?;
        if start - ride.start() < super::step::SAME {
            return Ok(None);
        }
        self.need_for(&self.ride_like(ride, start)?)
    }

    /// What a ride would need.
    pub(super) fn need_for(&self, ride: &TestRide) -> Result<Option<Need>, FlagsError> {
        Ok(Some(Need::of(self, &self.forecast(ride)?)?))
    }
}
