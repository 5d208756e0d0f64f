//! What a ramp is given by, and whether it can be.

use super::error::RampError;
use crate::geometry::VerticalCurve;
use crate::math::Vec3;
use crate::math::jet::Jet;
use crate::math::range::{OutOfRange, finite, positive, within};
use serde::{Deserialize, Serialize};

/// The most that an edge may be skewed, a ramp set across the trail, or its surface tilted, degrees.
const MOST_DEG: f64 = 60.0;

/// How far a ramp's surface is banked sideways, radians from level across: even from its start to its end.
#[derive(Debug, Clone, Copy, PartialEq, Default, Serialize, Deserialize)]
pub(in crate::feature) struct Tilt {
    pub(in crate::feature) start: f64,
    pub(in crate::feature) end: f64,
}

impl Tilt {
    pub(super) fn at(&self, s: f64, length: f64) -> Jet {
        let rate = (self.end - self.start) / length;
        Jet::new(self.start + rate * s, rate, 0.0, 0.0)
    }
}

/// The numbers of a ramp: metres and radians.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub(in crate::feature) struct Drawing {
    pub(in crate::feature) curve: VerticalCurve,
    pub(in crate::feature) width: f64,
    pub(in crate::feature) position: Vec3,
    pub(in crate::feature) heading: f64,
    pub(in crate::feature) hip: f64,
    pub(in crate::feature) end_skew: f64,
    pub(in crate::feature) tilt: Tilt,
}

impl Drawing {
    /// At the origin, along `+x`, square to the travel and level across.
    pub(in crate::feature) fn new(curve: VerticalCurve, width: f64) -> Self {
        let (position, tilt) = (Vec3::zeros(), Tilt::default());
        Self { curve, width, position, heading: 0.0, hip: 0.0, end_skew: 0.0, tilt }
    }

    /// The station of the end edge `y` across.
    pub(super) fn end_station(&self, y: f64) -> f64 {
        self.curve.length() + y / self.hip.cos() * self.end_skew.tan()
    }

    pub(super) fn check(&self) -> Result<(), RampError> {
        positive("width", self.width)?;
        for x in self.position.iter() {
            finite("position", *x)?;
        }
        finite("heading_deg", self.heading.to_degrees())?;
        for (field, angle) in [
            ("hip_deg", self.hip),
            ("end_skew_deg", self.end_skew),
            ("tilt_deg", self.tilt.start),
            ("tilt_deg", self.tilt.end),
        ] {
            within(field, angle.to_degrees(), -MOST_DEG, MOST_DEG)?;
        }
        let ends = [0.5, -0.5].map(|side| self.end_station(side * self.width));
        if ends[0].min(ends[1]) <= 0.0 {
            let text = "so much that some of both sides is left";
            return Err(OutOfRange::new("end_skew_deg", self.end_skew.to_degrees(), text).into());
        }
        let reach = ends[0].max(ends[1]);
        self.curve.check_reach(reach)?;
        self.check_tilt(reach)
    }

    /// Nothing where a tilt that grows stays in range on a skewed edge that reaches on.
    fn check_tilt(&self, reach: f64) -> Result<(), RampError> {
        let tilt = self.tilt.at(reach, self.curve.length()).value().to_degrees();
        within("tilt_deg", tilt, -90.0, 90.0)?;
        Ok(())
    }
}
