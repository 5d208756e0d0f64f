//! Touches of a chunk of flights: what [`super::super::Contact`] says of one, in the machine's vector registers.

#![allow(clippy::inline_always, reason = "a kernel that is not inlined loses its instruction set")]

use super::columns::Columns;
use crate::flight::batch::{Batch, Column, ROWS, Touches, Vectors};
use crate::ground::Ground;
use crate::math::lanes::{ARCH, Lanes};
use pulp::{Simd, WithSimd};

/// A speed below this has no direction; m/s.
const STILL: f64 = 1e-12;

/// Which way is forward over the ground.
#[derive(Debug, Clone, Copy)]
pub(crate) enum Approach<'a> {
    /// The landing's heading, as a level unit vector.
    Heading([f64; 2]),
    /// Where each bike pointed at the launch.
    Forward(&'a Vectors),
    AsItFlies,
}

impl Approach<'static> {
    pub(crate) fn over(ground: &Ground) -> Self {
        ground.landing().map_or(Self::AsItFlies, |landing| {
            let (sin, cos) = landing.heading().sin_cos();
            Self::Heading([cos, sin])
        })
    }
}

/// What the touches of a chunk say.
pub(crate) struct Contacts {
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
    pub(crate) const fn new() -> Self {
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

    /// Takes the touches of a chunk in, whose distances are from these places.
    pub(crate) fn fill(
        &mut self,
        from: &Vectors,
        touches: &Touches,
        approach: Approach<'_>,
        batch: &Batch,
    ) {
        let (height, g) = (batch.height(), batch.forces().g());
        ARCH.dispatch(Fill { contacts: self, from, touches, approach, height, g });
    }

    /// Writes the rows that a piece of the batch's columns has.
    pub(crate) fn write(&self, touches: &Touches, out: &mut Columns<'_>) {
        let rows = out.status.len();
        let copy = |to: &mut [f64], from: &Column| to.copy_from_slice(&from[..rows]);
        copy(out.time, &touches.time);
        copy(out.normal_speed, &self.normal_speed);
        copy(out.fall_height, &self.fall_height);
        copy(out.angle, &self.angle);
        copy(out.distance, &self.distance);
        copy(out.drop, &self.drop);
        copy(out.along_speed, &self.along_speed);
        copy(out.sideways_speed, &self.sideways_speed);
        copy(out.grip_demand, &self.grip_demand);
        copy(out.residual, &touches.residual);
        turned(out.mark, &self.mark);
        turned(out.velocity, &touches.velocity);
        turned(out.normal, &touches.normal);
    }
}

/// Parts of vectors in columns as vectors in rows.
pub(crate) fn turned(to: &mut [[f64; 3]], from: &Vectors) {
    let [x, y, z] = from;
    for (((to, x), y), z) in to.iter_mut().zip(x).zip(y).zip(z) {
        *to = [*x, *y, *z];
    }
}

struct Fill<'a> {
    contacts: &'a mut Contacts,
    from: &'a Vectors,
    touches: &'a Touches,
    approach: Approach<'a>,
    height: f64,
    g: f64,
}

impl WithSimd for Fill<'_> {
    type Output = ();

    #[inline(always)]
    fn with_simd<S: Simd>(self, simd: S) {
        for at in 0..ROWS / S::F64_LANES {
            let touch = Touch::load(simd, self.touches, at);
            touch.hardness(self.contacts, self.g, at);
            touch.place(self.contacts, self.from, self.height, at);
            match self.approach {
                Approach::Heading([x, y]) => {
                    let level = [touch.fill(x), touch.fill(y), touch.fill(0.0)];
                    touch.across(self.contacts, &level, at);
                }
                Approach::Forward(ahead) => {
                    touch.across(self.contacts, &load(simd, ahead, at), at);
                }
                Approach::AsItFlies => touch.as_it_flies(self.contacts, at),
            }
        }
    }
}

#[derive(Clone, Copy)]
struct Touch<S: Simd> {
    simd: S,
    position: [Lanes<S>; 3],
    normal: [Lanes<S>; 3],
    /// The speed away from the surface.
    away: Lanes<S>,
    /// The velocity over the surface.
    over: [Lanes<S>; 3],
}

