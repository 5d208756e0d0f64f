//! The equations of a rider who leans so that the contact force passes through the centre of mass.
//!
//! With `u = cos(phi) n + sin(phi) l` and `m = u × t`, at a speed `v` of the tyres and a rate of roll `p` the centre of mass
//! moves at `A v t + h p m`, where `A = 1 - h (t' · u)`. What the contact must give along `m` is then
//! `f · m = h dp/dt + A (t' · m) v² + g m_z + drag · m`, and balance asks that it be nothing. The speed's own change does
//! not enter, and the roll rate does not jump where curvature does.

use super::footing::Footing;
use crate::force::Forces;
use crate::math::Vec3;
use crate::math::dual::Number;
use crate::ride::equation::{Equation, Loads};

/// Static loads below this share of the weight count as this much where a lean is taken from them.
const WEIGHTLESS: f64 = 1e-6;

/// The rider at one station: lean off the normal to the left, roll rate in rad/s, speed of the tyres in m/s.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) struct State<T> {
    pub(super) lean: T,
    pub(super) roll: T,
    pub(super) speed: T,
}

/// Everything that does not change along the line.
#[derive(Debug, Clone, Copy)]
pub(super) struct Model {
    pub(super) equation: Equation,
    pub(super) com_height: f64,
    pub(super) rotating: f64,
    /// Heights count from here, so that energies near rest are not what rounding leaves of large ones.
    pub(super) datum: f64,
}

/// Rates a metre of the tyres' line, and what acts, per mass.
#[derive(Debug, Clone, Copy)]
pub(super) struct Terms<T> {
    pub(super) lean: T,
    pub(super) roll: T,
    /// What the energy gains, gravity apart.
    pub(super) gain: T,
    pub(super) loads: Shares<T>,
}

/// What the loads are made of; all but the load itself losses or gains a metre.
#[derive(Debug, Clone, Copy)]
pub(super) struct Shares<T> {
    /// The contact force along `u`.
    pub(super) press: T,
    drag: T,
    rolling: T,
    brake: T,
    pedal: T,
    limited: bool,
}

/// How a lean turns the line's curvature and gravity.
struct Turned<T> {
    sin: T,
    cos: T,
    /// `t' · u` and `t' · m`.
    towards: T,
    aside: T,
}

impl<T: Number> Turned<T> {
    fn new(footing: &Footing, lean: T) -> Self {
        let (sin, cos) = lean.sin_cos();
        Self {
            sin,
            cos,
            towards: cos * footing.hollow + sin * footing.turn,
            aside: cos * footing.turn - sin * footing.hollow,
        }
    }

    /// The parts along `u` and `m` of a vector with these parts along `n` and `l`.
    fn parts(&self, along_normal: f64, along_left: f64) -> (T, T) {
        (
            self.cos * along_normal + self.sin * along_left,
            self.cos * along_left - self.sin * along_normal,
        )
    }
}

/// What the air takes, per mass, along `t`, `u` and `m`.
struct Drag<T> {
    ahead: T,
    up: T,
    aside: T,
}

impl<T: Number> Drag<T> {
    /// At a velocity of `along t + across m`.
    fn new(forces: &Forces, footing: &Footing, turned: &Turned<T>, along: T, across: T) -> Self {
        let wind = forces.wind();
        let (up, aside) = turned.parts(wind.dot(&footing.normal), wind.dot(&footing.left));
        let (ahead, aside, up) = (along - wind.dot(&footing.tangent), across - aside, -up);
        let square = ahead * ahead + aside * aside + up * up;
        if square.value() <= 0.0 {
            let none = T::constant(0.0);
            return Self { ahead: none, up: none, aside: none };
        }
        let push = square.sqrt() * forces.k();
        Self { ahead: push * ahead, up: push * up, aside: push * aside }
    }
}

impl Model {
    fn g(&self) -> f64 {
        self.equation.g()
    }

    /// `A`: how fast the centre of mass goes ahead over how fast the tyres do.
    pub(super) fn lead<T: Number>(&self, footing: &Footing, lean: T) -> T {
        -(Turned::new(footing, lean).towards * self.com_height) + 1.0
    }

    /// `g c_z` above the datum.
    pub(super) fn potential<T: Number>(&self, footing: &Footing, lean: T) -> T {
        let (up, _) = Turned::new(footing, lean).parts(footing.normal.z, footing.left.z);
        (up * self.com_height + (footing.tyres.z - self.datum)) * self.g()
    }

    /// `E + g c_z`.
    pub(super) fn sum<T: Number>(&self, footing: &Footing, state: &State<T>) -> T {
        let lead = self.lead(footing, state.lean);
        let swing = state.roll * self.com_height;
        let square = (lead * lead + self.rotating) * (state.speed * state.speed) + swing * swing;
        square * 0.5 + self.potential(footing, state.lean)
    }

    /// The square of the tyres' speed at a sum of energies; negative where it does not suffice.
    pub(super) fn square<T: Number>(&self, footing: &Footing, lean: T, roll: T, sum: T) -> T {
        let lead = self.lead(footing, lean);
        let swing = roll * self.com_height;
        let kinetic = (sum - self.potential(footing, lean)) * 2.0 - swing * swing;
        kinetic / (lead * lead + self.rotating)
    }

