//! Many passes over one takeoff at once: entry, ride, launch, flight and touchdown, a row a pass.
//!
//! A rider who stands square to the surface in calm air and does not brake on it loses energy in proportion to what he has:
//! at each place of the edge the square of the speed there is linear in that of the entry speed. So all lines of a takeoff are
//! ridden beforehand: what a launch takes of them is kept as polynomials in the place of leaving, which are tried out between
//! their nodes. A pass is a few polynomials and a flight of a batch. What is not known for certain to hold, to be a launch
//! or to come down upright goes the way of one pass; so do all in wind and with other leans.

mod chunk;
mod columns;
mod family;
mod single;
mod status;
mod turns;

pub use columns::{Columns, Rows};
pub use status::Status;

use crate::air::Air;
use crate::flight::FlightError;
use crate::flight::batch::{Batch as Flights, Fate, ROWS, Touches};
use crate::ground::{Ground, Reach, Surface};
use crate::math::columns::{WrongRows, rows_of};
use crate::math::lanes::ARCH;
use crate::math::parallel::{Crew, CrewError};
use crate::ride::Lean;
use crate::rider::Rider;
use crate::site::{SiteError, Takeoff};
use crate::touchdown::TouchOutcome;
use crate::touchdown::batch::{self as touches, Approach, Contacts, Touching};
use chunk::{Chunk, Fill};
use columns::Row;
use family::Family;
use std::f64::consts::FRAC_PI_2;

/// Passes that one thread takes at a time: few, for those that go the way of one pass take long.
const PIECE: usize = 2 * ROWS;
/// Who is upright only this long before he touches is left to the way of one pass, seconds.
const HARDLY: f64 = 1e-6;
/// Nearer to being on the ground than this at the launch, too, metres.
const CLEAR: f64 = 1e-6;

const LANDED: Status = Status::Flight(touches::Status::Flown(TouchOutcome::Landed));

