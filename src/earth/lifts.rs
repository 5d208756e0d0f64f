//! The layers in which earth is filled and tamped.

use super::Soil;
use crate::math::range::{OutOfRange, non_negative};
use serde::{Deserialize, Serialize};

/// Whether the grains of a soil stick together.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize)]
#[serde(rename_all = "lowercase")]
pub enum Grain {
    /// They do not: sand, gravel.
    Granular,
    /// They do: loam, clay; stony earth counts here too.
    Cohesive,
}

/// What the earth is tamped with.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default, Serialize, Deserialize)]
#[serde(rename_all = "lowercase")]
#[non_exhaustive]
pub enum Tamping {
    /// A hand tamper, or feet and shovel.
    #[default]
    Hand,
    /// A motor rammer, 4 to 8 passes.
    Rammer,
}

impl Tamping {
    /// The thickest layer that it goes through, before it is tamped, metres.
    ///
    /// By hand 0.10: 4 inches, USDA NRCS, Construction Specification 23 (from memory); a hand tamper is
    /// said elsewhere to reach 2 to 4 inches. A rammer 0.20 in sand and gravel and 0.15 in what sticks or
    /// is stony, none thinner than 0.10: a maker's guide.
    pub fn layer(self, grain: Grain) -> f64 {
        match (self, grain) {
            (Self::Hand, _) => 0.10,
            (Self::Rammer, Grain::Granular) => 0.20,
            (Self::Rammer, Grain::Cohesive) => 0.15,
        }
    }
}

/// Layers that a fill is built up in.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize)]
pub struct Lifts {
    /// How many at the deepest place.
    pub count: u32,
    /// How thick each is thrown on, loose, metres.
    pub loose: f64,
    /// How thick each is when it is tamped, metres.
    pub tamped: f64,
}

impl Lifts {
    /// The lifts of a fill that is `depth` metres deep once tamped; equal ones, as many as it takes.
    ///
    /// A layer of loose earth gets thinner by shrinkage and swell as its volume does.
    pub fn of(depth: f64, soil: &Soil, tamping: Tamping) -> Result<Self, OutOfRange> {
        let depth = non_negative("depth", depth)?;
        let packing = (1.0 - soil.shrinkage().value()) / (1.0 + soil.swell().value());
        let layers = depth / (tamping.layer(soil.grain()) * packing);
        if layers > f64::from(u32::MAX) {
            return Err(OutOfRange::new("depth", depth, "what layers can be counted for"));
        }
        // A hair over a whole number of layers is that number.
        let count = (layers - 1e-9).ceil().max(0.0);
        let tamped = if count > 0.0 { depth / count } else { 0.0 };
        #[expect(
            clippy::cast_possible_truncation,
            clippy::cast_sign_loss,
            reason = "a whole number from 0 to the greatest count"
        )]
        let count = count as u32;
        Ok(Self { count, loose: tamped / packing, tamped })
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::earth::Spread;

    #[test]
    fn loose_layers_are_no_thicker_than_the_tamper_reaches() {
        for depth in [0.03, 0.4, 1.0, 2.7] {
            for tamping in [Tamping::Hand, Tamping::Rammer] {
                let soil = Soil::sand();
                let lifts = Lifts::of(depth, &soil, tamping).expect("lifts");
                assert!((f64::from(lifts.count) * lifts.tamped - depth).abs() < 1e-12);
                assert!(lifts.loose <= tamping.layer(soil.grain()) * (1.0 + 1e-8));
                let fewer = f64::from(lifts.count - 1) * tamping.layer(soil.grain()) * 0.88 / 1.12;
                assert!(fewer < depth, "one lift less does not do");
            }
        }
    }

    /// Earth that neither swells nor shrinks is as thick tamped as it was thrown on.
    #[test]
    fn half_a_metre_by_hand_is_five_lifts() {
        let none = Spread::exactly(0.0).expect("none");
        let soil = Soil::loam().with_swell(none).and_then(|s| s.with_shrinkage(none));
        let lifts = Lifts::of(0.5, &soil.expect("a soil"), Tamping::Hand).expect("lifts");
        assert_eq!((lifts.count, lifts.loose), (5, 0.1));
        let nothing = Lifts::of(0.0, &Soil::loam(), Tamping::Hand).expect("lifts");
        assert_eq!((nothing.count, nothing.tamped), (0, 0.0));
        assert!(Lifts::of(f64::NAN, &Soil::loam(), Tamping::Hand).is_err());
        assert!(Lifts::of(1e300, &Soil::loam(), Tamping::Hand).is_err());
    }
}
