//! From a placed volume to barrows, trailers and mass.

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

/// A trailer, by the loose earth it holds and the mass it may carry: whichever is full first.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize)]
pub struct Trailer {
    volume: f64,
    payload: f64,
}

impl Trailer {
    /// A trailer that holds `volume` cubic metres of loose earth and may carry `payload` kilograms.
    pub fn new(volume: f64, payload: f64) -> Result<Self, OutOfRange> {
        let volume = positive("trailer_volume", volume)?;
        Ok(Self { volume, payload: positive("trailer_payload", payload)? })
    }

    /// The loose earth it holds, cubic metres.
    pub fn volume(&self) -> f64 {
        self.volume
    }

    /// The mass it may carry, kilograms.
    pub fn payload(&self) -> f64 {
        self.payload
    }

    /// How many times it is filled with loose earth of a mass in kilograms.
    pub(super) fn trips(&self, loose: f64, mass: f64) -> f64 {
        (loose / self.volume).max(mass / self.payload)
    }
}

/// A small trailer on one axle without brakes, 0.5 m3 and 500 kg: 750 kg in all is what many countries allow such a
/// trailer (from memory), a third of it its own (common practice).
impl Default for Trailer {
    fn default() -> Self {
        Self { volume: 0.5, payload: 500.0 }
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
    /// Trailers full, by volume or by mass; round up.
    pub trailers: f64,
}

impl Loads {
    /// The loads for a placed volume of a soil, cubic metres, carried in barrows or in a trailer.
    ///
    /// `bank = placed / (1 - shrinkage)`, `loose = bank (1 + swell)`, `settled = placed (1 - settlement)`.
    /// As uncertain as the soil's numbers: see [`Soil`].
    pub fn of(
        placed: f64,
        soil: &Soil,
        barrow: &Barrow,
        trailer: &Trailer,
    ) -> Result<Self, OutOfRange> {
        let placed = non_negative("volume", placed)?;
        let bank = placed / (1.0 - soil.shrinkage().value());
        let loose = bank * (1.0 + soil.swell().value());
        let density = soil.loose_density().value();
        Ok(Self {
            placed,
            settled: placed * (1.0 - soil.settlement().value()),
            bank,
            loose,
            mass: loose * density,
            barrows: loose / barrow.volume,
            barrow_mass: barrow.volume * density,
            trailers: trailer.trips(loose, loose * density),
        })
    }

    /// The placed volume that a number of barrows of loose earth makes, cubic metres.
    pub fn placed_from_barrows(
        barrows: f64,
        soil: &Soil,
        barrow: &Barrow,
    ) -> Result<f64, OutOfRange> {
        let loose = non_negative("barrows", barrows)? * barrow.volume;
        Ok(loose / (1.0 + soil.swell().value()) * (1.0 - soil.shrinkage().value()))
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::earth::Spread;

    fn only(value: f64) -> Spread {
        Spread::exactly(value).expect("a number")
    }

    /// The states of J. E. Schaufelberger and G. C. Migliaccio, *Construction Equipment Management*, chapter 5:
    /// bank 2800, loose 2295, compacted 3256 lb/yd3; 817 yd3 compacted keep 950 yd3 of bank, and the other
    /// 2050 of 3000 fill trucks of 30 yd3 84 times (derived from the printed densities).
    #[test]
    fn bank_and_loose_from_densities() {
        let soil = Soil::loam().with_swell(only(2800.0 / 2295.0 - 1.0));
        let soil = soil.and_then(|soil| soil.with_shrinkage(only(1.0 - 2800.0 / 3256.0)));
        let soil = soil.expect("a soil");
        let truck = Trailer::new(30.0, f64::MAX).expect("a truck");
        let loads = |placed| Loads::of(placed, &soil, &Barrow::default(), &truck).expect("loads");
        assert!((loads(817.0).bank - 950.05).abs() < 0.01);
        assert!((loads(817.0).loose / loads(817.0).bank - 1.22).abs() < 5e-4);
        let rest = loads((3000.0 - loads(817.0).bank) * 2800.0 / 3256.0);
        assert!((rest.trailers.ceil() - 84.0).abs() < 1e-9);
    }

    /// 80 litres of moist loose earth at 1250 kg/m3 weigh 100 kg.
    #[test]
    fn mass_of_a_barrow() {
        let soil = Soil::loam().with_loose_density(only(1250.0)).expect("a soil");
        let loads = Loads::of(1.0, &soil, &Barrow::default(), &Trailer::default()).expect("loads");
        assert!((loads.barrow_mass - 100.0).abs() < 1e-9);
        assert!((loads.mass - loads.barrows * loads.barrow_mass).abs() < 1e-9);
        assert!((loads.trailers - loads.mass / 500.0).abs() < 1e-9, "full by mass");
    }

    #[test]
    fn barrows_and_back() {
        let (soil, barrow) = (Soil::clay(), Barrow::new(0.06).expect("a barrow"));
        let trailer = Trailer::default();
        let loads = Loads::of(6.0, &soil, &barrow, &trailer).expect("loads");
        let placed = Loads::placed_from_barrows(loads.barrows, &soil, &barrow).expect("volume");
        assert!((placed - 6.0).abs() < 1e-12);
        assert!(Barrow::new(0.0).is_err() && Loads::of(-1.0, &soil, &barrow, &trailer).is_err());
        assert!(Trailer::new(1.0, 0.0).is_err());
    }
}
