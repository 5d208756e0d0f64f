//! A landing from six numbers between 0 and 1, and what it is worth.

use super::{
    flier::{Bare, Flier},
    plot::{Fill, Plot},
    quick::Quick,
    score::Member,
};
use crate::{
    ground::Landing,
    math::{Vec2, quantile::weighted},
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
/// So many blurs from the border a step is 0 or 1 to the last digit.
const SURE: f64 = 9.0;
/// What the 95th percentile counts beside the share caught.
const PERCENTILE_SHARE: f64 = 0.05;
/// A volume is met within this share in the search, which aims a little under the budget: the raster is
/// not exact.
const VOLUME_CLOSE: f64 = 0.01;
const VOLUME_AIM: f64 = 0.995;
/// So many lengths are tried for one volume.
const TRIES: usize = 9;

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
        let ways =
            fliers.iter().flat_map(|f| f.paths.iter().map(move |path| (f.weight, path.bare)));
        let touching: Vec<(f64, Bare)> = ways.filter(|(_, bare)| bare.fixed.is_none()).collect();
        let total: f64 = touching.iter().map(|(weight, _)| weight).sum();
        if total <= 0.0 {
            return None;
        }
        let origin =
            touching.iter().map(|(weight, bare)| *weight * bare.mark).sum::<Vec2>() / total;
        let course = touching.iter().map(|(weight, bare)| *weight * bare.course).sum::<Vec2>();
        let course = course.y.atan2(course.x);
        let (ahead, left) = (direction(course), direction(course + 0.25 * TAU));
        let spread = |axis: &Vec2| {
            let of = |(_, bare): &(f64, Bare)| (bare.mark - origin).dot(axis);
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
        let filled = |length: f64| quick(length).map(|quick| (plot.fill(&quick), quick));
        self.with_volume((wanted, most), slope, filled)
    }

    /// The landing whose length takes the wanted earth; the shortest where that takes more, though not more than
    /// there is, and the longest that is allowed and known where that takes less.
    fn with_volume(
        &self,
        (wanted, most): (f64, f64),
        slope: f64,
        filled: impl Fn(f64) -> Result<(Fill, Quick), Fault>,
    ) -> Result<(Quick, Fill), Fault> {
        let shortest = self.length.low.max(crest_needs(slope, self.batter));
        let longest = self.length.high.max(shortest);
        let (fill, shape) = filled(shortest)?;
        if fill.volume > most {
            return Err(Fault::TooMuch(fill.volume));
        }
        let mut best = (shape, fill);
        // About a square grows with the length, so its root is what is followed.
        let root = |fill: &Fill| fill.volume.max(0.0).sqrt() - wanted.sqrt();
        let (mut from, mut to) = ((shortest, root(&best.1)), None);
        for _ in 0..TRIES {
            if best.1.volume >= (1.0 - VOLUME_CLOSE) * wanted || from.0 >= longest - 0.01 {
                break;
            }
            let at = between(from, to, longest, wanted.sqrt());
            match filled(at) {
                Ok((fill, shape)) if fill.volume <= wanted => {
                    to = to.map(|(at, root)| (at, 0.5 * root));
                    (from, best) = ((at, root(&fill)), (shape, fill));
                }
                Ok((fill, _)) => to = Some((at, root(&fill))),
                // Past the survey's end nothing is known, and too long is too much.
                Err(_) => to = Some((at, wanted.sqrt())),
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
    if fill.unknown > 0.0 {
        return Some(Fault::Unknown(fill.unknown));
    }
    let blocked = plot.blocked(quick);
    (blocked > 0.0).then_some(Fault::Blocked(blocked))
}

fn cost(quick: &Quick, fliers: &[Flier], limit: f64) -> f64 {
    let mut soft = 0.0;
    let mut total = 0.0;
    let mut members = Vec::with_capacity(fliers.len());
    for flier in fliers {
        let (mut worst, mut softest) = (None, 1.0_f64);
        for (member, inside) in quick.land(flier) {
            softest = softest.min(softness(&member, inside, limit));
            worst = Some(worst.map_or(member, |worst: Member| worst.harder(member)));
        }
        soft += flier.weight * softest;
        total += flier.weight;
        members.extend(worst);
    }
    let falls = members.iter().map(|member| (member.fall_height, member.weight));
    let p95 = weighted(falls, 0.95).unwrap_or(f64::INFINITY).min(10.0 * limit);
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

/// The next length to try: where the line through a length that is too short and one too long, or through nothing where
/// none is known yet, comes to the wanted volume.
fn between(from: (f64, f64), to: Option<(f64, f64)>, longest: f64, wanted: f64) -> f64 {
    let Some(to) = to else {
        // The root grows about in proportion to the length.
        let had = (wanted + from.1).max(0.1 * wanted);
        return (1.05 * from.0 * wanted / had).max(from.0 + 0.05).min(longest);
    };
    let share = (-from.1 / (to.1 - from.1)).clamp(0.03, 0.97);
    from.0 + share * (to.0 - from.0)
}

/// From 0 to 1 around 0, over about 1 either way.
fn step(x: f64) -> f64 {
    if x.abs() > SURE {
        return f64::from(x > 0.0);
    }
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
