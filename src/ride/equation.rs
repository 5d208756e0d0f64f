//! The ride's energy equation: forces and rates at one station for one energy.

use super::options::RideOptions;
use super::station::Station;
use crate::air::Air;
use crate::force::Forces;
use crate::rider::Rider;

/// Everything in the equation that does not change along the line, per mass.
#[derive(Debug, Clone, Copy)]
pub(super) struct Equation {
    pub(super) forces: Forces,
    calm: bool,
    pub(super) crr: f64,
    pub(super) grip: f64,
    pub(super) power: f64,
    pub(super) drive_limit: f64,
    /// Which bound pedalling follows; a march changes it where the other becomes the lower.
    pub(super) drive: Drive,
    /// Whether to stay on the branch that is linear in the energy: rolling also for negative loads.
    linear: bool,
}

/// What holds pedalling back, a bound for each speed: the lower of both, with its kink, would spoil a panel across it.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum Drive {
    /// Slow: the most that the legs push.
    Limit,
    /// Fast: the power.
    Power,
    /// The lower of both, where they meet at less than a crawl.
    Lower,
}

/// Where both bounds of the drive meet below this speed, their kink is not looked for, m/s.
const CRAWL: f64 = 1e-3;
/// So many times its limit a trial solution's drive is at most.
const TRIAL: f64 = 4.0;

impl Drive {
    pub(super) fn other(self) -> Self {
        match self {
            Self::Limit => Self::Power,
            Self::Power => Self::Limit,
            Self::Lower => Self::Lower,
        }
    }
}

/// What acts at one station, per mass; rates of energy are per metre of the tyres' line, losses positive.
#[derive(Debug, Clone, Copy, Default)]
pub(super) struct Loads {
    /// Load on the surface `N/m`.
    pub(super) normal: f64,
    /// Side load `S/m`, what must be given to the left.
    pub(super) side: f64,
    pub(super) drag: f64,
    pub(super) rolling: f64,
    pub(super) brake: f64,
    pub(super) pedal: f64,
    /// Whether grip gives less than the brake asked for.
    pub(super) limited: bool,
}

impl Loads {
    /// What the energy gains a metre, gravity apart.
    pub(super) fn gain(&self) -> f64 {
        self.pedal - self.drag - self.rolling - self.brake
    }

    /// `|S| / N`, infinite where nothing presses.
    pub(super) fn demand(&self) -> f64 {
        if self.normal > 0.0 { self.side.abs() / self.normal } else { f64::INFINITY }
    }
}

impl Equation {
    pub(super) fn new(rider: &Rider, air: &Air, options: &RideOptions) -> Self {
        let forces = Forces::new(rider, air);
        Self {
            forces,
            calm: forces.is_calm(),
            crr: rider.crr(),
            grip: rider.grip(),
            power: options.power / rider.mass(),
            drive_limit: options.drive_limit,
            drive: Drive::Lower,
            linear: false,
        }
    }

    /// The equation where it is linear in the energy: no wind, no pedalling, no brake, loads of either sign.
    pub(super) fn linear(rider: &Rider, air: &Air) -> Self {
        Self { linear: true, ..Self::new(rider, air, &RideOptions::new(0.0)) }
    }

    /// The acceleration of free fall.
    pub(super) fn g(&self) -> f64 {
        self.forces.g()
    }

    /// What acts at `station` with kinetic energy `energy`, when a deceleration of `asked` is braked for.
    ///
    /// For energies below zero, which only trial solutions have, this is the smooth continuation.
    pub(super) fn loads(&self, station: &Station, energy: f64, asked: f64) -> Loads {
        let square = 2.0 * energy / station.inertia;
        let (drag, drag_normal, drag_left) = self.drag(station, square);
        // The centre of mass moves within the tangent plane, so a change of speed adds nothing along the normal.
        let normal = station.bend * square + self.g() * station.normal.z + drag_normal;
        let rolling = self.crr * if self.linear { normal } else { normal.max(0.0) };
        let pedal = self.pedal(square);
        let before_brake = pedal - drag - rolling - self.g() * station.dc.z;
        let change = (before_brake - 0.5 * station.dinertia * square) / station.inertia;
        let side = station.side_bend * square
            + station.swing * change
            + self.g() * station.left.z
            + drag_left;
        let mut loads = Loads { normal, side, drag, rolling, pedal, ..Loads::default() };
        if asked > 0.0 {
            let lever = station.swing / station.inertia;
            let most = brake_within(self.grip, normal, side, lever);
            loads.brake = asked.min(most);
            loads.limited = asked > most;
            loads.side -= lever * loads.brake;
        }
        loads
    }

    /// What drag takes a metre, and what of it the contact must give along the normal and to the left.
    fn drag(&self, station: &Station, square: f64) -> (f64, f64, f64) {
        if self.calm {
            let stretch = station.dc.norm();
            let push = self.forces.k() * stretch * square;
            return (push * stretch * stretch, 0.0, push * station.swing);
        }
        let against = -self.forces.drag(station.dc * square.max(0.0).sqrt());
        (against.dot(&station.dc), against.dot(&station.normal), against.dot(&station.left))
    }

    fn pedal(&self, square: f64) -> f64 {
        if self.power == 0.0 {
            return 0.0;
        }
        let by_power = self.power / square.max(0.0).sqrt();
        match self.drive {
            Drive::Limit => self.drive_limit,
            // Trial solutions go on below where both meet.
            Drive::Power => by_power.min(TRIAL * self.drive_limit),
            Drive::Lower => by_power.min(self.drive_limit),
        }
    }

    /// What holds pedalling back at a speed's square.
    pub(super) fn drive_at(&self, square: f64) -> Drive {
        let meet = self.power / self.drive_limit;
        if meet < CRAWL {
            Drive::Lower
        } else if square >= meet * meet {
            Drive::Power
        } else {
            Drive::Limit
        }
    }

    /// Above zero while pedalling follows the bound it should, at a speed's square: a share of the square where both meet.
    pub(super) fn drive_spare(&self, square: f64) -> f64 {
        let above = square * (self.drive_limit / self.power).powi(2) - 1.0;
        match self.drive {
            Drive::Limit => -above,
            Drive::Power => above,
            Drive::Lower => f64::INFINITY,
        }
    }
}

/// The hardest brake within the grip circle, where braking by `B` changes the side load to `side - lever B`.
fn brake_within(grip: f64, normal: f64, side: f64, lever: f64) -> f64 {
    if normal <= 0.0 {
        return 0.0;
    }
    let spare = (grip * normal).powi(2) - side * side;
    if spare <= 0.0 {
        return 0.0;
    }
    let a = 1.0 + lever * lever;
    let b = lever * side;
    (b + (b * b + a * spare).sqrt()) / a
}
