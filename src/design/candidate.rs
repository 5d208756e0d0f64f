//! Landings from numbers between 0 and 1, their length as the earth reaches.

use super::{
    flier::{Bare, Flier},
    form::Form,
    plot::{Fill, Plot},
    quick::Quick,
};
use crate::{
    ground::{Landing, landing::CREST_RADIUS},
    math::Vec2,
    site::{Interval, Site},
};
use std::f64::consts::TAU;

/// How many numbers say one face's place and shape: crest along and across, heading, slope, width.
const PLACING: usize = 5;
/// Which number says how much of the earth is used, in every form.
pub(super) const SHARE: usize = PLACING;
/// The least share of the budget that is tried, and what part of it the first of two faces has.
const LEAST_SHARE: f64 = 0.3;
const PART: [f64; 2] = [0.2, 0.8];
/// How far off the riders' mean course a face may head, radians.
const COURSE: f64 = 0.7;
/// The face stays so much gentler than the batter, radians.
const BELOW_BATTER: f64 = 0.035;
/// How far before the first mark and behind the middle one a crest is tried, metres.
const AHEAD: f64 = 3.5;
/// The search aims a little under the budget: the raster is not exact.
const VOLUME_AIM: f64 = 0.995;
/// So many lengths are tried for one volume, and so many widths and slopes where even the shortest takes too much.
const TRIES: usize = 9;
const REPAIRS: usize = 5;

