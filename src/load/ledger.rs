//! Where the energy and the momentum of a landing went.

use super::chain::Chain;
use super::impact::Impact;
use super::march::Stretch;
use super::part::{Part, Strut};
use super::state::{Grip, Hold, State, Way};
use crate::math::polynomial::value;
use crate::math::quadrature;
use serde::{Deserialize, Serialize};

/// Energy and momentum of a chain over its record: what came in is what went somewhere.
#[derive(Debug, Clone, Copy, PartialEq, Default, Serialize, Deserialize)]
#[non_exhaustive]
pub struct Ledger {
    /// Kinetic energy at the touch, J.
    pub energy: f64,
    /// What gravity gave on the way down, J.
    pub gravity_work: f64,
    /// Kinetic energy at the end of the record, J.
    pub energy_left: f64,
    /// What springs and stops hold at the end, J.
    pub stored: f64,
    /// What dampers, yielding legs, crushed ground and stops took, J.
    pub lost: f64,
    /// Momentum at the touch, N s.
    pub momentum: f64,
    /// What gravity gave over the record, N s.
    pub gravity_impulse: f64,
    /// What the ground took, N s: the impulse of the landing.
    pub ground_impulse: f64,
    /// Momentum at the end of the record, N s; negative where it goes up.
    pub momentum_left: f64,
}

impl Ledger {
    /// What does not add up of the energy, as a share of all that came in.
    pub fn energy_residual(&self) -> f64 {
        let came = self.energy + self.gravity_work;
        share(came - self.energy_left - self.stored - self.lost, self.energy + self.lost)
    }

    /// What does not add up of the momentum, as a share of all that came in.
    pub fn momentum_residual(&self) -> f64 {
        let came = self.momentum + self.gravity_impulse;
        share(came - self.ground_impulse - self.momentum_left, came)
    }

    pub(super) fn add(&mut self, chain: &Chain, stretch: &Stretch<'_>) {
        let Stretch { piece, state, length, .. } = stretch;
        for ((series, link), node) in piece.links.iter().zip(&chain.links).zip(&state.nodes) {
            let power = |time: f64| {
                let (pressed, closing) =
                    (value(&series.compression, time), value(&series.closing, time));
                match &link.part {
                    Part::Strut(strut) => {
                        let own = value(&series.pressed, time);
                        strut_loss(strut, &node.hold, (pressed, closing), own)
                    }
                    Part::Suspension(part) => {
                        let damping = match node.hold.way {
                            Way::In => part.compression,
                            Way::Out => part.rebound,
                        };
                        let [bump, top] = &part.stops;
                        damping * closing * closing
                            + bump.lost(node.hold.touch[0], pressed - bump.at, closing)
                            + top.lost(node.hold.touch[1], -pressed, -closing)
                    }
                }
            };
            self.lost += quadrature::integrate(power, 0.0, *length);
        }
        self.add_ground(stretch);
    }

    /// Only what the ground gives.
    pub(super) fn add_ground(&mut self, Stretch { piece, length, .. }: &Stretch<'_>) {
        if let Some(ground) = piece.links.first() {
            self.ground_impulse += quadrature::integrate(|t| value(&ground.force, t), 0.0, *length);
        }
    }

    pub(super) fn close(self, chain: &Chain, impact: &Impact, end: &State, time: f64) -> Self {
        let start = State::start(chain, impact.normal_speed());
        let pull = impact.gravity() * impact.slope_cos();
        Self {
            energy: start.kinetic(chain),
            gravity_work: pull * end.moment(chain),
            energy_left: end.kinetic(chain),
            stored: end.stored(chain),
            momentum: start.momentum(chain),
            gravity_impulse: pull * chain.mass() * time,
            momentum_left: end.momentum(chain),
            ..self
        }
    }
}

/// The power that a strut loses, W: in its damper, in yielding, in its stop.
fn strut_loss(strut: &Strut, hold: &Hold, (pressed, closing): (f64, f64), own: f64) -> f64 {
    let damped = match hold.grip {
        Grip::Stick => closing,
        Grip::Open | Grip::Slip => strut.own_rate(hold.grip, own),
    };
    let slipped = match hold.grip {
        Grip::Slip => strut.yields_at.unwrap_or(0.0) * (closing - damped),
        Grip::Open | Grip::Stick => 0.0,
    };
    let stopped =
        strut.stop.map_or(0.0, |stop| stop.lost(hold.touch[0], pressed - stop.at, closing));
    strut.damping * damped * damped + slipped + stopped
}

fn share(part: f64, whole: f64) -> f64 {
    if whole.abs() > 0.0 { part / whole.abs() } else { part }
}
