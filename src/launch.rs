//! Leaving the edge: where the rider flies off, how fast, which way up and how it turns.

use crate::math::Vec3;
use crate::math::range::{OutOfRange, finite, within};
use crate::ride::{Outcome, Ride, Warning};
use serde::{Deserialize, Serialize};

/// The hardest pop or soaking up that legs and arms give, m/s; more is a mistake of units.
const MOST_POP: f64 = 5.0;

/// Why there is no launch.
#[derive(Debug, Clone, PartialEq, thiserror::Error)]
#[non_exhaustive]
pub enum LaunchError {
    /// A number out of its range.
    #[error(transparent)]
    Range(#[from] OutOfRange),
    /// The ride ended before the edge.
    #[error("the ride does not reach the edge: {outcome}")]
    RideEnded {
        /// How it ended.
        outcome: Outcome,
    },
}

/// Which way bike and rider point: unit vectors, right-handed, `t × l = u`.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize)]
pub struct Attitude {
    /// Forward.
    pub t: Vec3,
    /// To the left.
    pub l: Vec3,
    /// Up through the bike, from the tyres to the rider.
    pub u: Vec3,
}

/// The moment of leaving: where the tyres' point under the centre of mass passes the edge.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct Launch {
    /// The centre of mass, metres.
    pub position: Vec3,
    /// Its velocity, m/s.
    pub velocity: Vec3,
    /// Which way the bike points; unknown for a launch by hand.
    pub attitude: Option<Attitude>,
    /// Angular velocity, rad/s, in the site's axes; zero for a launch by hand. About `t`, `l`, `u`: positive leans right,
    /// turns the nose down, turns left.
    pub angular_velocity: Vec3,
    /// The tyres' point at the edge, metres; unknown for a launch by hand.
    pub tyre_point: Option<Vec3>,
    /// What came up on the ride.
    pub warnings: Vec<Warning>,
}

impl Launch {
    /// A launch of the centre of mass given by its position (metres) and velocity (m/s).
    pub fn by_hand(position: Vec3, velocity: Vec3) -> Result<Self, LaunchError> {
        for x in position.iter() {
            finite("position", *x)?;
        }
        for v in velocity.iter() {
            finite("velocity", *v)?;
        }
        let angular_velocity = Vec3::zeros();
        let warnings = Vec::new();
        Ok(Self {
            position,
            velocity,
            attitude: None,
            angular_velocity,
            tyre_point: None,
            warnings,
        })
    }
}

impl Ride {
    /// The launch off the line's end, with a pop of `pop` m/s along "up through the bike" (negative soaks it up),
    /// from -5 to 5.
    ///
    /// The bike's turning in between the front and the rear wheel's leaving is not counted. Errors: a ride that ended
    /// before the edge, which says how and where.
    pub fn launch(&self, pop: f64) -> Result<Launch, LaunchError> {
        within("pop", pop, -MOST_POP, MOST_POP)?;
        let exit = self.exit.ok_or(LaunchError::RideEnded { outcome: self.outcome })?;
        let (t, dt) = (exit.frame.tangent, exit.frame.curvature);
        let (u, du) = (exit.up, exit.dup);
        let (l, dl) = (u.cross(&t), du.cross(&t) + u.cross(&dt));
        let turning = t.cross(&dt) + l.cross(&dl) + u.cross(&du);
        Ok(Launch {
            position: exit.frame.position + u * exit.com_height,
            velocity: (t + du * exit.com_height) * exit.speed + u * pop,
            attitude: Some(Attitude { t, l, u }),
            angular_velocity: turning * (0.5 * exit.speed),
            tyre_point: Some(exit.frame.position),
            warnings: self.warnings.clone(),
        })
    }
}
