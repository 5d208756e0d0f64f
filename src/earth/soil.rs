//! Soils: how they swell when dug, shrink when placed, settle, weigh, and how steep they stand.

use super::{Digging, Grain, Spread};
use crate::math::range::{OutOfRange, positive};
use serde::{Deserialize, Serialize};
use std::borrow::Cow;
use std::f64::consts::{FRAC_PI_2, FRAC_PI_4};

/// A soil's numbers. All are for estimates: sources differ by a factor of up to three (gravel's
/// swell), so weigh a barrow and count the first ten.
///
/// Sources:
/// - swell: B. Roseke's list of swell factors (loam 25, sand and gravel 12, clay 40 % of the bank), gravel
///   from 5 % wet to 15 % dry and clay from 35 % in a list that names its origins; with shrinkage and loose
///   density as in S. W. Nunnally, *Construction Methods and Management*, table of typical soil weight and
///   volume change (from memory);
/// - loose density's span: dry to wet, as tabulated by engineers' handbooks on line;
/// - settlement: 5 % rolled and 10 % not rolled, USDA NRCS, *Ponds: Planning, Design, Construction*
///   (Agriculture Handbook 590); up to 15 to 20 % for fish-pond dykes, FAO Training Series 20/1;
/// - unit weight: B. Huat and others, *Geotechnics of Organic Soils and Peat*, table 3.5, above the
///   water table and below it (loam as its silty sand); values near the middle of the span;
/// - angle of friction: loose to medium for fill that was shovelled and tamped, 28 to 36 degrees for grains;
///   27 clay, 32 mixed, 36 sand and gravel, and 26 to 28 sandy clay, 28 to 30 silty sand in a maker's chart
///   for low walls;
/// - stand-up angle: 1.5 to 1 for gravel and loose sand, 1 to 1 for the hard and clean, J. Newman,
///   *Earthwork Slips and Subsidences* (1890); 2 to 1 for soils with little cohesion, USDA Forest
///   Service, *Trail Construction and Maintenance Notebook*; 1.5 to 1 for the weakest class of
///   29 CFR 1926 subpart P, appendix B (from memory). A wet slope stands less: half of it and below.
///
/// Duff and peat are no soil to build of: they weigh about as much as water, and settle by 40 % and more.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[serde(try_from = "Numbers", into = "Numbers")]
pub struct Soil {
    numbers: Numbers,
}

#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
struct Numbers {
    name: Cow<'static, str>,
    swell: Spread,
    shrinkage: Spread,
    settlement: Spread,
    unit_weight: Spread,
    saturated_weight: Spread,
    loose_density: Spread,
    friction: Spread,
    stand_up: Spread,
    digging: Digging,
    grain: Grain,
}

/// Why there is no such soil, or it does not do what is asked of it.
#[derive(Debug, Clone, PartialEq, thiserror::Error)]
#[non_exhaustive]
pub enum SoilError {
    /// The name is in no table.
    #[error("soil = {name:?} is not known: one of {known}", known = Soil::NAMES.join(", "))]
    Unknown {
        /// The name that was asked for.
        name: String,
    },
    /// What is mostly dead leaves and roots.
    #[error(
        "soil = {name:?} is no fill: it settles by 40 % and more and weighs no more than water; strip it, keep it for \
         the finished sides, and dig in the mineral earth below it: one of {known}", known = Soil::NAMES.join(", ")
    )]
    Organic {
        /// The name that was asked for.
        name: String,
    },
    /// A number that cannot be.
    #[error(transparent)]
    OutOfRange(#[from] OutOfRange),
}

const fn spread(value: f64, low: f64, high: f64) -> Spread {
    Spread::printed(value, low, high)
}

const fn degrees(value: f64, low: f64, high: f64) -> Spread {
    const DEGREE: f64 = std::f64::consts::PI / 180.0;
    Spread::printed(value * DEGREE, low * DEGREE, high * DEGREE)
}

/// 2 level to 1 up.
const TWO_TO_ONE: f64 = 0.463_647_609_000_806_1;
/// 1.5 level to 1 up.
const THREE_TO_TWO: f64 = 0.588_002_603_547_567_5;
/// 1 level to 1 up.
const ONE_TO_ONE: f64 = FRAC_PI_4;

/// Names of what a forest floor is covered with.
const ORGANIC: [&str; 6] = ["duff", "humus", "leaf mould", "muck", "peat", "topsoil"];

