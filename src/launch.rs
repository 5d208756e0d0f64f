//! Leaving the edge: where the rider flies off, how fast, which way up and how it turns.

mod attitude;
mod error;
mod hinge;
mod pitch;
mod warning;

pub use attitude::Attitude;
pub use error::LaunchError;
pub use pitch::Pitch;
pub use warning::Warning;

use crate::explain::Explanation;
use crate::math::Vec3;
use crate::math::range::{coordinate, finite, within};
use crate::ride::{Exit, Ride};
use serde::{Deserialize, Serialize};

/// The hardest pop or soaking up that legs and arms give, m/s; more is a mistake of units.
pub(crate) const MOST_POP: f64 = 5.0;

/// The moment of leaving: where the tyres' point under the centre of mass passes the edge.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct Launch {
    /// The centre of mass, metres.
    pub position: Vec3,
    /// Its velocity, m/s.
    pub velocity: Vec3,
    /// Which way the bike points; unknown for a launch by hand without one.
    ///
    /// Off a ride it is turned in pitch so that turning on at the launch's rate gives the angle at which the rear
    /// wheel leaves (see [`Pitch`]).
    pub attitude: Option<Attitude>,
    /// Angular velocity, rad/s, in the site's axes. About `t`, `l`, `u`: positive leans right, turns the nose down,
    /// turns left.
    pub angular_velocity: Vec3,
    /// The tyres' point at the edge, metres; unknown for a launch by hand.
    pub tyre_point: Option<Vec3>,
    /// The tyres' speed, m/s, with which the wheels spin on in the air; unknown for a launch by hand without one.
    pub tyre_speed: Option<f64>,
    /// How the bike turned while only its rear wheel was on; none for a launch by hand.
    pub pitch: Option<Pitch>,
    /// What came up on the ride and at the edge.
    pub warnings: Vec<Warning>,
}

/// The fastest that a launch may be, m/s: so fast that no rider is meant, and no number is lost.
const FASTEST: f64 = 1e6;

impl Launch {
    /// A launch of the centre of mass given by its position (metres) and velocity (m/s, each part at most 1e6).
    pub fn by_hand(position: Vec3, velocity: Vec3) -> Result<Self, LaunchError> {
        for x in position.iter() {
            coordinate("position", *x)?;
        }
        for v in velocity.iter() {
            within("velocity", finite("velocity", *v)?, -FASTEST, FASTEST)?;
        }
        Ok(Self {
            position,
            velocity,
            attitude: None,
            angular_velocity: Vec3::zeros(),
            tyre_point: None,
            tyre_speed: None,
            pitch: None,
            warnings: Vec::new(),
        })
    }

    /// The same launch with the bike pointing so and turning so, rad/s in the site's axes.
    pub fn with_attitude(
        self,
        attitude: Attitude,
        angular_velocity: Vec3,
    ) -> Result<Self, LaunchError> {
        attitude.check()?;
        for rate in angular_velocity.iter() {
            finite("angular_velocity", *rate)?;
        }
        Ok(Self { attitude: Some(attitude), angular_velocity, ..self })
    }

    /// The same launch with wheels that spin as at this speed of the tyres, m/s.
    pub fn with_tyre_speed(self, speed: f64) -> Result<Self, LaunchError> {
        finite("tyre_speed", speed)?;
        Ok(Self { tyre_speed: Some(speed), ..self })
    }

    /// The model behind the numbers, what went in, its sources and its limits.
    pub fn explain(&self) -> Explanation {
        let Some(pitch) = &self.pitch else {
            return Explanation::new(
                "A launch by hand: the numbers are what was typed.",
                "Nothing is known of the ride before.",
            );
        };
        let model = "The centre of mass leaves as the tyres' point under it passes the edge, at the velocity that the line \
            gives it there, plus the pop. Pitch: between the front and the rear wheel's leaving, bike and rider turn \
            as one rigid body in the plane of the edge's tangent and normal about a rear contact that rolls freely \
            along the lip, under gravity in that plane and the lip's curvature. A lip that is still curved at its edge has set \
            the bike turning nose up; pushing on under the rear wheel alone it takes that back, and more where, as \
            usual, the square of the radius of gyration in pitch is less than the product of the ways from the centre of \
            mass to both contacts.";
        let limits = "A rider who keeps still: no pushing, pulling or weight shift at the edge, which turn the bike far \
            more than this. Drag, rolling and the wheels' spin are left out for that moment. The centre of mass is not \
            moved by it: the shift says by how much it should be. A rider hangs up by the frame's common clearance, as if \
            no ground came up before the edge lets go.";
        Explanation::new(model, limits)
            .with_source("Newton and Euler's equations of a rigid body on a curved line")
            .with_input("tyre_speed", self.tyre_speed.unwrap_or_default(), "m/s")
            .with_input("pitch.angle", pitch.angle, "rad")
            .with_input("pitch.rate", pitch.rate, "rad/s")
            .with_input("pitch.duration", pitch.duration, "s")
    }
}

impl Ride {
    /// The launch off the line's end, with a pop of `pop` m/s along "up through the bike" (negative soaks it up),
    /// from -5 to 5.
    ///
    /// Position and velocity are those with which the tyres' point under the centre of mass passes the edge; pitch and
    /// pitch rate those of a bike whose front wheel has left before its rear one. Errors: a ride that ended before the
    /// edge, which says how and where, and one so slow that it hangs up on it.
    pub fn launch(&self, pop: f64) -> Result<Launch, LaunchError> {
        within("pop", pop, -MOST_POP, MOST_POP)?;
        let exit = self.exit.ok_or(LaunchError::RideEnded { outcome: self.outcome })?;
        let pitch = Pitch::off(&exit)?;
        let level = Attitude::of(&exit);
        let velocity = exit.velocity();
        let across = exit.frame.left();
        let turning = turning(&exit);
        let mut warnings: Vec<Warning> = self.warnings.iter().copied().map(Warning::Ride).collect();
        let shift = pitch.judged(velocity.norm());
        if shift.norm() > warning::SHIFT_WARNED {
            warnings.push(Warning::Shift { shift: shift.norm(), higher: shift.z });
        }
        Ok(Launch {
            position: exit.frame.position + exit.up * exit.com_height,
            velocity: velocity + exit.up * pop,
            attitude: Some(level.turned(&across, pitch.at_launch())),
            angular_velocity: turning + across * (pitch.rate - turning.dot(&across)),
            tyre_point: Some(exit.frame.position),
            tyre_speed: Some(exit.speed),
            pitch: Some(pitch),
            warnings,
        })
    }
}

impl Exit {
    /// How far a launch from here has the bike turned in pitch off the line, nose down positive, radians.
    pub(crate) fn pitch_at_launch(&self) -> Result<f64, LaunchError> {
        Ok(Pitch::off(self)?.at_launch())
    }
}

/// How the line turns the bike at its end, rad/s.
fn turning(exit: &Exit) -> Vec3 {
    let (t, dt) = (exit.frame.tangent, exit.frame.curvature);
    let (u, du) = (exit.up, exit.dup);
    let (l, dl) = (u.cross(&t), du.cross(&t) + u.cross(&dt));
    (t.cross(&dt) + l.cross(&dl) + u.cross(&du)) * (0.5 * exit.speed)
}
