//! What is seen of a test ride: the tyres' mark, times, speeds, each with how sure it is.

use super::error::FlagsError;
use super::test_ride::TestRide;
use crate::ground::Ground;
use crate::math::Vec2;
use crate::math::range::{finite, positive};
use crate::site::Site;
use serde::{Deserialize, Serialize};
use std::fmt;

/// How far a tyres' mark lies, in each level direction, from where the same ride would come down again; metres.
///
/// Common practice: a mark on loose earth is read to 0.1 m and taped to 0.05 m; that one rider's rides from one start mark
/// spread by about 0.2 m is an assumption, without a measurement behind it.
pub const MARK_SD: f64 = 0.25;
/// A start mark that was taped, metres: the front wheel is put on it by eye (common practice).
pub const START_SD: f64 = 0.05;
/// A start that was paced instead, as a share of the way (common practice, from memory: trained pacing is good to 2 %).
pub const PACED_SHARE: f64 = 0.02;
/// A stopwatch worked by hand, seconds (from memory: reactions spread by 0.05 to 0.1 s at each end).
pub const STOPWATCH_SD: f64 = 0.12;
/// A place read off a phone, metres (common practice: 3 to 5 m under open sky, worse under trees).
pub const PHONE_SD: f64 = 4.0;
/// A speed read off a phone or a bike computer, m/s (common practice, from memory).
pub const PHONE_SPEED_SD: f64 = 0.3;
/// A speed by a timing gate, m/s (common practice, from memory: 1 % of 5 m/s).
pub const GATE_SPEED_SD: f64 = 0.05;

/// Where a mark is, as it was measured.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
#[non_exhaustive]
pub enum Spot {
    /// By its level coordinates in the site frame, m.
    At(Vec2),
    /// By a tape from one named mark of the site towards another.
    Taped {
        /// Where the tape's zero is.
        from: String,
        /// Where it points.
        towards: String,
        /// Level distance along the tape, m.
        along: f64,
        /// Offset square to it, to the left positive, m.
        left: f64,
    },
}

/// What left the mark.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, Default, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum Tyre {
    /// The place under the centre of mass, between both tyres' marks.
    #[default]
    Middle,
    /// The rear tyre.
    Rear,
    /// The front tyre.
    Front,
}

/// A place along the way down at which a time or a speed is taken.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
#[non_exhaustive]
pub enum Gate {
    /// So far up the hill from the run-in's end, level metres; the start mark itself is one too.
    UpHill(f64),
    /// The edge that is left.
    Edge,
    /// The touch of the ground.
    Touch,
}

/// A time between two places.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize)]
pub struct Timing {
    pub(super) from: Gate,
    pub(super) to: Gate,
    pub(super) seconds: f64,
    pub(super) sd: f64,
}

/// A speed of the tyres at a place.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize)]
pub struct Speed {
    pub(super) at: Gate,
    pub(super) value: f64,
    pub(super) sd: f64,
}

/// One test ride and what was seen of it.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct Flag {
    pub(super) name: String,
    pub(super) ride: TestRide,
    pub(super) mark: Option<Spot>,
    pub(super) mark_sd: f64,
    pub(super) tyre: Tyre,
    pub(super) timings: Vec<Timing>,
    pub(super) speeds: Vec<Speed>,
    pub(super) ground: Option<Ground>,
}

impl Spot {
    /// Its level coordinates in the site frame, m.
    pub fn resolve(&self, site: &Site) -> Result<Vec2, FlagsError> {
        let at = match self {
            Self::At(at) => *at,
            Self::Taped { from, towards, along, left } => {
                let (zero, end) = (place(site, from)?, place(site, towards)?);
                let ahead = (end - zero).try_normalize(0.01).ok_or_else(|| {
                    let (from, towards) = (from.clone(), towards.clone());
                    FlagsError::NoDirection { from, towards, distance: (end - zero).norm() }
                })?;
                zero + ahead * *along + Vec2::new(-ahead.y, ahead.x) * *left
            }
        };
        finite("mark.x", at.x)?;
        finite("mark.y", at.y)?;
        Ok(at)
    }
}

fn place(site: &Site, name: &str) -> Result<Vec2, FlagsError> {
    let found = site.marks.iter().find(|mark| mark.name == name);
    found.map(|mark| mark.position.xy()).ok_or_else(|| FlagsError::NoSuchMark {
        name: name.to_owned(),
        known: site.marks.iter().map(|mark| mark.name.clone()).collect(),
    })
}

impl Gate {
    /// Its place in the order in which a ride passes gates.
    fn order(self) -> f64 {
        match self {
            Self::UpHill(distance) => -distance,
            Self::Edge => f64::MAX,
            Self::Touch => f64::INFINITY,
        }
    }

    pub(super) fn check(self, what: &'static str, start: f64) -> Result<(), FlagsError> {
        let Self::UpHill(place) = self else { return Ok(()) };
        finite("gate", place)?;
        if (0.0..=start).contains(&place) {
            return Ok(());
        }
        Err(FlagsError::AboveStart { what, place, start })
    }
}

