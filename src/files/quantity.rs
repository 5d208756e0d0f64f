//! Numbers of a site file by what they measure: each with its unit and range, which the schema says and the check keeps.

use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

/// A number type of the site file: its name, what it is, and the schema's words for its unit and range.
macro_rules! quantity {
    ($($(#[$doc:meta])* $name:ident: $($key:literal = $value:literal),+;)+) => {$(
        $(#[$doc])*
        #[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize, JsonSchema)]
        #[serde(transparent)]
        #[schemars(extend($($key = $value),+))]
        pub(super) struct $name(pub(super) f64);

        impl From<f64> for $name {
            fn from(value: f64) -> Self {
                Self(value)
            }
        }

        impl From<$name> for f64 {
            fn from(value: $name) -> Self {
                value.0
            }
        }
    )+};
}

quantity! {
    /// A place or height along an axis of the site.
    Metres: "x-unit" = "metres";
    /// A length.
    Length: "exclusiveMinimum" = 0, "x-unit" = "metres";
    /// A length that may be none.
    Reach: "minimum" = 0, "x-unit" = "metres";
    /// A radius of curvature; `inf` is straight.
    CurveRadius: "exclusiveMinimum" = 0, "x-infinity" = true, "x-unit" = "metres";
    /// A direction, counter-clockwise from the site's x axis.
    Heading: "minimum" = -720, "maximum" = 720, "x-unit" = "degrees";
    /// How far a curve turns.
    Sweep: "exclusiveMinimum" = 0, "maximum" = 720, "x-unit" = "degrees";
    /// The angle of a panel from level.
    Bank: "minimum" = 0, "maximum" = 90, "x-unit" = "degrees";
    /// A place on the edge of a takeoff.
    EdgePlace: "x-unit" = "metres";
    /// The angle of a lip from level at its edge, uphill positive.
    EdgeAngle: "minimum" = -90, "maximum" = 90, "x-unit" = "degrees";
    /// An angle to either side.
    Skew: "minimum" = -60, "maximum" = 60, "x-unit" = "degrees";
    /// The angle of earth from level.
    Slope: "exclusiveMinimum" = 0, "exclusiveMaximum" = 90, "x-unit" = "degrees";
    /// Rise over run along the travel, uphill positive.
    Grade: "minimum" = -1, "maximum" = 1, "x-unit" = "rise over run";
    /// Degrees Celsius.
    Celsius: "minimum" = -90, "maximum" = 60, "x-unit" = "degrees Celsius";
    /// A height above the sea.
    Elevation: "minimum" = -5000, "maximum" = 11000, "x-unit" = "metres";
    /// The mass of air in a cubic metre.
    Density: "minimum" = 0, "x-unit" = "kg/m^3";
    /// An acceleration that may be none.
    Acceleration: "minimum" = 0, "x-unit" = "m/s^2";
    /// A fall's acceleration.
    Gravity: "exclusiveMinimum" = 0, "x-unit" = "m/s^2";
    /// A speed along an axis, or up or down.
    Velocity: "x-unit" = "m/s";
    /// A speed along the travel.
    Speed: "exclusiveMinimum" = 0, "x-unit" = "m/s";
    /// A speed pushed off with; a negative one soaks it up.
    Pop: "minimum" = -5, "maximum" = 5, "x-unit" = "m/s";
    /// A mass.
    Mass: "exclusiveMinimum" = 0, "x-unit" = "kg";
    /// A drag area.
    Area: "minimum" = 0, "x-unit" = "m^2";
    /// A volume.
    Volume: "exclusiveMinimum" = 0, "x-unit" = "m^3";
    /// A share that may be more than the whole.
    Share: "minimum" = 0, "x-unit" = "parts of 1";
    /// A share that is not the whole.
    PartShare: "minimum" = 0, "exclusiveMaximum" = 1, "x-unit" = "parts of 1";
    /// A share that is neither nothing nor the whole.
    OpenShare: "exclusiveMinimum" = 0, "exclusiveMaximum" = 1, "x-unit" = "parts of 1";
    /// The weight of a class of riders; the weights of all classes add up to 1.
    Weight: "exclusiveMinimum" = 0, "maximum" = 1, "x-unit" = "parts of 1";
    /// Rolling resistance over normal load.
    Rolling: "minimum" = 0, "x-unit" = "force over load";
    /// Grip between tyre and surface: side force over normal load; `inf` never slides.
    Grip: "exclusiveMinimum" = 0, "x-infinity" = true, "x-unit" = "force over load";
    /// A moment of inertia.
    Inertia: "exclusiveMinimum" = 0, "x-unit" = "kg m^2";
    /// A moment of inertia that may be none.
    AnyInertia: "minimum" = 0, "x-unit" = "kg m^2";
    /// Metres more for each metre a second.
    PerSpeed: "x-unit" = "metres per m/s";
    /// The weight of a volume.
    UnitWeight: "exclusiveMinimum" = 0, "x-unit" = "N/m^3";
    /// The mass of a volume of loose earth.
    LooseDensity: "exclusiveMinimum" = 0, "x-unit" = "kg/m^3";
    /// Force over length.
    Stiffness: "exclusiveMinimum" = 0, "x-unit" = "N/m";
    /// Force over speed.
    Damping: "minimum" = 0, "x-unit" = "N s/m";
    /// How much stiffer a spring gets.
    Progression: "minimum" = 1, "maximum" = 20, "x-unit" = "force over force";
    /// A force in the rider's own weights, enough to stand on.
    BodyWeights: "exclusiveMinimum" = 1, "x-unit" = "body weights";
    /// The width of a normal distribution, in the unit of its mean.
    Deviation: "exclusiveMinimum" = 0, "x-unit" = "the unit of the mean";
}
