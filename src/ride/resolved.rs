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
    /// Of the centre of mass.
    pub(super) velocity: Vec3,
    /// Kinetic energy per mass.
    pub(super) energy: f64,
    pub(super) loads: Loads,
}

/// What the forces at one place act along.
#[derive(Debug, Clone, Copy)]
pub(super) struct Acting {
    pub(super) tangent: Vec3,
    pub(super) normal: Vec3,
    pub(super) left: Vec3,
    /// How far the centre of mass goes ahead while the tyres go a metre.
    pub(super) lead: f64,
    /// How far it is taken across the line meanwhile, the surface holding it.
    pub(super) swing: f64,
    /// What the air gives, per mass.
    pub(super) drag: Vec3,
}

/// A solved panel, its place `x` running from 0 to 1.
pub(super) trait Resolved {
    /// Metres of line a unit of `x`, at the nodes.
    fn metres(&self) -> &[f64; NODES];
    /// What acts at the nodes.
    fn loads(&self) -> &[Loads; NODES];
    /// The tyres' speeds at the nodes.
    fn speeds(&self) -> [f64; NODES];
    /// What the forces at a node act along.
    fn acting(&self, node: usize) -> Acting;
    /// Everything at `x`.
    fn moment(&self, x: f64) -> Moment;

    /// Seconds a unit of `x`, as Legendre coefficients.
    fn seconds(&self) -> [f64; NODES] {
        let (metres, speeds) = (self.metres(), self.speeds());
        BASIS.coefficients(&std::array::from_fn(|i| metres[i] / speeds[i]))
    }

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
