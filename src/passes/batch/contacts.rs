//! What the touches of a chunk say of riders who left pointing somewhere: what [`crate::touchdown::Contact`] says of one,
//! in the machine's vector registers.

#![allow(clippy::inline_always, reason = "a kernel that is not inlined loses its instruction set")]

use super::chunk::Chunk;
use super::columns::Columns;
use crate::flight::batch::{Column, ROWS, Touches, Vectors};
use crate::math::lanes::{ARCH, Lanes};
use pulp::{Simd, WithSimd};

/// A speed below this has no direction; m/s.
const STILL: f64 = 1e-12;

/// The columns of a chunk's contacts.
pub(super) struct Contacts {
    mark: Vectors,
    normal_speed: Column,
    fall_height: Column,
    angle: Column,
    distance: Column,
    drop: Column,
    along_speed: Column,
    sideways_speed: Column,
    grip_demand: Column,
}

impl Contacts {
    pub(super) const fn new() -> Self {
        let zeros = [0.0; ROWS];
        Self {
            mark: [zeros; 3],
            normal_speed: zeros,
            fall_height: zeros,
            angle: zeros,
            distance: zeros,
            drop: zeros,
            along_speed: zeros,
            sideways_speed: zeros,
            grip_demand: zeros,
        }
    }

    /// Takes the touches of a chunk in: of riders of this height at the touch, under this gravity.
    pub(super) fn fill(&mut self, chunk: &Chunk, touches: &Touches, height: f64, g: f64) {
        ARCH.dispatch(Fill { contacts: self, chunk, touches, height, g });
    }

    /// Writes them to a batch's columns.
    pub(super) fn write(&self, chunk: &Chunk, touches: &Touches, out: &mut Columns<'_>) {
        let rows = out.status.len();
        let columns = [
            (&mut *out.exit_speed, &chunk.exit_speed),
            (out.time, &touches.time),
            (out.residual, &touches.residual),
            (out.normal_speed, &self.normal_speed),
            (out.fall_height, &self.fall_height),
            (out.angle, &self.angle),
            (out.distance, &self.distance),
            (out.drop, &self.drop),
            (out.along_speed, &self.along_speed),
            (out.sideways_speed, &self.sideways_speed),
            (out.grip_demand, &self.grip_demand),
        ];
        for (to, from) in columns {
            to.copy_from_slice(&from[..rows]);
        }
        out.lean_owed.fill(0.0);
        let tables = [
            (&mut *out.launch_position, &chunk.starts.position),
            (out.launch_velocity, &chunk.starts.velocity),
            (out.mark, &self.mark),
            (out.velocity, &touches.velocity),
            (out.normal, &touches.normal),
        ];
        for (to, from) in tables {
            for (row, to) in to.iter_mut().enumerate() {
                *to = [from[0][row], from[1][row], from[2][row]];
            }
        }
    }
}

struct Fill<'a> {
    contacts: &'a mut Contacts,
    chunk: &'a Chunk,
    touches: &'a Touches,
    height: f64,
    g: f64,
}

type Triple<S> = [Lanes<S>; 3];

#[inline(always)]
fn load<S: Simd>(simd: S, parts: &Vectors, at: usize) -> Triple<S> {
    [
        Lanes::load(simd, &parts[0], at),
        Lanes::load(simd, &parts[1], at),
        Lanes::load(simd, &parts[2], at),
    ]
}

#[inline(always)]
fn dot<S: Simd>(a: &Triple<S>, b: &Triple<S>) -> Lanes<S> {
    a[0].mul_add(b[0], a[1].mul_add(b[1], a[2] * b[2]))
}

/// What of `a` lies across the unit vector `n`, where `along` of it lies along.
#[inline(always)]
fn across<S: Simd>(a: &Triple<S>, n: &Triple<S>, along: Lanes<S>) -> Triple<S> {
    [a[0] - n[0] * along, a[1] - n[1] * along, a[2] - n[2] * along]
}

impl WithSimd for Fill<'_> {
    type Output = ();

    #[inline(always)]
    fn with_simd<S: Simd>(self, simd: S) {
        for at in 0..ROWS / S::F64_LANES {
            let n = load(simd, &self.touches.normal, at);
            let v = load(simd, &self.touches.velocity, at);
            let away = dot(&v, &n);
            let over = across(&v, &n, away);
            let into = (-away).max(Lanes::splat(simd, 0.0));
            self.contacts.hardness(into, &over, self.g, at);
            let t = load(simd, &self.chunk.ahead, at);
            let flat = across(&t, &n, dot(&t, &n));
            self.contacts.over(into, &over, &flat, &n, at);
            let (place, from) =
                (load(simd, &self.touches.position, at), load(simd, &self.chunk.tyres, at));
            self.contacts.place(&place, &from, &n, self.height, at);
        }
    }
}

impl Contacts {
    /// Speed into the surface, fall height and angle.
    #[inline(always)]
    fn hardness<S: Simd>(&mut self, into: Lanes<S>, over: &Triple<S>, g: f64, at: usize) {
        let (square, along_square) = (into * into, dot(over, over));
        let whole = along_square.sqrt() + (square + along_square).sqrt();
        // Of half the angle: at most 1.
        let half = (into / whole.max(into.filled(f64::MIN_POSITIVE))).atan();
        into.store(&mut self.normal_speed, at);
        (square * into.filled(0.5 / g)).store(&mut self.fall_height, at);
        (half + half).store(&mut self.angle, at);
    }

    /// Speeds over the surface forward and to the left; forward is `flat`, or where the path goes if that is nothing.
    #[inline(always)]
    fn over<S: Simd>(
        &mut self,
        into: Lanes<S>,
        over: &Triple<S>,
        flat: &Triple<S>,
        n: &Triple<S>,
        at: usize,
    ) {
        let (still, nothing) = (into.filled(STILL), into.filled(0.0));
        let size = dot(flat, flat).sqrt();
        let lies = still.lt(size);
        let left = [
            n[1] * flat[2] - n[2] * flat[1],
            n[2] * flat[0] - n[0] * flat[2],
            n[0] * flat[1] - n[1] * flat[0],
        ];
        let along = lies.select(dot(flat, over) / size, dot(over, over).sqrt());
        let sideways = lies.select(dot(&left, over) / size, nothing);
        along.store(&mut self.along_speed, at);
        sideways.store(&mut self.sideways_speed, at);
        let asked = still.lt(sideways.abs()).select(sideways.abs() / into, nothing);
        asked.store(&mut self.grip_demand, at);
    }

    /// The mark, and how far it is from the tyres' point at the launch.
    #[inline(always)]
    fn place<S: Simd>(
        &mut self,
        place: &Triple<S>,
        from: &Triple<S>,
        n: &Triple<S>,
        height: f64,
        at: usize,
    ) {
        let reach = n[0].filled(height);
        let mark = across(place, n, reach);
        let (x, y) = (mark[0] - from[0], mark[1] - from[1]);
        x.mul_add(x, y * y).sqrt().store(&mut self.distance, at);
        (from[2] - mark[2]).store(&mut self.drop, at);
        mark[0].store(&mut self.mark[0], at);
        mark[1].store(&mut self.mark[1], at);
        mark[2].store(&mut self.mark[2], at);
    }
}
