//! The touches of many paths on one landing of a search.

#![allow(clippy::inline_always, reason = "a kernel that is not inlined loses its instruction set")]

use super::{
    Quick,
    crowd::{Crowd, GROUP, Group},
    glance::Glance,
    solid::dot,
    walk::Walk,
    wide::Lanes,
};
use crate::math::lanes::ARCH;
use pulp::Simd;

/// The touches of many paths, each quantity in a column.
#[derive(Debug, Clone, Default)]
pub(super) struct Touches {
    /// Seconds since the edge; infinite where the earth is not touched.
    pub time: Vec<f64>,
    /// The mark along and across.
    pub along: Vec<f64>,
    pub across: Vec<f64>,
    /// The square of the speed into the earth.
    pub square: Vec<f64>,
}

impl Touches {
    /// How the first so many paths of a crowd touch a face, if they do before they come to the bare ground.
    pub(super) fn of(quick: &Quick, crowd: &Crowd, paths: usize) -> Self {
        let rows = paths.next_multiple_of(GROUP);
        let mut touches = Self::room(rows);
        let mut sure = vec![0.0; rows];
        let groups = &crowd.groups[..rows / GROUP];
        ARCH.dispatch(Glance { quick, groups, touches: &mut touches, sure: &mut sure });
        touches.walk(quick, groups, &sure);
        touches
    }

    /// Walks along the landing with whom a glance was not sure of.
    fn walk(&mut self, quick: &Quick, groups: &[Group], sure: &[f64]) {
        let mut some = Group::default();
        let mut walked = Self::room(GROUP);
        let unsure: Vec<usize> = (0..sure.len()).filter(|row| sure[*row] == 0.0).collect();
        for rows in unsure.chunks(GROUP) {
            for (row, from) in rows.iter().enumerate() {
                some.take(row, &groups[from / GROUP], from % GROUP);
            }
            ARCH.dispatch(Walk { quick, group: &some, touches: &mut walked });
            self.take(&walked, rows);
        }
    }

    /// Takes touches over into some rows.
    fn take(&mut self, from: &Self, rows: &[usize]) {
        let columns = [
            (&mut self.time, &from.time),
            (&mut self.along, &from.along),
            (&mut self.across, &from.across),
            (&mut self.square, &from.square),
        ];
        for (to, from) in columns {
            for (row, value) in rows.iter().zip(from) {
                to[*row] = *value;
            }
        }
    }

    fn room(paths: usize) -> Self {
        let column = || vec![0.0; paths];
        Self { time: column(), along: column(), across: column(), square: column() }
    }

    #[inline(always)]
    pub(super) fn store<S: Simd>(
        &mut self,
        time: Lanes<S>,
        touched: [Lanes<S>; 3],
        register: usize,
    ) {
        time.store(&mut self.time, register);
        touched[0].store(&mut self.along, register);
        touched[1].store(&mut self.across, register);
        touched[2].store(&mut self.square, register);
    }
}

/// What is told of a touch at a place, at a velocity, with a normal and a reach: the mark along and across, and the square
/// of the speed into the earth.
#[inline(always)]
pub(super) fn touched<S: Simd>(
    at: &[Lanes<S>; 3],
    velocity: &[Lanes<S>; 3],
    normal: &[Lanes<S>; 3],
    length: Lanes<S>,
) -> [Lanes<S>; 3] {
    let into = (-dot(normal, velocity)).max(length.filled(0.0));
    [at[0] - length * normal[0], at[1] - length * normal[1], into * into]
}
