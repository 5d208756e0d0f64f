//! How a pass of a batch came out.

use crate::ride::Outcome;
use crate::touchdown::batch;
use serde::{Deserialize, Serialize};
use std::fmt;

/// How many statuses flights have.
const FLIGHTS: usize = batch::Status::ALL.len();

/// How a pass of a batch came out.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
#[non_exhaustive]
pub enum Status {
    /// The rider left the edge, and came down so; a number that is not finite or out of its range; or what no number can be
    /// given for.
    Flight(batch::Status),
    /// The tyres slide before the edge.
    Slid,
    /// He comes to rest before it.
    Stalled,
    /// From rest, nothing moves him.
    DidNotStart,
    /// The load on the surface falls to zero before it.
    LeftSurface,
    /// No lean is found that keeps him in balance.
    Unbalanced,
    /// Too slow for the edge: the front wheel is off and the rear one cannot follow.
    HungUp,
}

impl Status {
    /// All of them; a status's code is its place here. The first are those of a batch of flights.
    pub const ALL: [Self; FLIGHTS + 6] = {
        let mut all = [Self::HungUp; FLIGHTS + 6];
        let mut code = 0;
        while code < FLIGHTS {
            all[code] = Self::Flight(batch::Status::ALL[code]);
            code += 1;
        }
        let own =
            [Self::Slid, Self::Stalled, Self::DidNotStart, Self::LeftSurface, Self::Unbalanced];
        while code < FLIGHTS + own.len() {
            all[code] = own[code - FLIGHTS];
            code += 1;
        }
        all
    };

    pub(crate) const BAD_INPUT: Self = Self::Flight(batch::Status::BadInput);
    pub(crate) const FAILED: Self = Self::Flight(batch::Status::Failed);

    /// The number that stands for it in a column.
    pub const fn code(self) -> u8 {
        match self {
            Self::Flight(flight) => flight.code(),
            Self::Slid => 10,
            Self::Stalled => 11,
            Self::DidNotStart => 12,
            Self::LeftSurface => 13,
            Self::Unbalanced => 14,
            Self::HungUp => 15,
        }
    }

    /// The status that a number stands for.
    pub fn from_code(code: u8) -> Option<Self> {
        Self::ALL.get(usize::from(code)).copied()
    }

    /// The status as one word, as tables have it.
    pub const fn word(self) -> &'static str {
        match self {
            Self::Flight(flight) => flight.word(),
            Self::Slid => "slid",
            Self::Stalled => "stalled",
            Self::DidNotStart => "did_not_start",
            Self::LeftSurface => "left_surface",
            Self::Unbalanced => "unbalanced",
            Self::HungUp => "hung_up",
        }
    }

    /// That of a ride which does not leave the edge so; none for one that does.
    pub(super) const fn of_ride(outcome: &Outcome) -> Option<Self> {
        match outcome {
            Outcome::Reached => None,
            Outcome::Slid(_) => Some(Self::Slid),
            Outcome::Stalled { .. } => Some(Self::Stalled),
            Outcome::DidNotStart => Some(Self::DidNotStart),
            Outcome::LeftSurface { .. } => Some(Self::LeftSurface),
            Outcome::Unbalanced { .. } => Some(Self::Unbalanced),
            Outcome::HungUp { .. } => Some(Self::HungUp),
        }
    }
}

impl fmt::Display for Status {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(self.word())
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_code_is_a_place() {
        for (place, status) in Status::ALL.iter().enumerate() {
            assert_eq!(usize::from(status.code()), place);
            assert_eq!(Status::from_code(status.code()), Some(*status));
        }
        assert_eq!(Status::from_code(16), None);
    }
}
