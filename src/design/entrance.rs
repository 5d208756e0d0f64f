//! The entrance as it is ridden and built: what clears its crest and its hollow, the speed it costs, the earth in it.

mod clearance;
mod earth;
mod error;
mod side;

pub use clearance::{Chainring, Clearance};
pub use earth::RampEarth;
pub use error::{EntranceError, EntranceWarning};

use crate::air::Air;
use crate::earth::{Backfill, Crib, Retaining, Soil, Theory};
use crate::explain::Explanation;
use crate::feature::Entrance;
use crate::ground::Ground;
use crate::math::range::{OutOfRange, positive, within};
use crate::ride::{Outcome, RideError, RideOptions};
use crate::rider::Rider;
use serde::{Deserialize, Serialize};

/// A crib is this share of its height wide unless told otherwise: gravity walls are 0.5 to 0.7 of it (B. M. Das,
/// *Principles of Foundation Engineering*, from memory).
const CRIB_SHARE: f64 = 0.6;
/// People and riders close together, pascals ([`Backfill::with_surcharge`]).
const CROWD: f64 = 4310.0;
/// A back lower than this needs no crib, metres: a log.
const NO_BACK: f64 = 0.05;

/// How an entrance is ridden and built.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct EntranceOptions {
    speed: f64,
    batter: f64,
    soil: Soil,
    chainring: Chainring,
}

impl EntranceOptions {
    /// Entered at a speed, m/s, above 0; of loam, its sides at the slope that loam stands at when in doubt; a typical chainring.
    pub fn new(speed: f64) -> Result<Self, OutOfRange> {
        let soil = Soil::loam();
        let (batter, chainring) = (soil.stand_up().value(), Chainring::default());
        Ok(Self { speed: positive("speed", speed)?, batter, soil, chainring })
    }

    /// The same of another soil, with sides as it stands when in doubt.
    pub fn with_soil(self, soil: Soil) -> Self {
        Self { batter: soil.stand_up().value(), soil, ..self }
    }

    /// The same with sides at another angle, radians from 0.1 to 1.5.
    pub fn with_batter(self, batter: f64) -> Result<Self, OutOfRange> {
        Ok(Self { batter: within("batter", batter, 0.1, 1.5)?, ..self })
    }

    /// The same for another chainring.
    pub fn with_chainring(self, chainring: Chainring) -> Self {
        Self { chainring, ..self }
    }
}

/// What an entrance asks of bike and rider, and what it is built of. Stations are metres along its curve.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[non_exhaustive]
pub struct EntranceCheck {
    /// How near the chainring comes to the ground.
    pub clearance: Clearance,
    /// How much wider the hollow's radius is than the wheels', metres; below 0 the wheel hangs in it.
    pub wheel_room: f64,
    /// The speed it is entered at, m/s.
    pub speed: f64,
    /// The speed on the deck; none where he does not come there.
    pub deck_speed: Option<f64>,
    /// The least and the highest normal load on the way, g's; none where it could not be ridden.
    pub loads: Option<(f64, f64)>,
    /// The earth in it, and the height at its back.
    pub earth: RampEarth,
    /// How a crib of logs at its back, under the deck's start, holds it; none where the back is no higher than a log.
    pub crib: Option<Retaining>,
    /// What is not wrong but unwise.
    pub warnings: Vec<EntranceWarning>,
}

/// What a ride up an entrance gives.
#[derive(Default)]
struct Ridden {
    deck_speed: Option<f64>,
    /// Least and highest.
    loads: Option<(f64, f64)>,
    warning: Option<EntranceWarning>,
}

