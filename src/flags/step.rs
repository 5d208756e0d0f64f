//! The next step: how far up the hill the next start may be, and why no farther.

use super::course::Course;
use super::error::FlagsError;
use super::forecast::{Band, DRAWS, Forecast, Risk};
use super::found::Found;
use super::need::Need;
use super::refusal::{Limit, Refusal};
use super::sight::Look;
use super::test_ride::TestRide;
use super::walk::{Median, Walk};
use crate::explain::Explanation;
use crate::ground::Landing;
use crate::math::parallel::Crew;
use crate::math::range::{positive, within};
use serde::{Deserialize, Serialize};

/// No step raises the median fall height by more than this, m: a rule of this library, for a step that is felt but not feared.
pub const FALL_STEP: f64 = 0.25;
/// Nor the median exit speed by more than this share: likewise.
pub const SPEED_STEP: f64 = 0.10;
/// The first step holds with this share of grip to spare.
pub const GRIP_SPARE: f64 = 0.25;
/// Two starts closer than this are one, m.
pub(super) const SAME: f64 = 0.02;
/// How many times the first step is made a little faster because it stalls too often.
const MOST_BACKS: usize = 5;
/// How many starts are tried between the last ride and the farthest that the rules leave, by halves: the farthest to a
/// sixteenth of the way.
const MOST_TRIES: usize = 5;

/// What is asked of a next step.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct StepOptions {
    pub(super) fall_limit: f64,
    pub(super) chance: f64,
    pub(super) draws: usize,
    pub(super) seed: u64,
    pub(super) leave: Option<f64>,
    pub(super) planned: Option<Landing>,
}

impl StepOptions {
    /// Up to a fall height, m, above 0, with a chance of a bad end, above 0 and at most 0.5; where riders leave as they do.
    pub fn new(fall_limit: f64, chance: f64) -> Result<Self, FlagsError> {
        positive("fall_limit", fall_limit)?;
        within("chance", chance, 1e-3, 0.5)?;
        Ok(Self { fall_limit, chance, draws: DRAWS, seed: 1, leave: None, planned: None })
    }

    /// The same with the next rides leaving at this place of the edge, m.
    pub fn leaving(self, place: f64) -> Result<Self, FlagsError> {
        crate::math::range::finite("leave", place)?;
        Ok(Self { leave: Some(place), ..self })
    }

    /// The same from this many draws a lean, and another seed.
    pub fn with_draws(self, draws: usize, seed: u64) -> Self {
        Self { draws, seed, ..self }
    }

    /// The same towards a landing that is planned: what of it is not built yet bars the way, and barrows count towards it.
    pub fn with_planned(self, planned: Landing) -> Self {
        Self { planned: Some(planned), ..self }
    }
}

/// A step up the hill.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[non_exhaustive]
pub struct Step {
    /// The ride.
    pub ride: TestRide,
    /// Its forecast on the ground as it is now.
    pub forecast: Forecast,
    /// How likely each bad end is, by the lean that makes it hardest.
    pub risk: Risk,
    /// How likely they are by all leans' weights.
    pub mean_risk: Risk,
    /// What ended it there.
    pub limit: Limit,
}

/// What may be tried next.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[non_exhaustive]
pub struct NextStep {
    /// What was asked.
    pub options: StepOptions,
    /// The farthest ride that a flag stands for; none before the first good one.
    pub from: Option<TestRide>,
    /// The step; none where it is refused.
    pub step: Option<Step>,
    /// Why there is none.
    pub refusal: Option<Refusal>,
    /// What landing the step after that would need, where there is one.
    pub then: Option<Need>,
}

