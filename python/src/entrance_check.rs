//! An entrance as it is ridden and built.

use crate::air::Air;
use crate::earth_soil::{Span, span};
use crate::earth_words::AnySoil;
use crate::entrance::Entrance;
use crate::errors::Failure;
use crate::ground::Ground;
use crate::pickle::pickled;
use crate::rider::Rider;
use crate::units::radians;
use loamline::design::{Chainring, EntranceCheck as Core, EntranceOptions};
use loamline::earth::Soil;
use pyo3::prelude::*;

/// What an entrance asks of bike and rider, and what it is built of.
///
/// Made by `check_entrance(...)`. Stations are m along the entrance's curve.
#[pyclass(frozen, eq, module = "loamline")]
#[derive(Debug, Clone, PartialEq)]
pub struct EntranceCheck {
    core: Core,
}

/// What an entrance asks of bike and rider, and what it is built of.
///
/// Does the chainring hit the crest, do the wheels fit into the hollow, what speed does it cost, how
/// much earth is in it with its side batters, and does a crib of logs hold its back under the deck?
///
/// Args:
///     entrance: the ramp.
///     ground: what it stands on.
///     rider, air: who rides, through what; no pedalling.
///     speed: on the trail before it, m/s, above 0.
///     soil: "loam", "sand", "gravel", "clay", or a `Soil`.
///     batter_deg: of its sides, 6 to 85 degrees; None takes what the soil stands at when in doubt.
///     chainring: height of its middle over level ground, radius with the chain on it, and how far
///         it is ahead of the rear axle, m; the default is 32 teeth (common practice).
///
/// Raises:
///     InputError: a number outside its range, ground that is not known under it.
///     RideError: a hollow tighter than the wheels, a ride that cannot be.
///
/// >>> import loamline as ll
/// >>> ramp = ll.Entrance(height=0.8, width=1.5, ramp_grade=0.3, sag_radius=4.0, crest_radius=3.0)
/// >>> check = ll.check_entrance(ramp, ll.Ground.plane(), ll.Rider(), ll.Air(), speed=6.0)
/// >>> round(check.back_height, 3), check.clearance > 0.15
/// (0.8, True)
#[pyfunction]
#[pyo3(
    signature = (
        entrance, ground, rider, air, speed, soil=None, batter_deg=None,
        chainring=(0.335, 0.07, 0.44),
    ),
    text_signature = "(entrance, ground, rider, air, speed, soil=\"loam\", batter_deg=None, chainring=(0.335, 0.07, 0.44))"
)]
pub fn check_entrance(
    py: Python<'_>,
    entrance: &Entrance,
    ground: &Ground,
    rider: &Rider,
    air: &Air,
    speed: f64,
    soil: Option<AnySoil<'_>>,
    batter_deg: Option<f64>,
    chainring: (f64, f64, f64),
) -> Result<EntranceCheck, Failure> {
    let soil = soil.map_or_else(|| Ok(Soil::loam()), |soil| soil.core())?;
    let (height, radius, ahead) = chainring;
    let ring = Chainring::new(height, radius, ahead)?;
    let mut options = EntranceOptions::new(speed)?.with_soil(soil).with_chainring(ring);
    if let Some(batter) = batter_deg {
        options = options.with_batter(radians("batter_deg", batter)?)?;
    }
    let (entrance, ground) = (&entrance.core, &ground.core);
    let (rider, air) = (&rider.core, &air.core);
    Ok(EntranceCheck { core: py.detach(|| entrance.check(ground, rider, air, &options))? })
}

#[pymethods]
impl EntranceCheck {
    /// Least distance of the chainring from the ground, m; below 0 it hits.
    #[getter]
    fn clearance(&self) -> f64 {
        self.core.clearance.least
    }

    /// The chainring's distance from level ground, m.
    #[getter]
    fn level_clearance(&self) -> f64 {
        self.core.clearance.level
    }

    /// Station of the rear wheel where the chainring comes nearest, m.
    #[getter]
    fn clearance_station(&self) -> f64 {
        self.core.clearance.rear_station
    }

    /// How much wider the hollow's radius is than the wheels', m.
    #[getter]
    fn wheel_room(&self) -> f64 {
        self.core.wheel_room
    }

    /// Speed on the trail before it, m/s.
    #[getter]
    fn speed(&self) -> f64 {
        self.core.speed
    }

    /// Speed on the deck, m/s; None where the rider does not come there on his tyres.
    #[getter]
    fn deck_speed(&self) -> Option<f64> {
        self.core.deck_speed
    }

    /// Least and highest normal load on the way, g's; None where it could not be ridden.
    #[getter]
    fn loads(&self) -> Option<(f64, f64)> {
        self.core.loads
    }

    /// Earth in place with the side batters, m^3.
    #[getter]
    fn volume(&self) -> f64 {
        self.core.earth.volume
    }

    /// Height of the deck's start over the ground, m: what stands upright at the back.
    #[getter]
    fn back_height(&self) -> f64 {
        self.core.earth.back_height
    }

    /// Height of the entrance's start over the ground, m.
    #[getter]
    fn start_gap(&self) -> f64 {
        self.core.earth.start_gap
    }

    /// Width of the crib at its back front to back, m; None where the back is no higher than a log.
    #[getter]
    fn crib_width(&self) -> Option<f64> {
        self.core.crib.as_ref().map(|held| held.crib.width())
    }

    /// Safety of that crib against sliding (value, low, high), an indication; None without one.
    #[getter]
    fn crib_sliding(&self) -> Option<Span> {
        self.core.crib.as_ref().map(|held| span(held.sliding))
    }

    /// Safety of that crib against overturning (value, low, high), an indication; None without one.
    #[getter]
    fn crib_overturning(&self) -> Option<Span> {
        self.core.crib.as_ref().map(|held| span(held.overturning))
    }

    /// What is not wrong but unwise, the crib's cautions too.
    #[getter]
    fn warnings(&self) -> Vec<String> {
        let own = self.core.warnings.iter().map(ToString::to_string);
        let crib = self.core.crib.iter().flat_map(|held| &held.warnings);
        own.chain(crib.map(|caution| format!("crib: {caution}"))).collect()
    }

    /// The model behind the numbers, what went in, its sources and its limits, in paragraphs.
    fn explain(&self) -> String {
        self.core.explain().to_string()
    }

    fn __repr__(&self) -> String {
        let (clear, earth) = (self.core.clearance.least, self.core.earth.volume);
        let deck = self.core.deck_speed.map_or_else(
            || "does not come to the deck".to_owned(),
            |speed| format!("{speed:.2} m/s on the deck"),
        );
        format!("<EntranceCheck: {clear:.3} m under the chainring, {deck}, {earth:.2} m3>")
    }
}

pickled!(EntranceCheck, Core);
