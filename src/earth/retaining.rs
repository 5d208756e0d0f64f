//! How a crib holds the earth behind it: sliding, overturning and bearing, as an indication.

mod caution;

pub use caution::{Caution, ENGINEER_HEIGHT};

use super::backfill::{Backfill, Numbers, Thrust};
use super::theory::{PressureError, Theory};
use super::{Crib, Spread};
use crate::explain::Explanation;
use serde::{Deserialize, Serialize};

/// How a metre of crib holds the earth behind it. An indication, not a design.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct Retaining {
    /// The crib.
    pub crib: Crib,
    /// The earth behind it.
    pub backfill: Backfill,
    /// The theory of the thrust.
    pub theory: Theory,
    /// The thrust on it.
    pub thrust: Thrust,
    /// What holds it from sliding over what pushes it, over the spans of the earth's friction and weight.
    pub sliding: Spread,
    /// What holds it from tipping about its foot over what tips it, over the same spans.
    pub overturning: Spread,
    /// Pressure on the ground; none where it tips.
    pub bearing: Option<Bearing>,
    /// What to beware of.
    pub warnings: Vec<Caution>,
}

/// Pressure on the ground under a crib, pascals.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize)]
pub struct Bearing {
    /// Under the foot, in front.
    pub toe: f64,
    /// Under the heel, behind; zero where it lifts.
    pub heel: f64,
    /// How far in front of its middle the base is pressed, metres.
    pub eccentricity: f64,
}

/// Forces and moments on a metre of crib.
struct Balance {
    thrust: Thrust,
    push: f64,
    weight: f64,
    tipping: f64,
    holding: f64,
}

impl Crib {
    /// How the crib holds a backfill, by a theory of the thrust.
    ///
    /// On a level base; earth in front of it counts nothing. Rankine's thrust is taken on the upright plane through
    /// the heel, so that a leaning back gains only by its weight; Coulomb's on the back itself.
    pub fn holds(&self, backfill: &Backfill, theory: Theory) -> Result<Retaining, PressureError> {
        let balance = self.balance(backfill, theory, &backfill.numbers())?;
        let ends = [backfill.weakest(), backfill.strongest()];
        let [weak, strong] = ends.map(|numbers| self.balance(backfill, theory, &numbers));
        // Earth too weak to stand at the slope at all is held by nothing.
        let least = weak.map_or((0.0, 0.0), |weak| weak.ratios(self));
        let (sliding, overturning) = balance.ratios(self);
        let most = strong.map_or((sliding, overturning), |strong| strong.ratios(self));
        let sliding = Spread::printed(sliding, least.0.min(sliding), most.0.max(sliding));
        let overturning =
            Spread::printed(overturning, least.1.min(overturning), most.1.max(overturning));
        let bearing = balance.bearing(self.width());
        let held = Retaining {
            crib: *self,
            backfill: *backfill,
            theory,
            thrust: balance.thrust,
            sliding,
            overturning,
            bearing,
            warnings: Vec::new(),
        };
        Ok(Retaining { warnings: Caution::about(&held), ..held })
    }

    fn balance(
        &self,
        backfill: &Backfill,
        theory: Theory,
        numbers: &Numbers,
    ) -> Result<Balance, PressureError> {
        let (theory, lean) = match theory {
            Theory::Coulomb { wall_friction } => {
                let wall_friction = wall_friction.min(numbers.friction);
                (Theory::Coulomb { wall_friction }, self.lean())
            }
            other => (other, 0.0),
        };
        let thrust = backfill.lean_on(theory, self.height(), lean, numbers)?;
        let (level, down) = (thrust.level(), thrust.down());
        let behind = if lean > 0.0 { self.back(down.height) } else { self.width() };
        Ok(Balance {
            thrust,
            push: level.force,
            weight: self.weight() + down.force,
            tipping: level.force * level.height,
            holding: self.weight() * self.middle() + down.force * behind,
        })
    }
}

impl Balance {
    /// Safety against sliding and against overturning.
    fn ratios(&self, crib: &Crib) -> (f64, f64) {
        let held = crib.footing().friction() * self.weight.max(0.0);
        (held / self.push, self.holding.max(0.0) / self.tipping)
    }

    /// Pressure that falls evenly from toe to heel; a heel that would be pulled lifts instead.
    fn bearing(&self, width: f64) -> Option<Bearing> {
        let from_toe = (self.holding - self.tipping) / self.weight;
        if !(from_toe > 0.0 && self.weight > 0.0) {
            return None;
        }
        let eccentricity = 0.5 * width - from_toe;
        let (even, share) = (self.weight / width, 6.0 * eccentricity / width);
        let (toe, heel) = if share > 1.0 {
            (2.0 * self.weight / (3.0 * from_toe), 0.0)
        } else if share < -1.0 {
            (0.0, 2.0 * self.weight / (3.0 * (width - from_toe)))
        } else {
            (even * (1.0 + share), even * (1.0 - share))
        };
        Some(Bearing { toe, heel, eccentricity })
    }
}

impl Retaining {
    /// The model behind the numbers, what went in, its sources and its limits.
    pub fn explain(&self) -> Explanation {
        let model = "The earth's sideways pressure is its upright pressure times a coefficient: Rankine's for a \
            sloping backfill, Coulomb's for a back with friction that leans, or that of earth at rest; below the \
            water the grains press with their weight in water, and the water with all of its own. Sliding is \
            friction on the base over the level thrust; overturning the moments about the foot that hold over \
            those that tip; the base presses on the ground evenly from toe to heel. The ends of a span have the \
            least friction with the most weight of the earth, and the other way round.";
        let limits = "An indication for a low back, not a design. Not counted: the ground below failing as a whole, \
            cohesion, earth in front, frost, earthquakes, riders' impacts, logs that rot, break or come apart. \
            Fresh fill is weaker than the tables' and gets weaker when wet.";
        Explanation::new(model, limits)
            .with_input("height", self.crib.height(), "m")
            .with_input("width", self.crib.width(), "m")
            .with_input("weight", self.crib.weight(), "N/m")
            .with_input("friction", self.backfill.friction().value(), "rad")
            .with_input("unit_weight", self.backfill.unit_weight().value(), "N/m^3")
            .with_input("slope", self.backfill.slope(), "rad")
            .with_input("surcharge", self.backfill.surcharge(), "Pa")
            .with_input("water", self.backfill.water(), "m")
            .with_source("W. J. M. Rankine (1857) and C. A. Coulomb (1776), as in B. M. Das, Principles of Foundation Engineering (from memory)")
            .with_source("International Building Code: presumptive load-bearing values, and 1.5 against sliding and overturning; textbooks ask for 2 against overturning and 3 in bearing")
            .with_source("municipal rules that ask for a permit or an engineer above 3 to 4 ft (0.9 to 1.2 m)")
    }
}

#[cfg(test)]
mod tests;
