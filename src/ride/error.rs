//! Why a ride cannot be computed. What goes wrong *on* the line is an outcome, not an error.

use super::outcome::Outcome;
use crate::geometry::GeometryError;
use crate::math::range::OutOfRange;
use crate::math::roots::RootError;

/// Why there is no ride, or no answer about rides.
#[derive(Debug, Clone, PartialEq, thiserror::Error)]
#[non_exhaustive]
pub enum RideError {
    /// A number out of its range.
    #[error(transparent)]
    Range(#[from] OutOfRange),
    /// A brake zone with a number out of its range.
    #[error("brake zone {index}: {source}")]
    Zone {
        /// Which zone, from 0.
        index: usize,
        /// What is wrong with it.
        source: OutOfRange,
    },
    /// Brake zones that overlap or are not in order.
    #[error("brake zone {index} begins at {from}, before the one before ends at {end}")]
    ZonesOverlap {
        /// Which zone, from 0.
        index: usize,
        /// Where it begins, metres.
        from: f64,
        /// Where the one before ends, metres.
        end: f64,
    },
    /// A hollow too tight for a centre of mass this high: the model would not hold.
    #[error(
        "at station {station} m the hollow's radius of {radius} m is less than twice com_height = {com_height} m"
    )]
    TooTight {
        /// Where, metres from the line's start.
        station: f64,
        /// The radius there, metres.
        radius: f64,
        /// The height of the centre of mass, metres.
        com_height: f64,
    },
    /// The equation could not be resolved: the line is not smooth where it claims to be, the ride stays at a kink of the
    /// equation (a drive at its limit near rest), or pedals or wind keep a rider who leans at a crawl, over which a lean
    /// does not resolve.
    #[error(
        "the ride's energy equation does not resolve at station {station:.3} m: a rider who leans all but stops there, \
         or the line has a kink; start higher or lower, or make the curve wider"
    )]
    Unresolved {
        /// Where, metres from the line's start.
        station: f64,
    },
    /// A part of a line that is not there.
    #[error(transparent)]
    Geometry(#[from] GeometryError),
    /// A root that was not found.
    #[error(transparent)]
    Root(#[from] RootError),
    /// A ride that ended before the end of its line.
    #[error("the ride does not reach the end of its line: {outcome}")]
    Ended {
        /// How it ended.
        outcome: Outcome,
    },
    /// Too little energy to go over from one line to the next.
    #[error(
        "at the joint the next line's centre of mass lies {missing} J/kg too high to be reached"
    )]
    JointTooHigh {
        /// The energy per mass that is missing.
        missing: f64,
    },
    /// A speed at the end that no start mark gives.
    #[error(
        "no start mark gives {speed} m/s at the end: the fastest found is {fastest} m/s, from {start} m"
    )]
    OutOfReach {
        /// The speed wanted, m/s.
        speed: f64,
        /// The highest speed that a start mark gave, m/s.
        fastest: f64,
        /// That start mark, level metres before the end.
        start: f64,
    },
}
