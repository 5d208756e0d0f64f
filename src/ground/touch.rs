//! The first touch: when a moving centre of mass first comes within its reach of the ground.
//!
//! Found by steps that cannot jump over a touch. From each moment the distance to every near piece of the ground is
//! bounded from below along the path, by the piece's shape and the path's acceleration and jerk; the next moment is the
//! earliest at which any bound allows a touch. Near a touch the bounds close in as Newton's method does.

use super::Ground;
use super::nearest::Nearest;
use super::plane::Plane;
use super::probe::{Probe, first_root};
use super::reach::Reach;
use super::surface::Surface;
use crate::math::Vec3;
use crate::math::path::{Motion, Path, Piece};
use serde::{Deserialize, Serialize};

/// A gap no wider than this is a touch; metres. Then polished.
const TOUCHING: f64 = 1e-11;
/// The gap is let grow to this, on planes and on all else, where a grazing path would be looked at for ever; metres.
const GRAZING: [f64; 2] = [5e-10, 5e-8];
/// Steps shorter than this are slow, and after so many in a row the gap allowed grows tenfold; seconds.
const SLOW: f64 = 1e-4;
const PATIENCE: u32 = 256;
/// A touch as exact as this is not polished; metres.
const POLISHED: f64 = 1e-14;
/// The longest step of the polish; seconds.
const NEWTON: f64 = 1e-6;
/// Bounds on the path are taken over at most this long; seconds.
const WINDOW: f64 = 0.25;
/// The shortest step while a touch is looked for: it moves less than rounding lets the gap be known; seconds.
const SHORTEST: f64 = 1e-13;
/// The shortest step while the rider still leaves: a clear moment shorter than this does not count; seconds.
const MOMENT: f64 = 1e-5;
/// Staying over the known ground for less than this is leaving it; seconds.
const LEAVING: f64 = 1e-12;
/// Within this of the ground itself, a point may have come out on its wrong side by rounding; metres.
const HAIR: f64 = 1e-6;
/// The centre of mass this far below the ground is under it; metres.
const UNDER: f64 = 1e-9;

/// A touch: when, where, and how exactly.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize)]
pub struct Touch {
    /// Seconds since the launch.
    pub time: f64,
    /// The centre of mass.
    pub position: Vec3,
    /// The place touched.
    pub point: Vec3,
    /// The unit vector from the place touched to the centre of mass.
    pub normal: Vec3,
    /// The rider's reach at that time; metres.
    pub reach: f64,
    /// The lean still owed; radians.
    pub lean_owed: f64,
    /// Distance less reach, as it came out; metres.
    pub residual: f64,
}

impl Touch {
    /// The touch of a plane by a rider who is upright by then.
    pub(crate) fn of_plane(plane: &Plane, reach: &Reach, time: f64, position: Vec3) -> Self {
        let (distance, normal, reach) = (plane.above(&position), plane.normal(), reach.height());
        let (point, residual) = (position - distance * normal, distance - reach);
        Self { time, position, point, normal, reach, lean_owed: 0.0, residual }
    }
}

/// How a flight ended.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize)]
#[non_exhaustive]
pub enum End {
    /// It touched the ground.
    Touch(Touch),
    /// It never cleared the ground at the launch: ridden off, not flown.
    RolledOff,
    /// It left the part of the plan where the ground is known.
    OffSurvey {
        /// Seconds since the launch.
        time: f64,
    },
    /// There was no ground under it for so long.
    NoTouchdown {
        /// Seconds since the launch.
        time: f64,
    },
}

impl End {
    /// Seconds from the launch to the end; 0 where it rolled off.
    pub fn time(&self) -> f64 {
        match self {
            Self::Touch(touch) => touch.time,
            Self::RolledOff => 0.0,
            Self::OffSurvey { time } | Self::NoTouchdown { time } => *time,
        }
    }

