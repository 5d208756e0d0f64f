//! How the bike turns between the front and the rear wheel's leaving.

use super::LaunchError;
use super::hinge::{End, Hinge, Moment, classic_step, direction, left_of, turned};
use crate::math::{Vec2, Vec3};
use crate::ride::Exit;
use nalgebra::Vector3;
use serde::{Deserialize, Serialize};

/// Steps of integration from the edge back to where the front leaves.
const STEPS_BACK: usize = 16;
/// So far out the shift of the centre of mass is judged; metres.
const JUDGED_AT: f64 = 3.0;

/// How the bike turned while only its rear wheel was on, and how far that takes the centre of mass off the launch.
///
/// A rider who keeps still is turned by three things. A lip that is still curved at its edge, of radius `R` there, has set
/// the bike turning nose up at `v / R` while both wheels were on it. With the front wheel off, gravity takes the nose down, the
/// longer the slower. And the curve goes on pushing the rear wheel up, behind the centre of mass, which takes the nose down as
/// well. For a wheelbase that is short against `R` and a low centre of mass that comes to a rate, nose up, of
///
/// `(v / R) (k² - b_r b_f) / (k² + b_r²) - (g cos(theta) / v) b_r b / (k² + b_r²)`
///
/// with `k` the radius of gyration in pitch, `b_r` and `b_f` the ways from the centre of mass to the rear and to the front
/// contact, `b` both together and `theta` the edge's angle. It follows from the impulse `J` at the rear contact: the contact
/// starts at `-v b / R` along the edge's normal and ends at nothing, so that `J = w b_r + b_f v / R + g cos(theta) b / v`, and
/// `k² (v / R - w) = b_r J`, `w` the rate that is left.
///
/// So a curved edge turns the rider back only where `k² > b_r b_f`: where the front contact lies within the centre of percussion
/// of the rear one, as with two feet close together. Rider and bike have less (0.20 against 0.35 m² by default):
/// the rear wheel's kick takes back more than the curve gave, and who keeps still leaves a curved edge nose down, more so than
/// a straight one. Legs that give, and pulling back at the edge, change that; they are not in this model.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize)]
#[non_exhaustive]
pub struct Pitch {
    /// The bike's angle off the line at the edge when the rear wheel leaves, radians: nose down positive.
    pub angle: f64,
    /// How fast it turns then and in the air, rad/s: nose down positive.
    pub rate: f64,
    /// Seconds from the front wheel's leaving to the rear's.
    pub duration: f64,
    /// Seconds from the launch, the centre of mass over the edge, to the rear wheel's leaving.
    pub after: f64,
    /// How far before the edge the rear wheel lifted off, metres: 0 where it rolled off the edge.
    pub short_of_edge: f64,
    /// Where the centre of mass is when the rear wheel leaves, from where the launch's flight has it, metres.
    pub shift: Vec3,
    /// Its velocity then, from what the launch's flight has, m/s.
    pub drift: Vec3,
}

impl Pitch {
    /// The shift of the centre of mass from the launch's flight at a time since the launch, metres; drag left out.
    pub fn shift_at(&self, time: f64) -> Vec3 {
        self.shift + self.drift * (time - self.after).max(0.0)
    }

    /// By how much the bike is turned at the launch so that turning on at the rate gives the angle: nose down positive.
    pub(super) fn at_launch(&self) -> f64 {
        self.angle - self.rate * self.after
    }

    /// The shift 3 m out, or where the rear wheel leaves if that is later.
    pub(super) fn judged(&self, speed: f64) -> Vec3 {
        self.shift_at(JUDGED_AT / speed)
    }

    /// How the bike turns off the end of a line.
    pub(super) fn off(exit: &Exit) -> Result<Self, LaunchError> {
        let plane = Plane::of(exit);
        let front = plane.front_leaves().ok_or_else(|| plane.stuck(exit, &plane.at_edge()))?;
        let (hinge, start) = plane.hinge(exit, &front);
        match hinge.turn(start) {
            End::HangsUp(at) => Err(plane.stuck(exit, &at)),
            End::Leaves(at) => Ok(plane.told(exit, &hinge, &front, &at)),
        }
    }
}

/// The ride over the last wheelbase, in the plane of the edge's tangent and normal.
struct Plane<'a> {
    exit: &'a Exit,
    gravity: Vec2,
    /// The height of the centre of mass along the normal.
    height: f64,
    /// Half the square of the centre's velocity at the edge.
    energy: f64,
}

/// The ride's tyres' point under the centre of mass at one place of the lip.
struct Passage {
    place: Vec2,
    /// Seconds before the edge.
    before: f64,
    speed: f64,
}

