//! The ride's energy equation: forces and rates at one station for one energy.

use super::options::RideOptions;
use super::station::Station;
use crate::air::Air;
use crate::force::Forces;
use crate::math::dual::Number;
use crate::rider::Rider;
use nalgebra::Vector3;

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

/// What the terms at one station are made of, beside the line: numbers, or numbers with their derivatives.
#[derive(Debug, Clone, Copy)]
pub(super) struct Given<T> {
    /// Kinetic energy per mass.
    pub(super) energy: T,
    pub(super) crr: T,
    /// Drag per mass over the square of the air speed.
    pub(super) k: T,
    /// The deceleration that is braked for.
    pub(super) asked: T,
}

/// What acts at one station, per mass; rates of energy are per metre of the tyres' line, losses positive.
#[derive(Debug, Clone, Copy, Default)]
pub(super) struct Loads<T = f64> {
    /// Load on the surface `N/m`.
    pub(super) normal: T,
    /// Side load `S/m`, what must be given to the left.
    pub(super) side: T,
    pub(super) drag: T,
    pub(super) rolling: T,
    pub(super) brake: T,
    pub(super) pedal: T,
    /// Whether grip gives less than the brake asked for.
    pub(super) limited: bool,
}

impl<T: Number> Loads<T> {
    /// What the energy gains a metre, gravity apart.
    pub(super) fn gain(&self) -> T {
        self.pedal - self.drag - self.rolling - self.brake
    }
}

impl Loads {
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
        self.loads_of(station, &Given { energy, crr: self.crr, k: self.forces.k(), asked })
    }

    /// The same of any numbers.
    pub(super) fn loads_of<T: Number>(&self, station: &Station, given: &Given<T>) -> Loads<T> {
        let Given { energy, crr, k, asked } = *given;
        let inertia = T::constant(station.inertia);
        let square = energy * 2.0 / inertia;
        let (drag, drag_normal, drag_left) = self.drag(station, square, k);
        // The centre of mass moves within the tangent plane, so a change of speed adds nothing along the normal.
        let normal = square * station.bend + self.g() * station.normal.z + drag_normal;
        let rolls = self.linear || normal.value() > 0.0;
        let rolling = crr * if rolls { normal } else { T::constant(0.0) };
        let pedal = self.pedal(square);
        let before_brake = pedal - drag - rolling - self.g() * station.dc.z;
        let change = (before_brake - square * (0.5 * station.dinertia)) / inertia;
        let side = square * station.side_bend
            + change * station.swing
            + self.g() * station.left.z
            + drag_left;
        let lever = station.swing / station.inertia;
        let (mut brake, mut limited) = (asked, false);
        if asked.value() > 0.0 {
            let most = brake_within(self.grip, normal, side, lever);
            limited = asked.value() > most.value();
            brake = if limited { most } else { asked };
        }
        Loads { normal, side: side - brake * lever, drag, rolling, brake, pedal, limited }
    }

    /// What drag takes a metre, and what of it the contact must give along the normal and to the left.
    fn drag<T: Number>(&self, station: &Station, square: T, k: T) -> (T, T, T) {
        let none = T::constant(0.0);
        if self.calm {
            let stretch = station.dc.norm();
            let push = k * stretch * square;
            return (push * stretch * stretch, none, push * station.swing);
        }
        let (speed, wind) = (root(square), self.forces.wind());
        let [x, y, z] = [0, 1, 2].map(|i| speed * station.dc[i] - wind[i]);
        let push = root(x * x + y * y + z * z) * k;
        let along = |axis: &Vector3<f64>| (x * axis.x + y * axis.y + z * axis.z) * push;
        (along(&station.dc), along(&station.normal), along(&station.left))
    }

    fn pedal<T: Number>(&self, square: T) -> T {
        if self.power == 0.0 {
            return T::constant(0.0);
        }
        let by_power = T::constant(self.power) / root(square);
        let at_most = |most: f64| {
            if by_power.value() < most { by_power } else { T::constant(most) }
        };
        match self.drive {
            Drive::Limit => T::constant(self.drive_limit),
            // Trial solutions go on below where both meet.
            Drive::Power => at_most(TRIAL * self.drive_limit),
            Drive::Lower => at_most(self.drive_limit),
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

/// The square root, nothing below zero: at zero its derivative would be infinite.
fn root<T: Number>(square: T) -> T {
    if square.value() > 0.0 { square.sqrt() } else { T::constant(0.0) }
}

/// The hardest brake within the grip circle, where braking by `B` changes the side load to `side - lever B`.
fn brake_within<T: Number>(grip: f64, normal: T, side: T, lever: f64) -> T {
    if normal.value() <= 0.0 {
        return T::constant(0.0);
    }
    let most = normal * grip;
    let spare = most * most - side * side;
    if spare.value() <= 0.0 {
        return T::constant(0.0);
    }
    let a = 1.0 + lever * lever;
    let b = side * lever;
    (b + (b * b + spare * a).sqrt()) / T::constant(a)
}
