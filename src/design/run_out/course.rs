//! The straight course that a rider takes from his mark on, and the tyres' line over the ground along it.

use super::error::RunOutError;
use crate::geometry::{Line, Profile};
use crate::ground::{Ground, Landing};
use crate::math::count::whole;
use crate::math::{Vec2, Vec3};
use crate::ride::{RideError, Samples};
use crate::rider::Rider;
use crate::site::Obstacle;
use crate::touchdown::Contact;

/// The ground is looked at every so many metres.
const STEP: f64 = 0.02;
/// Every so many looks make a point of the profile.
const LOOKS: usize = 5;
/// Who keeps less than this over the surface does not ride out, m/s.
const SLOWEST: f64 = 0.1;
/// Less known ground ahead than this is none, metres.
const SHORTEST: f64 = 0.5;

/// A course from a mark on.
pub(super) struct Course {
    line: Line,
    mark: Vec2,
    ahead: Vec2,
    /// Speed over the surface after the touch, m/s.
    kept: f64,
    landing: Option<Landing>,
}

impl Course {
    pub(super) fn new(
        ground: &Ground,
        contact: &Contact,
        rider: &Rider,
        length: f64,
    ) -> Result<Self, RunOutError> {
        let over = contact.velocity - contact.normal * contact.velocity.dot(&contact.normal);
        let level = over.xy().norm();
        if level < SLOWEST {
            return Err(RunOutError::Stopped { speed: level });
        }
        let (mark, ahead) = (contact.mark.xy(), over.xy() / level);
        let heights = Heights::look(ground, contact, ahead, rider.wheelbase(), length);
        let (distance, height) = heights.averaged()?;
        let origin = Vec3::new(mark.x, mark.y, 0.0);
        let profile =
            Profile::smooth(&distance, &height)?.placed(origin, ahead.y.atan2(ahead.x))?;
        let landing = ground.landing().copied();
        Ok(Self { line: profile.line(), mark, ahead, kept: over.norm(), landing })
    }

    pub(super) fn line(&self) -> &Line {
        &self.line
    }

    pub(super) fn speed_kept(&self) -> f64 {
        self.kept
    }

    pub(super) fn heading(&self) -> f64 {
        self.ahead.y.atan2(self.ahead.x)
    }

    /// The tyres' speed at which the centre of mass goes at the speed kept: in a hollow it goes slower than they do.
    pub(super) fn tyre_speed(&self, rider: &Rider) -> Result<f64, RunOutError> {
        let frame = self.line.frame(0.0);
        let curvature = frame.curvature.dot(&frame.normal);
        let share = 1.0 - rider.com_height() * curvature;
        if share < 0.5 {
            let (radius, com_height) = (curvature.recip(), rider.com_height());
            return Err(RideError::TooTight { station: 0.0, radius, com_height }.into());
        }
        Ok(self.kept / share)
    }

    /// The level length of the course, metres.
    pub(super) fn level_length(&self) -> f64 {
        (self.line.frame(self.line.length()).position.xy() - self.mark).norm()
    }

    /// How far a place is to the left of the landing's middle line.
    pub(super) fn across(&self, place: &Vec3) -> Option<f64> {
        self.landing.map(|landing| landing.along_across(&place.xy()).y)
    }

    /// Where the ride leaves the landing's face over one of its sides.
    pub(super) fn leaves_side_at(&self, samples: &Samples) -> Option<f64> {
        let landing = self.landing?;
        let on = |at: &Vec3| landing.along_across(&at.xy());
        let half = 0.5 * landing.width();
        let on_face = |at: Vec2| (0.0..=landing.length()).contains(&at.x);
        let start = on(samples.tyres.first()?);
        if !(on_face(start) && start.y.abs() <= half) {
            return None;
        }
        let off = samples.tyres.iter().map(on).position(|at| at.y.abs() > half || !on_face(at))?;
        on_face(on(&samples.tyres[off])).then(|| samples.station[off])
    }

    /// The least level distance of the course from an obstacle's rim, and the station where it first is within `near`.
    pub(super) fn passing(&self, obstacle: &Obstacle, near: f64) -> (f64, Option<f64>) {
        let away = obstacle.position - self.mark;
        let (along, aside) = (away.dot(&self.ahead), away.perp(&self.ahead).abs());
        let end = self.level_length();
        let clearance = (along - along.clamp(0.0, end)).hypot(aside) - obstacle.radius;
        let touch = obstacle.radius + near;
        let first = along - (touch * touch - aside * aside).max(0.0).sqrt();
        let hits = aside < touch && first >= 0.0 && first <= end;
        (clearance, hits.then(|| self.station(first)))
    }

    /// The level distance ahead of the mark, and to the left of the course, of a place.
    pub(super) fn ahead_aside(&self, place: &Vec2) -> Vec2 {
        let away = place - self.mark;
        Vec2::new(away.dot(&self.ahead), self.ahead.perp(&away))
    }

    /// The station at a level distance: along the line, the two grow together.
    pub(super) fn station(&self, level: f64) -> f64 {
        let over = |station: f64| {
            let place = self.line.frame(station).position.xy();
            (place - self.mark).dot(&self.ahead) - level
        };
        let length = self.line.length();
        crate::math::roots::bracketed(over, 0.0, length, 1e-9).unwrap_or(length)
    }
}

/// Heights along a course, evenly spaced, from a wheelbase behind the mark on: up to the mark those of the tangent plane
/// there, for what lies behind, such as a crest, is not ridden any more.
struct Heights {
    heights: Vec<f64>,
    window: usize,
}

impl Heights {
    /// Looks to a level length ahead of the mark, as far as the ground is known.
    fn look(ground: &Ground, contact: &Contact, ahead: Vec2, wheelbase: f64, length: f64) -> Self {
        let (mark, normal) = (contact.mark.xy(), contact.normal);
        let gradient = -normal.xy().dot(&ahead) / normal.z;
        let window = (wheelbase / STEP).round().max(1.0);
        let count = (length / STEP).ceil() + 2.0 * window;
        let mut heights = Vec::new();
        let mut i = 0.0;
        while i <= count {
            let along = STEP * (i - window);
            let at = mark + ahead * along;
            let tangent = contact.mark.z + gradient * along;
            let height = if along < 0.0 { Some(tangent) } else { ground.height(at.x, at.y) };
            let Some(height) = height else { break };
            heights.push(height);
            i += 1.0;
        }
        Self { heights, window: whole(window) }
    }

    /// Distances from the mark, and heights averaged over a wheelbase around each, twice: so that the curvature of
    /// corners and facets comes and goes steadily.
    fn averaged(&self) -> Result<(Vec<f64>, Vec<f64>), RunOutError> {
        let known = self.heights.len().saturating_sub(2 * self.window + 1);
        if (known as f64) * STEP < SHORTEST {
            return Err(RunOutError::NoGround { known: known as f64 * STEP });
        }
        let smooth = means(&means(&self.heights, self.window), self.window);
        let places = (0..=known).step_by(LOOKS).filter_map(|i| Some((i, *smooth.get(i)?)));
        Ok(places.map(|(i, height)| (STEP * i as f64, height)).unzip())
    }
}

/// The means over `window` steps, by the trapezoidal rule; as many fewer.
fn means(values: &[f64], window: usize) -> Vec<f64> {
    let mut sums = vec![0.0];
    for pair in values.windows(2) {
        sums.push(sums[sums.len() - 1] + 0.5 * (pair[0] + pair[1]));
    }
    sums.windows(window + 1).map(|part| (part[window] - part[0]) / window as f64).collect()
}
