//! From a placed volume to barrows and mass.

use super::Soil;
use crate::math::range::{OutOfRange, non_negative, positive};
use serde::{Deserialize, Serialize};

/// A barrow, by the loose earth it carries.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize)]
pub struct Barrow {
    volume: f64,
}

impl Barrow {
    /// A barrow that carries this much loose earth, cubic metres.
    pub fn new(volume: f64) -> Result<Self, OutOfRange> {
        Ok(Self { volume: positive("barrow_volume", volume)? })
    }

    /// The loose earth it carries, cubic metres.
    pub fn volume(&self) -> f64 {
        self.volume
    }
}

/// A builder's barrow filled level: 0.08 m3 (common practice; garden barrows take 0.057 to 0.085 m3,
/// which is 2 to 3 cubic feet, and the largest 0.17 m3).
impl Default for Barrow {
    fn default() -> Self {
        Self { volume: 0.08 }
    }
}

/// What a placed volume takes: volumes in cubic metres by state, mass in kilograms.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize)]
pub struct Loads {
    /// As built: the volume of the landing on the day it is done.
    pub placed: f64,
    /// What is left of it when it has settled.
    pub settled: f64,
    /// What has to be dug out of the ground.
    pub bank: f64,
    /// What has to be carried.
    pub loose: f64,
    /// The mass carried.
    pub mass: f64,
    /// Barrows full; round up.
    pub barrows: f64,
    /// The mass of one full barrow.
    pub barrow_mass: f64,
}

impl Loads {
    /// The loads for a placed volume of a soil, cubic metres, carried in a barrow.
    ///
    /// `bank = placed / (1 - shrinkage)`, `loose = bank (1 + swell)`, `settled = placed (1 - settlement)`.
    /// As uncertain as the soil's numbers: see [`Soil`].
    pub fn of(placed: f64, soil: &Soil, barrow: &Barrow) -> Result<Self, OutOfRange> {
        let placed = non_negative("volume", placed)?;
        let bank = placed / (1.0 - soil.shrinkage.value);
        let loose = bank * (1.0 + soil.swell.value);
        let density = soil.loose_density.value;
        Ok(Self {
            placed,
            settled: placed * (1.0 - soil.settlement.value),
            bank,
            loose,
            mass: loose * density,
            barrows: loose / barrow.volume,
            barrow_mass: barrow.volume * density,
        })
    }

    /// The placed volume that a number of barrows of loose earth makes, cubic metres.
    pub fn placed_from_barrows(
        barrows: f64,
        soil: &Soil,
        barrow: &Barrow,
    ) -> Result<f64, OutOfRange> {
        let loose = non_negative("barrows", barrows)? * barrow.volume;
        Ok(loose / (1.0 + soil.swell.value) * (1.0 - soil.shrinkage.value))
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    /// The states of J. E. Schaufelberger and G. C. Migliaccio, *Construction Equipment Management*, chapter 5:
    /// bank 2800, loose 2295, compacted 3256 lb/yd3; 817 yd3 compacted keep 950 yd3 of bank.
    #[test]
    fn bank_and_loose_from_densities() {
        let mut soil = Soil::loam();
        soil.swell.value = 2800.0 / 2295.0 - 1.0;
        soil.shrinkage.value = 1.0 - 2800.0 / 3256.0;
        assert!((soil.swell.value - 0.22).abs() < 5e-4);
        let loads = Loads::of(817.0, &soil, &Barrow::default()).expect("loads");
        assert!((loads.bank - 950.05).abs() < 0.01);
        assert!((loads.loose / loads.bank - 1.22).abs() < 5e-4);
    }

    /// 80 litres of moist loose earth at 1250 kg/m3 weigh 100 kg.
    #[test]
    fn mass_of_a_barrow() {
        let mut soil = Soil::loam();
        soil.loose_density.value = 1250.0;
        let loads = Loads::of(1.0, &soil, &Barrow::default()).expect("loads");
        assert!((loads.barrow_mass - 100.0).abs() < 1e-9);
        assert!((loads.mass - loads.barrows * loads.barrow_mass).abs() < 1e-9);
    }

    #[test]
    fn barrows_and_back() {
        let (soil, barrow) = (Soil::clay(), Barrow::new(0.06).expect("a barrow"));
        let loads = Loads::of(6.0, &soil, &barrow).expect("loads");
        let placed = Loads::placed_from_barrows(loads.barrows, &soil, &barrow).expect("volume");
        assert!((placed - 6.0).abs() < 1e-12);
        assert!(Barrow::new(0.0).is_err() && Loads::of(-1.0, &soil, &barrow).is_err());
    }
}
