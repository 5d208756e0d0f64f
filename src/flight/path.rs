//! The path of the centre of mass through the air, kept as its motion at a few times.

use super::error::FlightError;
use super::{integrate, series};
use crate::force::Forces;
use crate::ground::{End, Ground, Reach, Search};
use crate::math::Vec3;
use crate::math::path::{Motion, Path, Piece};
use crate::math::range::{finite, within};
use serde::{Deserialize, Serialize};
use smallvec::SmallVec;

/// No ground within this time is no touchdown; seconds.
pub(super) const LONGEST: f64 = 60.0;

/// Where the series is of no use, near rest in the air, this much is flown in short steps; seconds.
const THROUGH_REST: f64 = 0.05;

/// A path through the air under gravity and drag, from the launch at time 0.
///
/// Without drag it is one parabola, exact to rounding (wind then does not matter), long enough for any flight. With drag
/// it is a chain of polynomials in time, good to 1e-10 m. It can be tested on any number of grounds.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct FlightPath {
    forces: Forces,
    start: Motion,
    pieces: Pieces,
}

/// The pieces of a flight as long as most are lie in the path itself: no heap is asked for them.
type Pieces = SmallVec<[Piece; 6]>;

impl FlightPath {
    /// A path that has only begun: place and velocity of the centre of mass.
    pub fn start(position: Vec3, velocity: Vec3, forces: Forces) -> Result<Self, FlightError> {
        let (position, velocity) = checked(position, velocity)?;
        Ok(Self::begun(position, velocity, forces))
    }

    /// As [`Self::start`], of numbers.
    pub(super) fn begun(position: Vec3, velocity: Vec3, forces: Forces) -> Self {
        let acceleration = forces.gravity() + forces.drag(velocity);
        let start = Motion { time: 0.0, position, velocity, acceleration };
        let mut path = Self { forces, start, pieces: Pieces::new() };
        if path.forces.k() <= 0.0 {
            path.pieces.push(Piece::parabola(&start, LONGEST));
        }
        path
    }

    /// Flies on at least until a time since the launch, which is at most 60 s.
    pub fn fly(&mut self, until: f64) -> Result<(), FlightError> {
        within("duration", until, 0.0, LONGEST)?;
        while self.duration() < until {
            self.fly_on()?;
        }
        Ok(())
    }

    /// How long the path is, seconds: up to a piece longer than was asked for.
    pub fn duration(&self) -> f64 {
        self.pieces.last().map_or(self.start.time, |piece| piece.span().1)
    }

    /// Where it begins.
    pub(super) const fn first(&self) -> &Motion {
        &self.start
    }

    /// The forces that made it.
    pub fn forces(&self) -> &Forces {
        &self.forces
    }

    /// The pieces of the path, in order.
    pub fn pieces(&self) -> &[Piece] {
        &self.pieces
    }

    /// Place, velocity and acceleration at a time since the launch; those of the nearest end outside the path.
    pub fn motion(&self, t: f64) -> Motion {
        let t = t.clamp(self.start.time, self.duration());
        let at = self.pieces.partition_point(|piece| piece.span().1 < t);
        self.pieces.get(at).map_or(self.start, |piece| piece.motion(t))
    }

    /// The place at a time since the launch.
    pub fn position(&self, t: f64) -> Vec3 {
        self.motion(t).position
    }

    /// The velocity at a time since the launch.
    pub fn velocity(&self, t: f64) -> Vec3 {
        self.motion(t).velocity
    }

    /// How the path ends on a ground. It flies on past its own end as long as need be, up to 60 s.
    pub fn touch(&self, ground: &Ground, reach: Reach) -> Result<End, FlightError> {
        let mut search = Search::new(ground, reach);
        if let Some(end) = self.pieces.iter().find_map(|piece| search.follow(piece)) {
            return Ok(end);
        }
        let start = self.motion(self.duration());
        Self { forces: self.forces, start, pieces: Pieces::new() }.fly_to(&mut search)
    }

    /// Flies until the search ends.
    pub(super) fn fly_to(&mut self, search: &mut Search) -> Result<End, FlightError> {
        let mut seen = 0;
        loop {
            if let Some(end) = self.pieces[seen..].iter().find_map(|piece| search.follow(piece)) {
                return Ok(end);
            }
            if self.duration() >= LONGEST {
                return Ok(search.give_up(LONGEST));
            }
            seen = self.pieces.len();
            self.fly_on()?;
        }
    }

    /// Adds the next piece, or the next few where the air speed passes near zero.
    fn fly_on(&mut self) -> Result<(), FlightError> {
        let last = self.motion(self.duration());
        if let Some(piece) = series::next_piece(&last, &self.forces, LONGEST) {
            self.pieces.push(piece);
        } else {
            let until = LONGEST.min(last.time + THROUGH_REST);
            let pull = |_: f64, _: &Vec3, v: &Vec3| self.forces.gravity() + self.forces.drag(*v);
            self.pieces.extend(integrate::stretch(&last, &pull, until)?);
        }
        Ok(())
    }

    /// The highest moment from the launch to a time since.
    pub fn apex(&self, until: f64) -> Motion {
        let (first, last) = (self.motion(0.0), self.motion(until));
        if first.velocity.z <= 0.0 || last.velocity.z >= 0.0 {
            return if last.position.z > first.position.z { last } else { first };
        }
        // The climb only ever slows: bisect to where it ends.
        let (mut a, mut b) = (first.time, last.time);
        loop {
            let middle = 0.5 * (a + b);
            if middle <= a || middle >= b {
                return self.motion(a);
            }
            if self.velocity(middle).z > 0.0 {
                a = middle;
            } else {
                b = middle;
            }
        }
    }

    /// `n` places of the centre of mass, evenly spaced in time from the launch to a time since, both included.
    pub fn sample(&self, until: f64, n: usize) -> Vec<Vec3> {
        let last = n.saturating_sub(1).max(1) as f64;
        (0..n).map(|i| self.position(until * (i as f64 / last))).collect()
    }
}

/// A launch's place and velocity, if all are numbers.
pub(super) fn checked(position: Vec3, velocity: Vec3) -> Result<(Vec3, Vec3), FlightError> {
    let names = ["position.x", "position.y", "position.z"];
    let speeds = ["velocity.x", "velocity.y", "velocity.z"];
    for (field, value) in names.into_iter().zip(&position).chain(speeds.into_iter().zip(&velocity))
    {
        finite(field, *value)?;
    }
    Ok((position, velocity))
}

#[cfg(test)]
mod tests;
