//! What the flags are to tell: the numbers of a rider that nobody measures beforehand, and what is believed of them.

use super::error::FlagsError;
use crate::math::range::OutOfRange;
use crate::site::{Dist, RiderClass, Site};
use serde::{Deserialize, Serialize};
use statrs::function::erf::erfc;
use std::f64::consts::{FRAC_1_SQRT_2, PI};
use std::fmt;

/// Rolling resistance is believed to this share of the rider's own: sourced ranges for one surface span about two to one
/// (see [`crate::rider::Surface`]).
const CRR_SHARE: f64 = 0.3;
/// So is drag area, where the class says nothing: posture changes it so much (common practice, from memory).
const CDA_SHARE: f64 = 0.12;
/// A held brake, m/s², where the class says none is held: an assumption.
const BRAKE_SD: f64 = 0.15;
/// A pop, m/s, where the class says none: an assumption; jumpers on snow stay within -2.48 and 1.12 (J. A. `McNeil` 2011, abstract).
const POP_SD: f64 = 0.3;
/// How far a told place of leaving is off, m: a tyre on boards is seen to about a hand's width (common practice).
const LEAVE_SD: f64 = 0.1;
/// What a run-in leaves out at its end, m/s: an assumption.
const SPEED_SD: f64 = 0.15;
/// Beliefs are followed this far out, in standard deviations of a normal.
const FARTHEST: f64 = 6.0;

/// A number of the rider that flags may tell.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum Unknown {
    /// The coefficient of rolling resistance.
    Crr,
    /// The drag area, m².
    Cda,
    /// The brake held down the run-in, m/s².
    Brake,
    /// The speed of the push off the edge, m/s.
    Pop,
    /// How much farther up a panel (or to the left) he leaves than is told, or than his class does; m.
    Leave,
    /// How much faster he comes to the takeoff than the model of the run-in has it, m/s.
    Speed,
}

/// The number of unknowns.
pub(super) const COUNT: usize = 6;

/// One value for each unknown, in the order of [`Unknown::ALL`].
pub type Values = [f64; COUNT];

impl Unknown {
    /// All of them, in order.
    pub const ALL: [Self; COUNT] =
        [Self::Crr, Self::Cda, Self::Brake, Self::Pop, Self::Leave, Self::Speed];

    /// Its name, as files and Python have it.
    pub const fn name(self) -> &'static str {
        match self {
            Self::Crr => "crr",
            Self::Cda => "cda",
            Self::Brake => "brake",
            Self::Pop => "pop",
            Self::Leave => "leave",
            Self::Speed => "speed",
        }
    }

    /// Its unit; empty for a plain number.
    pub const fn unit(self) -> &'static str {
        match self {
            Self::Crr => "",
            Self::Cda => "m^2",
            Self::Brake => "m/s^2",
            Self::Leave => "m",
            Self::Pop | Self::Speed => "m/s",
        }
    }

    /// The unknown of a name.
    pub fn named(name: &str) -> Option<Self> {
        Self::ALL.into_iter().find(|unknown| unknown.name() == name)
    }

    pub(super) const fn index(self) -> usize {
        self as usize
    }

    /// What values it may have.
    fn allows(self, value: f64) -> bool {
        match self {
            Self::Crr | Self::Cda | Self::Brake => value >= 0.0,
            Self::Pop => value.abs() <= 5.0,
            Self::Leave | Self::Speed => value.is_finite(),
        }
    }

    const fn allowed(self) -> &'static str {
        match self {
            Self::Crr | Self::Cda | Self::Brake => "at least 0",
            Self::Pop => "from -5 to 5",
            Self::Leave | Self::Speed => "a finite number",
        }
    }
}

impl fmt::Display for Unknown {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(self.name())
    }
}

/// What is believed of each unknown before any flag stands. Each belief is followed by a standard normal score, so that
/// values stay within their limits.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize)]
pub struct Priors([Dist; COUNT]);

