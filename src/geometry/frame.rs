//! The frame along a line: where the tyres are, which way they point, what is under them.

use crate::math::Vec3;
use crate::math::jet::Jet3;
use serde::{Deserialize, Serialize};

/// Where tyres touch, by a line's own parameter.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Contact {
    /// The touched point, with three derivatives, metres.
    pub point: Jet3,
    /// The surface's unit normal, up, with two derivatives.
    pub normal: Jet3,
}

impl Contact {
    /// The frame here, all derivatives by metres along the line, and how many metres a unit of the parameter is.
    ///
    /// The station is left at zero: it is the line's to know.
    pub(crate) fn frame(&self) -> (Frame, f64) {
        let along = self.point.derivative();
        let stretch = along.norm();
        let per_metre = stretch.recip();
        let tangent = along.scale(per_metre);
        let curvature = tangent.derivative().scale(per_metre);
        let dcurvature = curvature.derivative().scale(per_metre);
        let dnormal = self.normal.derivative().scale(per_metre);
        let ddnormal = dnormal.derivative().scale(per_metre);
        let frame = Frame {
            station: 0.0,
            position: self.point.value(),
            tangent: tangent.value(),
            curvature: curvature.value(),
            dcurvature: dcurvature.value(),
            normal: self.normal.value(),
            dnormal: dnormal.value(),
            ddnormal: ddnormal.value(),
        };
        (frame, stretch.value())
    }
}

/// A line at one station: every derivative is by metres of the tyres' line.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize)]
pub struct Frame {
    /// Arc length from the line's start, metres.
    pub station: f64,
    /// The tyres' point `r`, metres, in the site's axes.
    pub position: Vec3,
    /// `t = r'`, the unit vector forward.
    pub tangent: Vec3,
    /// `r''`, one over metres.
    pub curvature: Vec3,
    /// `r'''`, one over square metres.
    pub dcurvature: Vec3,
    /// `n`, the surface's unit normal.
    pub normal: Vec3,
    /// `n'`, one over metres.
    pub dnormal: Vec3,
    /// `n''`, one over square metres.
    pub ddnormal: Vec3,
}

impl Frame {
    /// The unit vector to the left, across the line on the surface: `n × t`.
    pub fn left(&self) -> Vec3 {
        self.normal.cross(&self.tangent)
    }

    /// Curvature within the surface's normal plane, `r'' · n`: positive in a hollow, negative over a crest.
    pub fn normal_curvature(&self) -> f64 {
        self.curvature.dot(&self.normal)
    }
}
