//! One way in which a rider may lean on the wall, and what comes of it.

use crate::flight::Flight;
use crate::ground::{End, Ground};
use crate::passes::error::PassError;
use crate::ride::Lean;
use crate::touchdown::{Contact, TouchOutcome, Touchdown};
use std::cmp::Ordering;

/// The leans of a forecast's band: nobody knows beforehand how a rider leans, and the difference is not a detail.
pub const LEANS: [Lean; 3] = Lean::ALL;
/// The lean that judges what slides and what holds: of the three only it asks no roll moment of two tyres all along.
pub(crate) const JUDGE: Lean = Lean::Balanced;

/// A rider over the edge with one lean: how fast, along which path, and how he comes down.
#[derive(Debug, Clone, PartialEq)]
pub struct Way {
    /// The lean.
    pub lean: Lean,
    /// The tyres' speed at the edge, m/s.
    pub exit_speed: f64,
    /// The flight.
    pub flight: Flight,
    /// Where and how hard it comes down.
    pub touchdown: Touchdown,
}

impl Way {
    pub(crate) fn new(lean: Lean, exit_speed: f64, flight: Flight) -> Self {
        let touchdown = flight.touchdown();
        Self { lean, exit_speed, flight, touchdown }
    }

    /// The touch of the ground, where there is one.
    pub fn contact(&self) -> Option<&Contact> {
        self.touchdown.contact.as_ref()
    }

    /// The equivalent fall height, metres: that of the touch, that of the launch for who rolls off, infinite where
    /// there is no ground.
    pub fn fall_height(&self) -> f64 {
        let touched = self.contact().map(|contact| contact.fall_height);
        touched.or_else(|| rolled_fall_height(&self.flight)).unwrap_or(f64::INFINITY)
    }

    /// Whether he comes down where he should: on ground without a landing, on the landing's face, or rolling.
    pub const fn is_well_placed(&self) -> bool {
        matches!(
            self.touchdown.outcome,
            TouchOutcome::Landed | TouchOutcome::Caught | TouchOutcome::RolledOff
        )
    }

    /// Which of two ways is the harder: first the one that misses the landing, then the one that falls higher.
    pub(super) fn by_hardness(&self, other: &Self) -> Ordering {
        let misses = |way: &Self| !way.is_well_placed();
        misses(self)
            .cmp(&misses(other))
            .then_with(|| self.fall_height().total_cmp(&other.fall_height()))
    }

    /// The same path onto another ground.
    pub(super) fn on(&self, ground: &Ground) -> Result<Self, PassError> {
        Ok(Self::new(self.lean, self.exit_speed, self.flight.on(ground)?))
    }
}

/// How hard who rolls off goes onto the ground that he never cleared.
fn rolled_fall_height(flight: &Flight) -> Option<f64> {
    let (launch, reach) = (flight.launch(), flight.reach().height());
    let near = flight.ground().nearest(launch.position, reach.max(1e-6))?;
    let into = (-launch.velocity.dot(&near.normal)).max(0.0);
    matches!(flight.end(), End::RolledOff).then(|| into * into / (2.0 * flight.forces().g()))
}
