//! The earth and its barrows as a site file writes them.

use crate::earth::{self, Barrow};
use crate::files::angle::degrees;
use crate::files::fault::Fault;
use crate::files::quantity::{LooseDensity, PartShare, Share, Slope, UnitWeight, Volume};
use crate::math::range::OutOfRange;
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
    /// Weight of the placed earth when its pores are full of water.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    saturated_weight: Option<Range<UnitWeight>>,
    /// Mass of the loose earth.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    loose_density: Option<Range<LooseDensity>>,
    /// The placed earth's angle of internal friction.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    friction_deg: Option<Range<Slope>>,
    /// The steepest angle a batter of it should be built at.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    stand_up_deg: Option<Range<Slope>>,
    /// How hard it is to dig.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    digging: Option<Digging>,
    /// Whether its grains stick together.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    grain: Option<Grain>,
}

/// How hard ground is to dig.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize, JsonSchema)]
#[serde(rename_all = "lowercase")]
enum Digging {
    Light,
    Medium,
    Heavy,
}

/// Whether grains stick together.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize, JsonSchema)]
#[serde(rename_all = "lowercase")]
enum Grain {
    Granular,
    Cohesive,
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
        let kind = Kind::ALL.into_iter().find(|kind| kind.soil().name() == soil.name());
        let plain = kind.unwrap_or(Kind::Loam).soil();
        let angle = |angle| Slope(degrees(angle));
        Self {
            kind,
            name: kind.is_none().then(|| soil.name().to_owned()),
            swell: differing(soil.swell(), plain.swell(), Share),
            shrinkage: differing(soil.shrinkage(), plain.shrinkage(), PartShare),
            settlement: differing(soil.settlement(), plain.settlement(), PartShare),
            unit_weight: differing(soil.unit_weight(), plain.unit_weight(), UnitWeight),
            saturated_weight: differing(
                soil.saturated_weight(),
                plain.saturated_weight(),
                UnitWeight,
            ),
            loose_density: differing(soil.loose_density(), plain.loose_density(), LooseDensity),
            friction_deg: differing(soil.friction(), plain.friction(), angle),
            stand_up_deg: differing(soil.stand_up(), plain.stand_up(), angle),
            digging: (soil.digging() != plain.digging()).then(|| soil.digging().into()),
            grain: (soil.grain() != plain.grain()).then(|| soil.grain().into()),
        }
    }

    /// The soil.
    pub(in crate::files) fn soil(&self) -> Result<earth::Soil, Fault> {
        let same = |value| value;
        let mut soil = self.kind.unwrap_or(Kind::Loam).soil();
        if let Some(name) = &self.name {
            soil = soil.with_name(name.clone());
        }
        soil = with("swell", self.swell, soil, same, earth::Soil::with_swell)?;
        soil = with("shrinkage", self.shrinkage, soil, same, earth::Soil::with_shrinkage)?;
        soil = with("settlement", self.settlement, soil, same, earth::Soil::with_settlement)?;
        soil = with("unit_weight", self.unit_weight, soil, same, earth::Soil::with_unit_weight)?;
        let saturated = earth::Soil::with_saturated_weight;
        soil = with("saturated_weight", self.saturated_weight, soil, same, saturated)?;
        let loose = earth::Soil::with_loose_density;
        soil = with("loose_density", self.loose_density, soil, same, loose)?;
        let (turned, friction) = (f64::to_radians, earth::Soil::with_friction);
        soil = with("friction_deg", self.friction_deg, soil, turned, friction)?;
        soil = with("stand_up_deg", self.stand_up_deg, soil, turned, earth::Soil::with_stand_up)?;
        if let Some(digging) = self.digging {
            soil = soil.with_digging(digging.into());
        }
        if let Some(grain) = self.grain {
            soil = soil.with_grain(grain.into());
        }
        Ok(soil)
    }
}

/// The two ways between an enum of the core and the one that a site file spells.
macro_rules! alike {
    ($name:ident: $($variant:ident),+) => {
        impl From<earth::$name> for $name {
            fn from(one: earth::$name) -> Self {
                match one { $(earth::$name::$variant => Self::$variant),+ }
            }
        }

        impl From<$name> for earth::$name {
            fn from(one: $name) -> Self {
                match one { $($name::$variant => Self::$variant),+ }
            }
        }
    };
}

alike!(Digging: Light, Medium, Heavy);
alike!(Grain: Granular, Cohesive);

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
    let [value, low, high] = [own.value(), own.low(), own.high()].map(as_written);
    (own != plain).then_some(Range { value, low, high })
}

/// The soil with the numbers of a field, where the file gives them.
fn with<Q: Into<f64>>(
    field: &str,
    own: Option<Range<Q>>,
    soil: earth::Soil,
    as_meant: impl Fn(f64) -> f64,
    set: impl Fn(earth::Soil, earth::Spread) -> Result<earth::Soil, OutOfRange>,
) -> Result<earth::Soil, Fault> {
    let Some(Range { value, low, high }) = own else { return Ok(soil) };
    let [value, low, high] = [value, low, high].map(Into::into);
    if !(low <= value && value <= high) {
        let allowed = format!("from low {low} to high {high}");
        return Err(Fault::range(&format!("{field}.value"), value, allowed));
    }
    let meant = earth::Spread::new(as_meant(value), as_meant(low), as_meant(high));
    let fault = |error: OutOfRange| Fault::range(field, error.value, error.allowed);
    set(soil, meant.map_err(fault)?).map_err(fault)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn every_soil_with_a_name_is_a_kind() {
        let kinds = Kind::ALL.map(|kind| kind.soil().name().to_owned());
        assert_eq!(kinds, earth::Soil::NAMES);
        for name in earth::Soil::NAMES {
            let soil = earth::Soil::named(name).unwrap();
            assert_eq!(Soil::of(&soil).soil(), Ok(soil));
        }
    }

    #[test]
    fn numbers_of_ones_own_come_back() {
        let swell = earth::Spread::new(0.2, 0.1, 0.4).unwrap();
        let weight = earth::Spread::new(20.1e3, 19.5e3, 22e3).unwrap();
        let own = earth::Soil::sand().with_name("pit sand").with_swell(swell).unwrap();
        let own = own.with_saturated_weight(weight).unwrap().with_digging(earth::Digging::Heavy);
        let own = own.with_grain(earth::Grain::Cohesive);
        assert_eq!(Soil::of(&own).soil(), Ok(own));
    }
}
