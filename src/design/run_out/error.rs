//! Why there is no run-out, and what to beware of in one.

use super::RunOut;
use crate::air::Air;
use crate::geometry::GeometryError;
use crate::math::range::OutOfRange;
use crate::ride::{self, Outcome, RideError};
use crate::rider::Rider;
use crate::touchdown::TouchOutcome;
use serde::{Deserialize, Serialize};
use std::fmt;

/// Why there is no run-out.
#[derive(Debug, Clone, PartialEq, thiserror::Error)]
#[non_exhaustive]
pub enum RunOutError {
    /// A number out of its range.
    #[error(transparent)]
    OutOfRange(#[from] OutOfRange),
    /// The flight does not touch the ground.
    #[error("the flight does not touch down: {outcome}")]
    NoTouch {
        /// How it came out.
        outcome: TouchOutcome,
    },
    /// Nothing is left to ride with.
    #[error("only {speed} m/s are left over the surface: there is no riding out")]
    Stopped {
        /// The level speed over the surface, m/s.
        speed: f64,
    },
    /// The ground is not known ahead of the mark.
    #[error("the ground is known for {known} m ahead of the mark: too little to ride out on")]
    NoGround {
        /// How far it is known, metres.
        known: f64,
    },
    /// The next feature begins aside of the course.
    #[error("the next line begins {aside:.2} m to the left of the course: turn onto it first")]
    NextAside {
        /// How far to the left, metres; negative to the right.
        aside: f64,
    },
    /// The ride ends before the next feature, or has passed it.
    #[error("the next line begins {level:.2} m ahead of the mark; the ride comes {reached:.2} m")]
    NextNotReached {
        /// How far ahead of the mark it begins, level metres.
        level: f64,
        /// How far the ride comes.
        reached: f64,
    },
    /// The line over the ground could not be drawn.
    #[error(transparent)]
    Geometry(#[from] GeometryError),
    /// The line could not be ridden.
    #[error(transparent)]
    Ride(#[from] RideError),
}

/// What is not wrong but unwise about a run-out. Stations are metres along the tyres' line from the mark.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
#[non_exhaustive]
pub enum RunOutWarning {
    /// He does not stop on known ground.
    DoesNotStop {
        /// Where that ends.
        station: f64,
        /// The speed there, m/s.
        speed: f64,
    },
    /// He leaves the ground again.
    LeavesGround {
        /// Where.
        station: f64,
    },
    /// He runs into what stands in the way.
    HitsObstacle {
        /// Where.
        station: f64,
        /// At this speed, m/s.
        speed: f64,
    },
    /// He rides off the side of the landing's face.
    LeavesSide {
        /// Where.
        station: f64,
    },
    /// The brake would lift the rear wheel.
    PitchesOver {
        /// Where first.
        station: f64,
        /// The deceleration by the brake that it takes there, m/s².
        limit: f64,
    },
    /// Grip does not give the brake that was asked for.
    BrakeLimited {
        /// Where first.
        station: f64,
    },
    /// The turn onto the trail asks for more grip than there is at the speed at which it begins.
    TooTightATurn {
        /// The grip it asks for.
        demand: f64,
        /// The radius of the turn, metres.
        radius: f64,
    },
}

impl RunOutWarning {
    pub(super) fn about(run: &RunOut, brake: f64, rider: &Rider, air: &Air) -> Vec<Self> {
        let ends = match run.ride.outcome {
            Outcome::LeftSurface { station } => Some(Self::LeavesGround { station }),
            _ => run
                .ride
                .exit
                .map(|exit| Self::DoesNotStop { station: exit.frame.station, speed: exit.speed }),
        };
        let hits = run.obstacle.and_then(|passing| {
            let (station, speed) = passing.hits_at.zip(passing.speed)?;
            (speed > 0.0).then_some(Self::HitsObstacle { station, speed })
        });
        let side = run.leaves_side_at.map(|station| Self::LeavesSide { station });
        let limited = run.ride.warnings.iter().find_map(|warning| match *warning {
            ride::Warning::BrakeLimited { station } => Some(Self::BrakeLimited { station }),
            _ => None,
        });
        let pitches = pitches_over(run, brake, rider, air);
        let turn = run.rejoin.and_then(|turn| {
            let (demand, radius) = turn.grip_demand.zip(turn.radius)?;
            (demand > rider.grip()).then_some(Self::TooTightATurn { demand, radius })
        });
        [ends, hits, side, pitches, limited, turn].into_iter().flatten().collect()
    }
}

/// Where the brake first lifts the rear wheel: it turns the bike forward about the front contact by `B h`, the load holds
/// it back by `N l`.
fn pitches_over(run: &RunOut, brake: f64, rider: &Rider, air: &Air) -> Option<RunOutWarning> {
    let (from, samples) = (run.braking_from?, &run.ride.samples);
    let behind = rider.wheelbase() - rider.rear_to_com();
    let places = samples.station.iter().zip(&samples.normal_load);
    let limits = places.map(|(station, load)| {
        (*station, load.max(0.0) * air.gravity() * behind / rider.com_height())
    });
    let mut braked = limits.filter(|(station, _)| *station >= from);
    let (station, limit) = braked.find(|(_, limit)| brake > *limit)?;
    Some(RunOutWarning::PitchesOver { station, limit })
}

impl fmt::Display for RunOutWarning {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Self::DoesNotStop { station, speed } => write!(
                f,
                "does not stop on the known ground: still {speed:.1} m/s after {station:.1} m"
            ),
            Self::LeavesGround { station } => {
                write!(f, "leaves the ground again at {station:.1} m")
            }
            Self::HitsObstacle { station, speed } => {
                write!(f, "runs into the obstacle at {station:.1} m with {speed:.1} m/s")
            }
            Self::LeavesSide { station } => {
                write!(f, "rides off the side of the landing at {station:.1} m")
            }
            Self::PitchesOver { station, limit } => write!(
                f,
                "a brake above {limit:.1} m/s^2 lifts the rear wheel at {station:.1} m: brake less or hang back"
            ),
            Self::BrakeLimited { station } => {
                write!(f, "grip does not give the whole brake from {station:.1} m on")
            }
            Self::TooTightATurn { demand, radius } => write!(
                f,
                "the turn of {radius:.1} m onto the trail asks for a grip of {demand:.2}: slow down first"
            ),
        }
    }
}