impl Priors {
    /// Those of a class: its own spreads where it has them, otherwise the spreads that the sources of this module give;
    /// `told` says whether every flag tells where its rider left.
    pub fn of(site: &Site, class: &RiderClass, told: bool) -> Result<Self, FlagsError> {
        let (crr, cda) = (class.rider.crr(), class.cda.median());
        let free = |own: Dist, mean: f64, sd: f64| match own {
            Dist::Fixed(_) => above_zero(mean, sd),
            own => own,
        };
        let places = site.places();
        let leave = match class.leave {
            Dist::Fixed(_) => None,
            _ if told => None,
            own => Some(shifted(own, -own.median())),
        };
        let width = places.high - places.low;
        let leave = leave.unwrap_or_else(|| normal(0.0, LEAVE_SD.min(0.25 * width)));
        Self::new([
            above_zero(crr, (CRR_SHARE * crr).max(1e-4)),
            free(class.cda, cda, (CDA_SHARE * cda).max(1e-3)),
            free(class.brake, class.brake.median(), BRAKE_SD),
            match class.pop {
                Dist::Fixed(pop) => {
                    Dist::Normal { mean: pop, sd: POP_SD, low: Some(-5.0), high: Some(5.0) }
                }
                own => own,
            },
            leave,
            normal(0.0, SPEED_SD),
        ])
    }

    /// These, in the order of [`Unknown::ALL`].
    pub fn new(dists: [Dist; COUNT]) -> Result<Self, FlagsError> {
        for (unknown, dist) in Unknown::ALL.into_iter().zip(&dists) {
            let holds = |value: f64| unknown.allows(value);
            dist.check(unknown.name(), unknown.allowed(), holds)?;
        }
        Ok(Self(dists))
    }

    /// The same with another belief of one unknown.
    pub fn with(self, unknown: Unknown, dist: Dist) -> Result<Self, FlagsError> {
        let mut dists = self.0;
        dists[unknown.index()] = dist;
        Self::new(dists)
    }

    /// What is believed of one unknown.
    pub const fn get(&self, unknown: Unknown) -> Dist {
        self.0[unknown.index()]
    }

    /// The middles.
    pub fn medians(&self) -> Values {
        self.0.map(|dist| dist.median())
    }

    /// The value at a standard normal score, and its derivative by the score.
    pub(super) fn value(&self, unknown: Unknown, score: f64) -> (f64, f64) {
        let dist = self.get(unknown);
        if let Dist::Normal { mean, sd, low: None, high: None } = dist {
            return (mean + sd * score, sd);
        }
        let score = score.clamp(-FARTHEST, FARTHEST);
        let value = dist.quantile(0.5 * erfc(-score * FRAC_1_SQRT_2));
        let density = density(&dist, value);
        (value, if density > 0.0 { bell(score) / density } else { 0.0 })
    }
}

/// The density of a standard normal.
fn bell(score: f64) -> f64 {
    (-0.5 * score * score).exp() / (2.0 * PI).sqrt()
}

/// The density of a distribution at a value; 0 where all of it lies at one.
fn density(dist: &Dist, value: f64) -> f64 {
    match *dist {
        Dist::Uniform { low, high } => 1.0 / (high - low),
        Dist::Triangular { low, mode, high } => {
            let share = if value < mode {
                (value - low) / (mode - low)
            } else if high > mode {
                (high - value) / (high - mode)
            } else {
                1.0
            };
            2.0 * share / (high - low)
        }
        Dist::Normal { mean, sd, low, high } => {
            let below = |x: f64| 0.5 * erfc(-(x - mean) / sd * FRAC_1_SQRT_2);
            let share = high.map_or(1.0, below) - low.map_or(0.0, below);
            bell((value - mean) / sd) / (sd * share)
        }
        Dist::Fixed(_) => 0.0,
    }
}

fn normal(mean: f64, sd: f64) -> Dist {
    Dist::Normal { mean, sd, low: None, high: None }
}

/// A normal cut off at zero, but for a mean below it.
fn above_zero(mean: f64, sd: f64) -> Dist {
    Dist::Normal { mean, sd, low: Some(0.0), high: None }
}

fn shifted(dist: Dist, by: f64) -> Dist {
    match dist {
        Dist::Fixed(value) => Dist::Fixed(value + by),
        Dist::Uniform { low, high } => Dist::Uniform { low: low + by, high: high + by },
        Dist::Triangular { low, mode, high } => {
            Dist::Triangular { low: low + by, mode: mode + by, high: high + by }
        }
        Dist::Normal { mean, sd, low, high } => Dist::Normal {
            mean: mean + by,
            sd,
            low: low.map(|low| low + by),
            high: high.map(|high| high + by),
        },
    }
}

/// The unknowns named, each once, in order.
pub(super) fn in_order(free: &[Unknown]) -> Result<Vec<Unknown>, FlagsError> {
    let all: Vec<Unknown> = Unknown::ALL.into_iter().filter(|one| free.contains(one)).collect();
    if all.is_empty() {
        return Err(FlagsError::NothingFree);
    }
    if free.len() > COUNT {
        return Err(OutOfRange::new("free", free.len() as f64, "each unknown once").into());
    }
    Ok(all)
}
