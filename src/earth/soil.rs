//! Soils: how they swell when dug, shrink when placed, settle, weigh, and how steep they stand.

use serde::{Deserialize, Serialize};
use std::borrow::Cow;

/// A printed value with the span that sources and states of the soil give it.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize)]
pub struct Spread {
    /// The value that is reckoned with.
    pub value: f64,
    /// The low end.
    pub low: f64,
    /// The high end.
    pub high: f64,
}

/// A soil's numbers. All are for estimates: sources differ by a factor of up to three (gravel's
/// swell), so weigh a barrow and count the first ten.
///
/// Sources:
/// - swell, shrinkage, loose density: S. W. Nunnally, *Construction Methods and Management*, table of
///   typical soil weight and volume change (from memory); their spans: common practice;
/// - settlement: 5 % rolled and 10 % not rolled, USDA NRCS, *Ponds: Planning, Design, Construction*
///   (Agriculture Handbook 590); up to 15 to 20 % for fish-pond dykes, FAO Training Series 20/1;
/// - unit weight: B. Huat and others, *Geotechnics of Organic Soils and Peat*, table 3.5, above the
///   water table (loam as its silty sand);
/// - stand-up angle: 1.5 to 1 for gravel and loose sand, 1 to 1 for the hard and clean, J. Newman,
///   *Earthwork Slips and Subsidences* (1890); 2 to 1 for soils with little cohesion, USDA Forest
///   Service, *Trail Construction and Maintenance Notebook*; 1.5 to 1 for the weakest class of
///   29 CFR 1926 subpart P, appendix B (from memory). A wet slope stands less: half of it and below.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct Soil {
    /// What it is called.
    pub name: Cow<'static, str>,
    /// Growth from the bank to loose, as a share of the bank's volume.
    pub swell: Spread,
    /// Loss from the bank to placed and tamped, as a share of the bank's volume. (Some tables give
    /// the gain in density instead: that is another number.)
    pub shrinkage: Spread,
    /// Loss of height of the placed earth with time, as a share of its height as built.
    pub settlement: Spread,
    /// Weight of the placed earth, newtons per cubic metre.
    pub unit_weight: Spread,
    /// Mass of the loose earth in a barrow, kilograms per cubic metre.
    pub loose_density: Spread,
    /// The steepest angle a batter of it should be built at, radians; [`Spread::high`] when hard, dry and clean.
    pub stand_up: Spread,
}

/// Why there is no such soil.
#[derive(Debug, Clone, PartialEq, Eq, thiserror::Error)]
#[non_exhaustive]
pub enum SoilError {
    /// The name is in no table.
    #[error("soil = {name:?} is not known: one of {known}", known = Soil::NAMES.join(", "))]
    Unknown {
        /// The name that was asked for.
        name: String,
    },
}

const fn spread(value: f64, low: f64, high: f64) -> Spread {
    Spread { value, low, high }
}

