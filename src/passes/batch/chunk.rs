//! The launches of a few passes at a time, from the polynomials of their lines.

#![allow(clippy::inline_always, reason = "a kernel that is not inlined loses its instruction set")]

use super::family::{AHEAD, Family, MOVES, QUANTITIES, Quantities, SQUARE, TYRES, UP};
use super::{Batch, Columns, Entries};
use crate::flight::batch::{Column, ROWS, Starts, Vectors};
use crate::launch::{Attitude, Launch, MOST_POP};
use crate::math::Vec3;
use crate::touchdown::batch::turned;
use pulp::{Simd, WithSimd};

/// Bikes turned farther than this are left to one ride, radians.
const MOST_TURN: f64 = 1.0;

/// Launches of a chunk.
pub(super) struct Chunk {
    pub(super) starts: Starts,
    /// The tyres' points at the edge, metres.
    pub(super) tyres: Vectors,
    /// Where the bikes point.
    pub(super) ahead: Vectors,
    /// Up through the bikes.
    pub(super) up: Vectors,
    pub(super) exit_speed: Column,
    /// Whether all that is known; else positions and velocities are NaN.
    pub(super) known: [bool; ROWS],
}

impl Chunk {
    pub(super) const fn new() -> Self {
        let zeros = [0.0; ROWS];
        Self {
            starts: Starts::new(),
            tyres: [zeros; 3],
            ahead: [zeros; 3],
            up: [zeros; 3],
            exit_speed: zeros,
            known: [false; ROWS],
        }
    }

    /// The launch of a row that is known.
    pub(super) fn launch(&self, row: usize) -> Launch {
        let vector = |parts: &Vectors| Vec3::new(parts[0][row], parts[1][row], parts[2][row]);
        let (t, u) = (vector(&self.ahead), vector(&self.up));
        Launch {
            position: self.starts.position(row),
            velocity: self.starts.velocity(row),
            attitude: Some(Attitude { t, l: u.cross(&t), u }),
            angular_velocity: Vec3::zeros(),
            tyre_point: Some(vector(&self.tyres)),
            tyre_speed: Some(self.exit_speed[row]),
            pitch: None,
            warnings: Vec::new(),
        }
    }

    /// Writes the launches to a batch's columns; of riders who come down upright.
    pub(super) fn write(&self, out: &mut Columns<'_>) {
        let rows = out.status.len();
        out.exit_speed.copy_from_slice(&self.exit_speed[..rows]);
        turned(out.launch_position, &self.starts.position);
        turned(out.launch_velocity, &self.starts.velocity);
        out.lean_owed.fill(0.0);
    }

    #[inline(always)]
    fn launch_row(&mut self, row: usize, launched: Option<Launched>) {
        self.known[row] = launched.is_some();
        let Launched { speed, all, velocity, centre, turn } = launched.unwrap_or(Launched::NONE);
        let ([cos, sin], [t, u]) = (turn, [part(&all, AHEAD), part(&all, UP)]);
        self.exit_speed[row] = speed;
        for i in 0..3 {
            self.starts.position[i][row] = centre[i];
            self.starts.velocity[i][row] = velocity[i];
            self.tyres[i][row] = all[TYRES + i];
            self.ahead[i][row] = t[i] * cos - u[i] * sin;
            self.up[i][row] = u[i] * cos + t[i] * sin;
        }
    }
}

/// One row's launch.
struct Launched {
    speed: f64,
    all: Quantities,
    velocity: [f64; 3],
    centre: [f64; 3],
    /// Cosine and sine of the pitch.
    turn: [f64; 2],
}

impl Launched {
    const NONE: Self = Self {
        speed: f64::NAN,
        all: [f64::NAN; QUANTITIES],
        velocity: [f64::NAN; 3],
        centre: [f64::NAN; 3],
        turn: [f64::NAN; 2],
    };
}

/// Fills a chunk.
pub(super) struct Fill<'a> {
    pub(super) chunk: &'a mut Chunk,
    pub(super) entries: Entries<'a>,
    pub(super) family: &'a Family,
    pub(super) batch: &'a Batch,
}

impl WithSimd for Fill<'_> {
    type Output = ();

    #[inline(always)]
    fn with_simd<S: Simd>(self, _: S) {
        let height = self.batch.rider.com_height();
        for row in 0..self.entries.speed.len() {
            let launched = launched(self.family, &self.entries, row, height);
            self.chunk.launch_row(row, launched);
        }
    }
}

#[inline(always)]
fn launched(family: &Family, entries: &Entries, row: usize, height: f64) -> Option<Launched> {
    let (speed, pop) = (entries.speed[row], entries.pop[row]);
    let spot = family.spot(entries.leave[row])?;
    let square = speed * speed;
    let [slowest, fastest] = spot.holds;
    let holds = speed >= 0.0 && (slowest..=fastest).contains(&square);
    if !(holds && (-MOST_POP..=MOST_POP).contains(&pop)) {
        return None;
    }
    let all = spot.cell.at(spot.x);
    let speed = (all[SQUARE] + all[SQUARE + 1] * square).sqrt();
    let angle = spot.cell.turns.at(spot.x, speed)?;
    if angle.abs() > MOST_TURN {
        return None;
    }
    let ([tyres, up], moves) = ([part(&all, TYRES), part(&all, UP)], part(&all, MOVES));
    let (mut velocity, mut centre) = ([0.0; 3], [0.0; 3]);
    for i in 0..3 {
        velocity[i] = moves[i] * speed + up[i] * pop;
        centre[i] = tyres[i] + up[i] * height;
    }
    Some(Launched { speed, all, velocity, centre, turn: turn(angle) })
}

#[inline(always)]
fn part(all: &Quantities, from: usize) -> [f64; 3] {
    [all[from], all[from + 1], all[from + 2]]
}

/// Cosine and sine of an angle up to 1, by Taylor's series; to 1e-14.
#[inline(always)]
fn turn(angle: f64) -> [f64; 2] {
    let square = angle * angle;
    let (mut cos, mut sin) = (1.0, 1.0);
    let mut n = 16.0;
    while n > 0.0 {
        cos = 1.0 - cos * square / (n * (n - 1.0));
        sin = 1.0 - sin * square / (n * (n + 1.0));
        n -= 2.0;
    }
    [cos, sin * angle]
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_turn_is_cosine_and_sine() {
        for angle in [-1.0, -0.3, 0.0, 1e-9, 0.7, 1.0_f64] {
            let [cos, sin] = turn(angle);
            assert!((cos - angle.cos()).abs() < 1e-14 && (sin - angle.sin()).abs() < 1e-14);
        }
    }
}
