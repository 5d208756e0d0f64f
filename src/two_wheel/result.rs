//! A ride on two wheels, and what it says.

use super::bike::Bike;
use super::contacts::{Contacts, Hop};
use super::error::TwoWheelError;
use super::ledger::{TwoWheelLedger, TwoWheelMomentum};
use super::march::{March, march};
use super::options::TwoWheelOptions;
use super::outcome::{End, Spot, TwoWheelOutcome, TwoWheelWarning};
use super::peaks::TwoWheelPeaks;
use super::phase::{Setting, Stop};
use super::samples::TwoWheelSamples;
use super::settle;
use super::terrain::Terrain;
use crate::air::Air;
use crate::rider::Rider;
use serde::{Deserialize, Serialize};

/// A ride on two wheels: moment by moment, how it ended, its longest hop, and where its energy went.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[non_exhaustive]
pub struct TwoWheelRide {
    /// Moment by moment.
    pub samples: TwoWheelSamples,
    /// How it ended.
    pub outcome: TwoWheelOutcome,
    /// The longest time in the air and the landing after it; none where a wheel was always down.
    pub hop: Option<Hop>,
    /// Its hardest moments.
    pub peaks: TwoWheelPeaks,
    /// Where the energy went.
    pub ledger: TwoWheelLedger,
    /// Where the momentum went.
    pub momentum: TwoWheelMomentum,
    /// What the rider should know.
    pub warnings: Vec<TwoWheelWarning>,
    /// What was ridden.
    pub terrain: Terrain,
    /// Who rode.
    pub rider: Rider,
    /// How.
    pub options: TwoWheelOptions,
}

impl Rider {
    /// The ride over a terrain of a rigid body on two wheels with suspension and tyres, in the plane of travel.
    ///
    /// Bike and rider pitch, squat and leave the ground as the wheels do; nothing is steered, pumped or pulled up. Units
    /// are SI; the pitch is positive nose down. Each step's error is [`TwoWheelOptions::tolerance`]; the ledger closes to
    /// about a thousand times that, relative. Errors: a hollow tighter than the wheels, a start too near the terrain's
    /// beginning, an option out of its range, numbers that do not resolve.
    pub fn two_wheel_ride(
        &self,
        terrain: &Terrain,
        air: &Air,
        options: &TwoWheelOptions,
    ) -> Result<TwoWheelRide, TwoWheelError> {
        options.check()?;
        terrain.check_hollows(self.wheel_radius())?;
        let bike = Bike::new(self, air, terrain.heading(), &options.clearance)?;
        let setting = Setting { bike: &bike, terrain, options };
        let start = settle::state(&setting, &options.start)?;
        let march = march(&setting, start)?;
        let contacts = Contacts::of(&setting, &march);
        let hop = contacts.hop();
        let (outcome, clipped) = ending(&march, &contacts, hop.as_ref());
        let peaks = TwoWheelPeaks::of(&setting, &march);
        let mut warnings = peaks.warnings(&setting, self.absorber().leg_force);
        warnings.extend(clipped);
        warnings.extend(limited(&setting));
        Ok(TwoWheelRide {
            samples: TwoWheelSamples::of(&setting, &march, options.sample),
            outcome,
            hop,
            peaks,
            ledger: TwoWheelLedger::of(&setting, &march),
            momentum: TwoWheelMomentum::of(&setting, &march),
            warnings,
            terrain: terrain.clone(),
            rider: self.clone(),
            options: options.clone(),
        })
    }
}

/// How it ended, and the warning of a rear wheel that was caught without harm.
fn ending(
    march: &March,
    contacts: &Contacts,
    hop: Option<&Hop>,
) -> (TwoWheelOutcome, Option<TwoWheelWarning>) {
    let (spot, speed) =
        march.nodes.last().map_or((Spot { time: 0.0, distance: 0.0 }, 0.0), |node| {
            let y = &node.y;
            (Spot { time: node.time, distance: y[0] }, y[5].hypot(y[6]))
        });
    let plain = match march.last.stop {
        None => TwoWheelOutcome::TimeUp(spot),
        Some(Stop::AtEnd) if hop.is_none_or(|hop| hop.touched.iter().all(Option::is_some)) => {
            TwoWheelOutcome::RodeOut(spot)
        }
        Some(Stop::AtEnd | Stop::Off) => TwoWheelOutcome::OffTerrain(spot),
        Some(Stop::PitchedOver) => TwoWheelOutcome::PitchedOver(spot),
        Some(Stop::LoopedOut) => TwoWheelOutcome::LoopedOut(spot),
        Some(Stop::Stalled) => TwoWheelOutcome::Stalled(spot),
        Some(Stop::Struck) => TwoWheelOutcome::HungUp { at: spot, speed },
        Some(Stop::Crushed(wheel)) => TwoWheelOutcome::Crushed { wheel, at: spot },
    };
    let Some((mark, into)) = contacts.catch() else { return (plain, None) };
    let caught = Spot { time: mark.time, distance: mark.place.x };
    let is_lost = !matches!(plain, TwoWheelOutcome::RodeOut(_) | TwoWheelOutcome::TimeUp(_));
    if is_lost && Contacts::is_cause(&mark, &spot) {
        return (TwoWheelOutcome::RearCaught { caught, into, lost: spot }, None);
    }
    (plain, Some(TwoWheelWarning::RearClipped { at: caught, into }))
}

fn limited(setting: &Setting) -> Option<TwoWheelWarning> {
    let wanted = setting.options.braking?.deceleration;
    let most = setting.bike.grip * setting.bike.gravity;
    (wanted > most).then_some(TwoWheelWarning::BrakeLimited { wanted, most })
}

impl TwoWheelRide {
    /// Whether the suspension of a wheel came to the end of its travel.
    pub fn is_bottomed(&self, wheel: End) -> bool {
        let is_it = |warning: &TwoWheelWarning| matches!(warning, TwoWheelWarning::Bottomed { wheel: w, .. } if *w == wheel);
        self.warnings.iter().any(is_it)
    }
}
