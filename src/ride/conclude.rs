//! What is said when a ride is over.

use super::options::Lean;
use super::outcome::{Outcome, Slide, Slip, Warning};
use super::record::Record;
use super::result::{Exit, Ride};
use crate::geometry::{Line, Turn, Uphill};

/// The contact force may miss the centre of mass by this much before the ride is warned of, radians.
const LEAN_WARNED: f64 = 15.0 * std::f64::consts::PI / 180.0;

/// A ride that is over.
pub(super) struct Conclusion<'a> {
    pub(super) line: &'a Line,
    pub(super) lean: Lean,
    pub(super) grip: f64,
    /// What gravity gave, per mass.
    pub(super) gravity: f64,
    /// What ended it before the line's end, if anything.
    pub(super) ending: Option<Outcome>,
    /// The rider where it ended.
    pub(super) last: Exit,
    pub(super) warnings: Vec<Warning>,
}

impl Conclusion<'_> {
    /// The ride that was recorded like this.
    pub(super) fn ride(self, record: Record) -> Ride {
        let slip = record.slip.map(|(station, side)| Slip {
            station,
            slide: slide(self.line.uphill(), side),
            grip_needed: record.peak.demand.max(self.grip),
        });
        let outcome = self.ending.or(slip.map(Outcome::Slid)).unwrap_or(Outcome::Reached);
        let mut ledger = record.ledger;
        ledger.gravity = self.gravity;
        ledger.end = self.last.energy;
        let mut warnings = self.warnings;
        if let Some(station) = record.limited {
            warnings.push(Warning::BrakeLimited { station });
        }
        let angle = record.peak.demand.atan();
        // Who balances has the contact force through the centre of mass at every station.
        if self.lean == Lean::Deck && angle > LEAN_WARNED {
            warnings.push(Warning::LeanOwed { station: record.peak.station, angle });
        }
        let exit = outcome.reaches_end().then_some(self.last);
        let momentum = record.momentum(self.last.velocity());
        let Record { samples, peak, .. } = record;
        Ride { lean: self.lean, samples, outcome, slip, exit, peak, ledger, momentum, warnings }
    }
}

/// Without grip the tyres go where the side load does not push them.
fn slide(uphill: Uphill, side: f64) -> Slide {
    let goes = if side > 0.0 { Turn::Right } else { Turn::Left };
    match (uphill, goes) {
        (Uphill::To(up), goes) if up == goes => Slide::Up,
        (Uphill::To(_), _) => Slide::Down,
        (Uphill::Nowhere, Turn::Left) => Slide::Left,
        (Uphill::Nowhere, Turn::Right) => Slide::Right,
    }
}
