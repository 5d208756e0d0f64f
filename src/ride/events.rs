//! Where something goes wrong on a panel: looked for on polynomials through its nodes, polished on the equation itself.

use super::equation::{Equation, Loads};
use super::panel::{BASIS, NODES, Panel};
use super::station::{Body, Station};
use crate::geometry::Line;
use crate::math::roots::{self, End};

/// What stays the same along a ride.
#[derive(Debug, Clone, Copy)]
pub(super) struct Setting<'a> {
    pub(super) line: &'a Line,
    pub(super) body: Body,
    pub(super) equation: Equation,
}

/// Everything at one place of a panel.
pub(super) struct Moment {
    pub(super) station: Station,
    pub(super) energy: f64,
    pub(super) loads: Loads,
}

/// What ends a ride.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum Ending {
    Stall,
    Lift,
}

/// The highest curvature of a hollow that the model takes, times the height of the centre of mass.
const TIGHTEST: f64 = 0.5;

impl Setting<'_> {
    /// The equation's terms at `x` of a panel, from the line itself and the panel's energy there.
    pub(super) fn at(&self, panel: &Panel, x: f64, asked: f64) -> Moment {
        let span = panel.bed.span;
        let (frame, _) = self.line.at(span.piece, span.parameter(x));
        let station = Station::new(&frame, &self.body);
        let energy = panel.sum(x) - self.equation.g() * station.centre.z;
        let loads = self.equation.loads(&station, energy, asked);
        Moment { station, energy, loads }
    }

    /// The first place where the hollow is too tight for the model, if any.
    pub(super) fn too_tight(&self, stations: &[Station; NODES]) -> Option<f64> {
        let spare = stations
            .each_ref()
            .map(|station| TIGHTEST + 1e-12 - self.body.com_height * station.hollow);
        BASIS.first_not_positive(&spare)
    }

    /// The first place where the ride ends, if it does on this panel.
    pub(super) fn ending(&self, panel: &Panel, asked: f64) -> Option<(Ending, f64)> {
        let pace = panel.bed.span.pace;
        let energies: [f64; NODES] =
            std::array::from_fn(|i| panel.energies[i] / pace.vanishing(BASIS.rule.nodes[i]));
        let stall = BASIS
            .first_not_positive(&energies)
            .map(|x| (Ending::Stall, polish(x, |x| self.at(panel, x, asked).energy)));
        let lift = BASIS
            .first_not_positive(&panel.loads.each_ref().map(|loads| loads.normal))
            .map(|x| (Ending::Lift, polish(x, |x| self.at(panel, x, asked).loads.normal)));
        match (stall, lift) {
            (Some(a), Some(b)) => Some(if a.1 <= b.1 { a } else { b }),
            (a, b) => a.or(b),
        }
    }

    /// The first place where the side load is more than grip gives, if any.
    pub(super) fn slip(&self, panel: &Panel, asked: f64) -> Option<f64> {
        let grip = self.equation.grip;
        if grip.is_infinite() {
            return None;
        }
        let first = |sign: f64| {
            let spare = move |loads: &Loads| grip * loads.normal - sign * loads.side;
            BASIS
                .first_not_positive(&panel.loads.each_ref().map(spare))
                .map(|x| polish(x, |x| spare(&self.at(panel, x, asked).loads)))
        };
        match (first(1.0), first(-1.0)) {
            (Some(a), Some(b)) => Some(a.min(b)),
            (a, b) => a.or(b),
        }
    }
}

/// The root of `f` near `x`, where one is; else `x` itself (a function that only touches zero, or starts below).
fn polish(x: f64, mut f: impl FnMut(f64) -> f64) -> f64 {
    for reach in [1e-9, 1e-7, 1e-5, 1e-3] {
        let (low, high) = ((x - reach).max(0.0), (x + reach).min(1.0));
        let ends = [End { x: low, f: f(low) }, End { x: high, f: f(high) }];
        if ends[0].f > 0.0 && ends[1].f <= 0.0 {
            return roots::between(&mut f, ends, 1e-14).unwrap_or(x);
        }
    }
    x
}
