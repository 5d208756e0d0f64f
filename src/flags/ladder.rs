//! The whole ladder from here to the ride without a brake, rung by rung.

use super::error::FlagsError;
use super::found::Found;
use super::need::Need;
use super::refusal::{Limit, Refusal};
use super::step::{FALL_STEP, NextStep, SAME, SPEED_STEP, StepOptions};
use super::test_ride::TestRide;
use super::walk::{Median, Walk};
use crate::explain::Explanation;
use crate::math::parallel::Crew;
use serde::{Deserialize, Serialize};

/// More rungs than this are no ladder.
const MOST_RUNGS: usize = 40;
/// Shares of the brake closer than this are one.
const SAME_BRAKE: f64 = 0.02;
/// A ride this much faster is another one, m/s.
const FASTER: f64 = 0.02;

/// One rung of the ladder.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[non_exhaustive]
pub struct Rung {
    /// The ride.
    pub ride: TestRide,
    /// The tyres' speed at the edge by the middle ride of the lean that makes it fastest, m/s.
    pub exit_speed: f64,
    /// The equivalent fall height on the ground as it is now, likewise, m.
    pub fall_height: f64,
    /// Level distance from the edge to the mark, half of all, m; none where none is left.
    pub distance: Option<f64>,
    /// What it needs: its chance now, the landing, its barrows.
    pub need: Need,
    /// What ended the step there.
    pub limit: Limit,
}

/// From the next step to the ride without a brake.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[non_exhaustive]
pub struct Ladder {
    /// What was asked.
    pub options: StepOptions,
    /// The rungs, from the slowest on.
    pub rungs: Vec<Rung>,
    /// The ride it leads to.
    pub goal: TestRide,
    /// Whether it gets there.
    pub is_whole: bool,
    /// What bars the very first step, where something does.
    pub refusal: Option<Refusal>,
}

/// The ladder from the farthest good flag (or from nothing) to the ride without a brake from a start, the class's middle one
/// unless given: every rung as far as the rules for steps allow, with the landing that it needs where the chance asked for
/// is not kept on the ground as it is now. Nothing is learnt on the way: after each ride fit its flag and make a new one.
pub fn ladder(
    found: &Found,
    options: &StepOptions,
    goal: Option<f64>,
    crew: &Crew,
) -> Result<Ladder, FlagsError> {
    let course = found.course()?;
    let walk = Walk::new(found, &course, options, crew)?;
    let top = goal.unwrap_or_else(|| course.class.start.median()).min(walk.top());
    let mut rungs = Vec::new();
    let refusal = Refusal::by_flags(found);
    let start = match walk.from() {
        Some(ride) => Some((ride, Limit::First)),
        None => match walk.first()? {
            Ok(step) => {
                rungs.push(walk.rung(&step.ride, Limit::First)?);
                Some((step.ride, Limit::First))
            }
            Err(refusal) => {
                let (goal, options) = (walk.ride(top)?.braking(0.0)?, options.clone());
                return Ok(Ladder {
                    options,
                    rungs,
                    goal,
                    is_whole: false,
                    refusal: Some(refusal),
                });
            }
        },
    };
    let Some((mut here, _)) = start else { return Err(FlagsError::NoFlags) };
    let goal = walk.ride_like(&here, top.max(here.start()))?.braking(0.0)?;
    let mut is_whole = false;
    for _ in 0..MOST_RUNGS {
        let Some((next, limit)) = walk.rung_after(&here, &goal)? else {
            is_whole = true;
            break;
        };
        if limit == Limit::Holding {
            break;
        }
        rungs.push(walk.rung(&next, limit)?);
        here = next;
    }
    Ok(Ladder { options: options.clone(), rungs, goal, is_whole, refusal })
}

