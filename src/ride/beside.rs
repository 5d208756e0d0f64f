//! Lines close by a line: how a ride answers to the number that moves its line.
//!
//! What the line puts into the equations is explicit, though long. Its derivative is taken from lines close by, to the sixth
//! order, good to about 1e-11; no ride is solved on them, the equations made linear have it on their right side. Solvers of
//! sensitivity equations commonly do so (from memory).

use super::answers::ExitAnswer;
use super::result::Exit;
use crate::geometry::{Frame, Line};
use nalgebra::SVector;

/// Steps off the place, and what the lines there count, of a derivative by a step: from both sides, or from one.
const BOTH: &[(f64, f64)] = &[
    (-3.0, -1.0 / 60.0),
    (-2.0, 9.0 / 60.0),
    (-1.0, -45.0 / 60.0),
    (1.0, 45.0 / 60.0),
    (2.0, -9.0 / 60.0),
    (3.0, 1.0 / 60.0),
];
const AHEAD: &[(f64, f64)] = &[
    (0.0, -147.0 / 60.0),
    (1.0, 6.0),
    (2.0, -7.5),
    (3.0, 400.0 / 60.0),
    (4.0, -225.0 / 60.0),
    (5.0, 72.0 / 60.0),
    (6.0, -10.0 / 60.0),
];
/// On which side the lines are: both, or above or below alone where there is no room, or a joint of theirs comes or goes.
const SIDES: [(&[(f64, f64)], f64); 3] = [(BOTH, 1.0), (AHEAD, 1.0), (AHEAD, -1.0)];
/// How far apart they are, metres: the wide ones first.
const APART: [f64; 2] = [0.01, 0.001];

/// One of the lines.
#[derive(Debug, Clone)]
pub(super) struct Near {
    /// How far it is moved.
    pub(super) by: f64,
    /// What it counts for a derivative.
    pub(super) weight: f64,
    pub(super) line: Line,
}

/// Lines close by a line, moved by one number.
#[derive(Debug, Clone)]
pub(crate) struct Beside(Vec<Near>);

/// How a ride's end answers to what moves its line.
#[derive(Debug, Clone)]
pub(crate) struct Moved {
    /// The rider at the end of each line close by, to first order, with what that counts for a derivative.
    pub(crate) exits: Vec<(f64, Exit)>,
    /// Of the time ridden; nothing where none was kept.
    pub(crate) time: f64,
}

/// How a ride's end answers: to causes that leave its line, and to what moves it; nothing of a ride that does not come there.
#[derive(Debug, Clone, Default)]
pub(crate) struct ExitAnswers {
    pub(crate) by_cause: Vec<ExitAnswer>,
    pub(crate) moved: Option<Moved>,
}

impl Beside {
    /// About the line at `x`, none of them beyond `low` or `high`; none at all where there is no room for millimetres.
    pub(crate) fn new<E>(
        x: f64,
        [low, high]: [f64; 2],
        line: impl Fn(f64) -> Result<Line, E>,
    ) -> Result<Self, E> {
        let pieces = line(x)?.sections().count();
        let mut found = Vec::new();
        for (apart, (steps, way)) in APART.iter().flat_map(|apart| SIDES.map(|side| (apart, side)))
        {
            let size = way * apart;
            if steps.iter().any(|(n, _)| !(low..=high).contains(&(x + n * size))) {
                continue;
            }
            let near = |(n, weight): &(f64, f64)| {
                let by = n * size;
                Ok(Near { by, weight: weight / size, line: line(x + by)? })
            };
            found = steps.iter().map(near).collect::<Result<Vec<Near>, E>>()?;
            if found.iter().all(|near| near.line.sections().count() == pieces) {
                break;
            }
        }
        Ok(Self(found))
    }

    pub(super) fn lines(&self) -> &[Near] {
        &self.0
    }

    /// The derivative of numbers told of a line.
    pub(super) fn slope<const N: usize>(
        &self,
        told: impl Fn(&Line) -> SVector<f64, N>,
    ) -> SVector<f64, N> {
        self.0.iter().map(|near| told(&near.line) * near.weight).sum()
    }
}

impl Line {
    /// The frame, and the metres a unit of the parameter of `other`, at the same share of a piece as there.
    pub(super) fn beside(&self, other: &Self, piece: usize, parameter: f64) -> (Frame, f64) {
        let ends = |line: &Self| {
            let section = line.sections().find(|section| section.piece == piece);
            section.map_or((parameter, parameter + 1.0), |section| (section.from, section.to))
        };
        let ((from, to), (other_from, other_to)) = (ends(self), ends(other));
        let wider = (to - from) / (other_to - other_from);
        let (frame, stretch) = self.at(piece, from + (parameter - other_from) * wider);
        (frame, stretch * wider)
    }
}
