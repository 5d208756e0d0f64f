//! The moment of landing and what it says.

pub mod batch;
mod contact;
mod outcome;
mod turn;

pub use contact::Contact;
pub use outcome::{TouchOutcome, Warning};
pub use turn::{Turn, Wheel};

use crate::explain::Explanation;
use crate::flight::{Flight, RigidFlight};
use crate::ground::{End, Place};
use contact::Approach;
use serde::{Deserialize, Serialize};

/// What is said of a rigid flight's turn.
const TURN_MODEL: &str = "The bike turns as one rigid body; the turn owed is the shortest from there to an attitude \
    upright on the ground along the velocity over it. Which wheel touches first is by the angle between bike and ground \
    alone, both wheels equally far from the centre of mass along the bike's up.";

/// What the end of a flight says.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[non_exhaustive]
pub struct Touchdown {
    /// How it ended, and where on a landing.
    pub outcome: TouchOutcome,
    /// Seconds from the launch to the end.
    pub time: f64,
    /// The touch itself, where there was one.
    pub contact: Option<Contact>,
    /// Which way the bike points and what turn it owes; for a rigid flight that touches.
    pub turn: Option<Box<Turn>>,
    /// What is not wrong but unwise, or past what the model is good for.
    pub warnings: Vec<Warning>,
}

impl Flight {
    /// What the end of the flight says: where, how fast, how hard, and how far off upright.
    pub fn touchdown(&self) -> Touchdown {
        let contact = self.end().touch().map(|touch| Contact::new(self, touch));
        let place = |contact: &Contact| Place::among(self.ground().landings(), &contact.mark.xy());
        let outcome = match (self.end(), contact.as_ref().and_then(place)) {
            (End::RolledOff, _) => TouchOutcome::RolledOff,
            (End::OffSurvey { .. }, _) => TouchOutcome::OffSurvey,
            (End::Touch(_), None) => TouchOutcome::Landed,
            (End::Touch(_), Some(place)) => TouchOutcome::of(place),
            _ => TouchOutcome::NoTouchdown,
        };
        let warnings = Warning::about(outcome, contact.as_ref(), self.grip());
        Touchdown { outcome, time: self.time(), contact, turn: None, warnings }
    }

    /// How the rider comes at the ground: which way is forward over it.
    fn approach(&self) -> Approach {
        if let Some(landing) = self.ground().landing() {
            return Approach::Heading(landing.heading());
        }
        match &self.launch().attitude {
            Some(attitude) => Approach::Forward(attitude.t),
            None => Approach::AsItFlies,
        }
    }
}

impl RigidFlight {
    /// What the end of the flight says, and which way the bike points there.
    pub fn touchdown(&self) -> Touchdown {
        let mut touchdown = self.flight().touchdown();
        let contact = touchdown.contact.as_ref();
        let turn = contact.and_then(|contact| Turn::new(self, contact));
        touchdown.warnings.extend(turn.iter().flat_map(Warning::about_turn));
        touchdown.turn = turn.map(Box::new);
        touchdown
    }
}

impl Touchdown {
    /// The model behind the numbers, its sources and its limits.
    pub fn explain(&self) -> Explanation {
        let model = "The centre of mass flies as a point under gravity and quadratic drag, constant wind and \
            density. Touchdown is the first time its distance to the ground comes down to the height it is \
            carried over the tyres; a rider who leaves leaning has less of that height and rights himself at a \
            steady rate (250 degrees/s unless given otherwise: an assumption). Equivalent fall height is \
            v_n^2 / (2 g), v_n the speed into the surface: the height of a plain drop onto level ground that comes \
            down as hard.";
        let limits = "Not modelled: pumping and body English, steering, gusts, soft ground.";
        let said = Explanation::new(model, limits).with_source(
            "M. Hubbard, Safer ski jump landing surface design limits normal impact velocity, \
             J. ASTM Int. 6(1), 2009, JAI101630 (equivalent fall height)",
        );
        let Some(contact) = &self.contact else { return said };
        let said = said
            .with_input("time", contact.time, "s")
            .with_input("speed", contact.velocity.norm(), "m/s")
            .with_input("normal_speed", contact.normal_speed, "m/s")
            .with_input("angle", contact.angle, "rad");
        let Some(turn) = &self.turn else { return said };
        Explanation { model: format!("{} {TURN_MODEL}", said.model), ..said }
            .with_input("owed.roll", turn.owed.x, "rad")
            .with_input("owed.pitch", turn.owed.y, "rad")
            .with_input("owed.yaw", turn.owed.z, "rad")
    }
}

#[cfg(test)]
mod tests;