/// Why there are no passes of a batch.
#[derive(Debug, Clone, PartialEq, thiserror::Error)]
#[non_exhaustive]
pub enum BatchError {
    /// Columns of different lengths.
    #[error(transparent)]
    Rows(#[from] WrongRows),
    /// A takeoff that cannot be ridden from there.
    #[error(transparent)]
    Site(#[from] SiteError),
    /// A rider who cannot fly.
    #[error(transparent)]
    Flight(#[from] FlightError),
    /// The work was not done, or not to its end.
    #[error(transparent)]
    Crew(#[from] CrewError),
}

/// How riders come onto the takeoff and leave it, a row a pass. A number that is not finite or out of its range spoils
/// only its own row.
#[derive(Debug, Clone, Copy)]
pub struct Entries<'a> {
    /// The tyres' speed at the takeoff's start, m/s, from 0 to 100.
    pub speed: &'a [f64],
    /// Where on the edge they leave, metres: up a wall's panel, to the left of the middle of a lip or a drop.
    pub leave: &'a [f64],
    /// The push off the edge, m/s, from -5 to 5.
    pub pop: &'a [f64],
}

/// One row of them.
#[derive(Debug, Clone, Copy)]
struct Entry {
    speed: f64,
    leave: f64,
    pop: f64,
}

impl Entries<'_> {
    fn row(&self, at: usize) -> Entry {
        Entry { speed: self.speed[at], leave: self.leave[at], pop: self.pop[at] }
    }

    fn rows(&self) -> Result<usize, WrongRows> {
        let (speed, leave, pop) = (self.speed.len(), self.leave.len(), self.pop.len());
        rows_of([("speed", speed), ("leave", leave), ("pop", pop)])
    }

    fn pieces(&self, rows: usize) -> impl Iterator<Item = Self> {
        let pieces =
            self.speed.chunks(rows).zip(self.leave.chunks(rows)).zip(self.pop.chunks(rows));
        pieces.map(|((speed, leave), pop)| Entries { speed, leave, pop })
    }
}

/// What all passes of a batch share: who rides what, through what, onto what.
#[derive(Debug, Clone)]
pub struct Batch {
    takeoff: Takeoff,
    enter: f64,
    ground: Ground,
    rider: Rider,
    air: Air,
    lean: Lean,
    flights: Flights,
    /// None where every pass goes the way of one pass.
    family: Option<Family>,
    /// Whether flights of a batch are quicker than single ones onto this ground.
    together: bool,
}

impl Batch {
    /// Passes of this rider, square to the takeoff, that come onto it `enter` metres up the panel (of a wall; a lip or a
    /// drop has no such height).
    ///
    /// All lines of the takeoff are ridden beforehand, some tens of milliseconds.
    pub fn new(
        takeoff: &Takeoff,
        enter: f64,
        ground: &Ground,
        rider: &Rider,
        air: &Air,
    ) -> Result<Self, BatchError> {
        takeoff.check_enter(enter)?;
        takeoff.check_rider(rider)?;
        let is_calm = air.wind().norm() == 0.0;
        Ok(Self {
            takeoff: takeoff.clone(),
            enter,
            ground: ground.clone(),
            rider: rider.clone(),
            air: *air,
            lean: Lean::Deck,
            flights: Flights::new(ground, rider, air)?,
            family: is_calm.then(|| Family::new(takeoff, enter, rider, air)),
            together: matches!(ground.surfaces(), [Surface::Plane(_) | Surface::Grid(_)]),
        })
    }

    /// The same passes with another lean: each then goes the way of one pass, thousands of times as slow.
    pub fn with_lean(self, lean: Lean) -> Self {
        let family = self.family.filter(|_| lean == Lean::Deck);
        Self { lean, family, ..self }
    }

    /// What is flown onto.
    pub const fn ground(&self) -> &Ground {
        &self.ground
    }

    /// Passes of all entries, on the threads of a crew; the same numbers on any number of them.
    ///
    /// Row by row what the line's ride, its launch and flight give: places within 1e-8 m on a plane, within 1e-6 m on all
    /// other grounds; speeds over the surface within 1e-6 m/s. Errors: columns of other lengths than the entries; no
    /// threads; stopped by the watch.
    pub fn passes_into(
        &self,
        entries: Entries<'_>,
        out: &mut Columns<'_>,
        crew: &Crew<'_>,
    ) -> Result<(), BatchError> {
        out.check(entries.rows()?)?;
        let pieces: Vec<_> = entries.pieces(PIECE).zip(out.borrowed().pieces(PIECE)).collect();
        let work = |(entries, out): (Entries<'_>, Columns<'_>)| self.piece(entries, out);
        Ok(crew.each(pieces, |(entries, _)| entries.speed.len(), work)?)
    }

    /// As [`Self::passes_into`], into columns of their own.
    pub fn passes(&self, entries: Entries<'_>, crew: &Crew<'_>) -> Result<Rows, BatchError> {
        let mut rows = Rows::new(entries.speed.len());
        self.passes_into(entries, &mut rows.columns(), crew)?;
        Ok(rows)
    }

    fn piece(&self, entries: Entries<'_>, mut out: Columns<'_>) {
        let Some(family) = &self.family else {
            for at in 0..entries.speed.len() {
                out.write(at, &self.single(&entries.row(at)));
            }
            return;
        };
        let (mut chunk, mut touches, mut contacts) =
            (Chunk::new(), Touches::new(), Contacts::new());
        for (entries, mut out) in entries.pieces(ROWS).zip(out.pieces(ROWS)) {
            ARCH.dispatch(Fill { chunk: &mut chunk, entries, family, batch: self });
            out.entry_speed.copy_from_slice(entries.speed);
            if self.together {
                self.flights.fly(&chunk.starts, entries.speed.len(), &mut touches);
                let approach = Approach::Forward(&chunk.ahead);
                contacts.fill(&chunk.tyres, &touches, approach, &self.flights);
                contacts.write(&touches, &mut out.touches());
                chunk.write(&mut out);
            }
            self.finish(&entries, &chunk, &touches, &mut out);
        }
    }

    /// Writes statuses, and rows that went another way.
    fn finish(&self, entries: &Entries, chunk: &Chunk, touches: &Touches, out: &mut Columns) {
        for at in 0..out.status.len() {
            if chunk.known[at] && self.together && self.is_plain(chunk, touches, at) {
                out.status[at] = LANDED.code();
                continue;
            }
            let alone = (chunk.known[at] && !self.together).then(|| self.alone(entries, chunk, at));
            let row = alone.flatten().unwrap_or_else(|| self.single(&entries.row(at)));
            out.write(at, &row);
        }
    }

    /// Whether a touch is that of a rider who was clear of the ground and upright before it: whatever he reached before,
    /// it was no more than that.
    fn is_plain(&self, chunk: &Chunk, touches: &Touches, at: usize) -> bool {
        let owes = |lean: f64| lean / Reach::RIGHTING_RATE + HARDLY;
        let time = touches.time[at];
        touches.fate[at] == Fate::Touched
            && (time > owes(FRAC_PI_2) || time > owes(self.lean(chunk, at)))
            && self.is_clear(chunk, at)
    }

    /// The lean off the ground's normal at the launch; on other grounds than planes the most that counts.
    fn lean(&self, chunk: &Chunk, at: usize) -> f64 {
        let [Surface::Plane(plane)] = self.ground.surfaces() else { return FRAC_PI_2 };
        let along: f64 = (0..3).map(|i| chunk.up[i][at] * plane.normal()[i]).sum();
        along.clamp(-1.0, 1.0).acos()
    }

    fn is_clear(&self, chunk: &Chunk, at: usize) -> bool {
        let (place, within) = (chunk.starts.position(at), self.flights.height() + CLEAR);
        if let [Surface::Plane(plane)] = self.ground.surfaces() {
            return plane.above(&place) > within;
        }
        self.ground.contains(place.x, place.y) && self.ground.nearest(place, within).is_none()
    }

    /// The row of a flight by itself, where all is as certain as of a batch.
    fn alone(&self, entries: &Entries, chunk: &Chunk, at: usize) -> Option<Row> {
        let (entry_speed, exit_speed) = (entries.speed[at], chunk.exit_speed[at]);
        let mut row = Row { entry_speed, exit_speed, ..Row::none(Status::FAILED) };
        let status = self.flown(&chunk.launch(at), &mut row);
        row.status = status.code();
        // Off by a hair, who is not upright or leaves from the ground itself may come down elsewhere.
        (row.lean_owed == 0.0 && self.is_clear(chunk, at)).then_some(row)
    }
}

#[cfg(test)]
mod tests;
