//! How a ride goes.

use serde::{Deserialize, Serialize};
use std::fmt;

/// Which way the tyres slide across the line.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, Serialize, Deserialize)]
#[serde(rename_all = "lowercase")]
pub enum Slide {
    /// Up the surface: too fast for the line.
    Up,
    /// Down the surface: too slow for the line.
    Down,
    /// To the left, where the surface lies level across.
    Left,
    /// To the right, where the surface lies level across.
    Right,
}

impl fmt::Display for Slide {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(match self {
            Self::Up => "up",
            Self::Down => "down",
            Self::Left => "to the left",
            Self::Right => "to the right",
        })
    }
}

/// The first place where the tyres slide, and what it would take to hold.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize)]
pub struct Slip {
    /// Where it begins, metres from the line's start.
    pub station: f64,
    /// Which way.
    pub slide: Slide,
    /// The grip that would hold the whole ride.
    pub grip_needed: f64,
}

/// How a ride ended. Stations are metres from the line's start.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
#[non_exhaustive]
pub enum Outcome {
    /// It reached the end of the line and held all the way.
    Reached,
    /// It reached the end of the line on paper, but the tyres would have slid.
    Slid(Slip),
    /// It came to rest.
    Stalled {
        /// Where.
        station: f64,
    },
    /// From rest, nothing moved it.
    DidNotStart,
    /// The load on the surface fell to zero.
    LeftSurface {
        /// Where: 0 also where a rider would have to swing into a lean so fast, for what comes, that it takes the load
        /// off the tyres where the line begins.
        station: f64,
    },
    /// No lean was found that keeps the rider in balance: told of a pass, where a single ride gives an error.
    Unbalanced {
        /// Up to where one was.
        station: f64,
    },
    /// Its front wheel left the edge but its rear wheel could not follow: too slow.
    HungUp {
        /// Where the rear wheel was.
        station: f64,
    },
}

impl Outcome {
    /// Whether the ride has a state at the end of the line.
    pub const fn reaches_end(&self) -> bool {
        matches!(self, Self::Reached | Self::Slid(_))
    }

    /// The station that the outcome tells, metres, where there is one.
    pub const fn station(&self) -> Option<f64> {
        match *self {
            Self::Slid(Slip { station, .. })
            | Self::Stalled { station }
            | Self::LeftSurface { station }
            | Self::Unbalanced { station }
            | Self::HungUp { station } => Some(station),
            Self::Reached | Self::DidNotStart => None,
        }
    }
}

impl fmt::Display for Outcome {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Self::Reached => f.write_str("reached the end"),
            Self::Slid(Slip { station, slide, grip_needed }) => {
                write!(f, "slides {slide} from {station:.2} m on; grip {grip_needed:.2} would hold")
            }
            Self::Stalled { station } => write!(f, "stalls at {station:.2} m"),
            Self::DidNotStart => f.write_str("does not start from rest"),
            Self::LeftSurface { station } => write!(f, "leaves the surface at {station:.2} m"),
            Self::Unbalanced { station } => {
                write!(f, "no lean was found that keeps the balance past {station:.2} m")
            }
            Self::HungUp { station } => {
                write!(f, "hangs up on the edge with the rear wheel at {station:.2} m")
            }
        }
    }
}

/// What a rider should know about a ride that is valid all the same.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
#[non_exhaustive]
pub enum Warning {
    /// The contact force misses the centre of mass by more than 15 degrees: standing square to the surface, the
    /// rider would fall over sideways; the side load shown is only carried by leaning.
    LeanOwed {
        /// Where it is worst, metres.
        station: f64,
        /// By how much there, radians.
        angle: f64,
    },
    /// The brake asked for is more than the grip left: it is limited from here on where need be.
    BrakeLimited {
        /// Where first, metres.
        station: f64,
    },
    /// A zone's wanted speed is not met at its end.
    SpeedNotMet {
        /// Where the zone ends, metres.
        station: f64,
        /// The speed wanted, m/s.
        wanted: f64,
        /// The speed there, m/s.
        speed: f64,
    },
}

impl fmt::Display for Warning {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Self::LeanOwed { station, angle } => write!(
                f,
                "the contact force misses the centre of mass by {:.0} degrees at {station:.2} m",
                angle.to_degrees()
            ),
            Self::BrakeLimited { station } => {
                write!(f, "the brake is limited by grip from {station:.2} m on")
            }
            Self::SpeedNotMet { station, wanted, speed } => {
                write!(f, "{speed:.2} m/s at {station:.2} m where {wanted:.2} m/s was wanted")
            }
        }
    }
}
