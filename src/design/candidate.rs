//! A landing from six numbers between 0 and 1, and what it is worth.

use super::{
    flier::Flier,
    plot::{Fill, Plot},
    quick::Quick,
    score::{Member, Score},
};
use crate::{
    ground::Landing,
    math::Vec2,
    site::{Interval, Site},
};
use std::f64::consts::TAU;

/// How many numbers make a candidate: crest along and across, heading, slope, width, share of the earth.
pub(super) const NUMBERS: usize = 6;
/// The least share of the budget that is tried.
const LEAST_SHARE: f64 = 0.3;
/// How far off the riders' mean course a face may head, radians.
const COURSE: f64 = 0.7;
/// The face stays so much gentler than the batter, radians.
const BELOW_BATTER: f64 = 0.035;
/// How far before the first mark and behind the middle one a crest is tried, metres.
const AHEAD: f64 = 3.5;
/// Over how much fall height, metres, and how much face, metres, a touch turns from soft to not in
/// the search: a step would give it no slope to follow.
const BLUR: [f64; 2] = [0.06, 0.12];
/// What the 95th percentile counts beside the share caught.
const PERCENTILE_SHARE: f64 = 0.05;
/// A volume is met within this share in the search, which aims a little under the budget: the raster is
/// not exact.
const VOLUME_CLOSE: f64 = 0.01;
const VOLUME_AIM: f64 = 0.995;

/// Where candidates may lie, and how they are turned into landings.
pub(super) struct Range {
    /// The middle of the marks, and the riders' mean course.
    origin: Vec2,
    course: f64,
    along: Interval,
    across: Interval,
    heading: Interval,
    slope: Interval,
    width: Interval,
    length: Interval,
    batter: f64,
}

/// Why a candidate is none.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) enum Fault {
    /// Beyond the survey, by about so much, metres.
    Unknown(f64),
    /// Too near the edge or an obstacle.
    Blocked(f64),
    /// Outside the allowed area.
    Outside(f64),
    /// The crest would lie in the ground.
    Buried(f64),
    /// Even the shortest face takes more earth than there is: how much it takes, cubic metres.
    TooMuch(f64),
}

/// What a candidate comes to.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) struct Appraisal {
    /// The lower the better; candidates that are none are above 1.
    pub cost: f64,
    pub result: Result<Landing, Fault>,
}

impl Range {
    pub(super) fn new(site: &Site, fliers: &[Flier]) -> Option<Self> {
        let touching: Vec<&Flier> = fliers.iter().filter(|f| f.bare.fixed.is_none()).collect();
        let total: f64 = touching.iter().map(|f| f.weight).sum();
        if total <= 0.0 {
            return None;
        }
        let origin = touching.iter().map(|f| f.weight * f.bare.mark).sum::<Vec2>() / total;
        let course = touching.iter().map(|f| f.weight * f.bare.course).sum::<Vec2>();
        let course = course.y.atan2(course.x);
        let (ahead, left) = (direction(course), direction(course + 0.25 * TAU));
        let spread = |axis: &Vec2| {
            let of = |f: &&Flier| (f.bare.mark - origin).dot(axis);
            let least = touching.iter().map(of).fold(f64::INFINITY, f64::min);
            Interval::new(least, touching.iter().map(of).fold(f64::NEG_INFINITY, f64::max))
        };
        let (along, across) = (spread(&ahead), spread(&left));
        let bounds = &site.landing;
        let batter = site.soil.stand_up().value();
        let low = bounds.slope.low.min(batter - BELOW_BATTER);
        Some(Self {
            origin,
            course,
            along: Interval::new(along.low - AHEAD, along.high),
            across,
            heading: headings(&bounds.heading, course),
            slope: Interval::new(low, bounds.slope.high.min(batter - BELOW_BATTER)),
            width: bounds.width,
            length: bounds.length,
            batter,
        })
    }

