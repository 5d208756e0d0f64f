//! What the loads of a landing warn of.

use super::chain::Stage;
use super::impact::Impact;
use super::result::StageLoads;
use serde::{Deserialize, Serialize};
use std::fmt;

/// A fall height above this is past what legs are said to take, m (M. Hubbard and others, as reported; the same limit a
/// touchdown warns of).
const HIGH_FALL: f64 = 1.5;
/// Tyres pressed together further than this strike the rim, m (common practice: the height of a trail tyre over it).
const RIM: f64 = 0.05;

/// What the loads of a landing warn of.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
#[non_exhaustive]
pub enum LoadWarning {
    /// The legs came to their stop: past it the force is that of the stop, an assumption.
    LegsBottomed {
        /// The stroke that they have, m.
        stroke: f64,
    },
    /// The suspension came to its stop.
    SuspensionBottomed {
        /// The travel that it has, m.
        travel: f64,
    },
    /// The tyres (and the ground) are pressed together further than a tyre is high.
    Rims {
        /// How far, m.
        used: f64,
    },
    /// The body still goes down when the record ends: ground that is crushed under its weight, or too short a record.
    NotStopped {
        /// How long the record runs, s.
        duration: f64,
    },
    /// A fall height past what legs take.
    HighFall {
        /// The equivalent fall height, m.
        fall_height: f64,
    },
}

impl LoadWarning {
    pub(super) fn about(impact: &Impact, stages: &[StageLoads]) -> Vec<Self> {
        let mut warnings = Vec::new();
        let fall_height = impact.fall_height();
        if fall_height > HIGH_FALL {
            warnings.push(Self::HighFall { fall_height });
        }
        let on_bike = stages.len() > 1 && impact.ground().stiffness().is_none();
        for loads in stages {
            match (loads.stage, loads.travel) {
                (Stage::Legs, Some(stroke)) if loads.bottomed() => {
                    warnings.push(Self::LegsBottomed { stroke });
                }
                (Stage::Suspension, Some(travel)) if loads.bottomed() => {
                    warnings.push(Self::SuspensionBottomed { travel });
                }
                (Stage::Ground, _) if on_bike && loads.used.value > RIM => {
                    warnings.push(Self::Rims { used: loads.used.value });
                }
                _ => {}
            }
        }
        warnings
    }
}

impl fmt::Display for LoadWarning {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Self::LegsBottomed { stroke } => write!(
                f,
                "legs and arms use up their {stroke:.2} m and come to the stop: the body is hit, and the peak past \
                 there rests on an assumed stop"
            ),
            Self::SuspensionBottomed { travel } => {
                write!(f, "the suspension uses up its {travel:.2} m and comes to its stop")
            }
            Self::Rims { used } => write!(
                f,
                "the tyres give {used:.3} m, more than {RIM} m: the rims strike, which the model does not know"
            ),
            Self::NotStopped { duration } => write!(
                f,
                "the body still goes down when the record ends after {duration:.2} s: its ground does not carry it"
            ),
            Self::HighFall { fall_height } => write!(
                f,
                "equivalent fall height {fall_height:.2} m is above {HIGH_FALL} m, past what legs are said to take"
            ),
        }
    }
}
