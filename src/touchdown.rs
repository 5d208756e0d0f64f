//! The moment of landing and what it says.

mod contact;
mod outcome;

pub use contact::Contact;
pub use outcome::{TouchOutcome, Warning};

use crate::explain::Explanation;
use crate::flight::Flight;
use crate::ground::{End, Place};
use contact::Approach;
use serde::{Deserialize, Serialize};

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
    /// What is not wrong but unwise, or past what the model is good for.
    pub warnings: Vec<Warning>,
}

impl Flight {
    /// What the end of the flight says: where, how fast, how hard, and how far off upright.
    pub fn touchdown(&self) -> Touchdown {
        let contact = self.end().touch().map(|touch| Contact::new(self, touch));
        let place = |contact: &Contact| {
            self.ground().landing().map(|landing| landing.place(&contact.mark.xy()))
        };
        let outcome = match (self.end(), contact.as_ref().and_then(place)) {
            (End::RolledOff, _) => TouchOutcome::RolledOff,
            (End::OffSurvey { .. }, _) => TouchOutcome::OffSurvey,
            (End::Touch(_), None) => TouchOutcome::Landed,
            (End::Touch(_), Some(Place::Short)) => TouchOutcome::Short,
            (End::Touch(_), Some(Place::Caught)) => TouchOutcome::Caught,
            (End::Touch(_), Some(Place::Long)) => TouchOutcome::Long,
            (End::Touch(_), Some(Place::Wide)) => TouchOutcome::Wide,
            _ => TouchOutcome::NoTouchdown,
        };
        let warnings = Warning::about(outcome, contact.as_ref(), self.grip());
        Touchdown { outcome, time: self.time(), contact, warnings }
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
        said.with_input("time", contact.time, "s")
            .with_input("speed", contact.velocity.norm(), "m/s")
            .with_input("normal_speed", contact.normal_speed, "m/s")
            .with_input("angle", contact.angle, "rad")
    }
}

#[cfg(test)]
mod tests;
