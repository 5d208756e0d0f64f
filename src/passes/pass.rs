//! One pass: a rider down the hill, over the edge and onto the ground.

use super::draw::Drawn;
use super::error::PassError;
use crate::flight::Flight;
use crate::ground::Ground;
use crate::launch::LaunchError;
use crate::ride::Outcome;
use crate::site::{Approach, Attempt, Descent, Part, Site};
use crate::touchdown::{Contact, Touchdown};

/// One rider's way from the start mark to where the tyres come down, or as far as it goes.
#[derive(Debug, Clone, PartialEq)]
pub struct Pass {
    /// What was drawn for it.
    pub drawn: Drawn,
    /// The tyres' speed at the wall's start, m/s, for who comes there.
    pub entry_speed: Option<f64>,
    /// How far up the panel the rider leaves or would have left, m, for who comes to the wall.
    pub leave: Option<f64>,
    /// The tyres' speed at the edge, m/s, for who comes there.
    pub exit_speed: Option<f64>,
    /// The most grip asked for on the way.
    pub grip_demand: f64,
    /// On which part the ride ended.
    pub part: Part,
    /// How it ended.
    pub outcome: Outcome,
    /// The flight, for who leaves over the edge.
    pub flight: Option<Flight>,
    /// Where and how hard it comes down, for who leaves over the edge.
    pub touchdown: Option<Touchdown>,
}

impl Pass {
    /// Whether the rider leaves over the edge. Who stalls, lifts off or slides before does not.
    pub const fn leaves(&self) -> bool {
        self.flight.is_some()
    }

    /// The touch of the ground, for who comes down on it.
    pub fn contact(&self) -> Option<&Contact> {
        self.touchdown.as_ref()?.contact.as_ref()
    }

    /// The same pass on another ground: the ride and the path through the air stay.
    pub(super) fn on(&self, ground: &Ground) -> Result<Self, PassError> {
        let flight = self.flight.as_ref().map(|flight| flight.on(ground)).transpose()?;
        let touchdown = flight.as_ref().map(Flight::touchdown);
        Ok(Self { flight, touchdown, ..self.ridden() })
    }

    /// The pass without its flight.
    fn ridden(&self) -> Self {
        Self { flight: None, touchdown: None, ..*self }
    }
}

/// What every pass over a site needs.
pub(super) struct Course<'a> {
    pub(super) site: &'a Site,
    pub(super) approach: Approach<'a>,
    pub(super) ground: Ground,
    /// The entry speeds of the classes' middle riders, m/s; none for one who does not come there.
    pub(super) middle_speeds: Vec<Option<f64>>,
}

impl Course<'_> {
    /// The pass of one rider.
    pub(super) fn pass(&self, drawn: Drawn) -> Result<Pass, PassError> {
        let class = &self.site.classes[drawn.who];
        let rider = class.rider.clone().with_mass(drawn.mass).and_then(|r| r.with_cda(drawn.cda));
        let rider = rider.map_err(crate::site::SiteError::from)?;
        let air = self.site.air.with_wind(drawn.wind).map_err(crate::site::SiteError::from)?;
        let attempt = Attempt {
            rider: &rider,
            air: &air,
            start: drawn.start,
            brake: drawn.brake,
            sample: None,
        };
        let middle = self.middle_speeds[drawn.who];
        let descent = self.approach.descend(&attempt, |speed| {
            let faster = middle.map_or(0.0, |middle| speed - middle);
            drawn.leave + class.leave_per_speed * faster
        })?;
        let mut pass = ridden(drawn, &descent);
        if let (Part::Wall, Outcome::Reached) = (pass.part, pass.outcome) {
            let ride = descent.last();
            let launch = match ride.launch(drawn.pop) {
                Err(LaunchError::HangsUp { short_of_edge, .. }) => {
                    let end = ride.exit.map_or(0.0, |exit| exit.frame.station);
                    pass.outcome = Outcome::HungUp { station: end - short_of_edge };
                    return Ok(pass);
                }
                launch => launch?,
            };
            let flight = launch.flight(&self.ground, &rider, &air)?;
            pass.touchdown = Some(flight.touchdown());
            pass.flight = Some(flight);
        }
        Ok(pass)
    }
}

fn ridden(drawn: Drawn, descent: &Descent) -> Pass {
    let (part, outcome) = descent.ended();
    let wall = descent.wall.as_ref();
    let on_wall = wall.map_or(0.0, |wall| wall.peak.demand);
    Pass {
        drawn,
        entry_speed: descent.entry_speed,
        leave: descent.leave,
        exit_speed: wall.and_then(crate::ride::Ride::exit_speed),
        grip_demand: on_wall.max(descent.run_in.peak.demand),
        part,
        outcome,
        flight: None,
        touchdown: None,
    }
}
