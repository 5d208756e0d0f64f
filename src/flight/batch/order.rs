//! Flights of a chunk in another order, so that those flown at once take about as long.

use super::chunk::{Column, ROWS, Starts, Vectors};

/// Lengths that are told apart.
const LENGTHS: usize = 24;

/// Some rows of a chunk, one after another.
pub(super) struct Order {
    pub(super) rows: [usize; ROWS],
    pub(super) count: usize,
}

impl Order {
    /// The rows for which a length is said, the shortest first, those of one length as they were.
    pub(super) fn by_length(length: impl Fn(usize) -> Option<usize>, rows: usize) -> Self {
        let mut of_row = [LENGTHS; ROWS];
        let mut next = [0; LENGTHS + 1];
        for (row, kept) in of_row.iter_mut().enumerate().take(rows) {
            if let Some(length) = length(row) {
                *kept = length.min(LENGTHS - 1);
                next[*kept + 1] += 1;
            }
        }
        for i in 0..LENGTHS {
            next[i + 1] += next[i];
        }
        let mut order = Self { rows: [0; ROWS], count: next[LENGTHS] };
        for (row, length) in of_row.into_iter().enumerate().take(rows) {
            if length < LENGTHS {
                order.rows[next[length]] = row;
                next[length] += 1;
            }
        }
        order
    }

    /// The rows in order.
    pub(super) fn rows(&self) -> &[usize] {
        &self.rows[..self.count]
    }

    /// The launches in order; zeros after them.
    pub(super) fn starts(&self, from: &Starts) -> Starts {
        Starts { position: self.vectors(&from.position), velocity: self.vectors(&from.velocity) }
    }

    /// A column in order; zeros after it.
    pub(super) fn column(&self, from: &Column) -> Column {
        let mut to = [0.0; ROWS];
        for (to, row) in to.iter_mut().zip(self.rows()) {
            *to = from[*row];
        }
        to
    }

    fn vectors(&self, from: &Vectors) -> Vectors {
        let [x, y, z] = from;
        [self.column(x), self.column(y), self.column(z)]
    }

    /// Writes a column that is in order to its rows.
    pub(super) fn put_back(&self, from: &Column, to: &mut Column) {
        for (from, row) in from.iter().zip(self.rows()) {
            to[*row] = *from;
        }
    }
}
