//! What an even surface is asked to be: the lines of flights, the fall height, from where to where.

use crate::design::even::design::less_than_square;
use crate::design::even::stop::EvenError;
use crate::earth::Soil;
use crate::launch::Launch;
use crate::math::range::{OutOfRange, finite, non_negative, positive};
use crate::math::{Vec2, Vec3};
use serde::{Deserialize, Serialize};

/// The most lines: the surface between them is one polynomial across, which too many would let swing.
pub(super) const MOST: usize = 8;

/// Flights that leave from one place in one direction and differ in speed.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize)]
pub struct EvenLine {
    position: Vec3,
    direction: Vec3,
}

impl EvenLine {
    /// The line of all launches that differ from this in speed alone; an error where it stands still.
    pub fn of(launch: &Launch) -> Result<Self, OutOfRange> {
        let speed = positive("speed", launch.velocity.norm())?;
        for place in launch.position.iter() {
            finite("position", *place)?;
        }
        Ok(Self { position: launch.position, direction: launch.velocity / speed })
    }

    /// Where the centre of mass leaves, in the site's frame.
    pub const fn position(&self) -> Vec3 {
        self.position
    }

    /// The direction in which it leaves, of length 1.
    pub const fn direction(&self) -> Vec3 {
        self.direction
    }
}

/// What an even surface is asked to be. Places `x` along the landing's heading, `y` to its left and `z` up are metres from
/// the centre of mass at the first line's launch; they are places of the *earth*.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[serde(try_from = "Values", into = "Values")]
pub struct EvenSurfaceDesign(Values);

#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub(super) struct Values {
    lines: Vec<EvenLine>,
    heading: f64,
    fall_height: f64,
    far: Vec2,
    near: f64,
    cross_slope: f64,
    steepest: f64,
}

impl EvenSurfaceDesign {
    /// Flights along 2 to 8 `lines`, in their order across, that land with `fall_height` (metres, at least 0) on earth that
    /// heads along `heading` (radians), ends at `far` and begins `near` metres out.
    ///
    /// Each line heads less than a right angle off the landing. `far.x` is above 0, `near` from 0 to below it. Level across
    /// at the far end and at most 45 degrees steep, what earth stands at when hard, dry and clean ([`Soil::loam`]).
    pub fn new(
        lines: Vec<EvenLine>,
        heading: f64,
        fall_height: f64,
        far: Vec2,
        near: f64,
    ) -> Result<Self, EvenError> {
        let steepest = Soil::loam().stand_up().high();
        Values { lines, heading, fall_height, far, near, cross_slope: 0.0, steepest }.checked()
    }

    /// The same with a far end that rises to the left at an angle; radians, less than a right angle, negative falls. What
    /// the surface does across nearer in follows from it.
    pub fn with_cross_slope(self, cross_slope: f64) -> Result<Self, EvenError> {
        Values { cross_slope, ..self.0 }.checked()
    }

    /// The same on earth that is let stand at most at an angle to the level; radians, above 0, less than a right angle.
    pub fn with_steepest(self, steepest: f64) -> Result<Self, EvenError> {
        Values { steepest, ..self.0 }.checked()
    }

    /// The lines, in their order across.
    pub fn lines(&self) -> &[EvenLine] {
        &self.0.lines
    }

    /// The landing's heading, radians.
    pub const fn heading(&self) -> f64 {
        self.0.heading
    }

    /// The equivalent fall height of every landing, metres.
    pub const fn fall_height(&self) -> f64 {
        self.0.fall_height
    }

    /// Where the earth ends: metres out and, at `y = 0`, up.
    pub const fn far(&self) -> Vec2 {
        self.0.far
    }

    /// How far out it should begin, metres.
    pub const fn near(&self) -> f64 {
        self.0.near
    }

    /// How its far end rises to the left, radians.
    pub const fn cross_slope(&self) -> f64 {
        self.0.cross_slope
    }

    /// The steepest angle that earth is let stand at, radians.
    pub const fn steepest(&self) -> f64 {
        self.0.steepest
    }

    /// A vector of the site in the landing's own axes: along, to the left, up.
    pub(super) fn turned(&self, vector: &Vec3) -> Vec3 {
        let (sin, cos) = self.0.heading.sin_cos();
        Vec3::new(cos * vector.x + sin * vector.y, cos * vector.y - sin * vector.x, vector.z)
    }

    /// A place in the landing's axes, in the site's.
    pub(super) fn in_site(&self, place: &Vec3) -> Vec3 {
        let (sin, cos) = self.0.heading.sin_cos();
        let turned =
            Vec3::new(cos * place.x - sin * place.y, sin * place.x + cos * place.y, place.z);
        self.0.lines.first().map_or(turned, |first| first.position + turned)
    }
}

impl Values {
    fn checked(self) -> Result<EvenSurfaceDesign, EvenError> {
        let count = self.lines.len();
        if !(2..=MOST).contains(&count) {
            let allowed = format!("from 2 to {MOST}; for one line there is the even landing");
            return Err(OutOfRange::new("lines", count as f64, allowed).into());
        }
        finite("heading", self.heading)?;
        non_negative("fall_height", self.fall_height)?;
        positive("far.x", self.far.x)?;
        finite("far.z", self.far.y)?;
        if !(self.near >= 0.0 && self.near < self.far.x) {
            let allowed = format!("from 0 to below the far end at {}", self.far.x);
            return Err(OutOfRange::new("near", self.near, allowed).into());
        }
        less_than_square("cross_slope", self.cross_slope)?;
        less_than_square("steepest", positive("steepest", self.steepest)?)?;
        let design = EvenSurfaceDesign(self);
        for (at, line) in design.lines().iter().enumerate() {
            let along = design.turned(&line.direction).x;
            if along.is_nan() || along <= 0.0 {
                return Err(EvenError::LineTurnsBack { line: at + 1 });
            }
        }
        Ok(design)
    }
}

impl TryFrom<Values> for EvenSurfaceDesign {
    type Error = EvenError;

    fn try_from(values: Values) -> Result<Self, EvenError> {
        values.checked()
    }
}

impl From<EvenSurfaceDesign> for Values {
    fn from(design: EvenSurfaceDesign) -> Self {
        design.0
    }
}
