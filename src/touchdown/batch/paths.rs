//! The ways of many flights, sampled into one array.

use super::{BatchError, Launches, PIECE};
use crate::flight::batch::{Batch, ROWS, Starts};
use crate::math::columns::{WrongRows, rows_of};
use crate::math::parallel::Crew;

impl Batch {
    /// Writes `out.len() / n` places of the centre of mass of each of `n` flights, evenly spaced in time from the launch to
    /// `time` seconds after it, both included; a flight's places one after another, metres. On the threads of a crew; the
    /// same numbers on any number of them.
    ///
    /// Within 1e-8 m of the path of the flight by itself. `time` may be the column of a batch's flights: a row that is NaN,
    /// below 0 or over 60 s, or whose launch is not finite, gives NaN. Errors: columns that do not fit; no threads; stopped
    /// by the watch.
    pub fn paths_into(
        &self,
        launches: Launches<'_>,
        time: &[f64],
        out: &mut [[f64; 3]],
        crew: &Crew<'_>,
    ) -> Result<(), BatchError> {
        let wanted = launches.rows()?;
        rows_of([("position", wanted), ("time", time.len())])?;
        let samples = out.len() / wanted.max(1);
        if samples * wanted != out.len() {
            let (field, given) = ("out", out.len());
            return Err(WrongRows { field, given, wanted: samples * wanted }.into());
        }
        let out = out.chunks_mut((PIECE * samples).max(1));
        let pieces: Vec<_> = launches.pieces(PIECE).zip(time.chunks(PIECE)).zip(out).collect();
        let work = |((launches, time), out): (_, _)| self.sampled(launches, time, samples, out);
        Ok(crew.each(pieces, |((launches, _), _)| launches.position.len(), work)?)
    }

    fn sampled(&self, launches: Launches<'_>, time: &[f64], samples: usize, out: &mut [[f64; 3]]) {
        let mut starts = Starts::new();
        let out = out.chunks_mut((ROWS * samples).max(1));
        for ((launches, time), out) in launches.pieces(ROWS).zip(time.chunks(ROWS)).zip(out) {
            starts.fill(launches.position, launches.velocity);
            let mut ends = [f64::NAN; ROWS];
            ends[..time.len()].copy_from_slice(time);
            self.sample(&starts, &ends, time.len(), out);
        }
    }
}
