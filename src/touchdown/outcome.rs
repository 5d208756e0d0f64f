//! How a flight comes out, and what to say about it.

use super::{Contact, Turn};
use crate::ground::Place;
use serde::{Deserialize, Serialize};
use std::fmt;

/// A fall height above this gets a caution; metres. What level ground gives a rider from a drop of chest height:
/// common practice has it as the end of what beginners' features ask for.
const HIGH_FALL: f64 = 1.5;

/// Noses farther down to the surface, farther up, and bikes rolled or yawed farther than this get a caution; radians. Common
/// practice (from memory): a little rear first is how it is taught, clearly nose first or crooked is how riders crash.
const NOSE_DOWN: f64 = 10.0 * std::f64::consts::PI / 180.0;
const NOSE_UP: f64 = 25.0 * std::f64::consts::PI / 180.0;
const CROOKED: f64 = 20.0 * std::f64::consts::PI / 180.0;

/// How a flight came out.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
#[non_exhaustive]
pub enum TouchOutcome {
    /// Touched ground without a landing on it.
    Landed,
    /// Touched before the landing's crest.
    Short,
    /// Touched the landing's face.
    Caught,
    /// Touched past the landing's foot.
    Long,
    /// Touched beside the landing's face.
    Wide,
    /// Never cleared the ground at the launch.
    RolledOff,
    /// Left the plan in which the ground is known.
    OffSurvey,
    /// Found no ground within 60 s.
    NoTouchdown,
}

impl TouchOutcome {
    /// The outcome of a touch at a place of a landing.
    pub(super) const fn of(place: Place) -> Self {
        match place {
            Place::Short => Self::Short,
            Place::Caught => Self::Caught,
            Place::Long => Self::Long,
            Place::Wide => Self::Wide,
        }
    }

    /// The outcome as one word, as files and tables have it.
    pub const fn word(self) -> &'static str {
        match self {
            Self::Landed => "landed",
            Self::Short => "short",
            Self::Caught => "caught",
            Self::Long => "long",
            Self::Wide => "wide",
            Self::RolledOff => "rolled_off",
            Self::OffSurvey => "off_survey",
            Self::NoTouchdown => "no_touchdown",
        }
    }
}

impl fmt::Display for TouchOutcome {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(self.word())
    }
}

/// What a touchdown warns of.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
#[non_exhaustive]
pub enum Warning {
    /// A hard landing: an equivalent fall height above 1.5 m.
    HighFall {
        /// The equivalent fall height, metres.
        fall_height: f64,
    },
    /// The rider touches before he is upright.
    NotUpright {
        /// The lean still owed, radians.
        lean_owed: f64,
    },
    /// Stopping the sideways speed in the landing asks for more grip than there is.
    Sideways {
        /// The grip asked for.
        grip_demand: f64,
        /// The grip there is.
        grip: f64,
    },
    /// The flight leaves the known ground: what happens then is not known.
    OffSurvey,
    /// The bike comes down on its front wheel, unless the rider pulls it up.
    NoseDown {
        /// The angle between bike and surface, radians.
        angle: f64,
    },
    /// The bike comes down on its rear wheel, unless the rider pushes it down.
    NoseUp {
        /// The angle between bike and surface, radians.
        angle: f64,
    },
    /// The bike comes down rolled or yawed, unless the rider turns it.
    Crooked {
        /// The roll still owed, radians.
        roll: f64,
        /// The yaw still owed, radians.
        yaw: f64,
    },
}

impl Warning {
    pub(super) fn about(outcome: TouchOutcome, contact: Option<&Contact>, grip: f64) -> Vec<Self> {
        let off = (outcome == TouchOutcome::OffSurvey).then_some(Self::OffSurvey);
        let Some(&Contact { fall_height, lean_owed, grip_demand, .. }) = contact else {
            return off.into_iter().collect();
        };
        let high = (fall_height > HIGH_FALL).then_some(Self::HighFall { fall_height });
        let leaning = (lean_owed > 0.0).then_some(Self::NotUpright { lean_owed });
        let sideways = (grip_demand > grip).then_some(Self::Sideways { grip_demand, grip });
        [high, leaning, sideways, off].into_iter().flatten().collect()
    }

    pub(super) fn about_turn(turn: &Turn) -> impl Iterator<Item = Self> + use<> {
        let (angle, owed) = (turn.pitch_to_surface, turn.owed);
        let down = (angle < -NOSE_DOWN).then_some(Self::NoseDown { angle: -angle });
        let up = (angle > NOSE_UP).then_some(Self::NoseUp { angle });
        let is_crooked = owed.x.abs().max(owed.z.abs()) > CROOKED;
        let crooked = is_crooked.then_some(Self::Crooked { roll: owed.x, yaw: owed.z });
        [down, up, crooked].into_iter().flatten()
    }
}

impl fmt::Display for Warning {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Self::HighFall { fall_height } => write!(
                f,
                "equivalent fall height {fall_height:.2} m is above {HIGH_FALL} m: a hard landing that can hurt; \
                 start lower and slower, and build it softer"
            ),
            Self::NotUpright { lean_owed } => {
                write!(f, "touches while still {:.0} degrees off upright", lean_owed.to_degrees())
            }
            Self::Sideways { grip_demand, grip } => write!(
                f,
                "lands sideways: stopping that takes a grip of {grip_demand:.2}, there is {grip:.2}"
            ),
            Self::NoseDown { angle } => write!(
                f,
                "unless the rider pulls it up, the bike lands front wheel first, {:.0} degrees nose down to the ground",
                angle.to_degrees()
            ),
            Self::NoseUp { angle } => write!(
                f,
                "unless the rider pushes it down, the bike lands rear wheel first, {:.0} degrees nose up to the ground",
                angle.to_degrees()
            ),
            Self::Crooked { roll, yaw } => write!(
                f,
                "unless the rider turns it, the bike lands crooked: {:.0} degrees of roll and {:.0} of yaw are owed",
                roll.to_degrees(),
                yaw.to_degrees()
            ),
            Self::OffSurvey => f.write_str("flies off the surveyed ground: survey farther out"),
        }
    }
}