    /// The touch, if there was one.
    pub fn touch(&self) -> Option<&Touch> {
        if let Self::Touch(touch) = self { Some(touch) } else { None }
    }
}

/// The search along a path that is handed over piece by piece, from the launch at time 0.
#[derive(Debug)]
pub struct Search<'a> {
    ground: &'a Ground,
    reach: Reach,
    phase: Phase,
    touching: f64,
    slow: u32,
}

/// What the search waits for.
#[derive(Debug, Clone, Copy, PartialEq)]
enum Phase {
    /// The first look.
    Launch,
    /// Within reach of the ground since the launch: that does not count until it has been clear once.
    Leaving,
    /// Clear: the next touch ends it.
    Flying,
}

/// What one look gave: the end, or the time up to which there is none.
type Looked = Result<f64, End>;

impl<'a> Search<'a> {
    /// A search for the first touch of a rider with this reach.
    pub fn new(ground: &'a Ground, reach: Reach) -> Self {
        Self { ground, reach, phase: Phase::Launch, touching: TOUCHING, slow: 0 }
    }

    /// Follows the next piece of the path: the end, if it comes within the piece.
    pub fn follow(&mut self, piece: &Piece) -> Option<End> {
        let (mut t, end) = piece.span();
        // The end of a piece is looked at as the start of the next.
        while t < end {
            let now = piece.motion(t);
            if !now.position.iter().chain(&now.velocity).all(|x| x.is_finite()) {
                return Some(End::NoTouchdown { time: t });
            }
            let looked = match self.phase {
                Phase::Launch => self.launch(&now),
                Phase::Leaving => self.leave(piece, &now),
                Phase::Flying => self.fly(piece, &now),
            };
            match looked {
                Err(end) => return Some(end),
                Ok(next) => t = next,
            }
        }
        None
    }

    /// How a path that never touched has ended, `time` seconds after the launch.
    pub fn give_up(&self, time: f64) -> End {
        if self.phase == Phase::Leaving { End::RolledOff } else { End::NoTouchdown { time } }
    }

    fn launch(&mut self, now: &Motion) -> Looked {
        let c = now.position;
        if !self.ground.contains(c.x, c.y) {
            return Err(End::OffSurvey { time: now.time });
        }
        let within = self.reach.at(now.time) + self.touching_at(&c);
        let Some(near) = self.ground.nearest(c, within) else {
            self.phase = Phase::Flying;
            return Ok(now.time);
        };
        let growth = near.normal.dot(&now.velocity) - self.reach.growth(now.time);
        if growth > 0.0 && !self.is_under(&c) {
            self.phase = Phase::Leaving;
            return Ok(now.time);
        }
        Err(End::RolledOff)
    }

    /// It cannot be clear before the distance has grown to the reach, which is the soonest by speed and curvature.
    fn leave(&mut self, piece: &Piece, now: &Motion) -> Looked {
        let c = now.position;
        if !self.ground.contains(c.x, c.y) || self.is_under(&c) {
            return Err(End::RolledOff);
        }
        let Some(near) = self.ground.nearest(c, self.reach.at(now.time) + self.touching_at(&c))
        else {
            self.phase = Phase::Flying;
            return Ok(now.time);
        };
        let probe = self.probe(piece, now);
        let short = probe.reach - near.distance;
        let rate = near.normal.dot(&now.velocity);
        // From a point at distance d the distance is at most d + n . move + |move|^2 / (2 d).
        let turn = probe.speed * probe.speed / near.distance
            + now.acceleration.norm()
            + probe.jerk * probe.span;
        let step = first_root(short, -rate, -0.5 * turn);
        Ok(now.time + step.max(short / probe.speed).min(probe.span).max(MOMENT))
    }