impl<'a> Plane<'a> {
    fn of(exit: &'a Exit) -> Self {
        let down = -Vec3::z() * exit.gravity;
        let gravity = Vec2::new(down.dot(&exit.frame.tangent), down.dot(&exit.frame.normal));
        let height = exit.com_height * exit.up.dot(&exit.frame.normal);
        let plane = Self { exit, gravity, height, energy: 0.0 };
        let speed = plane.stretch(exit.edge.length()) * exit.speed;
        Self { energy: 0.5 * speed * speed, ..plane }
    }

    /// Metres of the centre of mass over metres of the line.
    fn stretch(&self, way: f64) -> f64 {
        1.0 - self.height * self.exit.edge.at(way).curvature
    }

    fn centre(&self, way: f64, place: Vec2) -> Vec2 {
        place + left_of(direction(self.exit.edge.at(way).direction)) * self.height
    }

    /// The tyres' speed in the ride, drag and rolling left out; not a number where the energy does not reach.
    fn speed(&self, way: f64, place: Vec2) -> f64 {
        let fallen = self.centre(way, place) - Vec2::new(0.0, self.height);
        (2.0 * (self.energy + self.gravity.dot(&fallen))).sqrt() / self.stretch(way)
    }

    /// The ride at a place of the lip, followed back from the edge.
    fn passage(&self, way: f64) -> Passage {
        let rate = |s: f64, y: &Vector3<f64>| {
            let along = direction(self.exit.edge.at(s).direction);
            Vector3::new(along.x, along.y, self.speed(s, y.xy()).recip())
        };
        let (end, mut state) = (self.exit.edge.length(), Vector3::zeros());
        let step = (way - end) / STEPS_BACK as f64;
        for i in 0..STEPS_BACK {
            state = classic_step(rate, end + step * i as f64, &state, step);
        }
        Passage { place: state.xy(), before: -state.z, speed: self.speed(way, state.xy()) }
    }

    /// The ride where the front wheel leaves, if it has the energy to come from there.
    fn front_leaves(&self) -> Option<Passage> {
        let front = self.passage(self.exit.bike.rear_to_com);
        (front.before.is_finite() && front.speed > 0.0).then_some(front)
    }

    /// The bike when the front leaves, placed and moving as the ride has it.
    fn hinge(&self, exit: &'a Exit, front: &Passage) -> (Hinge<'a>, Moment) {
        let way = exit.bike.rear_to_com;
        let bend = exit.edge.at(way);
        let contact = self.passage(0.0).place;
        let arm = self.centre(way, front.place) - contact;
        let rate = bend.curvature * front.speed;
        let velocity = direction(bend.direction) * (front.speed * self.stretch(way));
        let along = direction(exit.edge.at(0.0).direction);
        let lean = exit.up.dot(&exit.frame.normal).powi(2);
        let hinge = Hinge {
            edge: &exit.edge,
            bike: exit.bike,
            gravity: self.gravity,
            arm: turned(arm, -bend.direction),
            gyration: exit.bike.pitch * lean + exit.bike.yaw * (1.0 - lean),
        };
        let speed = (velocity - left_of(arm) * rate).dot(&along);
        (hinge, Moment { way: 0.0, time: 0.0, contact, speed, angle: bend.direction, rate })
    }

    fn at_edge(&self) -> Moment {
        let (way, speed) = (0.0, self.exit.speed);
        Moment { way, time: 0.0, contact: Vec2::zeros(), speed, angle: 0.0, rate: 0.0 }
    }

    fn stuck(&self, exit: &Exit, at: &Moment) -> LaunchError {
        let short_of_edge = self.exit.edge.length() - at.way;
        LaunchError::HangsUp { speed: exit.speed, angle: -at.angle, short_of_edge }
    }

    fn told(&self, exit: &Exit, hinge: &Hinge, front: &Passage, at: &Moment) -> Pitch {
        let after = at.time - front.before;
        let (centre, velocity) = hinge.centre(at);
        let launched = Vec2::new((2.0 * self.energy).sqrt(), 0.0);
        let flown = Vec2::new(0.0, self.height) + launched * after;
        let shift = centre - flown - self.gravity * (0.5 * after * after);
        let drift = velocity - launched - self.gravity * after;
        let in_space = |v: Vec2| exit.frame.tangent * v.x + exit.frame.normal * v.y;
        Pitch {
            angle: -at.angle,
            rate: -at.rate,
            duration: at.time,
            after,
            short_of_edge: exit.edge.length() - at.way,
            shift: in_space(shift),
            drift: in_space(drift),
        }
    }
}

#[cfg(test)]
mod tests;
