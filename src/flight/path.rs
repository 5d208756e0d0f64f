//! The path of the centre of mass through the air, kept as its motion at a few times.

use super::error::FlightError;
use super::integrate::{self, CHUNK};
use crate::force::Forces;
use crate::ground::{End, Ground, Reach, Search};
use crate::math::Vec3;
use crate::math::path::{Motion, Quintic};
use crate::math::range::{finite, within};
use serde::{Deserialize, Serialize};

/// No ground within this time is no touchdown; seconds.
pub(super) const LONGEST: f64 = 60.0;

/// A path through the air under gravity and drag, from the launch at time 0.
///
/// Without drag it is one parabola, exact to rounding (wind then does not matter). With drag it is a quintic in time
/// between each two accepted steps of the integration, good to 1e-10 m. It can be tested on any number of grounds.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct FlightPath {
    forces: Forces,
    nodes: Vec<Motion>,
    end: f64,
}

impl FlightPath {
    /// A path that has only begun: place and velocity of the centre of mass.
    pub fn start(position: Vec3, velocity: Vec3, forces: Forces) -> Result<Self, FlightError> {
        let names = ["position.x", "position.y", "position.z"];
        let speeds = ["velocity.x", "velocity.y", "velocity.z"];
        for (field, value) in
            names.into_iter().zip(&position).chain(speeds.into_iter().zip(&velocity))
        {
            finite(field, *value)?;
        }
        let acceleration = forces.gravity() + forces.drag(velocity);
        let nodes = vec![Motion { time: 0.0, position, velocity, acceleration }];
        Ok(Self { forces, nodes, end: 0.0 })
    }

    /// Flies on until a time since the launch, at most 60 s; a path that is as long already stays as it is.
    pub fn fly(&mut self, until: f64) -> Result<(), FlightError> {
        within("duration", until, 0.0, LONGEST)?;
        if until <= self.end {
            return Ok(());
        }
        if self.forces.k() > 0.0 {
            while self.end < until {
                let next = (self.end + CHUNK).min(until);
                integrate::extend(&mut self.nodes, &self.forces, next)?;
                self.end = next;
            }
        }
        self.end = until;
        Ok(())
    }

    /// How long the path is, seconds.
    pub fn duration(&self) -> f64 {
        self.end
    }

    /// The forces that made it.
    pub fn forces(&self) -> &Forces {
        &self.forces
    }

    /// The pieces of the path, in order.
    pub fn pieces(&self) -> impl Iterator<Item = Quintic> + '_ {
        self.pieces_from(0)
    }

    /// Place, velocity and acceleration at a time since the launch; those of the nearest end outside the path.
    pub fn motion(&self, t: f64) -> Motion {
        let t = t.clamp(0.0, self.end);
        let after = self.nodes.partition_point(|node| node.time <= t);
        let at = after.saturating_sub(1).min(self.nodes.len().saturating_sub(2));
        self.piece(at).motion(t)
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
        if let Some(end) = self.pieces().find_map(|piece| search.follow(&piece)) {
            return Ok(end);
        }
        let last = self.nodes[self.nodes.len() - 1];
        let mut rest = Self { forces: self.forces, nodes: vec![last], end: self.end };
        rest.fly_to(&mut search)
    }

    /// Flies on until the search ends.
    pub(super) fn fly_to(&mut self, search: &mut Search) -> Result<End, FlightError> {
        while self.end < LONGEST {
            let (seen, from) = (self.nodes.len() - 1, self.end);
            self.fly((from + if self.forces.k() > 0.0 { CHUNK } else { LONGEST }).min(LONGEST))?;
            if let Some(end) = self.pieces_from(seen).find_map(|piece| search.follow(&piece)) {
                return Ok(end);
            }
        }
        Ok(search.give_up(LONGEST))
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

    fn pieces_from(&self, first: usize) -> impl Iterator<Item = Quintic> + '_ {
        let count = (self.nodes.len() - 1).max(usize::from(self.end > self.nodes[0].time));
        (first..count).map(|at| self.piece(at))
    }

    /// The piece after a node: the parabola to the end where the node is the only one.
    fn piece(&self, at: usize) -> Quintic {
        match self.nodes.get(at + 1) {
            Some(next) => Quintic::between(&self.nodes[at], next),
            None => Quintic::parabola(&self.nodes[at], self.end),
        }
    }
}

#[cfg(test)]
mod tests;
