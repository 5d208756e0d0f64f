//! The equation of motion of a rider who lets it run.

use super::parts::Pieces;
use crate::air::Air;
use crate::feature::wall::Wall;
use crate::force::Forces;
use crate::geometry::Contact;
use crate::math::Vec3;
use crate::math::jet::Jet;
use crate::rider::Rider;

/// Where the tyres are on the panel, metres along the foot and up it, and the rates of both by time.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) struct State {
    pub(super) s: f64,
    pub(super) q: f64,
    pub(super) ds: f64,
    pub(super) dq: f64,
}

/// What the equation says of one state.
#[derive(Debug, Clone, Copy, Default)]
pub(super) struct Moment {
    /// Second derivatives of station and height by time.
    pub(super) dds: f64,
    pub(super) ddq: f64,
    /// Load on the surface per mass, m/s².
    pub(super) normal: f64,
    /// The square of the tyres' speed.
    pub(super) square: f64,
    /// Curvature of the surface in the tyres' direction, positive in a hollow, one over metres.
    pub(super) hollow: f64,
}

/// The panel about one place: along its foot, up it, and straight on in `s` and `q`.
struct Place {
    along: Leg,
    up: Leg,
    /// With the rates of a state and no second derivatives: what curvature alone does.
    straight: Contact,
}

/// How point and centre of mass move with one coordinate.
struct Leg {
    tyres: Vec3,
    centre: Vec3,
}

/// Everything that does not change along a line.
#[derive(Debug, Clone)]
pub(super) struct Equation {
    pub(super) wall: Wall,
    pub(super) com_height: f64,
    forces: Forces,
    crr: f64,
    rotating: f64,
}

impl State {
    pub(super) fn to_array(self) -> [f64; 4] {
        [self.s, self.q, self.ds, self.dq]
    }

    pub(super) fn from_array([s, q, ds, dq]: [f64; 4]) -> Self {
        Self { s, q, ds, dq }
    }
}

impl Equation {
    pub(super) fn new(wall: &Wall, rider: &Rider, air: &Air) -> Self {
        Self {
            wall: wall.clone(),
            com_height: rider.com_height(),
            forces: Forces::new(rider, air),
            crr: rider.crr(),
            rotating: rider.rotating_factor(),
        }
    }

    /// The contact along a way over the panel, by its own variable.
    pub(super) fn contact(&self, pieces: Pieces, s: &Jet, q: Jet) -> Contact {
        self.wall.strip(pieces.plan, pieces.bank, s.value()).of(s).contact(q)
    }

    fn place(&self, pieces: Pieces, state: &State) -> Place {
        let strip = self.wall.strip(pieces.plan, pieces.bank, state.s);
        let (s, q) = (Jet::new(state.s, state.ds, 0.0, 0.0), Jet::new(state.q, state.dq, 0.0, 0.0));
        let leg = |contact: Contact| {
            let tyres = contact.point.d1();
            Leg { tyres, centre: tyres + contact.normal.d1() * self.com_height }
        };
        Place {
            along: leg(strip.contact(Jet::constant(state.q))),
            up: leg(strip.of(&Jet::constant(state.s)).contact(Jet::variable(state.q))),
            straight: strip.of(&s).contact(q),
        }
    }

    /// The equation at one state, on given pieces of the wall.
    pub(super) fn moment(&self, pieces: Pieces, state: &State) -> Moment {
        let Place { along, up, straight } = self.place(pieces, state);
        let (point, normal) = (&straight.point, straight.normal.value());
        let velocity = point.d1();
        let speed = velocity.norm();
        let tangent = velocity / speed;
        let centre_velocity = velocity + straight.normal.d1() * self.com_height;
        let bend = point.d2() + straight.normal.d2() * self.com_height;
        let push = self.forces.gravity() + self.forces.drag(centre_velocity) - bend;
        let load = -push.dot(&normal);
        // Along the tyres' direction the contact gives `-(Crr N + lambda dV/dt) t / (t . c')`.
        let lever = speed / tangent.dot(&centre_velocity);
        let spin = self.rotating * lever;
        let hold = self.crr * load.max(0.0) * lever + spin * tangent.dot(&point.d2());
        let row = |e: Vec3| {
            let ahead = e.dot(&tangent);
            let of = |leg: &Leg| e.dot(&leg.centre) + spin * ahead * tangent.dot(&leg.tyres);
            [of(&along), of(&up), e.dot(&push) - hold * ahead]
        };
        let [a, b, x] = row(along.tyres);
        let [c, d, y] = row(up.tyres);
        let per = (a * d - b * c).recip();
        Moment {
            dds: (x * d - b * y) * per,
            ddq: (a * y - x * c) * per,
            normal: load,
            square: speed * speed,
            hollow: point.d2().dot(&normal) / (speed * speed),
        }
    }

    /// The state of tyres that come onto the panel at a place, `heading` up it from level, at `speed`.
    pub(super) fn state(&self, pieces: Pieces, at: [f64; 2], heading: f64, speed: f64) -> State {
        let [s, q] = at;
        let still = State { s, q, ds: 0.0, dq: 0.0 };
        let Place { along, up, .. } = self.place(pieces, &still);
        let ahead = along.tyres.normalize();
        let slant = up.tyres.dot(&ahead);
        let dq = speed * heading.sin() / (up.tyres - ahead * slant).norm();
        let ds = (speed * heading.cos() - dq * slant) / along.tyres.norm();
        State { s, q, ds, dq }
    }

    /// The tyres' direction, radians from level along the panel, positive up it.
    pub(super) fn heading(&self, pieces: Pieces, state: &State) -> f64 {
        let Place { along, up, straight } = self.place(pieces, state);
        let ahead = along.tyres.normalize();
        let across = (up.tyres - ahead * up.tyres.dot(&ahead)).normalize();
        let velocity = straight.point.d1();
        velocity.dot(&across).atan2(velocity.dot(&ahead))
    }

    /// The state behind a joint, from the one before it; none where there is too little energy to go on.
    ///
    /// The angle to the ruling that both sides share is kept, and `E + g c_z` is.
    pub(super) fn over_joint(&self, from: Pieces, to: Pieces, state: &State) -> Option<State> {
        let before = self.place(from, state).straight;
        let velocity = before.point.d1();
        let Place { along, up, .. } = self.place(to, state);
        let ruling = up.tyres.normalize();
        let climb = velocity.dot(&ruling) / velocity.norm();
        let cross = (velocity - ruling * velocity.dot(&ruling)).norm() / velocity.norm();
        let slant = along.tyres.dot(&ruling);
        let ds = (cross / (along.tyres - ruling * slant).norm()).copysign(state.ds);
        let dq = (climb - ds * slant) / up.tyres.norm();
        let after = self.place(to, &State { ds, dq, ..*state }).straight;
        let height = |contact: &Contact| {
            contact.point.value().z + contact.normal.value().z * self.com_height
        };
        let energy = self.energy(&before) + self.forces.g() * (height(&before) - height(&after));
        let speed = (energy / self.energy(&after)).sqrt();
        (speed > 0.0).then_some(State { ds: ds * speed, dq: dq * speed, ..*state })
    }

    /// Kinetic energy per mass, the wheels' spin included.
    fn energy(&self, contact: &Contact) -> f64 {
        let velocity = contact.point.d1();
        let centre = velocity + contact.normal.d1() * self.com_height;
        0.5 * (centre.norm_squared() + self.rotating * velocity.norm_squared())
    }
}
