//! What landing a ride needs.

use super::error::FlagsError;
use super::forecast::{Forecast, fate};
use super::step::{look, onto};
use super::test_ride::TestRide;
use super::walk::Walk;
use crate::earth::volume;
use crate::ground::{Ground, Landing};
use crate::math::{Vec2, Vec3};
use serde::{Deserialize, Serialize};

/// The landing is drawn for this share of the fall height allowed: the others are for who comes a little faster.
const AIM: f64 = 0.7;
/// What is added to nine tenths of the marks at each end and side, m: half a bike (common practice).
const MARGIN: f64 = 0.6;
/// Where on the face the middle ride is to come down, as a share of its length from the crest.
const PLACE: f64 = 0.45;
/// How often the landing is moved to where rides come down on it.
const MOVES: usize = 4;

/// What landing a ride needs on the ground as it is now.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[non_exhaustive]
pub struct Need {
    /// The ride.
    pub ride: TestRide,
    /// The chance of a bad end on the ground as it is now, by the lean that makes it hardest.
    pub chance_now: f64,
    /// The landing: none where none is needed, or none was found.
    pub landing: Option<Landing>,
    /// Its earth as built, m³.
    pub volume: f64,
    /// In barrows.
    pub barrows: f64,
    /// The chance of a bad end on it.
    pub chance_built: Option<f64>,
    /// Whether the chance asked for is kept, now or with the landing.
    pub is_enough: bool,
}

impl Need {
    /// From the ride's forecast on the ground as it is now.
    pub(super) fn of(walk: &Walk, forecast: &Forecast) -> Result<Self, FlagsError> {
        let ride = &forecast.ride;
        let limit = walk.options.fall_limit;
        let chance_now = forecast.judged(limit).total();
        let bare = Self {
            ride: ride.clone(),
            chance_now,
            landing: None,
            volume: 0.0,
            barrows: 0.0,
            chance_built: None,
            is_enough: chance_now < walk.options.chance,
        };
        if bare.is_enough && walk.options.planned.is_none() {
            return Ok(bare);
        }
        let landing = match &walk.options.planned {
            Some(planned) => Some(*planned),
            None => drawn(walk, forecast)?,
        };
        let Some(landing) = landing else { return Ok(bare) };
        let Some(built) = built(walk, &landing) else { return Ok(bare) };
        let volume = volume(&walk.found.ground, &built)?.fill;
        let course = onto(walk.course, Some(&built));
        let options = walk.options;
        let again =
            walk.found.forecast_on(&course, ride, options.draws, options.seed, walk.crew)?;
        let chance = again.judged(limit).total();
        Ok(Self {
            landing: Some(landing),
            volume,
            barrows: walk.barrows(volume).unwrap_or_default(),
            chance_built: Some(chance),
            is_enough: chance < options.chance,
            ..bare
        })
    }
}

fn built(walk: &Walk, landing: &Landing) -> Option<Ground> {
    walk.found.ground.with_landing(landing).ok()
}

/// The middle rides on a ground that leave a mark, one for each lean that still has to be reckoned with.
fn middles(walk: &Walk, ride: &TestRide, ground: &Ground) -> Result<Vec<(Vec2, Vec3)>, FlagsError> {
    let course = onto(walk.course, Some(ground));
    let mut all = Vec::new();
    for (lean, _) in walk.found.notable() {
        let values = walk.found.likeliest(lean);
        if let Ok(landed) = fate(&look(ride), &course, &values, lean.lean)?
            && let (Some(mark), Some(velocity)) = (landed.mark, landed.velocity)
        {
            all.push((mark.xy(), velocity));
        }
    }
    Ok(all)
}

/// A landing under the region where marks fall: as steep as the hardest middle ride needs it to fall softly, as long and wide
/// as nine tenths of the marks ask for, moved until the middle rides come down on its face.
fn drawn(walk: &Walk, forecast: &Forecast) -> Result<Option<Landing>, FlagsError> {
    let rides = middles(walk, &forecast.ride, &walk.found.ground)?;
    let (Some(region), Some((_, first))) = (&forecast.region, rides.first()) else {
        return Ok(None);
    };
    let Some(ahead) = first.xy().try_normalize(1e-6) else { return Ok(None) };
    let bounds = &walk.found.site.landing;
    let reach = |direction: &Vec2| 2.0 * (1.645 * region.spread_along(direction) + MARGIN);
    let length = reach(&ahead).max(bounds.length.low).min(bounds.length.high);
    let width = reach(&Vec2::new(-ahead.y, ahead.x)).max(bounds.width.low).min(bounds.width.high);
    let heading = ahead.y.atan2(ahead.x);
    let steepest = |rides: &[(Vec2, Vec3)]| {
        rides.iter().map(|(_, velocity)| wanted_slope(walk, velocity)).fold(0.0, f64::max)
    };
    let mut slope = bounds.slope.nearest(steepest(&rides));
    let mut crest = region.middle() - ahead * (PLACE * length);
    let mut landing = None;
    for _ in 0..MOVES {
        let Ok(next) = Landing::new(crest, heading, slope, length, width) else {
            return Ok(landing);
        };
        let Some(ground) = built(walk, &next) else { return Ok(landing) };
        landing = Some(next);
        let there = middles(walk, &forecast.ride, &ground)?;
        if there.is_empty() {
            return Ok(landing);
        }
        let along = there.iter().map(|(mark, _)| next.along_across(mark).x).sum::<f64>();
        crest += ahead * (along / there.len() as f64 - PLACE * length);
        slope = bounds.slope.nearest(steepest(&there).max(slope));
    }
    Ok(landing)
}

/// The slope below level on which a touch with this velocity falls from the height aimed at: `phi - asin(sqrt(2 g h)/v)`.
fn wanted_slope(walk: &Walk, velocity: &Vec3) -> f64 {
    let (speed, level) = (velocity.norm(), velocity.xy().norm());
    let into = (2.0 * walk.course.air.gravity() * AIM * walk.options.fall_limit).sqrt();
    let below = (-velocity.z).atan2(level);
    if into < speed { (below - (into / speed).asin()).max(0.0) } else { 0.0 }
}
