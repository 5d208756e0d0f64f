//! Many flights under any acceleration.

use super::chunk::{Fate, ROWS, Starts, Touches};
use super::march::{self, Level};
use crate::flight::error::FlightError;
use crate::flight::integrate::stretch;
use crate::flight::path::{LONGEST, checked};
use crate::force::{Acceleration, of_one};
use crate::ground::{End, Ground, Reach, Search, Surface};
use crate::math::Vec3;
use crate::math::path::{Motion, Path};

/// A flight by itself is integrated so far at a time, and looked at; seconds.
const STRETCH: f64 = 0.25;

/// Many flights under an acceleration that a model brings along: wind that grows with height, lift.
///
/// Onto a plane they are flown in the machine's vector registers, by steps of eighth order whose length two estimates of
/// the error choose, within 1e-8 m of a flight by itself while they take less than 60 s. What is not certain, and all flights
/// onto other grounds, is integrated by a general solver, checked between its steps. A batch
/// ([`super::Batch`]), which knows gravity, drag and wind only, is some three times as fast.
#[derive(Debug, Clone)]
pub struct Driven<A> {
    force: A,
    ground: Ground,
    reach: Reach,
    level: Option<Level>,
}

impl<A: Acceleration> Driven<A> {
    /// Flights onto this ground under this acceleration of riders whose centre of mass is `height` metres over the tyres at
    /// touchdown, zero for a bare point.
    pub fn new(ground: &Ground, height: f64, force: A) -> Result<Self, FlightError> {
        let reach = Reach::upright(height)?;
        let level = match ground.surfaces() {
            [Surface::Plane(plane)] => Some(Level::over(plane, height)),
            _ => None,
        };
        Ok(Self { force, ground: ground.clone(), reach, level })
    }

    /// What moves the riders.
    pub const fn force(&self) -> &A {
        &self.force
    }

    /// What is flown onto.
    pub const fn ground(&self) -> &Ground {
        &self.ground
    }

    /// Flies the first `rows` launches of a chunk. The rest of its columns is left undefined.
    pub fn fly(&self, starts: &Starts, rows: usize, touches: &mut Touches) {
        let rows = rows.min(ROWS);
        touches.certain.fill(0.0);
        if let Some(level) = &self.level {
            touches.level_with(&level.normal);
            march::fly(&self.force, level, starts, |_| true, rows, touches);
        }
        for row in 0..rows {
            if touches.certain[row] > 0.0 {
                touches.fate[row] = Fate::Touched;
            } else {
                touches.set(row, &self.fly_one(starts, row));
            }
        }
    }

    /// One flight by the general solver.
    fn fly_one(&self, starts: &Starts, row: usize) -> Result<(End, Vec3), FlightError> {
        let pull = |time: f64, place: &Vec3, v: &Vec3| of_one(&self.force, time, place, v);
        let (position, velocity) = checked(starts.position(row), starts.velocity(row))?;
        let acceleration = pull(0.0, &position, &velocity);
        let mut last = Motion { time: 0.0, position, velocity, acceleration };
        let mut search = Search::new(&self.ground, self.reach);
        while last.time < LONGEST {
            for piece in stretch(&last, &pull, LONGEST.min(last.time + STRETCH))? {
                if let Some(end) = search.follow(&piece) {
                    return Ok((end, piece.motion(end.time()).velocity));
                }
                last = piece.motion(piece.span().1);
            }
        }
        Ok((search.give_up(LONGEST), last.velocity))
    }
}

#[cfg(test)]
mod tests;
