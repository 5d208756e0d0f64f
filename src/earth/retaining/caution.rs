//! What a held back warns of.

use super::Retaining;
use serde::{Deserialize, Serialize};
use std::fmt;

/// The height above which municipal rules usually ask for an engineer: 4 ft, in many places 3 ft; metres.
///
/// Measured from the bottom of the footing to the top. A load on top, such as a landing or a takeoff, usually takes
/// the exemption away at any height. Walls in tiers count as one where they stand closer than twice the height.
pub const ENGINEER_HEIGHT: f64 = 1.2;
/// Where the strictest of the rules begin: 3 ft.
const PERMIT_HEIGHT: f64 = 0.9;
/// *International Building Code* (2009), section 1807.2.3.
const SLIDING: f64 = 1.5;
/// Textbooks; the code asks for 1.5.
const OVERTURNING: f64 = 2.0;
/// Textbooks, over what the ground bears in the end; presumptive values have their own margin in them.
const MIDDLE_THIRD: f64 = 1.0 / 6.0;

/// What a back that holds earth warns of.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
#[non_exhaustive]
pub enum Caution {
    /// So high that codes usually ask for an engineer.
    AsksForAnEngineer {
        /// Its height, metres.
        height: f64,
    },
    /// A load on top: low walls are usually exempt only without one.
    Loaded {
        /// The load, pascals.
        surcharge: f64,
    },
    /// It may slide.
    Slides {
        /// What holds over what pushes, with the weakest earth of the span.
        ratio: f64,
    },
    /// It may tip over.
    Tips {
        /// What holds over what tips, with the weakest earth of the span.
        ratio: f64,
    },
    /// Its heel would lift.
    HeelLifts {
        /// How far in front of its middle the base is pressed, metres.
        eccentricity: f64,
    },
    /// It presses on the ground more than that bears by the code.
    Sinks {
        /// Under the toe, pascals.
        toe: f64,
        /// What the ground bears, pascals.
        bearing: f64,
    },
    /// Water stands behind it.
    HoldsWater {
        /// How high above its foot, metres.
        water: f64,
    },
}

impl Caution {
    pub(super) fn about(held: &Retaining) -> Vec<Self> {
        let height = held.crib.height();
        let (surcharge, water) = (held.backfill.surcharge(), held.backfill.water());
        let (sliding, tipping) = (held.sliding.low(), held.overturning.low());
        let bearing = held.crib.footing().bearing();
        let toe = held.bearing.map(|b| b.toe).filter(|toe| *toe > bearing);
        let off = held.bearing.map(|b| b.eccentricity);
        let lifts = off.filter(|e| e.abs() > MIDDLE_THIRD * held.crib.width() * (1.0 + 1e-12));
        [
            (height > PERMIT_HEIGHT).then_some(Self::AsksForAnEngineer { height }),
            (surcharge > 0.0).then_some(Self::Loaded { surcharge }),
            (sliding < SLIDING).then_some(Self::Slides { ratio: sliding }),
            (tipping < OVERTURNING).then_some(Self::Tips { ratio: tipping }),
            lifts.map(|eccentricity| Self::HeelLifts { eccentricity }),
            toe.map(|toe| Self::Sinks { toe, bearing }),
            (water > 0.0).then_some(Self::HoldsWater { water }),
        ]
        .into_iter()
        .flatten()
        .collect()
    }
}

impl fmt::Display for Caution {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Self::AsksForAnEngineer { height } => write!(
                f,
                "a back {height:.2} m high: codes usually ask for a permit above {PERMIT_HEIGHT} m and for an engineer \
                 above {ENGINEER_HEIGHT} m; ask one, or build it in lower steps set well back"
            ),
            Self::Loaded { surcharge } => write!(
                f,
                "a load of {:.1} kPa stands on it: codes that let a low wall be built without an engineer usually \
                 do so only without one",
                surcharge / 1e3
            ),
            Self::Slides { ratio } => write!(
                f,
                "holds only {ratio:.2} of what pushes it with the weakest earth of the span ({SLIDING} is asked for): \
                 it may slide; make it wider or heavier, key it in, lay its fill flatter, or drain it"
            ),
            Self::Tips { ratio } => write!(
                f,
                "holds only {ratio:.2} of what tips it with the weakest earth of the span ({OVERTURNING} is asked \
                 for): it may tip; make it wider, lean it back, or make it lower"
            ),
            Self::HeelLifts { eccentricity } => write!(
                f,
                "pressed {eccentricity:.2} m off the middle of its base, outside the middle third: its heel lifts; \
                 make it wider"
            ),
            Self::Sinks { toe, bearing } => write!(
                f,
                "presses with {:.0} kPa at its toe on ground that bears {:.0} kPa by the code: make it wider, or \
                 found it on gravel",
                toe / 1e3,
                bearing / 1e3
            ),
            Self::HoldsWater { water } => write!(
                f,
                "water stands {water:.2} m high behind it: drain it with gravel and gaps between the logs"
            ),
        }
    }
}
