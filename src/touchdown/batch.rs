//! What the ends of many flights say, as columns: the same fields as one touchdown's.

mod columns;
mod contact;
mod paths;
mod rigid;

pub use columns::{Columns, Flights};
pub(crate) use columns::{Touched, Touching, touch_columns};
pub(crate) use contact::{Approach, Contacts, turned};
pub use rigid::{RigidBatch, RigidColumns, RigidFlights, RigidLaunches};

use super::TouchOutcome;
use crate::flight::batch::{Batch, Fate, ROWS, Starts, Touches};
use crate::ground::Place;
use crate::math::Vec2;
use crate::math::columns::{WrongRows, rows_of};
use crate::math::parallel::{Crew, CrewError};
use crate::math::range::OutOfRange;
use columns::Row;
use serde::{Deserialize, Serialize};
use std::fmt;

/// Flights that one thread takes at a time.
const PIECE: usize = 8 * ROWS;

/// How a flight of a batch came out.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
#[non_exhaustive]
pub enum Status {
    /// As a flight by itself comes out.
    Flown(TouchOutcome),
    /// Its launch has a number that is not finite.
    BadInput,
    /// Its path is past what numbers hold.
    Failed,
}

impl Status {
    /// All of them; a status's code is its place here.
    pub const ALL: [Self; 10] = [
        Self::Flown(TouchOutcome::Landed),
        Self::Flown(TouchOutcome::Caught),
        Self::Flown(TouchOutcome::Short),
        Self::Flown(TouchOutcome::Long),
        Self::Flown(TouchOutcome::Wide),
        Self::Flown(TouchOutcome::RolledOff),
        Self::Flown(TouchOutcome::OffSurvey),
        Self::Flown(TouchOutcome::NoTouchdown),
        Self::BadInput,
        Self::Failed,
    ];

    /// The number that stands for it in a column.
    pub const fn code(self) -> u8 {
        match self {
            Self::Flown(TouchOutcome::Landed) => 0,
            Self::Flown(TouchOutcome::Caught) => 1,
            Self::Flown(TouchOutcome::Short) => 2,
            Self::Flown(TouchOutcome::Long) => 3,
            Self::Flown(TouchOutcome::Wide) => 4,
            Self::Flown(TouchOutcome::RolledOff) => 5,
            Self::Flown(TouchOutcome::OffSurvey) => 6,
            Self::Flown(TouchOutcome::NoTouchdown) => 7,
            Self::BadInput => 8,
            Self::Failed => 9,
        }
    }

    /// The status that a number stands for.
    pub fn from_code(code: u8) -> Option<Self> {
        Self::ALL.get(usize::from(code)).copied()
    }

    /// The status as one word, as tables have it.
    pub const fn word(self) -> &'static str {
        match self {
            Self::Flown(outcome) => outcome.word(),
            Self::BadInput => "bad_input",
            Self::Failed => "failed",
        }
    }
}

impl fmt::Display for Status {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(self.word())
    }
}

/// Why there are no flights of a batch.
#[derive(Debug, Clone, PartialEq, thiserror::Error)]
#[non_exhaustive]
pub enum BatchError {
    /// Columns of different lengths.
    #[error(transparent)]
    Rows(#[from] WrongRows),
    /// A number out of its range.
    #[error(transparent)]
    Value(#[from] OutOfRange),
    /// The work was not done, or not to its end.
    #[error(transparent)]
    Crew(#[from] CrewError),
}

/// The launches of a batch: a row a flight. Numbers that are not finite spoil only their own row.
#[derive(Debug, Clone, Copy)]
pub struct Launches<'a> {
    /// The centre of mass, metres.
    pub position: &'a [[f64; 3]],
    /// Its velocity, m/s.
    pub velocity: &'a [[f64; 3]],
}

impl<'a> Launches<'a> {
    fn rows(&self) -> Result<usize, WrongRows> {
        rows_of([("position", self.position.len()), ("velocity", self.velocity.len())])
    }

    fn pieces(self, rows: usize) -> impl Iterator<Item = Self> + use<'a> {
        let pieces = self.position.chunks(rows).zip(self.velocity.chunks(rows));
        pieces.map(|(position, velocity)| Self { position, velocity })
    }
}

impl Batch {
    /// Flies all launches and writes what their ends say, on the threads of a crew; the same numbers on any number of them.
    ///
    /// Row by row what `Launch::by_hand(position, velocity)` and its flight give, within 1e-8 m on a plane, 1e-6 m on a
    /// grid or a survey and the landings on it, and exactly that on all other grounds. Errors: columns of other lengths than the launches; no threads; stopped by the watch.
    pub fn flights_into(
        &self,
        launches: Launches<'_>,
        out: &mut Columns<'_>,
        crew: &Crew<'_>,
    ) -> Result<(), BatchError> {
        out.check(launches.rows()?)?;
        let pieces: Vec<_> = launches.pieces(PIECE).zip(out.borrowed().pieces(PIECE)).collect();
        let work = |(launches, out): (Launches<'_>, Columns<'_>)| self.piece(launches, out);
        Ok(crew.each(pieces, |(launches, _)| launches.position.len(), work)?)
    }

    /// As [`Self::flights_into`], into columns of their own.
    pub fn flights(&self, launches: Launches<'_>, crew: &Crew<'_>) -> Result<Flights, BatchError> {
        let mut flights = Flights::new(launches.position.len());
        self.flights_into(launches, &mut flights.columns(), crew)?;
        Ok(flights)
    }

    fn piece(&self, launches: Launches<'_>, out: Columns<'_>) {
        let (mut starts, mut touches, mut contacts) =
            (Starts::new(), Touches::new(), Contacts::new());
        let approach = Approach::over(self.ground());
        for (launches, mut out) in launches.pieces(ROWS).zip(out.pieces(ROWS)) {
            starts.fill(launches.position, launches.velocity);
            self.fly(&starts, launches.position.len(), &mut touches);
            contacts.fill(&starts.position, &touches, approach, self);
            contacts.write(&touches, &mut out);
            self.judge(&touches, &mut out);
        }
    }

    /// Writes the status of each row, and NaN where it has no touch.
    fn judge(&self, touches: &Touches, out: &mut Columns<'_>) {
        let has_landings = self.ground().landings().next().is_some();
        let landed = |[x, y, _]: [f64; 3]| {
            let among = || Place::among(self.ground().landings(), &Vec2::new(x, y));
            let place = if has_landings { among() } else { None };
            place.map_or(TouchOutcome::Landed, TouchOutcome::of)
        };
        for row in 0..out.status.len() {
            let status = match touches.fate[row] {
                Fate::Touched => {
                    out.status[row] = Status::Flown(landed(out.mark[row])).code();
                    continue;
                }
                Fate::RolledOff => Status::Flown(TouchOutcome::RolledOff),
                Fate::OffSurvey => Status::Flown(TouchOutcome::OffSurvey),
                Fate::BadInput => Status::BadInput,
                Fate::Failed => Status::Failed,
                _ => Status::Flown(TouchOutcome::NoTouchdown),
            };
            out.write(row, &Row::none(status));
        }
    }
}

#[cfg(test)]
mod tests;
