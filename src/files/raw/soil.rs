//! The earth and its barrows as a site file writes them.

use crate::earth::{self, Barrow};
use crate::files::angle::degrees;
use crate::files::fault::Fault;
use crate::files::quantity::{LooseDensity, PartShare, Share, Slope, UnitWeight, Volume};
use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

/// The earth: a kind, and what is known better of it than of its kind.
#[derive(Debug, Clone, Default, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub(in crate::files) struct Soil {
    /// What kind it is; loam where it is not given.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    kind: Option<Kind>,
    /// What it is called, where that is not its kind.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    name: Option<String>,
    /// Growth from the bank to loose, of the bank's volume.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    swell: Option<Range<Share>>,
    /// Loss from the bank to placed and tamped, of the bank's volume.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    shrinkage: Option<Range<PartShare>>,
    /// Loss of height of the placed earth with time, of its height as built.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    settlement: Option<Range<PartShare>>,
    /// Weight of the placed earth.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    unit_weight: Option<Range<UnitWeight>>,
    /// Mass of the loose earth.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    loose_density: Option<Range<LooseDensity>>,
    /// The steepest angle a batter of it should be built at.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    stand_up_deg: Option<Range<Slope>>,
}

/// The kinds of earth whose numbers are known.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize, JsonSchema)]
#[serde(rename_all = "lowercase")]
enum Kind {
    Loam,
    Sand,
    Gravel,
    Clay,
}

/// A value and the ends between which it may lie.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
struct Range<Q> {
    /// The value to reckon with.
    value: Q,
    /// The low end.
    low: Q,
    /// The high end.
    high: Q,
}

/// The earth at hand, by the barrow.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub(in crate::files) struct Barrows {
    /// How many barrows there are.
    #[schemars(extend("minimum" = 1, "maximum" = 4_294_967_295_u32, "x-unit" = "barrows"))]
    pub(in crate::files) count: u32,
    /// Loose earth in one barrow.
    volume: Volume,
}

impl Kind {
    const ALL: [Self; 4] = [Self::Loam, Self::Sand, Self::Gravel, Self::Clay];

    fn soil(self) -> earth::Soil {
        match self {
            Self::Loam => earth::Soil::loam(),
            Self::Sand => earth::Soil::sand(),
            Self::Gravel => earth::Soil::gravel(),
            Self::Clay => earth::Soil::clay(),
        }
    }
}

impl Soil {
    /// The keys for a soil: its kind, and what differs from that.
    pub(in crate::files) fn of(soil: &earth::Soil) -> Self {
        let kind = Kind::ALL.into_iter().find(|kind| kind.soil().name == soil.name);
        let plain = kind.unwrap_or(Kind::Loam).soil();
        Self {
            kind,
            name: kind.is_none().then(|| soil.name.to_string()),
            swell: differing(soil.swell, plain.swell, Share),
            shrinkage: differing(soil.shrinkage, plain.shrinkage, PartShare),
            settlement: differing(soil.settlement, plain.settlement, PartShare),
            unit_weight: differing(soil.unit_weight, plain.unit_weight, UnitWeight),
            loose_density: differing(soil.loose_density, plain.loose_density, LooseDensity),
            stand_up_deg: differing(soil.stand_up, plain.stand_up, |angle| Slope(degrees(angle))),
        }
    }

    /// The soil.
    pub(in crate::files) fn soil(&self) -> Result<earth::Soil, Fault> {
        let plain = self.kind.unwrap_or(Kind::Loam).soil();
        let stand_up = spread("stand_up_deg", self.stand_up_deg, plain.stand_up, f64::to_radians)?;
        let same = |value| value;
        let unit_weight = spread("unit_weight", self.unit_weight, plain.unit_weight, same)?;
        let loose = spread("loose_density", self.loose_density, plain.loose_density, same)?;
        Ok(earth::Soil {
            name: self.name.clone().map_or(plain.name, Into::into),
            swell: spread("swell", self.swell, plain.swell, same)?,
            shrinkage: spread("shrinkage", self.shrinkage, plain.shrinkage, same)?,
            settlement: spread("settlement", self.settlement, plain.settlement, same)?,
            unit_weight,
            loose_density: loose,
            stand_up,
        })
    }
}

impl Barrows {
    /// The keys for a number of barrows.
    pub(in crate::files) fn of(barrow: Barrow, count: u32) -> Self {
        Self { count, volume: Volume(barrow.volume()) }
    }

    /// One of them.
    pub(in crate::files) fn barrow(&self) -> Result<Barrow, Fault> {
        let barrow = Barrow::new(self.volume.0);
        barrow.map_err(|error| Fault::range("volume", error.value, error.allowed))
    }
}

fn differing<Q>(
    own: earth::Spread,
    plain: earth::Spread,
    as_written: impl Fn(f64) -> Q,
) -> Option<Range<Q>> {
    let [value, low, high] = [own.value, own.low, own.high].map(as_written);
    (own != plain).then_some(Range { value, low, high })
}

fn spread<Q: Into<f64>>(
    field: &str,
    own: Option<Range<Q>>,
    plain: earth::Spread,
    as_meant: impl Fn(f64) -> f64,
) -> Result<earth::Spread, Fault> {
    let Some(Range { value, low, high }) = own else { return Ok(plain) };
    let [value, low, high] = [value, low, high].map(Into::into);
    if !(low <= value && value <= high) {
        let allowed = format!("from low {low} to high {high}");
        return Err(Fault::range(&format!("{field}.value"), value, allowed));
    }
    let [value, low, high] = [value, low, high].map(as_meant);
    Ok(earth::Spread { value, low, high })
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn every_soil_with_a_name_is_a_kind() {
        let kinds = Kind::ALL.map(|kind| kind.soil().name);
        assert_eq!(kinds, earth::Soil::NAMES);
        for name in earth::Soil::NAMES {
            let soil = earth::Soil::named(name).unwrap();
            assert_eq!(Soil::of(&soil).soil(), Ok(soil));
        }
    }

    #[test]
    fn numbers_of_ones_own_come_back() {
        let swell = earth::Spread { value: 0.2, low: 0.1, high: 0.4 };
        let own = earth::Soil { name: "pit sand".into(), swell, ..earth::Soil::sand() };
        assert_eq!(Soil::of(&own).soil(), Ok(own));
    }
}
