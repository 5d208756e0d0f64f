//! Where rides not yet tried come down, and how hard: drawn from what the flags left open.

use super::course::Course;
use super::error::FlagsError;
use super::found::{Found, LeanFound, NOTABLE};
use super::miss::{Miss, Stop};
use super::region::{Drawn, Region};
use super::sight::Look;
use super::test_ride::TestRide;
use super::unknown::Values;
use crate::explain::Explanation;
use crate::math::parallel::Crew;
use crate::math::quantile;
use crate::math::range::OutOfRange;
use crate::math::sampling::Sequence;
use crate::math::{Vec2, Vec3};
use crate::ride::Lean;
use crate::touchdown::TouchOutcome;
use nalgebra::DVector;
use serde::{Deserialize, Serialize};
use statrs::function::erf::erfc_inv;
use std::f64::consts::SQRT_2;

/// What is drawn for a ride, in the order of the sequence's dimensions: only ever append.
const NAMES: &[&str] =
    &["crr", "cda", "brake", "pop", "leave", "speed", "noise across", "noise along"];
/// How many draws a lean are allowed.
const LEAST_DRAWS: usize = 16;
const MOST_DRAWS: usize = 1 << 16;
/// Draws a lean unless asked otherwise.
pub const DRAWS: usize = 128;

/// One ride drawn from what the flags left open.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize)]
pub struct Draw {
    /// Its share of all.
    pub weight: f64,
    /// How the rider leans.
    pub lean: Lean,
    /// The rider's values, in the order of [`super::Unknown::ALL`].
    pub values: Values,
    /// How it comes down; or how it ends before.
    pub fate: Result<Landed, Stop>,
}

/// How a drawn ride comes down.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize)]
pub struct Landed {
    /// How its flight comes out.
    pub outcome: TouchOutcome,
    /// The tyres' mark, m; none for who rolls off or finds no ground.
    pub mark: Option<Vec3>,
    /// Level distance from the edge to the mark, m.
    pub distance: Option<f64>,
    /// The equivalent fall height, m; infinite where there is no ground.
    pub fall_height: f64,
    /// The tyres' speed at the edge, m/s.
    pub exit_speed: f64,
    /// The direction and the speed of the touch: velocity, m/s.
    pub velocity: Option<Vec3>,
    /// The most grip asked for on the way.
    pub grip_demand: f64,
}

/// Quantiles of one number over the rides that come down.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize)]
pub struct Band {
    /// 5 % lie below.
    pub p5: f64,
    /// A quarter lies below.
    pub p25: f64,
    /// Half lie below.
    pub median: f64,
    /// A quarter lies above.
    pub p75: f64,
    /// 5 % lie above.
    pub p95: f64,
}

/// How likely each bad end of a ride is.
#[derive(Debug, Clone, Copy, PartialEq, Default, Serialize, Deserialize)]
pub struct Risk {
    /// Does not hold, stalls, or lifts off before the edge.
    pub not_leaving: f64,
    /// Comes down before the landing's crest.
    pub short: f64,
    /// Past its foot.
    pub long: f64,
    /// Beside its face.
    pub wide: f64,
    /// Off the known ground.
    pub off_survey: f64,
    /// Where it should, but with a fall height above the limit.
    pub hard: f64,
}

/// The forecast of one ride.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[non_exhaustive]
pub struct Forecast {
    /// The ride.
    pub ride: TestRide,
    /// The drawn rides.
    pub draws: Vec<Draw>,
    /// Where the mark would be; none where fewer than half of the rides leave one.
    pub region: Option<Region>,
    /// Where a flag would be seen, its own scatter included.
    pub flag_region: Option<Region>,
    /// The share of rides that leave a mark.
    pub share_marked: f64,
    /// Level distance from the edge to the mark, m.
    pub distance: Option<Band>,
    /// Equivalent fall height, m.
    pub fall_height: Option<Band>,
    /// The tyres' speed at the edge, m/s.
    pub exit_speed: Option<Band>,
}

impl Risk {
    /// All of it.
    pub fn total(&self) -> f64 {
        self.not_leaving + self.short + self.long + self.wide + self.off_survey + self.hard
    }

    /// The largest part of it, in words.
    pub fn worst(&self) -> &'static str {
        let parts = [
            (self.not_leaving, "does not come over the edge"),
            (self.short, "comes down short of the landing"),
            (self.long, "comes down past the landing"),
            (self.wide, "comes down beside the landing"),
            (self.off_survey, "comes down off the surveyed ground"),
            (self.hard, "falls higher than the limit"),
        ];
        let worst = parts.iter().max_by(|a, b| a.0.total_cmp(&b.0));
        worst.map_or("", |worst| worst.1)
    }

    fn add(&mut self, draw: &Draw, limit: f64, weight: f64) {
        let part = match &draw.fate {
            Err(_) => &mut self.not_leaving,
            Ok(landed) => match landed.outcome {
                TouchOutcome::Short => &mut self.short,
                TouchOutcome::Long => &mut self.long,
                TouchOutcome::Wide => &mut self.wide,
                TouchOutcome::OffSurvey | TouchOutcome::NoTouchdown => &mut self.off_survey,
                _ if landed.fall_height > limit => &mut self.hard,
                _ => return,
            },
        };
        *part += weight;
    }
}