impl Entrance {
    /// What this entrance, on a ground, asks of a rider and his bike, and what it is built of.
    ///
    /// Errors: a wheel that is wider than the wheelbase lets it be, no known ground under it.
    pub fn check(
        &self,
        ground: &Ground,
        rider: &Rider,
        air: &Air,
        options: &EntranceOptions,
    ) -> Result<EntranceCheck, EntranceError> {
        let shape = self.shape();
        let wheel_room = shape.sag_radius - rider.wheel_radius();
        let clearance = self.clearance(rider, &options.chainring)?;
        let earth = self.ramp_earth(ground, options.batter)?;
        let Ridden { deck_speed, loads, warning } = self.ridden(rider, air, options.speed)?;
        let crib = (earth.back_height > NO_BACK)
            .then(|| {
                let crib = Crib::new(earth.back_height, CRIB_SHARE * earth.back_height)?;
                let backfill = Backfill::of(&options.soil).with_surcharge(CROWD)?;
                Ok::<_, EntranceError>(crib.holds(&backfill, Theory::Rankine)?)
            })
            .transpose()?;
        let speed = options.speed;
        let mut check = EntranceCheck {
            clearance,
            wheel_room,
            speed,
            deck_speed,
            loads,
            earth,
            crib,
            warnings: Vec::new(),
        };
        check.warnings = EntranceWarning::about(&check, warning, shape.ramp_grade, options);
        Ok(check)
    }

    /// The ride from the trail up onto the deck.
    fn ridden(&self, rider: &Rider, air: &Air, speed: f64) -> Result<Ridden, EntranceError> {
        let shape = self.shape();
        // Trail and deck are straight: the hollow begins and the crest ends with a joint of their own.
        let hollow = speed * onto(0.0, shape.sag_radius.recip(), rider);
        let ride = match self.line(0.0)?.ride(rider, air, &RideOptions::new(hollow)) {
            Ok(ride) => ride,
            Err(RideError::TooTight { radius, com_height, .. }) => {
                let warning = EntranceWarning::TooTightToRide { radius, com_height };
                return Ok(Ridden { warning: Some(warning), ..Ridden::default() });
            }
            Err(error) => return Err(error.into()),
        };
        let all = ride.samples.normal_load.iter();
        let least = all.clone().copied().fold(f64::INFINITY, f64::min);
        let most = all.copied().fold(f64::NEG_INFINITY, f64::max);
        let crest = onto(-shape.crest_radius.recip(), 0.0, rider);
        let deck_speed = ride.exit_speed().map(|speed| speed * crest);
        let warning = match ride.outcome {
            Outcome::LeftSurface { station } => {
                Some(EntranceWarning::LeavesCrest { station, speed })
            }
            _ => deck_speed.is_none().then_some(EntranceWarning::DoesNotArrive { speed }),
        };
        let loads = least.is_finite().then_some((least, most));
        Ok(Ridden { deck_speed, loads, warning })
    }
}

/// What the tyres' speed is multiplied by where the line's bend jumps: the energy of rider and wheels carries over.
fn onto(from: f64, to: f64, rider: &Rider) -> f64 {
    let factor = rider.rotating_factor();
    let inert = |bend: f64| (1.0 - rider.com_height() * bend).powi(2) + factor;
    (inert(from) / inert(to)).sqrt()
}

impl EntranceCheck {
    /// The model behind the numbers, its sources and its limits.
    pub fn explain(&self) -> Explanation {
        let model = "Clearance: two wheels of the rider's radius and wheelbase rest on the ramp's curve, trail and deck \
            straight on from its ends; the chainring is a circle between them; its distance to the curve is in closed \
            form, the least of it over all places is told. Speed: the ride along the middle line, one rigid rider. Earth: the \
            ramp with side batters over the ground, up to an upright back under the deck's start, summed over strips of 2 cm.";
        let limits = "Rigid bike: suspension that sinks takes its travel off the clearance; pedals and cranks hang lower \
            than the ring. The crib is an indication, on sand or loam, with a crowd on top. Timber is not designed here.";
        Explanation::new(model, limits)
            .with_input("speed", self.speed, "m/s")
            .with_input("clearance", self.clearance.least, "m")
            .with_input("wheel_room", self.wheel_room, "m")
            .with_input("earth", self.earth.volume, "m3")
            .with_input("back_height", self.earth.back_height, "m")
            .with_source("plane geometry; bottom bracket 335 mm high, chainstays 440 mm: common practice")
            .with_source("chainring: 32 teeth of half-inch pitch (ISO 606, from memory), and the chain on it")
            .with_source("crib: Rankine 1857; a width of 0.6 of the height after B. M. Das, Principles of Foundation \
                Engineering (from memory)")
    }
}

#[cfg(test)]
mod tests;
