//! What stands behind a ride, in words.

use super::options::Lean;
use super::result::Ride;
use crate::explain::Explanation;

const MODEL: &str = "One rigid rider and bike along the tyres' line: kinetic energy, wheels' spin included, changes by gravity, \
    air drag on the centre of mass, rolling resistance of the load on the surface, braking within the grip circle and \
    pedalling. Load and side load are what the contact must give for that motion.";

const LIMITS: &str = "No pumping, no steering, one normal for both wheels, a stiff surface; the body's own rotation (about 1 % \
    of the energy) is left out. Sliding is marked, and the ride goes on along the line on paper.";

impl Lean {
    /// What this lean means, in a sentence or two.
    pub const fn meaning(self) -> &'static str {
        match self {
            Self::Deck => {
                "Lean deck: square to what is under the tyres. The contact force misses the centre of mass by the angle whose \
                 tangent is the grip demand, as if two tyres could hold a roll moment: soft on slow riders."
            }
            Self::Balanced => {
                "Lean balanced: the contact force passes through the centre of mass at every station; static lean \
                 at the line's start, no swing across at its end. The rider knows the line ahead."
            }
            Self::Settled => {
                "Lean settled: the contact force passes through the centre of mass at every station; static lean at the line's \
                 start and at its end, so that a slow rider nearly stands at the edge."
            }
        }
    }
}

impl Ride {
    /// The model behind the numbers, with the lean it was ridden in, its sources and its limits.
    pub fn explain(&self) -> Explanation {
        let ledger = &self.ledger;
        let said = Explanation::new(format!("{MODEL} {}", self.lean.meaning()), LIMITS)
            .with_source("Newton's laws for a mass on a given line")
            .with_source(
                "for the leans, the balance of moments about the tyres' line, as of an inverted pendulum",
            )
            .with_source("Coulomb friction")
            .with_input("start", ledger.start, "J/kg")
            .with_input("gravity", ledger.gravity, "J/kg")
            .with_input("drag", ledger.drag, "J/kg")
            .with_input("rolling", ledger.rolling, "J/kg")
            .with_input("brake", ledger.brake, "J/kg")
            .with_input("pedal", ledger.pedal, "J/kg")
            .with_input("grip_demand", self.peak.demand, "");
        match &self.exit {
            Some(exit) => said.with_input("com_height", exit.com_height, "m").with_input(
                "exit_speed",
                exit.speed,
                "m/s",
            ),
            None => said,
        }
    }
}
