//! The paths of many riders, by groups in which each quantity lies side by side: a landing is asked about several at once.

use crate::design::{
    flier::{Bare, Flier, Path},
    score::Landed,
};
use std::ops::Range;

/// Rows of a group: a whole number of pairs of registers, the longest too.
pub(super) const GROUP: usize = 16;

/// A number of each row of a group.
pub(super) type Side = [f64; GROUP];

/// Everyone whom a search asks, with what a touch needs side by side.
#[derive(Debug, Clone)]
pub(in crate::design) struct Crowd {
    pub fliers: Vec<Flier>,
    /// How each path ends without the landing, and one over twice the acceleration of free fall.
    pub(super) bare: Vec<(Bare, f64)>,
    /// From which path on each flier's are; one more at the end.
    starts: Vec<usize>,
    pub(super) groups: Vec<Group>,
}

/// What a touch needs of some paths.
#[derive(Debug, Clone, Default)]
pub(super) struct Group {
    /// The coefficients of the powers of time, by the axes of the site.
    pub terms: [[Side; 3]; 6],
    /// When the flight ends on the bare ground; at once where nothing is touched before.
    pub end: Side,
    /// The rider's reach: upright, his lean at the start, how fast it is paid back.
    pub height: Side,
    pub lean: Side,
    pub rate: Side,
}

impl Crowd {
    pub(in crate::design) fn new(fliers: Vec<Flier>) -> Self {
        let mut starts = vec![0];
        starts.extend(fliers.iter().scan(0, |paths, flier| {
            *paths += flier.paths.len();
            Some(*paths)
        }));
        let paths: Vec<&Path> = fliers.iter().flat_map(|flier| &flier.paths).collect();
        let groups = paths.chunks(GROUP).map(Group::new).collect();
        let bare = paths.iter().map(|path| (path.bare, 0.5 / path.gravity)).collect();
        Self { fliers, bare, starts, groups }
    }

    /// The paths of a flier, by his place.
    pub(super) fn paths(&self, flier: usize) -> Range<usize> {
        self.starts[flier]..self.starts[flier + 1]
    }

    /// How many paths the first so many fliers have.
    pub(super) fn paths_of_first(&self, fliers: usize) -> usize {
        self.starts[fliers]
    }
}

impl Group {
    /// Of so many paths, the last one again and again to fill it.
    fn new(paths: &[&Path]) -> Self {
        let mut group = Self::default();
        for row in 0..GROUP {
            if let Some(path) = paths.get(row).or(paths.last()) {
                group.set(row, path);
            }
        }
        group
    }

    fn set(&mut self, row: usize, path: &Path) {
        for (to, from) in self.terms.iter_mut().zip(&path.terms) {
            for (to, from) in to.iter_mut().zip(from.iter()) {
                to[row] = *from;
            }
        }
        let rolls = path.bare.fixed == Some(Landed::RolledOff);
        self.end[row] = if rolls { 0.0 } else { path.end };
        self.height[row] = path.reach.height();
        self.lean[row] = path.reach.lean();
        self.rate[row] = path.reach.righting_rate();
    }

    /// Takes over a row of another group.
    pub(super) fn take(&mut self, row: usize, from: &Self, other: usize) {
        for (to, from) in self.terms.iter_mut().flatten().zip(from.terms.iter().flatten()) {
            to[row] = from[other];
        }
        self.end[row] = from.end[other];
        self.height[row] = from.height[other];
        self.lean[row] = from.lean[other];
        self.rate[row] = from.rate[other];
    }
}