    fn fly(&mut self, piece: &Piece, now: &Motion) -> Looked {
        let probe = self.probe(piece, now);
        let scan = self.ground.scan(&probe);
        if scan.gap <= self.touching_at(&now.position) || self.has_slipped_under(&now.position) {
            return Err(End::Touch(self.polished(piece, now, scan.gap.min(HAIR))));
        }
        let known = self.ground.stays_known(&probe);
        if known < LEAVING && probe.span > LEAVING {
            return Err(End::OffSurvey { time: now.time });
        }
        let step = scan.clear.min(known);
        self.count(step);
        Ok(now.time + step.max(SHORTEST))
    }

    fn probe(&self, piece: &Piece, now: &Motion) -> Probe {
        let until = piece.span().1.min(now.time + WINDOW).max(now.time);
        let (span, jerk) = (until - now.time, piece.jerk_bound(now.time, until));
        Probe {
            position: now.position,
            velocity: now.velocity,
            acceleration: now.acceleration,
            jerk,
            speed: now.speed_bound(jerk, span),
            reach: self.reach.at(now.time),
            reach_rate: self.reach.growth(now.time),
            span,
        }
    }

    /// Lets the gap grow that counts as a touch, where steps have been slow for long.
    fn count(&mut self, step: f64) {
        self.slow = if step < SLOW { self.slow + 1 } else { 0 };
        if self.slow > PATIENCE {
            let flat = self.ground.surfaces().iter().all(|s| matches!(s, Surface::Plane(_)));
            self.touching = (10.0 * self.touching).min(GRAZING[usize::from(!flat)]);
            self.slow = 0;
        }
    }

    /// The touch at a moment within the gap allowed, brought nearer by one more Newton step.
    fn polished(&self, piece: &Piece, now: &Motion, gap: f64) -> Touch {
        let first = self.touch(now, gap);
        let rate = first.normal.dot(&now.velocity) - self.reach.growth(now.time);
        let turn = 0.5 * first.normal.dot(&now.acceleration);
        let step = first_root(first.residual, rate, turn);
        if first.residual.abs() <= POLISHED || step > NEWTON {
            return first;
        }
        let second = self.touch(&piece.motion(now.time + step), gap);
        if second.residual.abs() <= first.residual.abs() { second } else { first }
    }

    /// The touch at a moment when the ground is known to be no farther than reach and gap.
    fn touch(&self, now: &Motion, gap: f64) -> Touch {
        let (c, reach) = (now.position, self.reach.at(now.time));
        let within = reach + gap.max(0.0) + UNDER;
        let none = Nearest { distance: f64::INFINITY, point: c, normal: Vec3::z() };
        let near = self.ground.nearest(c, within).unwrap_or(none);
        let above = near.distance > 0.0;
        let distance = if above { near.distance } else { self.ground.signed_distance(c) };
        Touch {
            time: now.time,
            position: c,
            point: near.point,
            normal: self.upward(&near, &c),
            reach,
            lean_owed: self.reach.lean_owed(now.time),
            residual: distance - reach,
        }
    }

    /// The normal of the nearest place: of the surface itself where rounding has put the point a hair below it.
    fn upward(&self, near: &Nearest, c: &Vec3) -> Vec3 {
        if near.normal.z > 0.0 || near.distance > HAIR {
            return near.normal;
        }
        self.ground.normal(c.x, c.y).unwrap_or(near.normal)
    }

    fn is_under(&self, c: &Vec3) -> bool {
        self.ground.height(c.x, c.y).is_some_and(|z| z - c.z > UNDER)
    }

    /// Whether a point that was above the ground has come out below it: far from the origin the direction to a near
    /// surface is rounded so coarsely that the last step towards it may end a hair beyond, where there is no distance.
    fn has_slipped_under(&self, c: &Vec3) -> bool {
        self.ground.height(c.x, c.y).is_some_and(|z| z > c.z)
    }

    /// The gap that counts as a touch, never below what rounding of the coordinates leaves of it.
    fn touching_at(&self, c: &Vec3) -> f64 {
        self.touching.max(16.0 * f64::EPSILON * c.amax())
    }
}

#[cfg(test)]
mod tests;