    /// The landing of these numbers with the length that takes the earth, and its quick form.
    fn landing(&self, plot: &Plot, numbers: &[f64], volume: f64) -> Result<(Quick, Fill), Fault> {
        let at = |number: usize, range: &Interval| {
            range.low + numbers[number].clamp(0.0, 1.0) * (range.high - range.low)
        };
        let (along, across) = (at(0, &self.along), at(1, &self.across));
        let crest = self.origin
            + along * direction(self.course)
            + across * direction(self.course + 0.25 * TAU);
        let (heading, slope, width) =
            (at(2, &self.heading), at(3, &self.slope), at(4, &self.width));
        let most = VOLUME_AIM * volume;
        let wanted = most * at(5, &Interval::new(LEAST_SHARE, 1.0));
        let quick = |length: f64| {
            let landing = Landing::new(crest, heading, slope, length, width)
                .and_then(|landing| landing.with_batter(self.batter));
            let landing = landing.map_err(|_| Fault::Buried(10.0))?;
            let foot = landing.plan(length, 0.0);
            let Some(height) = plot.height(&foot) else {
                return Err(Fault::Unknown(1.0));
            };
            Ok(Quick::new(&landing, height + length * slope.tan()))
        };
        self.with_volume(plot, (wanted, most), slope, quick)
    }

    /// The landing whose length takes the wanted earth; the shortest where that takes more, though not more than
    /// there is, and the longest that is allowed and known where that takes less.
    fn with_volume(
        &self,
        plot: &Plot,
        (wanted, most): (f64, f64),
        slope: f64,
        quick: impl Fn(f64) -> Result<Quick, Fault>,
    ) -> Result<(Quick, Fill), Fault> {
        let filled = |length: f64| quick(length).map(|quick| (plot.fill(&quick), quick));
        let shortest = self.length.low.max(crest_needs(slope, self.batter));
        let (fill, shape) = filled(shortest)?;
        if fill.volume > most {
            return Err(Fault::TooMuch(fill.volume));
        }
        if fill.volume >= wanted {
            return Ok((shape, fill));
        }
        // About a square grows with the length, so its root is what is followed.
        let root = |fill: &Fill| fill.volume.max(0.0).sqrt() - wanted.sqrt();
        let mut from = (shortest, root(&fill));
        let mut best = (shape, fill);
        let longest = self.length.high.max(shortest);
        // Past the survey's end nothing is known, and too long is too much.
        let mut to = match filled(longest) {
            Ok((fill, shape)) if fill.volume <= wanted => return Ok((shape, fill)),
            Ok((fill, _)) => (longest, root(&fill)),
            Err(_) => (longest, wanted.sqrt()),
        };
        for _ in 0..8 {
            let share = (-from.1 / (to.1 - from.1)).clamp(0.03, 0.97);
            let middle = from.0 + share * (to.0 - from.0);
            match filled(middle) {
                Ok((fill, shape)) if fill.volume <= wanted => {
                    (from, best) = ((middle, root(&fill)), (shape, fill));
                    to.1 *= 0.5;
                    if fill.volume > (1.0 - VOLUME_CLOSE) * wanted {
                        break;
                    }
                }
                Ok((fill, _)) => to = (middle, root(&fill)),
                Err(_) => to = (middle, wanted.sqrt()),
            }
            if to.0 - from.0 < 0.01 {
                break;
            }
        }
        Ok(best)
    }

    /// What a candidate comes to for these riders.
    pub(super) fn appraise(
        &self,
        plot: &Plot,
        fliers: &[Flier],
        numbers: &[f64],
        (volume, limit): (f64, f64),
    ) -> Appraisal {
        let beyond: f64 = numbers.iter().map(|x| (x - x.clamp(0.0, 1.0)).abs()).sum();
        let quick = self
            .landing(plot, numbers, volume)
            .and_then(|(quick, fill)| fault(plot, &quick, &fill).map_or(Ok(quick), Err));
        match quick {
            Ok(quick) => {
                let cost = cost(&quick, fliers, limit) + beyond;
                Appraisal { cost, result: Ok(quick.settled()) }
            }
            Err(fault) => Appraisal { cost: 2.0 + fault.size() + beyond, result: Err(fault) },
        }
    }
}