/// Where candidates may lie, and how they are turned into landings.
pub(super) struct Range {
    pub form: Form,
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

/// Faces side by side and the earth of all.
pub(super) struct Candidate {
    pub faces: Vec<Quick>,
    pub fill: Fill,
}

/// How much earth a face should take, how much there is, and how close a share is close enough.
#[derive(Clone, Copy)]
struct Earth {
    wanted: f64,
    most: f64,
    close: f64,
}

/// Where one face lies and how steep it is; its length is still to come.
#[derive(Clone, Copy)]
struct Placing {
    crest: Vec2,
    heading: f64,
    slope: f64,
    width: f64,
    foot_radius: f64,
}

impl Range {
    pub(super) fn new(site: &Site, fliers: &[Flier], form: Form) -> Option<Self> {
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
            form,
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

    /// The landing of these numbers with the lengths that take the earth of a budget, as close as a share.
    pub(super) fn candidate(
        &self,
        plot: &Plot,
        numbers: &[f64],
        (volume, close): (f64, f64),
    ) -> Result<Candidate, Fault> {
        let at = |number: usize, low: f64, high: f64| share(numbers, number, low, high);
        let most = VOLUME_AIM * volume;
        // Most of the range is close to the whole budget: to leave much of it is seldom worth while.
        let saved = (1.0 - at(SHARE, 0.0, 1.0)).powi(3);
        let wanted = most * (1.0 - (1.0 - LEAST_SHARE) * saved);
        let earth = Earth { wanted, most, close };
        let first = self.placing(numbers);
        match self.form {
            Form::Straight => self.alone(plot, &first, earth),
            Form::RoundedFoot { radius } => {
                let foot_radius = at(PLACING + 1, radius.low, radius.high);
                self.alone(plot, &Placing { foot_radius, ..first }, earth)
            }
            Form::TwoFaces => {
                let second = self.placing(&numbers[(PLACING + 1).min(numbers.len())..]);
                let part = at(2 * PLACING + 1, PART[0], PART[1]);
                self.side_by_side(plot, [&first, &second], part, earth)
            }
        }
    }

    fn alone(&self, plot: &Plot, placing: &Placing, earth: Earth) -> Result<Candidate, Fault> {
        let (face, fill) = self.face(plot, placing, &[], earth)?;
        Ok(Candidate { faces: vec![face], fill })
    }

    /// Two faces, the first with its part of the earth, the second with what is left.
    fn side_by_side(
        &self,
        plot: &Plot,
        [first, second]: [&Placing; 2],
        part: f64,
        earth: Earth,
    ) -> Result<Candidate, Fault> {
        let Earth { wanted, most, close } = earth;
        let own = Earth { wanted: part * wanted, most: part * most, close };
        let (one, fill) = self.face(plot, first, &[], own).map_err(|fault| fault.of_part(part))?;
        let (used, faces) = (fill.volume, [one]);
        let left = Earth { wanted: wanted - used, most: most - used, close };
        let other = self.face(plot, second, &faces, left);
        let (other, more) = other.map_err(|fault| fault.beside(used))?;
        let [one] = faces;
        Ok(Candidate { faces: vec![one, other], fill: fill.with(more) })
    }

    fn placing(&self, numbers: &[f64]) -> Placing {
        let at = |number: usize, range: &Interval| share(numbers, number, range.low, range.high);
        let (along, across) = (at(0, &self.along), at(1, &self.across));
        Placing {
            crest: self.origin
                + along * direction(self.course)
                + across * direction(self.course + 0.25 * TAU),
            heading: at(2, &self.heading),
            slope: at(3, &self.slope),
            width: at(4, &self.width),
            foot_radius: 0.0,
        }
    }

    /// The face of a placing with the length that takes the earth, over the ground and the faces before it; where even the
    /// shortest takes more than there is, narrower, and then gentler, until it does not.
    fn face(
        &self,
        plot: &Plot,
        placing: &Placing,
        before: &[Quick],
        earth: Earth,
    ) -> Result<(Quick, Fill), Fault> {
        let mut placing = *placing;
        for _ in 0..REPAIRS {
            match self.as_long(plot, &placing, before, earth) {
                Err(Fault::TooMuch(needed)) if earth.most > 0.0 => {
                    let Some(smaller) = self.smaller(&placing, earth.most / needed) else {
                        return Err(Fault::TooMuch(needed));
                    };
                    placing = smaller;
                }
                result => return result,
            }
        }
        self.as_long(plot, &placing, before, earth)
    }

    /// A placing that takes about this share of its earth; none where it is as small as it may be.
    fn smaller(&self, placing: &Placing, share: f64) -> Option<Placing> {
        let share = 0.97 * share;
        let Placing { width, slope, .. } = *placing;
        if width > self.width.low {
            return Some(Placing { width: (share * width).max(self.width.low), ..*placing });
        }
        let gentler = (share * slope).max(self.slope.low);
        (slope > self.slope.low).then_some(Placing { slope: gentler, ..*placing })
    }

    /// The face of a placing with the length that takes the earth.
    fn as_long(
        &self,
        plot: &Plot,
        placing: &Placing,
        before: &[Quick],
        earth: Earth,
    ) -> Result<(Quick, Fill), Fault> {
        let Placing { crest, heading, slope, width, foot_radius } = *placing;
        let quick = |length: f64| {
            let landing = Landing::new(crest, heading, slope, length, width)
                .and_then(|landing| landing.with_batter(self.batter))
                .and_then(|landing| landing.with_foot_radius(foot_radius));
            let landing = landing.map_err(|_| Fault::Buried(10.0))?;
            let foot = landing.plan(length, 0.0);
            let height = plot.height(&foot).ok_or(Fault::Unknown(1.0))?;
            let run_out =
                if foot_radius > 0.0 { plot.fall(&foot, &direction(heading)) } else { 0.0 };
            let quick = Quick::new(&landing, height + length * slope.tan(), run_out);
            if quick.has_face() { Ok(quick) } else { Err(Fault::Buried(1.0)) }
        };
        let filled = |length: f64| quick(length).map(|quick| (plot.fill(&quick, before), quick));
        let shortest =
            self.length.low.max(crest_needs(slope, self.batter) + foot_needs(slope, foot_radius));
        let lengths = Interval::new(shortest, self.length.high.max(shortest));
        with_volume(earth, &lengths, filled)
    }
}

/// The face whose length takes the wanted earth; the shortest where that takes more, though not more than
/// there is, and the longest that is allowed and known where that takes less.
fn with_volume(
    Earth { wanted, most, close }: Earth,
    lengths: &Interval,
    filled: impl Fn(f64) -> Result<(Fill, Quick), Fault>,
) -> Result<(Quick, Fill), Fault> {
    let (fill, shape) = filled(lengths.low)?;
    if fill.volume > most {
        return Err(Fault::TooMuch(fill.volume));
    }
    let mut best = (shape, fill);
    // About a square grows with the length, so its root is what is followed.
    let root = |fill: &Fill| fill.volume.max(0.0).sqrt() - wanted.sqrt();
    let (mut from, mut to) = ((lengths.low, root(&best.1)), None);
    for _ in 0..TRIES {
        if best.1.volume >= (1.0 - close) * wanted || from.0 >= lengths.high - 0.01 {
            break;
        }
        let at = between(from, to, lengths.high, wanted.sqrt());
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

    /// As the fault of a face that has a part of the earth.
    fn of_part(self, part: f64) -> Self {
        if let Self::TooMuch(needed) = self { Self::TooMuch(needed / part) } else { self }
    }

    /// As the fault of a face beside one that takes so much.
    fn beside(self, used: f64) -> Self {
        if let Self::TooMuch(needed) = self { Self::TooMuch(used + needed) } else { self }
    }

    /// How far from none, so that a search finds its way out.
    pub(super) fn size(self) -> f64 {
        match self {
            Self::Unknown(size)
            | Self::Blocked(size)
            | Self::Outside(size)
            | Self::Buried(size)
            | Self::TooMuch(size) => size,
        }
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

/// The number's place between two ends; in the middle where there is no such number.
fn share(numbers: &[f64], number: usize, low: f64, high: f64) -> f64 {
    low + numbers.get(number).map_or(0.5, |x| x.clamp(0.0, 1.0)) * (high - low)
}

fn direction(heading: f64) -> Vec2 {
    Vec2::new(heading.cos(), heading.sin())
}

/// The level length of face that the crest's rounding takes, with a hand's width beyond.
fn crest_needs(slope: f64, batter: f64) -> f64 {
    CREST_RADIUS * (0.5 * (slope + batter)).tan() * slope.cos() + 0.1
}

/// The level length of face that the foot's rounding takes onto level ground.
fn foot_needs(slope: f64, radius: f64) -> f64 {
    radius * (0.5 * slope).tan() * slope.cos()
}

/// The allowed headings near the riders' course; all allowed ones where none is near it.
fn headings(allowed: &Interval, course: f64) -> Interval {
    let middle = 0.5 * (allowed.low + allowed.high);
    let course = course + TAU * ((middle - course) / TAU).round();
    let (low, high) = (allowed.low.max(course - COURSE), allowed.high.min(course + COURSE));
    if low <= high { Interval::new(low, high) } else { *allowed }
}
