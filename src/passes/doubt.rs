//! What nobody knows beforehand, drawn again for everybody alike.

use crate::math::Vec3;
use crate::math::range::{OutOfRange, non_negative};
use crate::math::sampling::Sequence;
use crate::site::Dist;
use serde::{Deserialize, Serialize};

const NAMES: &[&str] = &["speed", "pop", "wind x", "wind y"];
/// The most scenarios.
const MOST: usize = 64;
/// How far a share of the speed may be off.
const MOST_SPEED: f64 = 0.3;
/// Draws farther out than this many standard deviations are cut: nobody is three times as wrong as he thinks.
const CUT: f64 = 3.0;

/// How far the guesses behind an ensemble may be off for all riders alike: standard deviations, in several scenarios.
///
/// The spreads of a site's classes say how riders differ. What they cannot say is that the whole run-in may roll faster
/// than was thought, that everybody pushes off more, or that the wind is another: each scenario draws such an error once
/// and gives it to everybody.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize)]
#[serde(try_from = "Drawing", into = "Drawing")]
pub struct Doubt(Drawing);

#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize)]
struct Drawing {
    speed: f64,
    pop: f64,
    wind: f64,
    scenarios: usize,
}

impl TryFrom<Drawing> for Doubt {
    type Error = OutOfRange;
    fn try_from(drawing: Drawing) -> Result<Self, OutOfRange> {
        Self(drawing).checked()
    }
}

impl From<Doubt> for Drawing {
    fn from(doubt: Doubt) -> Self {
        doubt.0
    }
}

/// The usual doubt, an assumption: entry speed 5 %, push 0.15 m/s, wind 1 m/s each way, in eight scenarios.
impl Default for Doubt {
    fn default() -> Self {
        Self(Drawing { speed: 0.05, pop: 0.15, wind: 1.0, scenarios: 8 })
    }
}

/// One scenario's errors.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) struct Shift {
    pub speed_factor: f64,
    pub pop: f64,
    pub wind: Vec3,
}

impl Doubt {
    /// The same doubt about the speed with which riders come onto the takeoff: a share of it, from 0 to 0.3.
    pub fn with_speed(self, speed: f64) -> Result<Self, OutOfRange> {
        Self(Drawing { speed, ..self.0 }).checked()
    }

    /// The same doubt about the push off the edge, m/s, at least 0.
    pub fn with_pop(self, pop: f64) -> Result<Self, OutOfRange> {
        Self(Drawing { pop, ..self.0 }).checked()
    }

    /// The same doubt about the wind along x and along y, m/s, at least 0.
    pub fn with_wind(self, wind: f64) -> Result<Self, OutOfRange> {
        Self(Drawing { wind, ..self.0 }).checked()
    }

    /// The same doubt in so many scenarios, from 2 to 64.
    pub fn with_scenarios(self, scenarios: usize) -> Result<Self, OutOfRange> {
        Self(Drawing { scenarios, ..self.0 }).checked()
    }

    /// The share of the entry speed.
    pub const fn speed(&self) -> f64 {
        self.0.speed
    }

    /// Of the push off the edge, m/s.
    pub const fn pop(&self) -> f64 {
        self.0.pop
    }

    /// Of the wind each way, m/s.
    pub const fn wind(&self) -> f64 {
        self.0.wind
    }

    /// How many scenarios are drawn.
    pub const fn scenarios(&self) -> usize {
        self.0.scenarios
    }

    fn checked(self) -> Result<Self, OutOfRange> {
        let Drawing { speed, pop, wind, scenarios } = self.0;
        crate::math::range::within("speed", speed, 0.0, MOST_SPEED)?;
        non_negative("pop", pop)?;
        non_negative("wind", wind)?;
        if (2..=MOST).contains(&scenarios) {
            return Ok(self);
        }
        Err(OutOfRange::new("scenarios", scenarios as f64, format!("from 2 to {MOST}")))
    }

    /// What everybody of a scenario has in common.
    pub(super) fn shift(&self, seed: u64, scenario: usize) -> Shift {
        let sequence = Sequence::new(seed ^ 0x6f75_6274, NAMES);
        let draw = |name, sd: f64| {
            let unit = Dist::Normal { mean: 0.0, sd: 1.0, low: Some(-CUT), high: Some(CUT) };
            sd * unit.quantile(sequence.uniform(scenario as u64, name))
        };
        Shift {
            speed_factor: 1.0 + draw("speed", self.0.speed),
            pop: draw("pop", self.0.pop),
            wind: Vec3::new(draw("wind x", self.0.wind), draw("wind y", self.0.wind), 0.0),
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn shifts_are_spread_about_nothing() {
        let doubt = Doubt::default().with_scenarios(64).expect("so many");
        let shifts: Vec<Shift> = (0..64).map(|k| doubt.shift(3, k)).collect();
        let mean = |of: fn(&Shift) -> f64| shifts.iter().map(of).sum::<f64>() / 64.0;
        let speed = mean(|shift| shift.speed_factor - 1.0);
        let sd = mean(|shift| (shift.speed_factor - 1.0).powi(2)).sqrt();
        assert!(speed.abs() < 0.005 && (sd - 0.05).abs() < 0.005, "{speed} {sd}");
        assert!(mean(|shift| shift.pop).abs() < 0.02 && mean(|shift| shift.wind.y).abs() < 0.1);
        assert_ne!(doubt.shift(4, 0), doubt.shift(3, 0));
    }

    #[test]
    fn what_is_no_doubt_is_named() {
        let doubt = Doubt::default();
        let field = |made: Result<Doubt, OutOfRange>| made.expect_err("no such doubt").field;
        assert_eq!(field(doubt.with_speed(0.4)), "speed");
        assert_eq!(field(doubt.with_pop(-0.1)), "pop");
        assert_eq!(field(doubt.with_wind(f64::NAN)), "wind");
        assert_eq!(field(doubt.with_scenarios(1)), "scenarios");
    }
}
