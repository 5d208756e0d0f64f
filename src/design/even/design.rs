//! What an even landing is asked to be.

use super::stop::EvenError;
use crate::earth::Soil;
use crate::math::Vec2;
use crate::math::range::{OutOfRange, finite, non_negative, positive};
use serde::{Deserialize, Serialize};
use std::f64::consts::FRAC_PI_2;

/// What an even landing is asked to be: the family of flights, the fall height, from where to where.
///
/// All flights leave from one place at one angle and differ in speed. Places are metres from the centre of mass at the
/// launch: `x` level along the landing's heading, `z` up; they are places of the *earth*.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize)]
#[serde(try_from = "Values", into = "Values")]
pub struct EvenDesign(Values);

#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize)]
struct Values {
    launch_angle: f64,
    fall_height: f64,
    far: Vec2,
    near: f64,
    sideways: f64,
    cross_slope: f64,
    steepest: f64,
}

impl EvenDesign {
    /// Flights that leave at `launch_angle` above the level (radians, less than a right angle up or down) and land with
    /// `fall_height` (metres, at least 0), on earth that ends at `far` and begins `near` metres out.
    ///
    /// `far.x` is above 0, `near` from 0 to below it. Thrown straight along the landing, level across, and at most
    /// 45 degrees steep: what earth stands at when hard, dry and clean ([`Soil::loam`]).
    pub fn new(
        launch_angle: f64,
        fall_height: f64,
        far: Vec2,
        near: f64,
    ) -> Result<Self, EvenError> {
        let steepest = Soil::loam().stand_up().high();
        let straight = Values {
            launch_angle,
            fall_height,
            far,
            near,
            sideways: 0.0,
            cross_slope: 0.0,
            steepest,
        };
        straight.checked()
    }

    /// The same with flights thrown sideways: their heading, from the landing's heading to the left; radians, less than
    /// a right angle either way.
    pub fn with_sideways(self, sideways: f64) -> Result<Self, EvenError> {
        Values { sideways, ..self.0 }.checked()
    }

    /// The same with a surface that rises to the left at an angle; radians, less than a right angle, negative falls.
    ///
    /// The far end is then the earth's place in the vertical plane through the launch.
    pub fn with_cross_slope(self, cross_slope: f64) -> Result<Self, EvenError> {
        Values { cross_slope, ..self.0 }.checked()
    }

    /// The same on earth that is let stand at most at an angle to the level; radians, above 0, less than a right angle.
    pub fn with_steepest(self, steepest: f64) -> Result<Self, EvenError> {
        Values { steepest, ..self.0 }.checked()
    }

    /// The angle above the level at which flights leave, radians.
    pub const fn launch_angle(&self) -> f64 {
        self.0.launch_angle
    }

    /// The equivalent fall height of every landing, metres.
    pub const fn fall_height(&self) -> f64 {
        self.0.fall_height
    }

    /// Where the earth ends: metres out and up.
    pub const fn far(&self) -> Vec2 {
        self.0.far
    }

    /// How far out it should begin, metres.
    pub const fn near(&self) -> f64 {
        self.0.near
    }

    /// The flights' heading from the landing's, to the left positive, radians.
    pub const fn sideways(&self) -> f64 {
        self.0.sideways
    }

    /// How the surface rises to the left, radians.
    pub const fn cross_slope(&self) -> f64 {
        self.0.cross_slope
    }

    /// The steepest angle that earth is let stand at, radians.
    pub const fn steepest(&self) -> f64 {
        self.0.steepest
    }
}

impl Values {
    fn checked(self) -> Result<EvenDesign, EvenError> {
        less_than_square("launch_angle", self.launch_angle)?;
        non_negative("fall_height", self.fall_height)?;
        positive("far.x", self.far.x)?;
        finite("far.z", self.far.y)?;
        if !(self.near >= 0.0 && self.near < self.far.x) {
            let allowed = format!("from 0 to below the far end at {}", self.far.x);
            return Err(OutOfRange::new("near", self.near, allowed).into());
        }
        less_than_square("sideways", self.sideways)?;
        less_than_square("cross_slope", self.cross_slope)?;
        less_than_square("steepest", positive("steepest", self.steepest)?)?;
        Ok(EvenDesign(self))
    }
}

impl TryFrom<Values> for EvenDesign {
    type Error = EvenError;

    fn try_from(values: Values) -> Result<Self, EvenError> {
        values.checked()
    }
}

impl From<EvenDesign> for Values {
    fn from(design: EvenDesign) -> Self {
        design.0
    }
}

pub(super) fn less_than_square(field: &'static str, angle: f64) -> Result<(), OutOfRange> {
    if angle.abs() < FRAC_PI_2 {
        return Ok(());
    }
    Err(OutOfRange::new(field, angle, "between -pi/2 and pi/2, both left out"))
}