impl Fault {
    /// What stands in the way, in words.
    pub(super) const fn hint(self) -> &'static str {
        match self {
            Self::Unknown(_) => "the survey ends too near",
            Self::Blocked(_) => "edge and obstacles are too near",
            Self::Outside(_) => "the allowed area is too small",
            Self::Buried(_) => "the crest would lie in the ground",
            Self::TooMuch(_) => "there is too little earth",
        }
    }

    /// How far from none, so that a search finds its way out.
    fn size(self) -> f64 {
        match self {
            Self::Unknown(size)
            | Self::Blocked(size)
            | Self::Outside(size)
            | Self::Buried(size)
            | Self::TooMuch(size) => size,
        }
    }
}

/// What stands in the way of a landing, if anything.
fn fault(plot: &Plot, quick: &Quick, fill: &Fill) -> Option<Fault> {
    let landing = &quick.landing;
    let half = 0.5 * landing.width();
    let outside: f64 = quick.deck_corners().iter().map(|corner| plot.outside(corner)).sum();
    if outside > 0.0 {
        return Some(Fault::Outside(outside));
    }
    let top = quick.crest_height + quick.top();
    let buried = |across: f64| {
        let at = landing.plan(0.0, across);
        plot.height(&at).map_or(1.0, |ground| ground + 0.02 - top)
    };
    let buried = buried(half).max(buried(-half)).max(buried(0.0));
    if buried > 0.0 {
        return Some(Fault::Buried(buried));
    }
    let Fill { unknown, blocked, .. } = *fill;
    if unknown > 0.0 {
        return Some(Fault::Unknown(unknown));
    }
    (blocked > 0.0).then_some(Fault::Blocked(blocked))
}

fn cost(quick: &Quick, fliers: &[Flier], limit: f64) -> f64 {
    let mut soft = 0.0;
    let mut total = 0.0;
    let mut members = Vec::with_capacity(fliers.len());
    for flier in fliers {
        let (member, inside) = quick.land(flier);
        soft += member.weight * softness(&member, inside, limit);
        total += member.weight;
        members.push(member);
    }
    let p95 = Score::of(&members, 1.0, limit).p95_fall_height.min(10.0 * limit);
    1.0 - soft / total + PERCENTILE_SHARE * p95 / limit
}

/// How soft a touch counts, from 0 to 1: the step of the score, blurred.
fn softness(member: &Member, inside: f64, limit: f64) -> f64 {
    use super::score::Landed;
    let height = step((limit - member.fall_height) / BLUR[0]);
    match member.landed {
        Landed::RolledOff => height,
        Landed::OffSurvey | Landed::NoTouchdown => 0.0,
        _ => height * step(inside / BLUR[1]),
    }
}

/// From 0 to 1 around 0, over about 1 either way.
fn step(x: f64) -> f64 {
    1.0 / (1.0 + (-4.0 * x).exp())
}

fn direction(heading: f64) -> Vec2 {
    Vec2::new(heading.cos(), heading.sin())
}

/// The level length of face that the crest's rounding takes, with a hand's width beyond.
fn crest_needs(slope: f64, batter: f64) -> f64 {
    let tangent = crate::ground::landing::CREST_RADIUS * (0.5 * (slope + batter)).tan();
    tangent * slope.cos() + 0.1
}

/// The allowed headings near the riders' course; all allowed ones where none is near it.
fn headings(allowed: &Interval, course: f64) -> Interval {
    let middle = 0.5 * (allowed.low + allowed.high);
    let course = course + TAU * ((middle - course) / TAU).round();
    let (low, high) = (allowed.low.max(course - COURSE), allowed.high.min(course + COURSE));
    if low <= high { Interval::new(low, high) } else { *allowed }
}
