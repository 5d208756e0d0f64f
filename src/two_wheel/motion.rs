//! The equations of motion: two wheels on their suspension under one body.

use super::bike::{Axle, Bike};
use super::terrain::{Terrain, Touch};
use crate::math::Vec2;
use nalgebra::SVector;

/// Below this speed rolling resistance fades out, m/s: at rest it has no direction.
const ROLLING_SPEED: f64 = 0.01;

/// The number of components of a state.
pub(super) const WIDTH: usize = 14;
/// Level distance and height of the sprung centre of mass, pitch, compression rear and front; their rates; then what
/// dampers, rolling, drag and brake have taken, J/kg.
pub(super) type State = SVector<f64, WIDTH>;
/// The number of coordinates.
pub(super) const COORDINATES: usize = 5;

/// Where a wheel is, how it moves and what acts on it.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) struct Wheel {
    /// The hub, m.
    pub(super) hub: Vec2,
    /// Its velocity, m/s.
    pub(super) velocity: Vec2,
    /// What it touches.
    pub(super) touch: Option<Touch>,
    /// The tyre's force, N.
    pub(super) load: f64,
    /// The suspension's force, N; on a bike without, what the hub presses up through the bike.
    pub(super) strut: f64,
}

/// A state with what follows from it.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) struct Moment {
    /// The rates of the state.
    pub(super) rates: State,
    /// Rear and front.
    pub(super) wheels: [Wheel; 2],
}

/// Forward and up through the bike at a pitch.
pub(super) fn axes(pitch: f64) -> (Vec2, Vec2) {
    let (sin, cos) = pitch.sin_cos();
    (Vec2::new(cos, -sin), Vec2::new(sin, cos))
}

/// What acts on one wheel from outside.
struct Pull {
    /// The force through the hub, N.
    force: Vec2,
    /// The brake's moment on the frame, N m, nose down positive.
    moment: f64,
    /// What rolling and brake take, W.
    rolling: f64,
    brake: f64,
    /// What they pull with, N, against the travel.
    rolling_force: Vec2,
    brake_force: Vec2,
}

/// The forces from outside on bike and rider, N.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) struct Outside {
    pub(super) drag: Vec2,
    /// Square to the ground, rear and front.
    pub(super) loads: [Vec2; 2],
    pub(super) rolling: Vec2,
    pub(super) brake: Vec2,
}

impl Bike {
    /// The hub of an end and its velocity.
    pub(super) fn hub(&self, y: &State, end: usize) -> (Vec2, Vec2) {
        let (t, u) = axes(y[2]);
        let Axle { ahead, above, .. } = self.axles[end];
        let up = above + y[3 + end];
        let hub = Vec2::new(y[0], y[1]) + t * ahead + u * up;
        let turning = (t * up - u * ahead) * y[7];
        (hub, Vec2::new(y[5], y[6]) + turning + u * y[8 + end])
    }

    /// The centre about which the chainring hangs, m.
    pub(super) fn cranks(&self, y: &State) -> Vec2 {
        let (t, u) = axes(y[2]);
        Vec2::new(y[0], y[1]) + t * self.cranks.x + u * self.cranks.y
    }

    /// The wheels of a state.
    pub(super) fn wheels(&self, y: &State, terrain: &Terrain) -> [Wheel; 2] {
        [0, 1].map(|end| {
            let (hub, velocity) = self.hub(y, end);
            let touch = terrain.touch(hub, self.wheel_radius);
            let axle = &self.axles[end];
            let load = touch.map_or(0.0, |touch| axle.tyre * touch.depth);
            let spring = |strut: super::strut::Strut| {
                strut.elastic(y[3 + end]) + strut.damping(y[3 + end], y[8 + end])
            };
            Wheel { hub, velocity, touch, load, strut: axle.strut.map_or(0.0, spring) }
        })
    }

    /// The rates of a state, braking with up to `brake` of each wheel's load.
    pub(super) fn moment(&self, y: &State, terrain: &Terrain, brake: f64) -> Moment {
        let mut wheels = self.wheels(y, terrain);
        let pulls = [0, 1].map(|end| self.pull(&wheels[end], brake, y[7]));
        let (t, u) = axes(y[2]);
        let drag = self.drag(Vec2::new(y[5], y[6]));
        for (end, pull) in pulls.iter().enumerate() {
            if self.axles[end].strut.is_none() {
                wheels[end].strut = pull.force.dot(&u);
            }
        }
        let (forward, up, turn) = self.body(y, &wheels, &pulls, drag);
        let centre = t * forward + u * up;
        let mut rates = State::zeros();
        for i in 0..COORDINATES {
            rates[i] = y[COORDINATES + i];
        }
        (rates[5], rates[6], rates[7]) = (centre.x, centre.y, turn);
        let gravity = Vec2::new(0.0, -self.gravity);
        for (end, pull) in pulls.iter().enumerate() {
            let axle = &self.axles[end];
            if let Some(strut) = axle.strut {
                let carried = up - axle.ahead * turn - (axle.above + y[3 + end]) * y[7] * y[7];
                let own = (pull.force.dot(&u) - wheels[end].strut) / axle.mass + gravity.dot(&u);
                rates[8 + end] = own - carried;
                rates[10] += strut.damping(y[3 + end], y[8 + end]) * y[8 + end] / self.mass;
            }
            rates[11] += pull.rolling / self.mass;
            rates[13] += pull.brake / self.mass;
        }
        rates[12] = -drag.dot(&Vec2::new(y[5], y[6])) / self.mass;
        Moment { rates, wheels }
    }

