//! What can be wrong with a wall or with a line on it.

use crate::geometry::GeometryError;
use crate::math::range::OutOfRange;
use crate::math::spline::PointsError;

/// Why a wall, or a line on it, cannot be.
#[derive(Debug, Clone, PartialEq, thiserror::Error)]
#[non_exhaustive]
pub enum WallError {
    /// A number out of its range; angles are told in degrees.
    #[error(transparent)]
    Range(#[from] OutOfRange),
    /// The foot's plan cannot be.
    #[error(transparent)]
    Plan(#[from] GeometryError),
    /// Stations and bank angles that make no ramp.
    #[error("bank_deg: {0}")]
    Bank(PointsError),
    /// A bank angle out of its range somewhere along the wall, also between the stations given.
    #[error("bank_deg = {bank_deg} at station {station} is out of range: from 0 to 90")]
    BankRange {
        /// Where, metres along the foot.
        station: f64,
        /// The bank angle there, degrees.
        bank_deg: f64,
    },
    /// Bank stations that leave part of the wall without one.
    #[error("bank_deg is given from station {first} to {last}, the wall goes from 0 to {length}")]
    BankCover {
        /// The first station given.
        first: f64,
        /// The last station given.
        last: f64,
        /// The wall's length along its foot.
        length: f64,
    },
    /// A hollow panel that hangs over at its top.
    #[error(
        "hollow_radius = {hollow_radius} is too small: the top of the panel stands at {top_deg} degrees at station \
         {station}; at most 90"
    )]
    Overhang {
        /// Where, metres along the foot.
        station: f64,
        /// The radius by which the panel bends up across, metres.
        hollow_radius: f64,
        /// The bank at the top there, degrees.
        top_deg: f64,
    },
    /// Stations and heights that make no line.
    #[error("points: {0}")]
    Points(PointsError),
    /// A line whose ends are not where it can start or leave.
    #[error("points: the last station is {last}; the end edge is at {edge} for that height")]
    NotAtEdge {
        /// The last station given.
        last: f64,
        /// Where the edge is at the last height.
        edge: f64,
    },
    /// A line that leaves the panel between its points.
    #[error(
        "points: the line is at {height} m up the panel at station {station}: from 0 to {width}"
    )]
    OffPanel {
        /// Where, metres along the foot.
        station: f64,
        /// How far up the panel.
        height: f64,
        /// The panel's width.
        width: f64,
    },
}