impl fmt::Display for Gate {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Self::UpHill(distance) => write!(f, "{distance} m up the hill"),
            Self::Edge => f.write_str("the edge"),
            Self::Touch => f.write_str("the touch"),
        }
    }
}

impl Timing {
    /// So many seconds (above 0) from one place to a later one, with a standard deviation in seconds, above 0.
    pub fn new(from: Gate, to: Gate, seconds: f64, sd: f64) -> Result<Self, FlagsError> {
        if from.order() >= to.order() {
            return Err(FlagsError::Backwards { from: from.to_string(), to: to.to_string() });
        }
        positive("seconds", seconds)?;
        positive("seconds_sd", sd)?;
        Ok(Self { from, to, seconds, sd })
    }

    /// By frames counted in a video between two places: at `rate` frames a second each end is known to half a frame, so the
    /// time to `1/sqrt(6)` of one (two even spreads of a frame's width).
    pub fn frames(from: Gate, to: Gate, frames: f64, rate: f64) -> Result<Self, FlagsError> {
        positive("frames", frames)?;
        positive("frame_rate", rate)?;
        Self::new(from, to, frames / rate, 1.0 / (rate * 6.0_f64.sqrt()))
    }
}

impl Speed {
    /// A speed of the tyres, m/s (above 0), at a place before the flight, with a standard deviation in m/s, above 0.
    pub fn new(at: Gate, speed: f64, sd: f64) -> Result<Self, FlagsError> {
        positive("speed", speed)?;
        positive("speed_sd", sd)?;
        if at == Gate::Touch {
            let (from, to) = (at.to_string(), Gate::Edge.to_string());
            return Err(FlagsError::Backwards { from, to });
        }
        Ok(Self { at, value: speed, sd })
    }
}

impl Flag {
    /// A test ride, by a name, of which nothing was seen yet.
    pub fn new(name: impl Into<String>, ride: TestRide) -> Self {
        Self {
            name: name.into(),
            ride,
            mark: None,
            mark_sd: MARK_SD,
            tyre: Tyre::Middle,
            timings: Vec::new(),
            speeds: Vec::new(),
            ground: None,
        }
    }

    /// The same with the mark it left, whose standard deviation in each level direction is `sd`, m, above 0:
    /// [`MARK_SD`] unless known better.
    pub fn with_mark(self, mark: Spot, sd: f64) -> Result<Self, FlagsError> {
        positive("mark_sd", sd)?;
        Ok(Self { mark: Some(mark), mark_sd: sd, ..self })
    }

    /// The same, the mark being that of this tyre.
    pub fn of_tyre(self, tyre: Tyre) -> Self {
        Self { tyre, ..self }
    }

    /// The same with one more time.
    pub fn with_timing(mut self, timing: Timing) -> Self {
        self.timings.push(timing);
        self
    }

    /// The same with one more speed.
    pub fn with_speed(mut self, speed: Speed) -> Self {
        self.speeds.push(speed);
        self
    }

    /// The same, ridden onto this ground: as it was then. Without it the ground is the site's.
    pub fn on(self, ground: Ground) -> Self {
        Self { ground: Some(ground), ..self }
    }

    /// What it is called.
    pub fn name(&self) -> &str {
        &self.name
    }

    /// How it was ridden.
    pub const fn ride(&self) -> &TestRide {
        &self.ride
    }

    /// The mark, as it was measured.
    pub const fn mark(&self) -> Option<&Spot> {
        self.mark.as_ref()
    }

    /// The standard deviation of the mark in each level direction, m.
    pub const fn mark_sd(&self) -> f64 {
        self.mark_sd
    }

    /// How many numbers were seen: two of a mark, one of a time or a speed.
    pub fn count(&self) -> usize {
        2 * usize::from(self.mark.is_some()) + self.timings.len() + self.speeds.len()
    }

    pub(super) fn check(&self, site: &Site) -> Result<(), FlagsError> {
        self.ride.check(site)?;
        if self.count() == 0 {
            return Err(FlagsError::Empty);
        }
        let start = self.ride.start();
        for timing in &self.timings {
            timing.from.check("a time taken", start)?;
            timing.to.check("a time taken", start)?;
        }
        self.speeds.iter().try_for_each(|speed| speed.at.check("a speed taken", start))?;
        let Some(mark) = &self.mark else { return Ok(()) };
        let edge = site.takeoff.line(site.enter, self.ride.middle_leave(site)?)?;
        let end = edge.frame(edge.length());
        let ahead = (mark.resolve(site)? - end.position.xy()).dot(&end.tangent.xy());
        let behind = -ahead / end.tangent.xy().norm().max(f64::MIN_POSITIVE);
        if behind > 0.0 {
            return Err(FlagsError::UphillOfEdge { behind });
        }
        Ok(())
    }
}