#[inline(always)]
fn load<S: Simd>(simd: S, parts: &Vectors, at: usize) -> [Lanes<S>; 3] {
    let part = |i: usize| Lanes::load(simd, &parts[i], at);
    [part(0), part(1), part(2)]
}

#[inline(always)]
fn dot<S: Simd>(a: &[Lanes<S>; 3], b: &[Lanes<S>; 3]) -> Lanes<S> {
    a[0].mul_add(b[0], a[1].mul_add(b[1], a[2] * b[2]))
}

impl<S: Simd> Touch<S> {
    #[inline(always)]
    fn load(simd: S, touches: &Touches, at: usize) -> Self {
        let (v, n) = (load(simd, &touches.velocity, at), load(simd, &touches.normal, at));
        let away = dot(&v, &n);
        let over = [v[0] - n[0] * away, v[1] - n[1] * away, v[2] - n[2] * away];
        Self { simd, position: load(simd, &touches.position, at), normal: n, away, over }
    }

    #[inline(always)]
    fn fill(&self, value: f64) -> Lanes<S> {
        Lanes::splat(self.simd, value)
    }

    /// The speed into the surface.
    #[inline(always)]
    fn into(&self) -> Lanes<S> {
        (-self.away).max(self.fill(0.0))
    }

    /// Speed into the surface, fall height and angle.
    #[inline(always)]
    fn hardness(&self, contacts: &mut Contacts, g: f64, at: usize) {
        let into = self.into();
        let square = into * into;
        let along_square = dot(&self.over, &self.over);
        let along = along_square.sqrt();
        // Of half the angle: at most 1.
        let tangent =
            into / (along + (square + along_square).sqrt()).max(self.fill(f64::MIN_POSITIVE));
        let half = tangent.atan();
        into.store(&mut contacts.normal_speed, at);
        (square * self.fill(0.5 / g)).store(&mut contacts.fall_height, at);
        (half + half).store(&mut contacts.angle, at);
    }

    /// The mark, and how far it is from the launch.
    #[inline(always)]
    fn place(&self, contacts: &mut Contacts, from: &Vectors, height: f64, at: usize) {
        let (reach, from) = (self.fill(height), load(self.simd, from, at));
        let mark = |i: usize| self.position[i] - self.normal[i] * reach;
        let mark = [mark(0), mark(1), mark(2)];
        let (x, y) = (mark[0] - from[0], mark[1] - from[1]);
        x.mul_add(x, y * y).sqrt().store(&mut contacts.distance, at);
        (from[2] - mark[2]).store(&mut contacts.drop, at);
        for (part, column) in mark.iter().zip(&mut contacts.mark) {
            part.store(column, at);
        }
    }

    /// Forward is where the path goes: nothing is sideways.
    #[inline(always)]
    fn as_it_flies(&self, contacts: &mut Contacts, at: usize) {
        let nothing = self.fill(0.0);
        dot(&self.over, &self.over).sqrt().store(&mut contacts.along_speed, at);
        nothing.store(&mut contacts.sideways_speed, at);
        nothing.store(&mut contacts.grip_demand, at);
    }

    /// Forward is a direction, laid along the surface; where the path goes if it points out of it.
    #[inline(always)]
    fn across(&self, contacts: &mut Contacts, t: &[Lanes<S>; 3], at: usize) {
        let (n, still) = (&self.normal, self.fill(STILL));
        let out = dot(t, n);
        let flat = [t[0] - n[0] * out, t[1] - n[1] * out, t[2] - n[2] * out];
        let size = dot(&flat, &flat).sqrt();
        let lies = still.lt(size);
        let ahead = dot(&flat, &self.over) / size;
        // n x flat, along the velocity over the surface.
        let left = [
            n[1] * flat[2] - n[2] * flat[1],
            n[2] * flat[0] - n[0] * flat[2],
            n[0] * flat[1] - n[1] * flat[0],
        ];
        let sideways = dot(&left, &self.over) / size;
        let along = dot(&self.over, &self.over).sqrt();
        let sideways = lies.select(sideways, self.fill(0.0));
        lies.select(ahead, along).store(&mut contacts.along_speed, at);
        sideways.store(&mut contacts.sideways_speed, at);
        let asked = still.lt(sideways.abs()).select(sideways.abs() / self.into(), self.fill(0.0));
        asked.store(&mut contacts.grip_demand, at);
    }
}
