//! How fast a wall has to be entered for its free line to leave at a wanted height.

use super::end::{FreeEnd, FreeOutcome};
use super::entry::{FreeEntry, STANDING};
use super::error::FreeError;
use crate::air::Air;
use crate::feature::wall::Wall;
use crate::math::range::within;
use crate::math::roots::{self, End};
use crate::rider::Rider;
use serde::{Deserialize, Serialize};

/// Speeds are looked for up to this, m/s: nobody comes faster.
const FASTEST: f64 = 60.0;
/// How closely, m/s.
const CLOSELY: f64 = 1e-10;
/// A height is met when it is met to this, metres.
const MET: f64 = 1e-6;

/// A free line wanted: from one height to another.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize)]
pub struct FreeAim {
    /// Entered so far up the panel, metres.
    pub enter: f64,
    /// Left so far up the panel, at its end edge, metres.
    pub leave: f64,
    /// Entered in this direction, radians from level along the panel, positive up it.
    pub heading: f64,
}

impl FreeAim {
    /// From `enter` to `leave` metres up the panel, entered along it.
    pub fn new(enter: f64, leave: f64) -> Self {
        Self { enter, leave, heading: 0.0 }
    }

    /// The same entered in a direction `heading` radians up the panel.
    pub fn with_heading(self, heading: f64) -> Self {
        Self { heading, ..self }
    }

    fn entry(&self, speed: f64) -> FreeEntry {
        FreeEntry::new(self.enter, speed).with_heading(self.heading)
    }
}

impl Wall {
    /// The entry speed, m/s, up to 60, of the free line that leaves the end edge at a wanted height; good to a
    /// micrometre of it.
    ///
    /// The faster, the higher it leaves: who is too slow comes down to the foot or stalls, who is too fast runs off the
    /// top. Errors: numbers out of range, a line that cannot be computed, and a height that no speed found gives.
    pub fn free_speed(&self, rider: &Rider, air: &Air, aim: &FreeAim) -> Result<f64, FreeError> {
        within("leave", aim.leave, 0.0, self.width())?;
        let excess = |speed: f64| match self.free_line(rider, air, &aim.entry(speed)) {
            Ok(free) => Ok(self.excess(free.end(), aim.leave)),
            Err(FreeError::EndsAtStart { end }) => Ok(self.excess(&end, aim.leave)),
            Err(error) => Err(error),
        };
        let ends = [STANDING, FASTEST];
        let [slow, fast] = [excess(ends[0])?, excess(ends[1])?];
        if slow > 0.0 || fast < 0.0 {
            return Err(FreeError::OutOfReach { leave: aim.leave });
        }
        let mut failed = None;
        let bracket = [End { x: ends[0], f: slow }, End { x: ends[1], f: fast }];
        let value = |speed| {
            excess(speed).unwrap_or_else(|error| {
                failed = Some(error);
                f64::NAN
            })
        };
        let found = roots::between(value, bracket, CLOSELY);
        if let Some(error) = failed {
            return Err(error);
        }
        let speed = found.map_err(|_| FreeError::OutOfReach { leave: aim.leave })?;
        // Where outcomes jump past the height, the sign changes without a root.
        let end = *self.free_line(rider, air, &aim.entry(speed))?.at_edge()?.end();
        let met = (end.height - aim.leave).abs() <= MET;
        if met { Ok(speed) } else { Err(FreeError::OutOfReach { leave: aim.leave }) }
    }

    /// By how much a line ends too high, metres: a line that ends before the edge is off by the way left to it as well.
    fn excess(&self, end: &FreeEnd, leave: f64) -> f64 {
        let left = (self.end_station(end.height) - end.station).max(0.0);
        match end.outcome {
            FreeOutcome::Edge => end.height - leave,
            FreeOutcome::Top | FreeOutcome::LeftSurface => self.width() - leave + left,
            FreeOutcome::Foot | FreeOutcome::Start | FreeOutcome::Stalled => -leave - left,
        }
    }
}