/// What may be tried next, from what the flags say and the ground as it is now.
///
/// The farthest start mark (at the place of leaving asked for) up the hill for which the chance that the ride does not come over
/// the edge, comes down short, long, wide or off the survey, or falls higher than the limit, stays under the given one by the
/// lean that makes it hardest; and which raises neither the median fall height by more than [`FALL_STEP`] nor the median exit
/// speed by more than [`SPEED_STEP`]. The first step is the slowest ride that holds with [`GRIP_SPARE`] of grip to spare.
/// None while the last flag lies outside its 90 % region, or where ground that is planned in between is not built.
pub fn next_step(
    found: &Found,
    options: &StepOptions,
    crew: &Crew,
) -> Result<NextStep, FlagsError> {
    let course = found.course()?;
    let walk = Walk::new(found, &course, options, crew)?;
    let from = walk.from();
    let made = |step: Result<Step, Refusal>, then: Option<Need>| {
        let (step, refusal) = match step {
            Ok(step) => (Some(step), None),
            Err(refusal) => (None, Some(refusal)),
        };
        NextStep { options: options.clone(), from: walk.from(), step, refusal, then }
    };
    if let Some(refusal) = Refusal::by_flags(found) {
        return Ok(made(Err(refusal), None));
    }
    let step = match &from {
        Some(ride) => walk.farther(ride)?,
        None => walk.first()?,
    };
    let step = step.and_then(|step| match walk.unbuilt(&step) {
        Some(refusal) => Err(refusal),
        None => Ok(step),
    });
    let then = match &step {
        Ok(step) => walk.need_beyond(&step.ride)?,
        Err(Refusal::Risky { ride, .. }) => walk.need_for(ride)?,
        Err(_) => None,
    };
    Ok(made(step, then))
}

impl Walk<'_> {
    /// The slowest ride that holds with grip to spare.
    pub(super) fn first(&self) -> Result<Result<Step, Refusal>, FlagsError> {
        let ride = self.ride(self.top())?;
        let holds = |start: f64| -> Result<bool, FlagsError> {
            let medians = self.medians(&ride.clone().from_start(start)?)?;
            Ok(medians.is_some_and(|m| m.grip_demand <= (1.0 - GRIP_SPARE) * self.grip()))
        };
        let Some(start) = self.lowest(holds)? else {
            return Ok(Err(Refusal::NothingHolds { spare: GRIP_SPARE }));
        };
        let mut start = start;
        for back in 0.. {
            let step = self.judged(&ride.clone().from_start(start)?, Limit::First)?;
            // A slow one may yet stall too often: a little faster then.
            let stalls = step.risk.not_leaving > 0.5 * self.options.chance;
            if !stalls || back == MOST_BACKS || start + 0.1 > self.top() {
                return Ok(self.accept(step));
            }
            start += 0.1 * (1.0 + f64::from(u32::try_from(back).unwrap_or(0)));
        }
        Ok(Err(Refusal::NothingHolds { spare: GRIP_SPARE }))
    }

    /// The farthest ride beyond another.
    pub(super) fn farther(&self, from: &TestRide) -> Result<Result<Step, Refusal>, FlagsError> {
        let Some(here) = self.medians(from)? else {
            return Ok(Err(Refusal::LostTrack { ride: from.clone() }));
        };
        let (mut start, mut limit) = self.by_rules(from, &here)?;
        if start - from.start() < SAME {
            return Ok(Err(Refusal::AtTheTop { start: from.start(), limit }));
        }
        let before = self.judged(from, limit)?;
        let (mut low, mut high) = (from.start(), start);
        let (mut best, mut last) = (None, None);
        for _ in 0..MOST_TRIES {
            let step = self.judged(&self.ride_like(from, start)?, limit)?;
            let is_risky = step.risk.total() >= self.options.chance;
            if !is_risky && keeps_rules(&step.forecast, &before.forecast) {
                low = start;
                best = Some(step);
            } else if self.is_too_slow(&step.risk, &before.risk) {
                // Nearer yet fewer would come over the edge, on whatever ground.
                low = start;
                last = last.or(Some(step));
            } else {
                high = start;
                if is_risky {
                    limit = Limit::Chance;
                    last = Some(step);
                }
            }
            if high - low < SAME {
                break;
            }
            start = 0.5 * (low + high);
        }
        let refused = |step: Step| Refusal::Risky {
            ride: step.ride,
            risk: step.risk,
            chance: self.options.chance,
        };
        let none = Refusal::AtTheTop { start: from.start(), limit };
        Ok(best.ok_or_else(|| last.map_or(none, refused)))
    }

    /// Whether too many do not come over the edge, though fewer than from the last start: more speed is what they lack.
    fn is_too_slow(&self, risk: &Risk, before: &Risk) -> bool {
        risk.not_leaving >= self.options.chance && risk.not_leaving < before.not_leaving
    }

    fn accept(&self, step: Step) -> Result<Step, Refusal> {
        if step.risk.total() < self.options.chance {
            return Ok(step);
        }
        Err(Refusal::Risky { ride: step.ride, risk: step.risk, chance: self.options.chance })
    }

    /// The farthest start that the rules of fall height and speed leave, and which of them ends it.
    pub(super) fn by_rules(
        &self,
        from: &TestRide,
        here: &Median,
    ) -> Result<(f64, Limit), FlagsError> {
        let broken = |start: f64| -> Result<Option<Limit>, FlagsError> {
            let ride = self.ride_like(from, start)?;
            let Some(there) = self.medians(&ride)? else { return Ok(Some(Limit::Holding)) };
            Ok(if there.fall_height > here.fall_height + FALL_STEP {
                Some(Limit::FallHeight)
            } else if there.exit_speed > here.exit_speed * (1.0 + SPEED_STEP) {
                Some(Limit::ExitSpeed)
            } else {
                None
            })
        };
        let (mut good, mut bad) = (from.start(), self.top());
        let Some(mut limit) = broken(bad)? else { return Ok((bad, Limit::Top)) };
        while bad - good > SAME {
            let middle = 0.5 * (good + bad);
            match broken(middle)? {
                None => good = middle,
                Some(by) => (bad, limit) = (middle, by),
            }
        }
        Ok((good, limit))
    }

    /// A ride with its forecast and its risk.
    pub(super) fn judged(&self, ride: &TestRide, limit: Limit) -> Result<Step, FlagsError> {
        let forecast = self.forecast(ride)?;
        let fall_limit = self.options.fall_limit;
        Ok(Step {
            ride: ride.clone(),
            risk: forecast.judged(fall_limit),
            mean_risk: forecast.risk(fall_limit),
            forecast,
            limit,
        })
    }
}

