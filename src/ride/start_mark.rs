//! From where to start for a wanted speed at the end.

use super::error::RideError;
use super::options::RideOptions;
use crate::air::Air;
use crate::geometry::{Line, Profile};
use crate::math::range::positive;
use crate::math::roots::{self, End};
use crate::rider::Rider;

/// How many start marks are tried up the hill before roots are searched between them.
const TRIES: usize = 96;
/// How closely the mark is found, metres, and the speed met, m/s.
const MARK: f64 = 1e-12;
const MET: f64 = 1e-7;

impl Profile {
    /// The line from a start mark and the options for it: brake zones, given by stations along the whole
    /// profile's line, stay where they are.
    pub fn run_in_with(
        &self,
        start: f64,
        options: &RideOptions,
    ) -> Result<(Line, RideOptions), RideError> {
        let line = self.run_in(start)?;
        let brake = match &options.brake {
            brake @ super::Brake::Zones(_) => brake.shifted(self.line().length() - line.length()),
            brake => brake.clone(),
        };
        Ok((line, RideOptions { brake, ..options.clone() }))
    }

    /// The nearest start mark, level metres before the profile's end, that gives `speed` (m/s, the tyres') there.
    ///
    /// The ride starts at the mark with the speed of `options`: 0 from rest, or a roll-in speed. Brake zones are
    /// by stations along the whole profile's line. The speed is met to `1e-7` m/s.
    pub fn start_mark(
        &self,
        speed: f64,
        rider: &Rider,
        air: &Air,
        options: &RideOptions,
    ) -> Result<f64, RideError> {
        positive("speed", speed)?;
        let whole = options.clone().exit_only();
        let end_speed = |start: f64| -> Result<f64, RideError> {
            let (line, options) = self.run_in_with(start, &whole)?;
            let ride = line.ride(rider, air, &options)?;
            // Who does not get there has no speed there.
            Ok(ride.exit_speed().unwrap_or(0.0))
        };
        search(end_speed, self.span(), speed)
    }
}

fn search(
    end_speed: impl Fn(f64) -> Result<f64, RideError>,
    (first, last): (f64, f64),
    speed: f64,
) -> Result<f64, RideError> {
    let reach = last - first;
    let mark = |i: usize| reach * i as f64 / TRIES as f64;
    let mut before = End { x: mark(1) * 1e-3, f: end_speed(mark(1) * 1e-3)? - speed };
    let mut fastest = before;
    for i in 1..=TRIES {
        let here = End { x: mark(i), f: end_speed(mark(i))? - speed };
        if here.f > fastest.f {
            fastest = here;
        }
        // Not where the speed jumps over the wanted one, as where a start begins to stall.
        if (here.f <= 0.0) != (before.f <= 0.0)
            && let Some(found) = between(&end_speed, [before, here], speed)?
        {
            return Ok(found);
        }
        before = here;
    }
    Err(RideError::OutOfReach { speed, fastest: fastest.f + speed, start: fastest.x })
}

fn between(
    end_speed: &impl Fn(f64) -> Result<f64, RideError>,
    ends: [End; 2],
    speed: f64,
) -> Result<Option<f64>, RideError> {
    let mut failed = None;
    let excess = |start: f64| match end_speed(start) {
        Ok(found) => found - speed,
        Err(error) => {
            failed = Some(error);
            f64::NAN
        }
    };
    let found = roots::between(excess, ends, MARK);
    if let Some(error) = failed {
        return Err(error);
    }
    let found = found?;
    Ok(((end_speed(found)? - speed).abs() <= MET).then_some(found))
}