impl Found {
    /// The forecast of a ride not yet tried, on the ground as it is now, from `draws` draws (16 to 65536) for each lean that
    /// still has to be reckoned with, and a few for rare ones: a function of the fit, the ride and `seed` alone.
    pub fn forecast(
        &self,
        ride: &TestRide,
        draws: usize,
        seed: u64,
        crew: &Crew,
    ) -> Result<Forecast, FlagsError> {
        self.forecast_on(&self.course()?, ride, draws, seed, crew)
    }

    pub(super) fn forecast_on(
        &self,
        course: &Course,
        ride: &TestRide,
        draws: usize,
        seed: u64,
        crew: &Crew,
    ) -> Result<Forecast, FlagsError> {
        if !(LEAST_DRAWS..=MOST_DRAWS).contains(&draws) {
            let allowed = format!("from {LEAST_DRAWS} to {MOST_DRAWS}");
            return Err(OutOfRange::new("draws", draws as f64, allowed).into());
        }
        ride.check(&self.site)?;
        let look = Look::at_mark(ride);
        let leans = self.reckoned();
        let sequence = Sequence::new(seed, NAMES);
        let rows: Vec<(&LeanFound, f64, DVector<f64>)> = leans
            .iter()
            .flat_map(|(lean, weight)| {
                // A rare lean shows in the regions and judges nothing: a few draws do.
                let draws =
                    if *weight < NOTABLE { draws.div_ceil(4).max(LEAST_DRAWS) } else { draws };
                let (lean, weight) = (*lean, weight / draws as f64);
                let places = self.places(lean, draws, &sequence);
                places.into_iter().map(move |values| (lean, weight, values))
            })
            .collect();
        let tried = crew.map(rows.len(), 4, |i| {
            let (lean, weight, values) = &rows[i];
            let values: Values = std::array::from_fn(|k| values[k]);
            let fate = fate(&look, course, &values, lean.lean)?;
            Ok(Draw { weight: *weight, lean: lean.lean, values, fate })
        })?;
        let drawn = tried.into_iter().collect::<Result<Vec<Draw>, FlagsError>>()?;
        let noise = self.flags.iter().map(|flag| flag.mark_sd).fold(0.0, f64::max);
        let noise = if noise > 0.0 { noise } else { super::flag::MARK_SD };
        Ok(Forecast::of(ride, drawn, noise, &sequence))
    }

    /// Values drawn from what the flags left open under one lean.
    fn places(&self, lean: &LeanFound, draws: usize, sequence: &Sequence) -> Vec<DVector<f64>> {
        let root = lean.precision.clone().cholesky().map(|root| root.l().transpose());
        let score = |index: usize, name: &str| normal_score(sequence, index, name);
        let one = |index: usize| {
            let free = DVector::from_iterator(
                self.free.len(),
                self.free.iter().map(|unknown| score(index, unknown.name())),
            );
            let off = root.as_ref().and_then(|root| root.solve_upper_triangular(&free));
            let place = &lean.place + off.unwrap_or(free);
            let mut values = DVector::from_row_slice(&self.priors.medians());
            for unknown in &self.held {
                let own = self.priors.value(*unknown, score(index, unknown.name())).0;
                values[unknown.index()] = own;
            }
            for (unknown, score) in self.free.iter().zip(place.iter()) {
                values[unknown.index()] = self.priors.value(*unknown, *score).0;
            }
            values
        };
        (0..draws).map(one).collect()
    }

    /// The values that are likeliest under a lean.
    pub(super) fn likeliest(&self, lean: &LeanFound) -> Values {
        let mut values = self.priors.medians();
        for (unknown, score) in self.free.iter().zip(lean.place.iter()) {
            values[unknown.index()] = self.priors.value(*unknown, *score).0;
        }
        values
    }
}

pub(super) fn normal_score(sequence: &Sequence, index: usize, name: &str) -> f64 {
    -SQRT_2 * erfc_inv(2.0 * sequence.uniform(index as u64, name))
}

