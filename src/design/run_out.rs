//! The run-out: what comes after the touchdown, down the face, through its foot and away, and what room it takes.

mod course;
mod error;
mod next;
mod options;
mod rejoin;

pub use error::{RunOutError, RunOutWarning};
pub use options::{RunOutOptions, Trail};
pub use rejoin::Rejoin;

use crate::air::Air;
use crate::explain::Explanation;
use crate::flight::Flight;
use crate::geometry::Line;
use crate::math::Vec3;
use crate::ride::{Brake, Outcome, Ride, RideOptions, Samples, Slowing, Zone};
use crate::rider::Rider;
use crate::touchdown::{Contact, TouchOutcome};
use course::Course;
use serde::{Deserialize, Serialize};

/// A bar is about this wide: who passes nearer than half of it hits; metres. Common practice.
const BAR: f64 = 0.8;

/// How a rider rides out of a touchdown. Stations are metres along the tyres' line from the mark on.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[non_exhaustive]
pub struct RunOut {
    /// Where on the landing he touched.
    pub touched: TouchOutcome,
    /// How steep the ground is where he touches, radians.
    pub touch_slope: f64,
    /// How steep the ground is where the ride ends, radians; none where it is not known.
    pub end_slope: Option<f64>,
    /// The speed at the touch, m/s.
    pub touch_speed: f64,
    /// What is left of it over the surface: the part into the surface is lost; m/s.
    pub speed_kept: f64,
    /// Where he rides, straight on: counter-clockwise from `+x`, radians.
    pub heading: f64,
    /// The ride, station by station.
    pub ride: Ride,
    /// Where the brake begins; none where the ride ends before.
    pub braking_from: Option<f64>,
    /// Where he stops; none where he does not on known ground.
    pub stop: Option<Stop>,
    /// The highest load on the surface after the touch: what the foot's curve gives.
    pub peak_load: PeakLoad,
    /// How far to the left of the landing's middle line he ends, metres; none without a landing.
    pub drift: Option<f64>,
    /// Where he rides off the side of the landing's face, if he does.
    pub leaves_side_at: Option<f64>,
    /// How he passes the obstacle that was given.
    pub obstacle: Option<Passing>,
    /// The turn onto the trail that was given.
    pub rejoin: Option<Rejoin>,
    /// What is not wrong but unwise.
    pub warnings: Vec<RunOutWarning>,
}

/// Where a rider comes to rest.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize)]
#[non_exhaustive]
pub struct Stop {
    /// Metres along the tyres' line from the mark.
    pub station: f64,
    /// Seconds after the touch.
    pub time: f64,
    /// The tyres' place, metres.
    pub place: Vec3,
}

/// The highest load on the surface.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize)]
#[non_exhaustive]
pub struct PeakLoad {
    /// In g's: 1 standing still on the level.
    pub load: f64,
    /// Where, metres along the tyres' line from the mark.
    pub station: f64,
}

/// How a rider's straight course passes an obstacle.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize)]
#[non_exhaustive]
pub struct Passing {
    /// The least level distance of the course from the obstacle's rim, metres; negative where it runs into it.
    pub clearance: f64,
    /// Where the course comes within half a bar of the rim; none where it passes clear.
    pub hits_at: Option<f64>,
    /// What is left between the stop and there; negative where he would have had to stop earlier, none where he passes
    /// clear or does not stop on known ground. Metres.
    pub room: Option<f64>,
    /// The speed at which he gets there; none where he does not. m/s.
    pub speed: Option<f64>,
}

impl Flight {
    /// How the rider rides out of this flight's touchdown, straight on over its ground.
    ///
    /// The speed into the surface is lost, what is over the surface stays. The tyres' line is the ground under the
    /// straight course, its heights averaged over a wheelbase twice: wheels, suspension and legs ease into a corner. He rolls for the
    /// reaction time and then brakes steadily. Errors: no touch, nothing left to ride with, no ground ahead, a hollow
    /// tighter than twice the height of the centre of mass.
    pub fn run_out(
        &self,
        rider: &Rider,
        air: &Air,
        options: &RunOutOptions,
    ) -> Result<RunOut, RunOutError> {
        let touchdown = self.touchdown();
        let outcome = touchdown.outcome;
        let contact = touchdown.contact.ok_or(RunOutError::NoTouch { outcome })?;
        let course = Course::new(self.ground(), &contact, rider, options.length())?;
        let speed = course.tyre_speed(rider)?;
        let (ride, braking_from) = ridden(course.line(), speed, rider, air, options)?;
        let mut told = told(self, &contact, &course, ride, braking_from, options, air);
        told.warnings = RunOutWarning::about(&told, options.brake(), rider, air);
        Ok(told)
    }
}

/// The ride, and where its brake begins.
fn ridden(
    line: &Line,
    speed: f64,
    rider: &Rider,
    air: &Air,
    options: &RunOutOptions,
) -> Result<(Ride, Option<f64>), RunOutError> {
    let rolling = RideOptions::new(speed);
    let free = line.ride(rider, air, &rolling)?;
    let from = by_time(&free.samples, options.reaction());
    let Some(from) = from.filter(|from| *from < line.length()) else { return Ok((free, None)) };
    let zone = Zone { from, to: line.length(), slowing: Slowing::By(options.brake()) };
    let braked = line.ride(rider, air, &rolling.with_brake(Brake::Zones(vec![zone])))?;
    Ok((braked, Some(from)))
}