impl Soil {
    /// The names that [`Soil::named`] knows.
    pub const NAMES: [&'static str; 4] = ["loam", "sand", "gravel", "clay"];

    /// The soil of a name, one of [`Soil::NAMES`].
    pub fn named(name: &str) -> Result<Self, SoilError> {
        match name {
            "loam" => Ok(Self::loam()),
            "sand" => Ok(Self::sand()),
            "gravel" => Ok(Self::gravel()),
            "clay" => Ok(Self::clay()),
            _ if ORGANIC.contains(&name) => Err(SoilError::Organic { name: name.to_owned() }),
            _ => Err(SoilError::Unknown { name: name.to_owned() }),
        }
    }

    /// Common earth: loam, silty sand, what a forest trail is mostly dug from (without its duff).
    pub fn loam() -> Self {
        Self::of(Numbers {
            name: "loam".into(),
            swell: spread(0.25, 0.10, 0.30),
            shrinkage: spread(0.10, 0.05, 0.15),
            settlement: spread(0.10, 0.05, 0.20),
            unit_weight: spread(17.0e3, 12.5e3, 21.0e3),
            saturated_weight: spread(19.75e3, 17.5e3, 22.0e3),
            loose_density: spread(1471.0, 1220.0, 1471.0),
            friction: degrees(29.0, 28.0, 32.0),
            stand_up: spread(THREE_TO_TWO, TWO_TO_ONE, ONE_TO_ONE),
            digging: Digging::Medium,
            grain: Grain::Cohesive,
        })
    }

    /// Sand.
    pub fn sand() -> Self {
        Self::of(Numbers {
            name: "sand".into(),
            swell: spread(0.12, 0.05, 0.15),
            shrinkage: spread(0.12, 0.05, 0.15),
            settlement: spread(0.05, 0.02, 0.10),
            unit_weight: spread(18.0e3, 15.0e3, 21.0e3),
            saturated_weight: spread(21.0e3, 19.0e3, 23.0e3),
            loose_density: spread(1697.0, 1555.0, 1905.0),
            friction: degrees(30.0, 28.0, 36.0),
            stand_up: spread(THREE_TO_TWO, TWO_TO_ONE, ONE_TO_ONE),
            digging: Digging::Light,
            grain: Grain::Granular,
        })
    }

    /// Gravel, with or without sand.
    pub fn gravel() -> Self {
        Self::of(Numbers {
            name: "gravel".into(),
            swell: spread(0.12, 0.05, 0.15),
            shrinkage: spread(0.12, 0.05, 0.15),
            settlement: spread(0.05, 0.02, 0.10),
            unit_weight: spread(19.0e3, 17.5e3, 20.5e3),
            saturated_weight: spread(20.75e3, 19.5e3, 22.0e3),
            loose_density: spread(1697.0, 1680.0, 2000.0),
            friction: degrees(34.0, 30.0, 36.0),
            stand_up: spread(THREE_TO_TWO, THREE_TO_TWO, ONE_TO_ONE),
            digging: Digging::Heavy,
            grain: Grain::Granular,
        })
    }

    /// Clay.
    pub fn clay() -> Self {
        Self::of(Numbers {
            name: "clay".into(),
            swell: spread(0.30, 0.30, 0.40),
            shrinkage: spread(0.20, 0.10, 0.20),
            settlement: spread(0.10, 0.05, 0.20),
            unit_weight: spread(16.0e3, 12.5e3, 17.5e3),
            saturated_weight: spread(18.0e3, 11.0e3, 19.5e3),
            loose_density: spread(1370.0, 1370.0, 1760.0),
            friction: degrees(26.0, 26.0, 28.0),
            stand_up: spread(TWO_TO_ONE, 0.5 * TWO_TO_ONE, THREE_TO_TWO),
            digging: Digging::Heavy,
            grain: Grain::Cohesive,
        })
    }

    fn of(numbers: Numbers) -> Self {
        Self { numbers }
    }

    /// What it is called.
    pub fn name(&self) -> &str {
        &self.numbers.name
    }

    /// Growth from the bank to loose, as a share of the bank's volume.
    pub fn swell(&self) -> Spread {
        self.numbers.swell
    }

    /// Loss from the bank to placed and tamped, as a share of the bank's volume. (Some tables give
    /// the gain in density instead: that is another number.)
    pub fn shrinkage(&self) -> Spread {
        self.numbers.shrinkage
    }

    /// Loss of height of the placed earth with time, as a share of its height as built.
    pub fn settlement(&self) -> Spread {
        self.numbers.settlement
    }

    /// Weight of the placed earth, newtons per cubic metre.
    pub fn unit_weight(&self) -> Spread {
        self.numbers.unit_weight
    }

    /// Weight of the placed earth with its pores full of water, newtons per cubic metre.
    pub fn saturated_weight(&self) -> Spread {
        self.numbers.saturated_weight
    }

    /// Mass of the loose earth in a barrow, kilograms per cubic metre.
    pub fn loose_density(&self) -> Spread {
        self.numbers.loose_density
    }

    /// The angle of internal friction of the placed earth, radians.
    pub fn friction(&self) -> Spread {
        self.numbers.friction
    }

    /// The steepest angle a batter of it should be built at, radians; [`Spread::high`] when hard, dry and clean.
    pub fn stand_up(&self) -> Spread {
        self.numbers.stand_up
    }

    /// How hard it is to dig.
    pub fn digging(&self) -> Digging {
        self.numbers.digging
    }

    /// Whether its grains stick together.
    pub fn grain(&self) -> Grain {
        self.numbers.grain
    }

    /// The same under another name.
    pub fn with_name(self, name: impl Into<Cow<'static, str>>) -> Self {
        Self::of(Numbers { name: name.into(), ..self.numbers })
    }

    /// The same, dug with another effort.
    pub fn with_digging(self, digging: Digging) -> Self {
        Self::of(Numbers { digging, ..self.numbers })
    }

    /// The same with grains that stick together, or that do not.
    pub fn with_grain(self, grain: Grain) -> Self {
        Self::of(Numbers { grain, ..self.numbers })
    }

    /// The same with another swell, from 0 to 2.
    pub fn with_swell(self, swell: Spread) -> Result<Self, OutOfRange> {
        Numbers { swell, ..self.numbers }.try_into()
    }

    /// The same with another shrinkage, from -1 (broken rock, which stays larger than its bank) to below 1.
    pub fn with_shrinkage(self, shrinkage: Spread) -> Result<Self, OutOfRange> {
        Numbers { shrinkage, ..self.numbers }.try_into()
    }

    /// The same with another settlement, from 0 to below 1.
    pub fn with_settlement(self, settlement: Spread) -> Result<Self, OutOfRange> {
        Numbers { settlement, ..self.numbers }.try_into()
    }

    /// The same with another weight of the placed earth, newtons per cubic metre, above 0.
    pub fn with_unit_weight(self, unit_weight: Spread) -> Result<Self, OutOfRange> {
        Numbers { unit_weight, ..self.numbers }.try_into()
    }

    /// The same with another weight when full of water, newtons per cubic metre, above 0.
    pub fn with_saturated_weight(self, saturated_weight: Spread) -> Result<Self, OutOfRange> {
        Numbers { saturated_weight, ..self.numbers }.try_into()
    }

    /// The same with another density when loose, kilograms per cubic metre, above 0.
    pub fn with_loose_density(self, loose_density: Spread) -> Result<Self, OutOfRange> {
        Numbers { loose_density, ..self.numbers }.try_into()
    }

    /// The same with another angle of internal friction, radians, above 0 and below a right angle.
    pub fn with_friction(self, friction: Spread) -> Result<Self, OutOfRange> {
        Numbers { friction, ..self.numbers }.try_into()
    }

    /// The same with another stand-up angle, radians, above 0 and below a right angle.
    pub fn with_stand_up(self, stand_up: Spread) -> Result<Self, OutOfRange> {
        Numbers { stand_up, ..self.numbers }.try_into()
    }

    /// The same with swell and shrinkage as three weighed buckets give them: densities in the bank, loose and placed,
    /// kilograms per cubic metre, above 0 and at the same moisture.
    ///
    /// `swell = bank / loose - 1`, `shrinkage = 1 - bank / placed`: loss of volume, not gain of density.
    pub fn with_densities(self, bank: f64, loose: f64, placed: f64) -> Result<Self, OutOfRange> {
        let (bank, loose) = (positive("bank", bank)?, positive("loose", loose)?);
        let placed = positive("placed", placed)?;
        self.with_swell(Spread::exactly(bank / loose - 1.0)?)?
            .with_shrinkage(Spread::exactly(1.0 - bank / placed)?)?
            .with_loose_density(Spread::exactly(loose)?)
    }

    /// The height to build so that `height` is left when the earth has settled, metres.
    ///
    /// `height / (1 - settlement)`, as for the dykes of FAO Training Series 20/1.
    pub fn built_height(&self, height: f64) -> f64 {
        height / (1.0 - self.numbers.settlement.value())
    }
}

impl Default for Soil {
    fn default() -> Self {
        Self::loam()
    }
}

impl TryFrom<Numbers> for Soil {
    type Error = OutOfRange;
    fn try_from(numbers: Numbers) -> Result<Self, OutOfRange> {
        const LEAST: f64 = f64::MIN_POSITIVE;
        let (below_one, below_upright) = (1.0_f64.next_down(), FRAC_PI_2.next_down());
        numbers.swell.between("swell", 0.0, 2.0)?;
        numbers.shrinkage.between("shrinkage", -1.0, below_one)?;
        numbers.settlement.between("settlement", 0.0, below_one)?;
        numbers.unit_weight.between("unit_weight", LEAST, f64::MAX)?;
        numbers.saturated_weight.between("saturated_weight", LEAST, f64::MAX)?;
        numbers.loose_density.between("loose_density", LEAST, f64::MAX)?;
        numbers.friction.between("friction", LEAST, below_upright)?;
        numbers.stand_up.between("stand_up", LEAST, below_upright)?;
        Ok(Self { numbers })
    }
}

impl From<Soil> for Numbers {
    fn from(soil: Soil) -> Self {
        soil.numbers
    }
}

#[cfg(test)]
mod tests;
