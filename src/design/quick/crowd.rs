//! The paths of many riders, each quantity in a column: a landing is asked about several at once.

use crate::design::{
    flier::{Bare, Flier, Path},
    score::Landed,
};
use std::ops::Range;

/// Columns are filled up to a whole number of the longest registers.
const REGISTER: usize = 8;

/// Everyone whom a search asks, with what a touch needs in columns.
#[derive(Debug, Clone)]
pub(in crate::design) struct Crowd {
    pub fliers: Vec<Flier>,
    /// How each path ends without the landing, and one over twice the acceleration of free fall.
    pub(super) bare: Vec<(Bare, f64)>,
    /// From which path on each flier's are; one more at the end.
    starts: Vec<usize>,
    pub(super) columns: Columns,
}

/// A number for each path; the last ones are repeated to fill a register.
#[derive(Debug, Clone, Default)]
pub(super) struct Columns {
    /// The coefficients of the powers of time, by the axes of the site.
    pub terms: [[Vec<f64>; 3]; 6],
    /// When the flight ends on the bare ground; at once where nothing is touched before.
    pub end: Vec<f64>,
    /// The rider's reach: upright, his lean at the start, how fast it is paid back.
    pub height: Vec<f64>,
    pub lean: Vec<f64>,
    pub rate: Vec<f64>,
}

impl Crowd {
    pub(in crate::design) fn new(fliers: Vec<Flier>) -> Self {
        let mut starts = vec![0];
        starts.extend(fliers.iter().scan(0, |paths, flier| {
            *paths += flier.paths.len();
            Some(*paths)
        }));
        let paths: Vec<&Path> = fliers.iter().flat_map(|flier| &flier.paths).collect();
        let columns = Columns::new(&paths);
        let bare = paths.iter().map(|path| (path.bare, 0.5 / path.gravity)).collect();
        Self { fliers, bare, starts, columns }
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

impl Columns {
    fn new(paths: &[&Path]) -> Self {
        let column = |of: &dyn Fn(&Path) -> f64| -> Vec<f64> {
            let filled = paths.len().next_multiple_of(REGISTER);
            let last = paths.last().map(|path| of(path));
            paths.iter().map(|path| of(path)).chain(last.into_iter().cycle()).take(filled).collect()
        };
        let term = |power: usize| {
            std::array::from_fn(|axis| column(&|path: &Path| path.terms[power][axis]))
        };
        let rolls = |path: &Path| path.bare.fixed == Some(Landed::RolledOff);
        Self {
            terms: std::array::from_fn(term),
            end: column(&|path| if rolls(path) { 0.0 } else { path.end }),
            height: column(&|path| path.reach.height()),
            lean: column(&|path| path.reach.lean()),
            rate: column(&|path| path.reach.righting_rate()),
        }
    }

    /// Takes over some rows of others, for its own.
    pub(super) fn take(&mut self, from: &Self, rows: &[usize]) {
        let take = |to: &mut Vec<f64>, from: &[f64]| {
            to.clear();
            to.extend(rows.iter().map(|row| from[*row]));
            let last = to.last().copied().unwrap_or_default();
            to.resize(rows.len().next_multiple_of(REGISTER), last);
        };
        for (to, from) in self.terms.iter_mut().flatten().zip(from.terms.iter().flatten()) {
            take(to, from);
        }
        take(&mut self.end, &from.end);
        take(&mut self.height, &from.height);
        take(&mut self.lean, &from.lean);
        take(&mut self.rate, &from.rate);
    }
}
