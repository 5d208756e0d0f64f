//! Why a two-wheel ride cannot be computed.

use crate::geometry::GeometryError;
use crate::math::range::OutOfRange;
use crate::math::spline::PointsError;

/// Why there is no terrain or no ride over it.
#[derive(Debug, Clone, PartialEq, thiserror::Error)]
#[non_exhaustive]
pub enum TwoWheelError {
    /// A number out of its range.
    #[error(transparent)]
    Range(#[from] OutOfRange),
    /// A curve that cannot be made.
    #[error(transparent)]
    Geometry(#[from] GeometryError),
    /// Distances and heights that make no terrain.
    #[error("distance, height: {0}")]
    Points(#[from] PointsError),
    /// A terrain without profiles.
    #[error("a terrain needs at least one profile")]
    NoProfiles,
    /// A profile that begins before the one before it ends.
    #[error("profile {index} begins at {start} m, before the one before it ends at {end} m")]
    ProfilesOverlap {
        /// Which profile, from 0.
        index: usize,
        /// Where it begins, level metres.
        start: f64,
        /// Where the one before it ends.
        end: f64,
    },
    /// A section that leaves the known ground.
    #[error("the ground is not known {distance} m along the section, at ({x}, {y})")]
    OffGround {
        /// How far along, level metres.
        distance: f64,
        /// The place there, m.
        x: f64,
        /// The place there, m.
        y: f64,
    },
    /// A hollow that a wheel does not fit into.
    #[error(
        "the hollow at {distance} m has a radius of {radius} m: a wheel of {wheel_radius} m does not fit into it"
    )]
    HollowTooTight {
        /// The hollow's least radius, m.
        radius: f64,
        /// Where, level metres.
        distance: f64,
        /// The wheels' radius, m.
        wheel_radius: f64,
    },
    /// A start so near the terrain's beginning that the rear wheel would stand before it.
    #[error(
        "the run-in is too short: the front wheel starts at {front} m, and with a wheelbase of {wheelbase} m it \
         needs to be past {needed} m"
    )]
    RunInTooShort {
        /// Where the front wheel was to start, level metres.
        front: f64,
        /// The least that leaves room for the rear wheel.
        needed: f64,
        /// The wheelbase, m.
        wheelbase: f64,
    },
    /// A body left without inertia once the wheels' share is taken out.
    #[error(
        "the pitch inertia of {inertia} kg m^2 is less than the unsprung masses alone have about the centre of \
         mass, {unsprung} kg m^2"
    )]
    InertiaTooSmall {
        /// The rider's pitch inertia.
        inertia: f64,
        /// What the parts of it that are known need.
        unsprung: f64,
    },
    /// No stance at which both wheels carry and nothing is left over.
    #[error("no settled stance with the front wheel at {front} m: {left} m/s^2 are left over")]
    NotSettled {
        /// Where the front wheel was to stand, level metres.
        front: f64,
        /// The acceleration that is left, m/s^2.
        left: f64,
    },
    /// Numbers that the integration does not hold: springs or speeds beyond all measure.
    #[error("the ride does not resolve {time} s after its start, {why}")]
    Unresolved {
        /// When, seconds.
        time: f64,
        /// What the integrator said.
        why: String,
    },
}
