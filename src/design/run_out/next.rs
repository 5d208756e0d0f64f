//! One feature's run-out as the next one's run-in.

use super::{RunOut, RunOutError, speed_at};
use crate::air::Air;
use crate::geometry::Line;
use crate::math::{Vec2, Vec3};
use crate::ride::{Ride, RideOptions};
use crate::rider::Rider;

/// A next line may begin so far aside of the course, metres: half a metre is steered on the way (an assumption).
const ASIDE: f64 = 0.5;

impl RunOut {
    /// The tyres' speed at a station, m/s; none where the ride does not come there.
    pub fn speed_at(&self, station: f64) -> Option<f64> {
        speed_at(&self.ride.samples, station)
    }

    /// The ride along the next feature's line, entered with what this run-out has left where that line begins.
    ///
    /// The pedalling, the lean and the brake of `options` hold, its speed does not. Errors: a line that begins more than
    /// half a metre aside of the course, or where the run-out does not come; a ride that cannot be.
    pub fn ride_on(
        &self,
        line: &Line,
        rider: &Rider,
        air: &Air,
        options: &RideOptions,
    ) -> Result<Ride, RunOutError> {
        let speed = self.speed_into(line)?;
        Ok(line.ride(rider, air, &RideOptions { speed, ..options.clone() })?)
    }

    /// The speed at which this run-out comes to where a line begins.
    fn speed_into(&self, line: &Line) -> Result<f64, RunOutError> {
        let samples = &self.ride.samples;
        let start = line.frame(0.0).position.xy();
        let ahead = Vec2::new(self.heading.cos(), self.heading.sin());
        let mark = samples.tyres.first().map_or(start, Vec3::xy);
        let away = start - mark;
        let aside = ahead.perp(&away);
        if aside.abs() > ASIDE {
            return Err(RunOutError::NextAside { aside });
        }
        let level = away.dot(&ahead);
        let levels = samples.tyres.iter().map(|at| (at.xy() - mark).dot(&ahead));
        let levels: Vec<f64> = levels.collect();
        let after = levels.iter().position(|at| *at >= level);
        let (Some(after), true) = (after, level >= 0.0) else {
            let reached = levels.last().copied().unwrap_or(0.0);
            return Err(RunOutError::NextNotReached { level, reached });
        };
        let before = after.saturating_sub(1);
        let share = match levels[after] - levels[before] {
            width if width > 0.0 => (level - levels[before]) / width,
            _ => 0.0,
        };
        let station =
            samples.station[before] + share * (samples.station[after] - samples.station[before]);
        self.speed_at(station).ok_or(RunOutError::NextNotReached { level, reached: level })
    }
}
