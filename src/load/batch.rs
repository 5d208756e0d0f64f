//! The loads of many landings at once: what one landing's loads say, a row a landing.

mod status;

pub use status::Status;

use super::impact::STANDARD_GRAVITY;
use super::ledger::Ledger;
use super::march::{Until, march};
use super::record::Record;
use super::{Chain, Impact, LoadError, Softness, Stage, simple};
use crate::math::columns::{WrongRows, columns, rows_of};
use crate::math::parallel::{Crew, CrewError};
use crate::rider::Rider;
use serde::{Deserialize, Serialize};

/// Landings that one thread takes at a time.
const PIECE: usize = 64;

/// Why there are no loads of a batch.
#[derive(Debug, Clone, PartialEq, thiserror::Error)]
#[non_exhaustive]
pub enum BatchError {
    /// Columns of different lengths.
    #[error(transparent)]
    Rows(#[from] WrongRows),
    /// A rider without a chain, or a number out of its range that all landings share.
    #[error(transparent)]
    Load(#[from] LoadError),
    /// The work was not done, or not to its end.
    #[error(transparent)]
    Crew(#[from] CrewError),
}

/// What takes the landings.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, Default, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
#[non_exhaustive]
pub enum Onto {
    /// Tyres, suspension, legs.
    #[default]
    Bike,
    /// The legs alone: down on foot, without the bike.
    Foot,
}

/// What all landings of a batch share beside the rider.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize)]
pub struct BatchOptions {
    /// What takes them: the bike unless said otherwise.
    pub onto: Onto,
    /// Gravity, m/s^2, above 0: standard gravity unless known better.
    pub gravity: f64,
    /// What the ground does: nothing unless said otherwise.
    pub ground: Softness,
}

impl Default for BatchOptions {
    fn default() -> Self {
        Self { onto: Onto::default(), gravity: STANDARD_GRAVITY, ground: Softness::default() }
    }
}

/// How each comes down. A number that is not finite or out of its range spoils only its own row.
#[derive(Debug, Clone, Copy)]
pub struct Impacts<'a> {
    /// Speed into the surface, m/s, at least 0.
    pub normal_speed: &'a [f64],
    /// How far the surface is off level, radians, from 0 to a right angle.
    pub slope: &'a [f64],
}

columns! {
    /// What many landings take, a row a landing; NaN where a landing has no loads, or its chain no such member. SI.
    rows Rows;
    /// Columns to be written over, all of the same length: those of [`Rows`].
    columns Columns;
    /// What one landing takes.
    row Row;
    status Status, Status::Failed;
    /// The highest force on the body, N.
    peak_force: f64;
    /// That in weights of the body.
    peak_bodyweights: f64;
    /// Seconds from the touch to it.
    peak_time: f64;
    /// The constant force, in weights, that would have stopped the body over the same way; NaN where it is not stopped.
    mean_bodyweights: f64;
    /// How far the body came down after the touch, metres.
    stopping_distance: f64;
    /// The impulse that the ground gave over the record, N s.
    impulse: f64;
    /// The highest force of the ground on tyres or feet, N.
    ground_force: f64;
    /// The highest force in the suspension, N.
    suspension_force: f64;
    /// How far the suspension was pressed together at most, metres.
    suspension_used: f64;
    /// How far legs and arms were pressed together at most, metres.
    legs_used: f64;
    /// How long the record runs, seconds.
    duration: f64;
    /// Whether the suspension came to its stop.
    suspension_bottomed: bool;
    /// Whether legs and arms came to theirs.
    legs_bottomed: bool;
}

/// Landings of one rider, on the bike or on foot.
#[derive(Debug, Clone)]
pub struct Batch {
    chain: Chain,
    level: Impact,
}

impl<'a> Impacts<'a> {
    fn rows(&self) -> Result<usize, WrongRows> {
        rows_of([("normal_speed", self.normal_speed.len()), ("slope", self.slope.len())])
    }

    fn pieces(self, rows: usize) -> impl Iterator<Item = Self> + use<'a> {
        let pieces = self.normal_speed.chunks(rows).zip(self.slope.chunks(rows));
        pieces.map(|(normal_speed, slope)| Self { normal_speed, slope })
    }
}

impl Batch {
    /// Landings of this rider. Errors: a rider no heavier than the bike; gravity out of its range.
    pub fn new(rider: &Rider, options: BatchOptions) -> Result<Self, BatchError> {
        let level = Impact::at_speed(0.0)?.with_gravity(options.gravity)?.onto(options.ground);
        let chain = match options.onto {
            Onto::Bike => rider.chain(&level)?,
            Onto::Foot => rider.chain_on_foot(&level)?,
        };
        Ok(Self { chain, level })
    }

