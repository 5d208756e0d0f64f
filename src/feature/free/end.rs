//! Where a free line ends.

use serde::{Deserialize, Serialize};
use std::fmt;

/// How a free line ends.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
#[non_exhaustive]
pub enum FreeOutcome {
    /// It reaches the end edge, straight or skewed.
    Edge,
    /// It runs off the top of the panel.
    Top,
    /// It comes down to the foot.
    Foot,
    /// It turns back and leaves over the start.
    Start,
    /// It comes to rest, or as near to it as no bike is ridden.
    Stalled,
    /// The load on the surface falls to zero.
    LeftSurface,
}

impl fmt::Display for FreeOutcome {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(match self {
            Self::Edge => "reaches the end edge",
            Self::Top => "runs off the top",
            Self::Foot => "comes down to the foot",
            Self::Start => "turns back over the start",
            Self::Stalled => "stalls",
            Self::LeftSurface => "leaves the surface",
        })
    }
}

/// How and where a free line ends, and how the tyres move there.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize)]
#[non_exhaustive]
pub struct FreeEnd {
    /// How.
    pub outcome: FreeOutcome,
    /// Where, metres along the foot.
    pub station: f64,
    /// Where, metres up the panel.
    pub height: f64,
    /// The tyres' speed, m/s.
    pub speed: f64,
    /// The tyres' direction, radians from level along the panel, positive up it.
    pub heading: f64,
    /// Seconds from the start.
    pub time: f64,
}

impl fmt::Display for FreeEnd {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        let Self { outcome, station, height, speed, .. } = self;
        write!(
            f,
            "{outcome} {station:.2} m along the foot, {height:.2} m up the panel, at {speed:.2} m/s"
        )
    }
}
