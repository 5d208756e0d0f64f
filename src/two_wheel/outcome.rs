//! How a two-wheel ride ends, and what to beware of in it.

use serde::{Deserialize, Serialize};
use std::fmt;

/// A wheel.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, Serialize, Deserialize)]
#[serde(rename_all = "lowercase")]
pub enum End {
    /// The rear one.
    Rear,
    /// The front one.
    Front,
}

impl End {
    /// Rear and front, in the order of every pair here.
    pub const BOTH: [Self; 2] = [Self::Rear, Self::Front];
}

impl fmt::Display for End {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(match self {
            Self::Rear => "rear",
            Self::Front => "front",
        })
    }
}

/// When and where, by the centre of mass.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize)]
pub struct Spot {
    /// Seconds from the start.
    pub time: f64,
    /// Level metres.
    pub distance: f64,
}

/// How a two-wheel ride ends.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
#[non_exhaustive]
pub enum TwoWheelOutcome {
    /// It reached the end of the terrain upright, each wheel having landed.
    RodeOut(Spot),
    /// Over the front wheel.
    PitchedOver(Spot),
    /// Backwards over the rear wheel.
    LoopedOut(Spot),
    /// The rear wheel hit a rise, a face or an edge behind which the front wheel was already, and the ride was lost.
    RearCaught {
        /// Where the rear wheel hit.
        caught: Spot,
        /// How fast it came against the ground there, m/s.
        into: f64,
        /// Where the ride ended.
        lost: Spot,
    },
    /// It came to rest, or did not start.
    Stalled(Spot),
    /// The chainring came down on the ground or on an edge.
    HungUp {
        /// Where.
        at: Spot,
        /// The speed there, m/s.
        speed: f64,
    },
    /// It flew past the end of the terrain, fell into a gap or rolled back over its start.
    OffTerrain(Spot),
    /// A wheel was pressed in up to its hub: past all that the springs stand for.
    Crushed {
        /// Which wheel.
        wheel: End,
        /// Where.
        at: Spot,
    },
    /// Still under way when the time was up.
    TimeUp(Spot),
}

impl TwoWheelOutcome {
    /// Whether the rider is still on the bike and rolling at the end of the terrain.
    pub const fn is_ridden(&self) -> bool {
        matches!(self, Self::RodeOut(_))
    }

    /// When and where it ended.
    pub const fn spot(&self) -> Spot {
        match *self {
            Self::RodeOut(spot)
            | Self::PitchedOver(spot)
            | Self::LoopedOut(spot)
            | Self::Stalled(spot)
            | Self::OffTerrain(spot)
            | Self::TimeUp(spot)
            | Self::RearCaught { lost: spot, .. }
            | Self::HungUp { at: spot, .. }
            | Self::Crushed { at: spot, .. } => spot,
        }
    }
}

impl fmt::Display for TwoWheelOutcome {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        let Spot { time, distance } = self.spot();
        match self {
            Self::RodeOut(_) => write!(f, "rides out upright after {time:.2} s"),
            Self::PitchedOver(_) => write!(f, "goes over the front at {distance:.2} m"),
            Self::LoopedOut(_) => write!(f, "loops out backwards at {distance:.2} m"),
            Self::RearCaught { caught, into, .. } => write!(
                f,
                "the rear wheel is caught at {:.2} m ({into:.1} m/s into the ground); lost at {distance:.2} m",
                caught.distance
            ),
            Self::Stalled(_) => write!(f, "stalls at {distance:.2} m"),
            Self::HungUp { speed, .. } => {
                write!(f, "the chainring strikes the ground at {distance:.2} m, at {speed:.1} m/s")
            }
            Self::OffTerrain(_) => write!(f, "leaves the terrain at {distance:.2} m"),
            Self::Crushed { wheel, .. } => {
                write!(f, "the {wheel} wheel is pressed in up to its hub at {distance:.2} m")
            }
            Self::TimeUp(_) => write!(f, "still under way after {time:.1} s"),
        }
    }
}

/// What a rider should know about a two-wheel ride.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
#[non_exhaustive]
pub enum TwoWheelWarning {
    /// The suspension came to the end of its travel.
    Bottomed {
        /// At which wheel.
        wheel: End,
        /// When the stop was pressed hardest, s.
        time: f64,
        /// The suspension's force then, N.
        force: f64,
    },
    /// The tyre was pressed flat enough for the rim to strike.
    RimStrike {
        /// Which wheel.
        wheel: End,
        /// When it was pressed in most, s.
        time: f64,
        /// By how much, m.
        depth: f64,
    },
    /// The body was pushed harder than legs and arms hold: they would have given, which the rigid body here does not.
    BeyondLegs {
        /// When it was worst, s.
        time: f64,
        /// The load on the body, body weights.
        load: f64,
        /// The load at which legs and arms yield, body weights.
        holds: f64,
    },
    /// The rear wheel hit a rise, a face or an edge, and the ride went on all the same.
    RearClipped {
        /// Where.
        at: Spot,
        /// How fast it came against the ground, m/s.
        into: f64,
    },
    /// More braking was asked for than there is grip.
    BrakeLimited {
        /// The deceleration asked for, m/s^2.
        wanted: f64,
        /// The most that the grip gives on the level, m/s^2.
        most: f64,
    },
}

impl fmt::Display for TwoWheelWarning {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Self::Bottomed { wheel, time, force } => {
                write!(f, "the {wheel} suspension bottoms out at {time:.2} s, {force:.0} N")
            }
            Self::RimStrike { wheel, time, depth } => write!(
                f,
                "the {wheel} tyre is pressed in by {:.0} mm at {time:.2} s: the rim strikes",
                1000.0 * depth
            ),
            Self::BeyondLegs { time, load, holds } => write!(
                f,
                "{load:.1} body weights on the body at {time:.2} s: legs and arms hold {holds:.1} and would give"
            ),
            Self::RearClipped { at, into } => write!(
                f,
                "the rear wheel clips the ground at {:.2} m, {into:.1} m/s into it",
                at.distance
            ),
            Self::BrakeLimited { wanted, most } => write!(
                f,
                "a braking of {wanted:.1} m/s^2 is more than the grip gives: {most:.1} m/s^2"
            ),
        }
    }
}