    /// The chain that takes them.
    pub const fn chain(&self) -> &Chain {
        &self.chain
    }

    /// Writes the loads of all landings, on the threads of a crew: row by row, to the last bit, what
    /// [`Chain::loads`] gives, on any number of them.
    ///
    /// Errors: columns of other lengths than the impacts; no threads; stopped by the watch.
    pub fn loads_into(
        &self,
        impacts: Impacts<'_>,
        out: &mut Columns<'_>,
        crew: &Crew<'_>,
    ) -> Result<(), BatchError> {
        out.check(impacts.rows()?)?;
        let pieces: Vec<_> = impacts.pieces(PIECE).zip(out.borrowed().pieces(PIECE)).collect();
        let work = |(impacts, mut out): (Impacts<'_>, Columns<'_>)| {
            for (at, speed) in impacts.normal_speed.iter().enumerate() {
                out.write(at, &self.row(*speed, impacts.slope[at]));
            }
        };
        Ok(crew.each(pieces, |(impacts, _)| impacts.normal_speed.len(), work)?)
    }

    /// As [`Self::loads_into`], into columns of their own.
    pub fn loads(&self, impacts: Impacts<'_>, crew: &Crew<'_>) -> Result<Rows, BatchError> {
        let mut rows = Rows::new(impacts.normal_speed.len());
        self.loads_into(impacts, &mut rows.columns(), crew)?;
        Ok(rows)
    }

    fn row(&self, normal_speed: f64, slope: f64) -> Row {
        let taken = self.impact(normal_speed, slope).and_then(|impact| self.taken(&impact));
        match taken {
            Ok(row) => row,
            Err(LoadError::Value(_)) => Row::none(Status::BadInput),
            Err(_) => Row::none(Status::Failed),
        }
    }

    fn impact(&self, normal_speed: f64, slope: f64) -> Result<Impact, LoadError> {
        let level = Impact::at_speed(normal_speed)?.with_gravity(self.level.gravity())?;
        level.onto(self.level.ground()).with_slope(slope)
    }

    /// What one landing takes: as [`Chain::loads`] has it, but for samples and energies.
    fn taken(&self, impact: &Impact) -> Result<Row, LoadError> {
        let (mut record, mut ledger) = (Record::of_peaks(&self.chain), Ledger::default());
        let (_, duration, _) = march(&self.chain, impact, Until::End, |stretch| {
            record.add(stretch);
            ledger.add_ground(stretch);
        })?;
        let is_stopped = record.lowest.time < duration;
        let status = if is_stopped { Status::Stopped } else { Status::NotStopped };
        let body = record.tracks.last().map(|track| track.highest_force).unwrap_or_default();
        let ground = record.tracks.first().map(|track| track.highest_force).unwrap_or_default();
        let row = Row {
            peak_force: body.value,
            peak_bodyweights: body.value / (self.chain.body_mass() * impact.gravity()),
            peak_time: body.time,
            stopping_distance: record.lowest.value,
            impulse: ledger.ground_impulse,
            ground_force: ground.value,
            duration,
            ..Row::none(status)
        };
        let mean = || simple::constant_force(impact, record.lowest.value);
        let row = Row { mean_bodyweights: if is_stopped { mean() } else { f64::NAN }, ..row };
        Ok(self.chain.links.iter().zip(&record.tracks).fold(row, |row, (link, track)| {
            let (used, force) = (track.deepest.value, track.highest_force.value);
            let bottomed = link.part.travel().is_some_and(|travel| used > travel);
            match link.stage {
                Stage::Ground => row,
                Stage::Suspension => Row {
                    suspension_force: force,
                    suspension_used: used,
                    suspension_bottomed: bottomed,
                    ..row
                },
                Stage::Legs => Row { legs_used: used, legs_bottomed: bottomed, ..row },
            }
        }))
    }
}