/// How a ride with these values comes down.
pub(super) fn fate(
    look: &Look,
    course: &Course,
    values: &Values,
    lean: Lean,
) -> Result<Result<Landed, Stop>, FlagsError> {
    let (way, grip_demand) = match look.way(course, values, lean) {
        Ok(way) => way,
        Err(Miss::Stop(stop)) => return Ok(Err(stop)),
        Err(Miss::Failed(error)) => return Err(*error),
    };
    let contact = way.contact();
    Ok(Ok(Landed {
        outcome: way.touchdown.outcome,
        mark: contact.map(|contact| contact.mark),
        distance: contact.map(|contact| contact.distance),
        fall_height: way.fall_height(),
        exit_speed: way.exit_speed,
        velocity: contact.map(|contact| contact.velocity),
        grip_demand,
    }))
}

impl Forecast {
    fn of(ride: &TestRide, draws: Vec<Draw>, noise: f64, sequence: &Sequence) -> Self {
        let marks = |noisy: bool| -> Vec<Drawn> {
            let each = draws.iter().enumerate().filter_map(|(index, draw)| {
                let mark = draw.fate.as_ref().ok()?.mark?.xy();
                let off =
                    |name| if noisy { noise * normal_score(sequence, index, name) } else { 0.0 };
                let off = Vec2::new(off("noise across"), off("noise along"));
                Some(Drawn { lean: draw.lean, weight: draw.weight, mark: mark + off })
            });
            each.collect()
        };
        // From 0 on: the sum of none is -0.
        let share_marked = marks(false).iter().fold(0.0, |sum, drawn| sum + drawn.weight);
        let region = |noisy| if share_marked >= 0.5 { Region::of(&marks(noisy)) } else { None };
        Self {
            ride: ride.clone(),
            region: region(false),
            flag_region: region(true),
            share_marked,
            distance: band(&draws, |landed| landed.distance),
            fall_height: band(&draws, |landed| Some(landed.fall_height)),
            exit_speed: band(&draws, |landed| Some(landed.exit_speed)),
            draws,
        }
    }

    /// How likely each bad end is, with a fall height above `limit` m counted as one, all leans by their weight.
    pub fn risk(&self, limit: f64) -> Risk {
        let mut risk = Risk::default();
        self.draws.iter().for_each(|draw| risk.add(draw, limit, draw.weight));
        risk
    }

    /// The same under one lean alone.
    pub fn risk_with(&self, limit: f64, lean: Lean) -> Risk {
        let own = || self.draws.iter().filter(|draw| draw.lean == lean);
        let total: f64 = own().map(|draw| draw.weight).sum();
        let mut risk = Risk::default();
        own().for_each(|draw| risk.add(draw, limit, draw.weight / total));
        risk
    }

    /// The risk that judges: the largest of the leans that still have to be reckoned with, and of all together.
    pub fn judged(&self, limit: f64) -> Risk {
        let mut leans: Vec<Lean> = self.draws.iter().map(|draw| draw.lean).collect();
        leans.dedup();
        let share = |lean: &Lean| -> f64 {
            self.draws.iter().filter(|draw| draw.lean == *lean).map(|draw| draw.weight).sum()
        };
        let each = leans
            .into_iter()
            .filter(|lean| share(lean) >= NOTABLE)
            .map(|lean| self.risk_with(limit, lean));
        let all = each.chain([self.risk(limit)]);
        all.max_by(|a, b| a.total().total_cmp(&b.total())).unwrap_or_default()
    }

    /// The model behind the numbers, what went in, its sources and its limits.
    pub fn explain(&self) -> Explanation {
        let model = "Riders are drawn from what the flags left open: a normal distribution of the unknowns' scores about the \
            likeliest place, for each lean that still has to be reckoned with (Laplace). Each is ridden, flown and landed in \
            full. The regions are the places where marks lie most thickly, all leans together, that hold half and nine \
            tenths of them; what is said to be safe is judged by the lean that makes the ride hardest.";
        let limits = "One rider on one day: who rides differently next time is not in it, but for the scatter of flags. \
            Unknowns that are not fitted (mass, grip, wind, sizes) are taken as the site has them.";
        let mut said = Explanation::new(model, limits)
            .with_source("P. S. Laplace's approximation, as in C. M. Bishop, Pattern Recognition and Machine Learning, 2006, section 4.4 (from memory)")
            .with_input("start", self.ride.start(), "m")
            .with_input("brake_share", self.ride.brake_share(), "")
            .with_input("draws", self.draws.len() as f64, "");
        if let Some(leave) = self.ride.leave() {
            said = said.with_input("leave", leave, "m");
        }
        said
    }
}

/// Quantiles over the rides that come down.
fn band(draws: &[Draw], of: impl Fn(&Landed) -> Option<f64>) -> Option<Band> {
    let values: Vec<(f64, f64)> = draws
        .iter()
        .filter_map(|draw| Some((of(draw.fate.as_ref().ok()?)?, draw.weight)))
        .collect();
    let at = |share: f64| quantile::weighted(values.iter().copied(), share);
    Some(Band { p5: at(0.05)?, p25: at(0.25)?, median: at(0.5)?, p75: at(0.75)?, p95: at(0.95)? })
}
