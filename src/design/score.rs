//! How well a landing takes the riders.

use crate::{
    ground::{BuiltLanding, Landing, Place},
    math::quantile::weighted,
    passes::{Pass, Passes, Way},
    touchdown::TouchOutcome,
};
use serde::{Deserialize, Serialize};

/// How one who left the edge came down.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, Serialize, Deserialize)]
pub enum Landed {
    /// On the landing's face, within its width.
    Caught,
    /// Before the crest.
    Short,
    /// Past the foot.
    Long,
    /// Off a side.
    Wide,
    /// Never clear of the ground at the edge.
    RolledOff,
    /// Where the ground is not known.
    OffSurvey,
    /// No ground within the time that is looked at.
    NoTouchdown,
}

impl Landed {
    const COUNT: usize = Self::NoTouchdown as usize + 1;
}

impl From<Place> for Landed {
    fn from(place: Place) -> Self {
        match place {
            Place::Caught => Self::Caught,
            Place::Short => Self::Short,
            Place::Long => Self::Long,
            Place::Wide => Self::Wide,
        }
    }
}

/// How a landing takes an ensemble. All shares but [`Score::leaving`] are of those who leave the edge.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize)]
pub struct Score {
    /// The share that comes down softly: on the face at or below the limit, or rolls off at or below it.
    pub caught: f64,
    /// The 95th percentile of the equivalent fall height, metres; infinite where more than 5 % come
    /// down where no ground is known.
    pub p95_fall_height: f64,
    /// The share that comes down on the face, softly or not.
    pub on_face: f64,
    /// The share that comes down before the crest.
    pub short: f64,
    /// The share that comes down past the foot.
    pub long: f64,
    /// The share that comes down off a side.
    pub wide: f64,
    /// The share that rolls off the edge.
    pub rolled_off: f64,
    /// The share that leaves the known ground or finds none.
    pub off: f64,
    /// The share of all riders that leaves the edge at all. Above 5 % who do not, say so first.
    pub leaving: f64,
    /// The fall height up to which a touchdown is soft, metres.
    pub fall_limit: f64,
}

/// One member who left the edge: weight, how it came down, and how hard (infinitely where not known).
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) struct Member {
    pub weight: f64,
    pub landed: Landed,
    pub fall_height: f64,
}

/// The score of a landing, or of several side by side, from passes on the ground with them
/// (`passes.on(&ground.with_built(..))`).
///
/// Weighted; a pass counts by its hardest way. Who is short, long, wide or off the survey is never caught, however soft;
/// caught is who comes down on any of the faces.
pub fn score(passes: &Passes, landings: &[Landing], fall_limit: f64) -> Score {
    let members = passes.members().iter().filter_map(|pass| member(pass, landings));
    Score::of(&members.collect::<Vec<Member>>(), passes.share_leaving(), fall_limit)
}

impl BuiltLanding {
    /// The score of this landing from passes on the ground with it; see [`score`].
    pub fn score(&self, passes: &Passes, fall_limit: f64) -> Score {
        score(passes, &[*self.landing()], fall_limit)
    }
}

/// How a pass came down on landings the hardest way, for who left the edge.
pub(super) fn member(pass: &Pass, landings: &[Landing]) -> Option<Member> {
    let way = pass.hardest()?;
    let (landed, fall_height) = (landed(way, landings), way.fall_height());
    Some(Member { weight: pass.drawn.weight, landed, fall_height })
}

fn landed(way: &Way, landings: &[Landing]) -> Landed {
    let placed = || {
        let place = way.contact().and_then(|touch| Place::among(landings, &touch.mark.xy()));
        place.map_or(Landed::NoTouchdown, Landed::from)
    };
    match way.touchdown.outcome {
        TouchOutcome::RolledOff => Landed::RolledOff,
        TouchOutcome::OffSurvey => Landed::OffSurvey,
        TouchOutcome::NoTouchdown => Landed::NoTouchdown,
        _ => placed(),
    }
}

