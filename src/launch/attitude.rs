//! Which way bike and rider point.

use super::LaunchError;
use crate::math::Vec3;
use crate::ride::Exit;
use nalgebra::{Matrix3, Rotation3, Unit, UnitQuaternion};
use serde::{Deserialize, Serialize};

/// Axes given by hand may be off by this; they are typed with few digits.
const SLACK: f64 = 1e-6;

/// Which way bike and rider point: unit vectors, right-handed, `t × l = u`.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize)]
pub struct Attitude {
    /// Forward.
    pub t: Vec3,
    /// To the left.
    pub l: Vec3,
    /// Up through the bike, from the tyres to the rider.
    pub u: Vec3,
}

impl Attitude {
    /// The attitude that points along `forward`, as upright as that allows; none where forward is straight up or down.
    pub fn upright(forward: Vec3) -> Option<Self> {
        let t = forward.try_normalize(f64::MIN_POSITIVE)?;
        let l = Vec3::z().cross(&t).try_normalize(1e-12)?;
        Some(Self { t, l, u: t.cross(&l) })
    }

    /// The attitude of a rotation that takes `x`, `y`, `z` to forward, left and up.
    pub fn of_rotation(rotation: &UnitQuaternion<f64>) -> Self {
        let axes = rotation.to_rotation_matrix();
        let axis = |i: usize| axes.matrix().column(i).into_owned();
        Self { t: axis(0), l: axis(1), u: axis(2) }
    }

    /// The rotation that takes `x`, `y`, `z` to forward, left and up.
    pub fn rotation(&self) -> UnitQuaternion<f64> {
        let axes = Matrix3::from_columns(&[self.t, self.l, self.u]);
        UnitQuaternion::from_rotation_matrix(&Rotation3::from_matrix_unchecked(axes))
    }

    pub(super) fn of(exit: &Exit) -> Self {
        let (t, u) = (exit.frame.tangent, exit.up);
        Self { t, l: u.cross(&t), u }
    }

    /// The attitude turned by an angle about an axis of length one.
    pub(super) fn turned(&self, axis: &Vec3, angle: f64) -> Self {
        let turn = Rotation3::from_axis_angle(&Unit::new_unchecked(*axis), angle);
        Self { t: turn * self.t, l: turn * self.l, u: turn * self.u }
    }

    pub(super) fn check(&self) -> Result<(), LaunchError> {
        let lengths = [self.t, self.l, self.u].map(|axis| (axis.norm() - 1.0).abs());
        let off = lengths.into_iter().fold((self.t.cross(&self.l) - self.u).norm(), f64::max);
        // Written so that a NaN is an error.
        if off <= SLACK { Ok(()) } else { Err(LaunchError::Attitude { off }) }
    }
}
