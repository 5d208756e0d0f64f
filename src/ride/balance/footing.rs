//! What the line gives a leaning rider at one station.

use crate::geometry::{Frame, Line};
use crate::math::Vec3;

/// One station of a line: where the tyres are, which way they point, and how the line bends there.
#[derive(Debug, Clone, Copy)]
pub(super) struct Footing {
    pub(super) tyres: Vec3,
    pub(super) tangent: Vec3,
    pub(super) normal: Vec3,
    /// To the left, across the line: `n × t`.
    pub(super) left: Vec3,
    /// `t' · n`: positive in a hollow.
    pub(super) hollow: f64,
    /// `t' · l`: positive in a turn to the left.
    pub(super) turn: f64,
    /// `n' · l`: how the surface twists under the line.
    pub(super) twist: f64,
}

impl Footing {
    pub(super) fn new(frame: &Frame) -> Self {
        let left = frame.left();
        Self {
            tyres: frame.position,
            tangent: frame.tangent,
            normal: frame.normal,
            left,
            hollow: frame.normal_curvature(),
            turn: frame.curvature.dot(&left),
            twist: frame.dnormal.dot(&left),
        }
    }

    /// The footing at a parameter within a piece, and the metres a unit of the parameter is.
    pub(super) fn at(line: &Line, piece: usize, parameter: f64) -> (Self, f64) {
        let (frame, stretch) = line.at(piece, parameter);
        (Self::new(&frame), stretch)
    }

    /// `t' · u`, the curvature towards the rider at a lean.
    pub(super) fn towards(&self, lean: f64) -> f64 {
        let (sin, cos) = lean.sin_cos();
        self.hollow * cos + self.turn * sin
    }

    /// "Up through the bike" at a lean.
    pub(super) fn up(&self, lean: f64) -> Vec3 {
        let (sin, cos) = lean.sin_cos();
        self.normal * cos + self.left * sin
    }

    /// `u × t`, to the left of a leaning bike.
    pub(super) fn aside(&self, lean: f64) -> Vec3 {
        let (sin, cos) = lean.sin_cos();
        self.left * cos - self.normal * sin
    }
}