/// Whether the drawn medians keep the rules that the middle rides were chosen by.
fn keeps_rules(after: &Forecast, before: &Forecast) -> bool {
    let median = |band: Option<Band>| band.map(|band| band.median);
    let (fall, speed) = (median(before.fall_height), median(before.exit_speed));
    let (Some(fall), Some(speed)) = (fall, speed) else { return false };
    median(after.fall_height).is_some_and(|now| now <= fall + FALL_STEP)
        && median(after.exit_speed).is_some_and(|now| now <= speed * (1.0 + SPEED_STEP))
}

impl NextStep {
    /// The model behind the numbers, what went in, its sources and its limits.
    pub fn explain(&self) -> Explanation {
        let model = "The farthest start for which, by the lean that makes it hardest, the chance of a bad end stays under the one \
            asked for: not over the edge, short, long, wide, off the surveyed ground, or a fall height above the limit. No step \
            raises the median fall height by more than 0.25 m or the median exit speed by more than 10 %; the first is the \
            slowest ride that holds with a quarter of the grip to spare. There is none while the last flag lies outside its \
            90 % region or planned ground in between is not built.";
        let limits = "The chance is that of the model for one rider on the site as written down: it knows nothing of \
            mistakes, of a slipped pedal, of wet boards. The rules for steps are this library's own, not a standard. \
            Plant a flag at every step, and do not skip one.";
        let said = Explanation::new(model, limits)
            .with_source("rules of this library: an assumption, without a study behind it")
            .with_input("fall_limit", self.options.fall_limit, "m")
            .with_input("chance", self.options.chance, "")
            .with_input("draws", self.options.draws as f64, "");
        match &self.from {
            Some(from) => said.with_input("from", from.start(), "m"),
            None => said,
        }
    }
}

/// The forecast's medians by a look at the mark alone.
pub(super) fn look(ride: &TestRide) -> Look {
    Look::at_mark(ride)
}

/// A course onto other ground, where there is one.
pub(super) fn onto<'a>(course: &Course<'a>, ground: Option<&crate::ground::Ground>) -> Course<'a> {
    ground.map_or_else(|| course.clone(), |ground| course.onto(ground))
}