impl Walk<'_> {
    /// The farthest ride towards the goal that keeps the rules for steps: first up the hill, then off the brake. None at the goal,
    /// or where what is left makes no difference.
    fn rung_after(
        &self,
        here: &TestRide,
        goal: &TestRide,
    ) -> Result<Option<(TestRide, Limit)>, FlagsError> {
        let Some(now) = self.medians(here)? else {
            return Ok(Some((here.clone(), Limit::Holding)));
        };
        let is_up = goal.start() - here.start() < SAME;
        if is_up && here.brake_share() - goal.brake_share() < SAME_BRAKE {
            return Ok(None);
        }
        let at = |share: f64| -> Result<TestRide, FlagsError> {
            if is_up {
                let brake = here.brake_share() * (1.0 - share) + goal.brake_share() * share;
                return here.clone().braking(brake);
            }
            let start = here.start() + share * (goal.start() - here.start());
            self.ride_like(here, start)
        };
        let last = at(1.0)?;
        if is_up
            && let Some(then) = self.medians(&last)?
            && then.exit_speed - now.exit_speed < FASTER
        {
            return Ok(None);
        }
        let Some(mut limit) = self.broken(&now, &last)? else {
            let is_goal = is_up || here.brake_share() < SAME_BRAKE;
            return Ok(Some((last, if is_goal { Limit::Goal } else { Limit::Top })));
        };
        let (mut good, mut bad) = (0.0, 1.0);
        while bad - good > 2e-3 {
            let middle = 0.5 * (good + bad);
            match self.broken(&now, &at(middle)?)? {
                None => good = middle,
                Some(by) => (bad, limit) = (middle, by),
            }
        }
        Ok(Some((at(good)?, if good > 0.0 { limit } else { Limit::Holding })))
    }

    /// Which rule for steps a ride breaks.
    fn broken(&self, now: &Median, ride: &TestRide) -> Result<Option<Limit>, FlagsError> {
        let Some(then) = self.medians(ride)? else { return Ok(Some(Limit::Holding)) };
        Ok(if then.fall_height > now.fall_height + FALL_STEP {
            Some(Limit::FallHeight)
        } else if then.exit_speed > now.exit_speed * (1.0 + SPEED_STEP) {
            Some(Limit::ExitSpeed)
        } else {
            None
        })
    }

    fn rung(&self, ride: &TestRide, limit: Limit) -> Result<Rung, FlagsError> {
        let medians = self.medians(ride)?;
        let forecast = self.forecast(ride)?;
        let need = Need::of(self, &forecast)?;
        Ok(Rung {
            ride: ride.clone(),
            exit_speed: medians.map_or(0.0, |m| m.exit_speed),
            fall_height: medians.map_or(0.0, |m| m.fall_height),
            distance: forecast.distance.map(|distance| distance.median),
            need,
            limit,
        })
    }
}

impl Ladder {
    /// The most barrows that any one of its rungs needs.
    pub fn barrows(&self) -> f64 {
        self.rungs.iter().map(|rung| rung.need.barrows).fold(0.0, f64::max)
    }

    /// The model behind the numbers, what went in, its sources and its limits.
    pub fn explain(&self) -> Explanation {
        let model = "Each rung is the farthest ride that keeps the rules for steps over the one before, first up the hill, then off \
            the brake. Where its chance of a bad end is too high on the ground as it is now, the landing beside it is a \
            straight face under the region where its marks fall: as steep as a touch there needs for 0.7 of the fall \
            height allowed, as long and wide as nine tenths of the marks and half a bike more; it is flown onto again.";
        let limits = "Every landing is for its own ride alone and counted from the ground as it is now; it is no \
            design: fit_landing makes one for all who ride there. Nothing is learnt between the rungs: make a new ladder \
            after each flag.";
        Explanation::new(model, limits)
            .with_source("rules of this library: an assumption, without a study behind it")
            .with_input("fall_limit", self.options.fall_limit, "m")
            .with_input("chance", self.options.chance, "")
            .with_input("goal.start", self.goal.start(), "m")
    }
}

impl NextStep {
    /// The caution that stands with every step.
    pub const CAUTION: &'static str = "A step is a forecast, not a promise: look at the ground, ride it only if you would \
        without these numbers too, wear protection, never alone, and plant a flag where the tyres come down.";
}