    /// The body's acceleration forward and up through the bike, m/s^2, and its pitch acceleration, rad/s^2.
    ///
    /// The hubs' guides are square to the struts and without mass or friction. Along the bike and in pitch the hubs
    /// move with the body: two equations, coupled by the hubs' depth below the centre of mass.
    fn body(
        &self,
        y: &State,
        wheels: &[Wheel; 2],
        pulls: &[Pull; 2],
        drag: Vec2,
    ) -> (f64, f64, f64) {
        let (t, u) = axes(y[2]);
        let gravity = Vec2::new(0.0, -self.gravity);
        let rate = y[7];
        let up = gravity.dot(&u) + (drag.dot(&u) + wheels[0].strut + wheels[1].strut) / self.sprung;
        let (mut mass, mut arm, mut inertia) = (self.sprung, 0.0, self.inertia);
        let mut push = self.sprung * gravity.dot(&t) + drag.dot(&t);
        let mut moment = 0.0;
        for (end, axle) in self.axles.iter().enumerate() {
            let below = axle.above + y[3 + end];
            // What the hub needs along the bike for the turning alone.
            let swing = axle.mass * (rate * rate * axle.ahead - 2.0 * rate * y[8 + end]);
            let along = pulls[end].force.dot(&t) + axle.mass * gravity.dot(&t) + swing;
            mass += axle.mass;
            arm += axle.mass * below;
            inertia += axle.mass * below * below;
            push += along;
            moment += below * along - axle.ahead * wheels[end].strut + pulls[end].moment;
        }
        let determinant = mass * inertia - arm * arm;
        let forward = (push * inertia - moment * arm) / determinant;
        (forward, up, (mass * moment - arm * push) / determinant)
    }

    /// What ground and brake do to a wheel.
    ///
    /// Rolling resistance comes from where under the tyre the load acts, so that it pulls at the hub alone; a brake
    /// pulls at the ground and turns the frame with it, and takes the wheel's turning against the frame.
    fn pull(&self, wheel: &Wheel, brake: f64, pitch_rate: f64) -> Pull {
        let Some(touch) = wheel.touch else {
            let none = Vec2::zeros();
            return Pull {
                force: none,
                moment: 0.0,
                rolling: 0.0,
                brake: 0.0,
                rolling_force: none,
                brake_force: none,
            };
        };
        let along = Vec2::new(touch.normal.y, -touch.normal.x);
        let speed = wheel.velocity.dot(&along);
        let sense = speed / speed.hypot(ROLLING_SPEED);
        let (rolling, braking) = (self.crr * wheel.load * sense, brake * wheel.load * sense);
        let lever = self.wheel_radius - touch.depth;
        Pull {
            force: touch.normal * wheel.load - along * (rolling + braking),
            moment: braking * lever,
            rolling: rolling * speed,
            brake: braking * (speed - lever * pitch_rate),
            rolling_force: -along * rolling,
            brake_force: -along * braking,
        }
    }

    /// What acts from outside in a state, gravity apart, braking with up to `brake` of each wheel's load.
    pub(super) fn outside(&self, y: &State, terrain: &Terrain, brake: f64) -> Outside {
        let wheels = self.wheels(y, terrain);
        let [rear, front] = [0, 1].map(|end| self.pull(&wheels[end], brake, y[7]));
        let load =
            |wheel: &Wheel| wheel.touch.map_or(Vec2::zeros(), |touch| touch.normal * wheel.load);
        Outside {
            drag: self.drag(Vec2::new(y[5], y[6])),
            loads: [load(&wheels[0]), load(&wheels[1])],
            rolling: rear.rolling_force + front.rolling_force,
            brake: rear.brake_force + front.brake_force,
        }
    }

    /// The momentum of body and hubs, N s.
    pub(super) fn momentum(&self, y: &State) -> Vec2 {
        let hub = |end: usize| self.hub(y, end).1 * self.axles[end].mass;
        Vec2::new(y[5], y[6]) * self.sprung + hub(0) + hub(1)
    }

    /// Kinetic energy, and the energy in springs, tyres and height, J/kg.
    pub(super) fn energies(&self, y: &State, terrain: &Terrain) -> Energies {
        let velocity = Vec2::new(y[5], y[6]);
        let mut kinetic =
            0.5 * (self.sprung * velocity.norm_squared() + self.inertia * y[7] * y[7]);
        let mut height = self.sprung * self.gravity * y[1];
        let (mut springs, mut tyres) = (0.0, 0.0);
        for (end, wheel) in self.wheels(y, terrain).iter().enumerate() {
            let axle = &self.axles[end];
            kinetic += 0.5 * axle.mass * wheel.velocity.norm_squared();
            height += axle.mass * self.gravity * wheel.hub.y;
            springs += axle.strut.map_or(0.0, |strut| strut.energy(y[3 + end]));
            tyres += wheel.touch.map_or(0.0, |touch| 0.5 * axle.tyre * touch.depth.powi(2));
        }
        let [kinetic, height, springs, tyres] =
            [kinetic, height, springs, tyres].map(|energy| energy / self.mass);
        Energies { kinetic, height, springs, tyres }
    }
}

/// The energies of a state, J/kg.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) struct Energies {
    pub(super) kinetic: f64,
    pub(super) height: f64,
    pub(super) springs: f64,
    pub(super) tyres: f64,
}
