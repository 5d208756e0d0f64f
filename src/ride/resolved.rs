//! A bit of a ride that is solved, whatever the lean: what outcomes, samples and sums are taken from.

use super::equation::Loads;
use super::panel::{BASIS, NODES};
use crate::math::Vec3;
use crate::math::legendre;
use crate::math::roots;

/// Everything at one place of a panel.
#[derive(Debug, Clone, Copy)]
pub(super) struct Moment {
    pub(super) tyres: Vec3,
    pub(super) centre: Vec3,
    /// The tyres' speed.
    pub(super) speed: f64,
    /// Off the normal, to the left.
    pub(super) lean: f64,
    /// Kinetic energy per mass.
    pub(super) energy: f64,
    pub(super) loads: Loads,
}

/// A solved panel, its place `x` running from 0 to 1.
pub(super) trait Resolved {
    /// Metres of line a unit of `x`, at the nodes.
    fn metres(&self) -> &[f64; NODES];
    /// What acts at the nodes.
    fn loads(&self) -> &[Loads; NODES];
    /// Seconds a unit of `x`, as Legendre coefficients.
    fn seconds(&self) -> [f64; NODES];
    /// Everything at `x`.
    fn moment(&self, x: f64) -> Moment;

    /// Metres of line from the panel's start to `x`.
    fn way(&self, x: f64) -> f64 {
        legendre::integral(&BASIS.coefficients(self.metres()), x)
    }

    /// The panel's length, metres of line.
    fn length(&self) -> f64 {
        BASIS.whole(self.metres())
    }

    /// The first place where the side load is more than `grip` gives, if any.
    fn slip(&self, grip: f64) -> Option<f64> {
        if grip.is_infinite() {
            return None;
        }
        let first = |sign: f64| {
            let spare = move |loads: &Loads| grip * loads.normal - sign * loads.side;
            BASIS
                .first_not_positive(&self.loads().each_ref().map(spare))
                .map(|x| roots::near(x, |x| spare(&self.moment(x).loads)))
        };
        match (first(1.0), first(-1.0)) {
            (Some(a), Some(b)) => Some(a.min(b)),
            (a, b) => a.or(b),
        }
    }
}
