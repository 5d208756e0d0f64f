//! Rolling resistance and grip by surface.

use serde::{Deserialize, Serialize};

/// A kind of surface under the tyres, with handbook values for rolling and grip.
///
/// They are a start, not a measurement: mud, dust, tyre and pressure change both by half and more.
/// A roll-down over a measured distance gives the site's own rolling resistance.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
#[non_exhaustive]
pub enum Surface {
    /// Dry asphalt.
    Asphalt,
    /// Dry concrete.
    Concrete,
    /// A dry deck of sawn boards.
    DryWood,
    /// A wet deck of sawn boards: as good as no grip.
    WetWood,
    /// Firm packed gravel, or a hard trail.
    FirmGravel,
    /// Loose, worn gravel.
    LooseGravel,
    /// Soil of medium hardness.
    Soil,
    /// A wet meadow.
    WetGrass,
    /// Sand.
    Sand,
}

impl Surface {
    /// Every kind there is, from hard to soft.
    pub const ALL: [Self; 9] = [
        Self::Asphalt,
        Self::Concrete,
        Self::DryWood,
        Self::WetWood,
        Self::FirmGravel,
        Self::LooseGravel,
        Self::Soil,
        Self::WetGrass,
        Self::Sand,
    ];

    /// The coefficient of rolling resistance; [`source`](Self::source) says whose.
    pub const fn crr(self) -> f64 {
        match self {
            Self::Asphalt => 0.004,
            Self::Concrete => 0.002,
            Self::DryWood | Self::WetWood => 0.008,
            Self::FirmGravel => 0.012,
            Self::LooseGravel => 0.04,
            Self::Soil | Self::WetGrass => 0.08,
            Self::Sand => 0.15,
        }
    }

    /// The grip between tyre and surface; [`source`](Self::source) says whose.
    pub const fn grip(self) -> f64 {
        match self {
            Self::Asphalt => 0.65,
            Self::Concrete => 0.75,
            Self::DryWood => 0.6,
            Self::FirmGravel | Self::LooseGravel | Self::Soil | Self::Sand => 0.35,
            Self::WetWood | Self::WetGrass => 0.2,
        }
    }

    /// Where the two values come from, or that they are only common practice.
    pub const fn source(self) -> &'static str {
        match self {
            Self::Asphalt | Self::Concrete => {
                "rolling: Engineering ToolBox, Rolling Resistance, bicycle tyre; \
                 grip: R. K. Noon, Engineering Analysis of Vehicular Accidents (1994), dry"
            }
            Self::DryWood => {
                "rolling: Engineering ToolBox, Rolling Resistance, rough paved road, for the joints \
                 between boards (a smooth wooden track has 0.001); grip: common practice"
            }
            Self::WetWood => {
                "rolling: as dry wood; grip: common practice, that of wet wood on wood (from memory)"
            }
            Self::FirmGravel => {
                "rolling: Moyer in Marks' Standard Handbook for Mechanical Engineers; \
                 grip: Noon (1994), gravel and dirt road"
            }
            Self::LooseGravel | Self::Soil => {
                "rolling: J. Carvill, Mechanical Engineer's Data Handbook (1993); \
                 grip: Noon (1994), gravel and dirt road"
            }
            Self::WetGrass => {
                "rolling: Carvill (1993), medium hard soil, for want of grass; \
                 grip: Noon (1994), wet grassy field"
            }
            Self::Sand => {
                "rolling: Carvill (1993), the middle of 0.1 to 0.2; \
                 grip: Noon (1994), gravel and dirt road, for want of sand"
            }
        }
    }
}
