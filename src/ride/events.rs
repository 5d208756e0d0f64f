//! Where something goes wrong on a panel: looked for on polynomials through its nodes, polished on the equation itself.

use super::equation::{Drive, Equation, Loads};
use super::panel::{BASIS, NODES, Pace, Panel};
use super::resolved::{Acting, Moment, Resolved};
use super::station::{Body, Station};
use crate::geometry::Line;
use crate::math::roots;

/// What stays the same along a ride.
#[derive(Debug, Clone, Copy)]
pub(super) struct Setting<'a> {
    pub(super) line: &'a Line,
    pub(super) body: Body,
    pub(super) equation: Equation,
}

/// A panel ridden square to the surface, with all that acts on it.
#[derive(Clone, Copy)]
pub(super) struct Ridden<'a, 'b> {
    pub(super) setting: &'a Setting<'b>,
    pub(super) panel: &'a Panel<'b>,
    pub(super) asked: f64,
}

impl Resolved for Ridden<'_, '_> {
    fn metres(&self) -> &[f64; NODES] {
        &self.panel.bed.metres
    }

    fn loads(&self) -> &[Loads; NODES] {
        &self.panel.loads
    }

    fn speeds(&self) -> [f64; NODES] {
        self.panel.speeds()
    }

    fn acting(&self, node: usize) -> Acting {
        let station = &self.panel.bed.stations[node];
        let tangent = station.left.cross(&station.normal);
        let velocity = station.dc * station.speed(self.panel.energies[node]);
        Acting {
            tangent,
            normal: station.normal,
            left: station.left,
            lead: station.dc.dot(&tangent),
            swing: station.swing,
            drag: self.setting.equation.forces.drag(velocity),
        }
    }

    fn moment(&self, x: f64) -> Moment {
        self.setting.at(self.panel, x, self.asked)
    }
}

/// What ends a ride.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum Ending {
    Stall,
    Lift,
}

/// What happens on a panel.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum Event {
    /// The ride is over.
    End(Ending),
    /// Pedalling meets its other bound.
    Drive,
}

/// The highest curvature of a hollow that the model takes, times the height of the centre of mass.
pub(super) const TIGHTEST: f64 = 0.5;
/// Who starts from rest is pushed on evenly so far, in metres: what ends a ride there is rounding's.
const PUSHED_ON: f64 = 1e-5;
/// A drive this near to where its two bounds meet follows either, as a share of the speed's square there.
const ONE_BOUND: f64 = 1e-9;

impl Setting<'_> {
    /// The equation's terms at `x` of a panel, from the line itself and the panel's energy there.
    pub(super) fn at(&self, panel: &Panel, x: f64, asked: f64) -> Moment {
        let span = panel.bed.span;
        let (frame, _) = self.line.at(span.piece, span.parameter(x));
        let station = Station::new(&frame, &self.body);
        let energy = panel.sum(x) - self.equation.g() * station.centre.z;
        let loads = self.equation.loads(&station, energy, asked);
        let speed = station.speed(energy);
        Moment {
            tyres: station.tyres,
            centre: station.centre,
            speed,
            lean: 0.0,
            velocity: station.dc * speed,
            energy,
            loads,
        }
    }

    /// The first place where the hollow is too tight for the model, if any.
    pub(super) fn too_tight(&self, stations: &[Station; NODES]) -> Option<f64> {
        let spare = stations
            .each_ref()
            .map(|station| TIGHTEST + 1e-12 - self.body.com_height * station.hollow);
        BASIS.first_not_positive(&spare)
    }

    /// What happens first on this panel, and where; `drive_changed` at its start.
    pub(super) fn event(
        &self,
        panel: &Panel,
        asked: f64,
        drive_changed: bool,
    ) -> Option<(Event, f64)> {
        let end = self.ending(panel, asked).map(|(ending, x)| (Event::End(ending), x));
        let drive = self.drive_meets_its_bound(panel, drive_changed).map(|x| (Event::Drive, x));
        match (end, drive) {
            (Some(a), Some(b)) => Some(if a.1 <= b.1 { a } else { b }),
            (a, b) => a.or(b),
        }
    }

    /// The first place where pedalling meets its other bound.
    fn drive_meets_its_bound(&self, panel: &Panel, drive_changed: bool) -> Option<f64> {
        if self.equation.drive == Drive::Lower {
            return None;
        }
        let mut spare: [f64; NODES] = std::array::from_fn(|i| {
            let square = 2.0 * panel.energies[i] / panel.bed.stations[i].inertia;
            self.equation.drive_spare(square)
        });
        if spare.iter().all(|spare| spare.abs() < ONE_BOUND) {
            return None;
        }
        if drive_changed {
            // At its start is what rounding leaves of nothing: that zero is divided out.
            spare = std::array::from_fn(|i| spare[i] / BASIS.rule.nodes[i]);
        }
        BASIS.first_not_positive(&spare)
    }

    /// The first place where the ride ends, if it does on this panel.
    fn ending(&self, panel: &Panel, asked: f64) -> Option<(Ending, f64)> {
        let pace = panel.bed.span.pace;
        if pace == Pace::FromRest && panel.bed.length <= PUSHED_ON {
            return None;
        }
        let energies: [f64; NODES] =
            std::array::from_fn(|i| panel.energies[i] / pace.vanishing(BASIS.rule.nodes[i]));
        let stall = BASIS
            .first_not_positive(&energies)
            .map(|x| (Ending::Stall, roots::near(x, |x| self.at(panel, x, asked).energy)));
        let lift = BASIS
            .first_not_positive(&panel.loads.each_ref().map(|loads| loads.normal))
            .map(|x| (Ending::Lift, roots::near(x, |x| self.at(panel, x, asked).loads.normal)));
        match (stall, lift) {
            (Some(a), Some(b)) => Some(if a.1 <= b.1 { a } else { b }),
            (a, b) => a.or(b),
        }
    }
}