/// The station at a time; none after the last.
fn by_time(samples: &Samples, time: f64) -> Option<f64> {
    let after = samples.time.iter().position(|t| *t >= time)?;
    let Some(before) = after.checked_sub(1) else { return samples.station.first().copied() };
    Some(between(&samples.time, &samples.station, before, time))
}

/// The speed at a station; none after the last.
fn speed_at(samples: &Samples, station: f64) -> Option<f64> {
    let after = samples.station.iter().position(|s| *s >= station)?;
    let Some(before) = after.checked_sub(1) else { return samples.speed.first().copied() };
    let squares: Vec<f64> = samples.speed[before..=after].iter().map(|v| v * v).collect();
    Some(between(&samples.station[before..=after], &squares, 0, station).max(0.0).sqrt())
}

/// The value at `x` on the straight between two samples.
fn between(xs: &[f64], values: &[f64], before: usize, x: f64) -> f64 {
    let (a, b) = (xs[before], xs[before + 1]);
    let share = if b > a { (x - a) / (b - a) } else { 0.0 };
    values[before] + share * (values[before + 1] - values[before])
}

fn told(
    flight: &Flight,
    contact: &Contact,
    course: &Course,
    ride: Ride,
    braking_from: Option<f64>,
    options: &RunOutOptions,
    air: &Air,
) -> RunOut {
    let samples = &ride.samples;
    let end = samples.station.len().saturating_sub(1);
    let stop = match ride.outcome {
        Outcome::Stalled { station } => Some(Stop {
            station,
            time: samples.time.get(end).copied().unwrap_or(0.0),
            place: course.line().frame(station).position,
        }),
        _ => None,
    };
    let peak_load = peak_load(samples);
    let last = samples.tyres.get(end).copied().unwrap_or(contact.mark);
    let obstacle = options.obstacle().map(|obstacle| {
        let (clearance, hits_at) = course.passing(obstacle, 0.5 * BAR);
        let room = hits_at.zip(stop).map(|(at, stop)| at - stop.station);
        let speed = hits_at.and_then(|at| speed_at(samples, at));
        Passing { clearance, hits_at, room, speed }
    });
    // He can turn once he has reacted.
    let from = by_time(samples, options.reaction());
    let turn = |(trail, from)| Rejoin::onto(trail, course, samples, from, air);
    let rejoin = options.trail().zip(from).map(turn);
    RunOut {
        touched: flight.touchdown().outcome,
        touch_slope: contact.normal.z.acos(),
        end_slope: flight.ground().normal(last.x, last.y).map(|normal| normal.z.acos()),
        touch_speed: contact.velocity.norm(),
        speed_kept: course.speed_kept(),
        heading: course.heading(),
        braking_from,
        stop,
        peak_load,
        drift: course.across(&last),
        leaves_side_at: course.leaves_side_at(samples),
        obstacle,
        rejoin,
        warnings: Vec::new(),
        ride,
    }
}

fn peak_load(samples: &Samples) -> PeakLoad {
    let loads = samples.normal_load.iter().zip(&samples.station);
    let (load, station) =
        loads.fold(
            (0.0, 0.0),
            |most: (f64, f64), (load, station)| {
                if *load > most.0 { (*load, *station) } else { most }
            },
        );
    PeakLoad { load, station }
}

/// The steadiest deceleration before the rear wheel lifts, on a slope whose angle is positive downhill; m/s².
///
/// `g (cos(slope) l / h - sin(slope))`, `l` how far the centre of mass is behind the front contact, `h` its height (J. S.
/// Riel, *Maximal braking on a standard bicycle*, 2005). Who hangs back behind the saddle has more.
pub fn pitch_over_limit(rider: &Rider, air: &Air, slope: f64) -> f64 {
    let behind = rider.wheelbase() - rider.rear_to_com();
    air.gravity() * (slope.cos() * behind / rider.com_height() - slope.sin())
}

impl RunOut {
    /// The model behind the numbers, its sources and its limits.
    pub fn explain(&self) -> Explanation {
        let model = "At the touch the speed into the surface is lost and the speed over it stays. From there he rides \
            straight on as along any line: gravity, drag, rolling resistance, one rigid rider square to the ground, whose \
            heights are averaged over a wheelbase twice, as wheels, suspension and legs ease into a corner. He rolls for the reaction time, then brakes steadily, as far as grip \
            lets him.";
        let limits = "Not modelled: how legs and suspension soften the touch and the foot's curve, steering, skids, \
            falling. He who lands crooked or hard may not be riding at all.";
        Explanation::new(model, limits)
            .with_input("touch_speed", self.touch_speed, "m/s")
            .with_input("speed_kept", self.speed_kept, "m/s")
            .with_input("heading", self.heading, "rad")
            .with_source("Newton's laws for a mass on a given line")
            .with_source(
                "brake by default: ISO 4210-2 track test in the wet, 16 km/h in 5 m (from memory)",
            )
            .with_source("pitching over: J. S. Riel, Maximal braking on a standard bicycle, 2005")
    }
}

#[cfg(test)]
mod tests;
