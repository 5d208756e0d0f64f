//! A few flights at a time, each quantity in a column, small enough to stay near the processor.

use super::order::Order;
use crate::flight::error::FlightError;
use crate::ground::End;
use crate::math::Vec3;

/// Flights in a chunk: a whole number of registers on every machine.
pub const ROWS: usize = 128;

/// One quantity of all flights of a chunk.
pub type Column = [f64; ROWS];

/// A vector of all flights of a chunk, by its parts.
pub type Vectors = [Column; 3];

const ZEROS: Column = [0.0; ROWS];

/// Where and how fast the flights of a chunk begin.
#[derive(Debug, Clone)]
pub struct Starts {
    /// The centre of mass, metres.
    pub position: Vectors,
    /// Its velocity, m/s.
    pub velocity: Vectors,
}

impl Starts {
    /// Places for a chunk's launches.
    pub const fn new() -> Self {
        Self { position: [ZEROS; 3], velocity: [ZEROS; 3] }
    }

    /// Takes the first launches of a chunk from their rows, at most as many as it has.
    pub fn fill(&mut self, position: &[[f64; 3]], velocity: &[[f64; 3]]) {
        for (row, (position, velocity)) in position.iter().zip(velocity).enumerate().take(ROWS) {
            for i in 0..3 {
                self.position[i][row] = position[i];
                self.velocity[i][row] = velocity[i];
            }
        }
    }

    /// The position of one flight.
    pub fn position(&self, row: usize) -> Vec3 {
        vector(&self.position, row)
    }

    /// The velocity of one flight.
    pub fn velocity(&self, row: usize) -> Vec3 {
        vector(&self.velocity, row)
    }
}

impl Default for Starts {
    fn default() -> Self {
        Self::new()
    }
}

/// How a flight of a batch ended.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
#[non_exhaustive]
pub enum Fate {
    /// It touched the ground.
    Touched,
    /// It never cleared the ground at the launch.
    RolledOff,
    /// It left the part of the plan where the ground is known.
    OffSurvey,
    /// There was no ground under it.
    NoTouchdown,
    /// Its launch has a number that is not finite.
    BadInput,
    /// Its path is past what numbers hold.
    Failed,
}

/// Where and how fast the flights of a chunk touch, and how each ended; numbers only where it touched.
#[derive(Debug, Clone)]
pub struct Touches {
    /// Seconds since the launch.
    pub time: Column,
    /// The centre of mass, metres.
    pub position: Vectors,
    /// Its velocity, m/s.
    pub velocity: Vectors,
    /// The unit vector from the place touched to the centre of mass.
    pub normal: Vectors,
    /// Distance less reach, metres.
    pub residual: Column,
    /// How each ended.
    pub fate: [Fate; ROWS],
    /// 1 where a kernel is certain of its touch, else 0.
    pub(super) certain: Column,
}

impl Touches {
    /// Places for a chunk's touches.
    pub const fn new() -> Self {
        Self {
            time: ZEROS,
            position: [ZEROS; 3],
            velocity: [ZEROS; 3],
            normal: [ZEROS; 3],
            residual: ZEROS,
            fate: [Fate::NoTouchdown; ROWS],
            certain: ZEROS,
        }
    }

    /// The centre of mass of one flight at its touch.
    pub fn position(&self, row: usize) -> Vec3 {
        vector(&self.position, row)
    }

    /// The velocity of one flight at its touch.
    pub fn velocity(&self, row: usize) -> Vec3 {
        vector(&self.velocity, row)
    }

    /// The normal at one flight's touch.
    pub fn normal(&self, row: usize) -> Vec3 {
        vector(&self.normal, row)
    }

    /// Writes how a flight that was flown by itself ended, and how fast it was there.
    pub(super) fn set(&mut self, row: usize, flown: &Result<(End, Vec3), FlightError>) {
        self.fate[row] = match flown {
            Err(FlightError::Value(_)) => Fate::BadInput,
            Err(_) => Fate::Failed,
            Ok((End::RolledOff, _)) => Fate::RolledOff,
            Ok((End::OffSurvey { .. }, _)) => Fate::OffSurvey,
            Ok((End::Touch(touch), velocity)) => {
                self.time[row] = touch.time;
                self.residual[row] = touch.residual;
                set(&mut self.position, row, &touch.position);
                set(&mut self.velocity, row, velocity);
                set(&mut self.normal, row, &touch.normal);
                Fate::Touched
            }
            Ok(_) => Fate::NoTouchdown,
        };
    }

    /// Takes over the touches of some rows, flown in order.
    pub(super) fn take(&mut self, order: &Order, found: &Self) {
        for i in 0..3 {
            order.put_back(&found.position[i], &mut self.position[i]);
            order.put_back(&found.velocity[i], &mut self.velocity[i]);
            order.put_back(&found.normal[i], &mut self.normal[i]);
        }
        order.put_back(&found.time, &mut self.time);
        order.put_back(&found.residual, &mut self.residual);
        order.put_back(&found.certain, &mut self.certain);
    }

    /// Writes the same normal to all rows.
    pub(super) fn level_with(&mut self, normal: &Vec3) {
        for (column, part) in self.normal.iter_mut().zip(normal) {
            column.fill(*part);
        }
    }
}

impl Default for Touches {
    fn default() -> Self {
        Self::new()
    }
}

fn vector(parts: &Vectors, row: usize) -> Vec3 {
    Vec3::new(parts[0][row], parts[1][row], parts[2][row])
}

/// Writes one flight's vector.
pub(super) fn set(parts: &mut Vectors, row: usize, value: &Vec3) {
    for (column, part) in parts.iter_mut().zip(value) {
        column[row] = *part;
    }
}