/// 2 level to 1 up.
const TWO_TO_ONE: f64 = 0.463_647_609_000_806_1;
/// 1.5 level to 1 up.
const THREE_TO_TWO: f64 = 0.588_002_603_547_567_5;
/// 1 level to 1 up.
const ONE_TO_ONE: f64 = std::f64::consts::FRAC_PI_4;

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
            _ => Err(SoilError::Unknown { name: name.to_owned() }),
        }
    }

    /// Common earth: loam, silty sand, what a forest trail is mostly dug from (without its duff).
    pub fn loam() -> Self {
        Self {
            name: "loam".into(),
            swell: spread(0.25, 0.10, 0.30),
            shrinkage: spread(0.10, 0.05, 0.15),
            settlement: spread(0.10, 0.05, 0.20),
            unit_weight: spread(17.0e3, 12.5e3, 21.0e3),
            loose_density: spread(1471.0, 1220.0, 1471.0),
            stand_up: spread(THREE_TO_TWO, TWO_TO_ONE, ONE_TO_ONE),
        }
    }

    /// Sand.
    pub fn sand() -> Self {
        Self {
            name: "sand".into(),
            swell: spread(0.12, 0.05, 0.15),
            shrinkage: spread(0.12, 0.05, 0.15),
            settlement: spread(0.05, 0.02, 0.10),
            unit_weight: spread(18.0e3, 15.0e3, 21.0e3),
            loose_density: spread(1697.0, 1555.0, 1905.0),
            stand_up: spread(THREE_TO_TWO, TWO_TO_ONE, ONE_TO_ONE),
        }
    }

    /// Gravel, with or without sand.
    pub fn gravel() -> Self {
        Self {
            name: "gravel".into(),
            swell: spread(0.12, 0.05, 0.15),
            shrinkage: spread(0.12, 0.05, 0.15),
            settlement: spread(0.05, 0.02, 0.10),
            unit_weight: spread(19.0e3, 17.5e3, 20.5e3),
            loose_density: spread(1697.0, 1680.0, 2000.0),
            stand_up: spread(THREE_TO_TWO, THREE_TO_TWO, ONE_TO_ONE),
        }
    }

    /// Clay.
    pub fn clay() -> Self {
        Self {
            name: "clay".into(),
            swell: spread(0.30, 0.30, 0.40),
            shrinkage: spread(0.20, 0.10, 0.20),
            settlement: spread(0.10, 0.05, 0.20),
            unit_weight: spread(16.0e3, 12.5e3, 17.5e3),
            loose_density: spread(1370.0, 1370.0, 1760.0),
            stand_up: spread(TWO_TO_ONE, 0.5 * TWO_TO_ONE, THREE_TO_TWO),
        }
    }

    /// The height to build so that `height` is left when the earth has settled, metres.
    ///
    /// `height / (1 - settlement)`, as for the dykes of FAO Training Series 20/1.
    pub fn built_height(&self, height: f64) -> f64 {
        height / (1.0 - self.settlement.value)
    }
}

impl Default for Soil {
    fn default() -> Self {
        Self::loam()
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn every_name_gives_its_soil() {
        for name in Soil::NAMES {
            assert_eq!(Soil::named(name).map(|soil| soil.name), Ok(name.into()));
        }
        assert!(Soil::named("peat").is_err_and(|error| error.to_string().contains("loam, sand")));
    }

    #[test]
    fn values_lie_in_their_spans() {
        for name in Soil::NAMES {
            let soil = Soil::named(name).expect("a soil");
            for spread in [
                soil.swell,
                soil.shrinkage,
                soil.settlement,
                soil.unit_weight,
                soil.loose_density,
                soil.stand_up,
            ] {
                assert!(spread.low <= spread.value && spread.value <= spread.high, "{name}");
            }
        }
    }

    /// S. W. Nunnally's densities, kg/m3, of bank and compacted earth follow from loose ones (from memory).
    #[test]
    fn densities_follow_from_swell_and_shrinkage() {
        for (soil, bank, compacted) in [
            (Soil::loam(), 1839.0, 2047.0),
            (Soil::clay(), 1780.0, 2225.0),
            (Soil::sand(), 1899.0, 2166.0),
        ] {
            let in_bank = soil.loose_density.value * (1.0 + soil.swell.value);
            assert!((in_bank / bank - 1.0).abs() < 0.003, "{}", soil.name);
            let placed = in_bank / (1.0 - soil.shrinkage.value);
            assert!((placed / compacted - 1.0).abs() < 0.006, "{}", soil.name);
        }
    }

    /// FAO Training Series 20/1, section 6.1 (from memory): 130 cm at 15 % settlement is built 153 cm high.
    #[test]
    fn settlement_is_built_up() {
        let mut soil = Soil::clay();
        soil.settlement.value = 0.15;
        assert!((soil.built_height(1.30) - 1.53).abs() < 0.005);
    }
}
