//! What holds where the panels of a leaning ride meet.

use super::footing::Footing;
use super::panel::{Ends, Response};
use nalgebra::{Matrix3, RowVector3};

/// One linear condition on a change of lean, roll rate and energy sum: `row · change = value`.
#[derive(Debug, Clone, Copy)]
pub(super) struct Condition {
    pub(super) row: RowVector3<f64>,
    pub(super) value: f64,
}

impl Condition {
    /// The condition on a panel's start that this one on its end comes to.
    pub(super) fn back(&self, response: &Response) -> Self {
        let row = self.row * response.end_by_start;
        let value = self.value - (self.row * response.end_own)[0];
        Self { row, value }.scaled()
    }

    /// The same condition, of size one.
    pub(super) fn scaled(self) -> Self {
        let size = self.row.norm();
        Self { row: self.row / size, value: self.value / size }
    }
}

/// What becomes of a panel's end where the next begins, and how that changes with it.
///
/// The rider's "up" stays what it was, as near as the next panel's direction allows; the roll rate and the energy sum do
/// not jump.
pub(super) fn across(from: &Footing, to: &Footing, end: &Ends) -> (Ends, Matrix3<f64>) {
    if from.normal == to.normal && from.left == to.left {
        return (*end, Matrix3::identity());
    }
    let (up, aside) = (from.up(end[0]), from.aside(end[0]));
    let (x, y) = (up.dot(&to.normal), up.dot(&to.left));
    let (dx, dy) = (aside.dot(&to.normal), aside.dot(&to.left));
    let mut change = Matrix3::identity();
    change[(0, 0)] = (x * dy - y * dx) / (x * x + y * y);
    (Ends::new(y.atan2(x), end[1], end[2]), change)
}