    /// The velocity of the centre of mass.
    pub(super) fn velocity(&self, footing: &Footing, state: &State<f64>) -> Vec3 {
        let State { lean, roll, speed } = *state;
        let ahead = footing.tangent * (self.lead(footing, lean) * speed);
        ahead + footing.aside(lean) * (self.com_height * roll)
    }

    /// The static lean of the tyres' line at a speed: along what the contact must give there to a point.
    pub(super) fn static_lean<T: Number>(&self, footing: &Footing, speed: T) -> T {
        let (normal, left) = self.static_loads(footing, speed);
        // Where nothing presses there is no such lean, and no ride either: only trial solutions come there.
        let least = WEIGHTLESS * self.g();
        left.atan2(if normal.value() > least { normal } else { T::constant(least) })
    }

    /// What the contact must give to a point on the tyres' line, along the normal and to the left.
    pub(super) fn static_loads<T: Number>(&self, footing: &Footing, speed: T) -> (T, T) {
        let upright = Turned::new(footing, T::constant(0.0));
        let drag = Drag::new(&self.equation.forces, footing, &upright, speed, T::constant(0.0));
        let square = speed * speed;
        let normal = square * footing.hollow + self.g() * footing.normal.z + drag.up;
        let left = square * footing.turn + self.g() * footing.left.z + drag.aside;
        (normal, left)
    }

    /// The rates and loads of a state, when a deceleration of `asked` is braked for.
    pub(super) fn terms<T: Number>(
        &self,
        footing: &Footing,
        state: &State<T>,
        asked: f64,
    ) -> Terms<T> {
        let State { lean, roll, speed } = *state;
        let (h, square) = (self.com_height, speed * speed);
        let turned = Turned::new(footing, lean);
        let lead = -(turned.towards * h) + 1.0;
        let (along, across) = (lead * speed, roll * h);
        let drag = Drag::new(&self.equation.forces, footing, &turned, along, across);
        let (up, aside) = turned.parts(footing.normal.z, footing.left.z);
        let bend = lead * square;
        let over = bend * turned.aside + aside * self.g() + drag.aside;
        let press = bend * turned.towards - roll * roll * h + up * self.g() + drag.up;
        let turn = roll / speed;
        let taken = drag.ahead * lead + drag.aside * turn * h;
        let loads = self.shares(press, &turned, taken, speed, asked);
        Terms {
            lean: turn - footing.twist,
            roll: -(over / (speed * h)),
            gain: loads.pedal - loads.drag - loads.rolling - loads.brake,
            loads,
        }
    }

    /// The push along the line, per mass, on a rider who stands at rest and is about to brake.
    pub(super) fn push_at_rest(&self, footing: &Footing, lean: f64, asked: f64) -> f64 {
        // The slowest speed that leaves pedalling at its limit and drag at the wind's.
        let state = State { lean, roll: 0.0, speed: f64::MIN_POSITIVE.sqrt() };
        let gain = self.terms(footing, &state, asked).gain;
        gain - self.g() * self.lead(footing, lean) * footing.tangent.z
    }

    fn shares<T: Number>(
        &self,
        press: T,
        turned: &Turned<T>,
        drag: T,
        speed: T,
        asked: f64,
    ) -> Shares<T> {
        let none = T::constant(0.0);
        let normal = press * turned.cos;
        let pressed = normal.value() > 0.0;
        let rolling = if pressed { normal * self.equation.crr } else { none };
        let mut pedal = none;
        if self.equation.power > 0.0 {
            let most = T::constant(self.equation.drive_limit);
            let given = T::constant(self.equation.power) / speed;
            pedal = if given.value() < most.value() { given } else { most };
        }
        let (mut brake, mut limited) = (none, false);
        if asked > 0.0 {
            let most = if pressed { self.brake_within(press, turned) } else { none };
            limited = asked > most.value();
            brake = if limited { most } else { T::constant(asked) };
        }
        Shares { press, drag, rolling, brake, pedal, limited }
    }

    /// The hardest brake within the grip circle.
    fn brake_within<T: Number>(&self, press: T, turned: &Turned<T>) -> T {
        let (grip, side) = (turned.cos * self.equation.grip, turned.sin);
        let spare = grip * grip - side * side;
        if spare.value() > 0.0 { spare.sqrt() * press } else { T::constant(0.0) }
    }
}

impl Shares<f64> {
    /// The loads on the surface at a lean.
    pub(super) fn loads(&self, lean: f64) -> Loads {
        let (sin, cos) = lean.sin_cos();
        Loads {
            normal: self.press * cos,
            side: self.press * sin,
            drag: self.drag,
            rolling: self.rolling,
            brake: self.brake,
            pedal: self.pedal,
            limited: self.limited,
        }
    }
}

impl State<f64> {
    /// The centre of mass.
    pub(super) fn centre(&self, footing: &Footing, com_height: f64) -> Vec3 {
        footing.tyres + footing.up(self.lean) * com_height
    }
}