impl Score {
    pub(super) fn of(members: &[Member], leaving: f64, fall_limit: f64) -> Self {
        let (mut total, mut caught, mut ended) = (0.0, 0.0, [0.0; Landed::COUNT]);
        for member in members {
            total += member.weight;
            ended[member.landed as usize] += member.weight;
            caught += if member.is_soft(fall_limit) { member.weight } else { 0.0 };
        }
        let share = |weight: f64| weight / f64::max(total, f64::MIN_POSITIVE);
        let of = |landed: Landed| share(ended[landed as usize]);
        let falls = members.iter().map(|member| (member.fall_height, member.weight));
        Self {
            caught: share(caught),
            p95_fall_height: weighted(falls, 0.95).unwrap_or(f64::INFINITY),
            on_face: of(Landed::Caught),
            short: of(Landed::Short),
            long: of(Landed::Long),
            wide: of(Landed::Wide),
            rolled_off: of(Landed::RolledOff),
            off: of(Landed::OffSurvey) + of(Landed::NoTouchdown),
            leaving,
            fall_limit,
        }
    }

    /// Whether this is the better score: more caught, or as many at a lower 95th percentile.
    pub fn is_better_than(&self, other: &Self) -> bool {
        let even = (self.caught - other.caught).abs() < 1e-9;
        if even { self.p95_fall_height < other.p95_fall_height } else { self.caught > other.caught }
    }
}

impl Member {
    /// The harder of two ways to come down, as [`Pass::hardest`]: one that misses the face, or else the one that falls higher.
    #[inline]
    pub(super) fn harder(self, other: Self) -> Self {
        let (misses, other_misses) = (self.misses(), other.misses());
        let falls_higher = other.fall_height > self.fall_height;
        let is_other = (other_misses && !misses) || (other_misses == misses && falls_higher);
        // Number by number, so that they stay in registers.
        Self {
            weight: if is_other { other.weight } else { self.weight },
            landed: if is_other { other.landed } else { self.landed },
            fall_height: if is_other { other.fall_height } else { self.fall_height },
        }
    }

    const fn misses(&self) -> bool {
        !matches!(self.landed, Landed::Caught | Landed::RolledOff)
    }

    pub(super) fn is_soft(&self, fall_limit: f64) -> bool {
        !self.misses() && self.fall_height <= fall_limit
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn members(rows: &[(f64, Landed, f64)]) -> Vec<Member> {
        let member = |(weight, landed, fall_height): &(f64, Landed, f64)| Member {
            weight: *weight,
            landed: *landed,
            fall_height: *fall_height,
        };
        rows.iter().map(member).collect()
    }

    #[test]
    fn by_hand() {
        let score = Score::of(
            &members(&[
                (0.30, Landed::Caught, 0.5),
                (0.10, Landed::Caught, 1.0),
                (0.05, Landed::Caught, 1.2),
                (0.05, Landed::Short, 0.2),
                (0.10, Landed::Long, 0.3),
                (0.05, Landed::Wide, 0.4),
                (0.06, Landed::RolledOff, 0.9),
                (0.04, Landed::RolledOff, 1.4),
                (0.02, Landed::OffSurvey, f64::INFINITY),
                (0.03, Landed::NoTouchdown, f64::INFINITY),
            ]),
            0.8,
            1.0,
        );
        let near = |a: f64, b: f64| (a - b / 0.8).abs() < 1e-12;
        assert!(near(score.caught, 0.46) && near(score.on_face, 0.45), "{score:?}");
        assert!(near(score.short, 0.05) && near(score.long, 0.10) && near(score.wide, 0.05));
        assert!(near(score.rolled_off, 0.10) && near(score.off, 0.05));
        assert!(score.p95_fall_height.is_infinite(), "6 % are off");
        assert!((score.leaving - 0.8).abs() < 1e-15);
    }

    #[test]
    fn percentile_is_weighted() {
        let p95 = |rows: &[(f64, Landed, f64)]| Score::of(&members(rows), 1.0, 1.0).p95_fall_height;
        let rows = [(0.95, Landed::Caught, 0.4), (0.05, Landed::Caught, 2.0)];
        assert!((p95(&rows) - 0.4).abs() < 1e-15);
        let rows = [(0.94, Landed::Caught, 0.4), (0.06, Landed::Caught, 2.0)];
        assert!((p95(&rows) - 2.0).abs() < 1e-15);
    }

    #[test]
    fn caught_comes_before_the_percentile() {
        let score = |caught: f64, p95_fall_height: f64| Score {
            caught,
            p95_fall_height,
            ..Score::of(&[], 1.0, 1.0)
        };
        assert!(score(0.9, 2.0).is_better_than(&score(0.8, 0.5)));
        assert!(score(0.8, 0.4).is_better_than(&score(0.8, 0.5)));
        assert!(!score(0.8, 0.5).is_better_than(&score(0.8, 0.5)));
    }
}
