//! One pass: a rider down the hill, over the edge and onto the ground.

use super::draw::Drawn;
use super::error::PassError;
use super::way::{JUDGE, LEANS, Way};
use crate::flight::Flight;
use crate::ground::Ground;
use crate::launch::LaunchError;
use crate::ride::{Lean, Outcome, Ride, RideError};
use crate::site::{Approach, Attempt, Descent, Part, Site, SiteError};
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
    /// The tyres' speed at the edge, m/s, for who comes there, with the lean that judges what holds.
    pub judged_speed: Option<f64>,
    /// The most grip asked for on the way.
    pub grip_demand: f64,
    /// On which part the ride ended.
    pub part: Part,
    /// How it ended.
    pub outcome: Outcome,
    /// How he comes down with each lean, for who leaves over the edge.
    pub ways: Vec<Way>,
}

impl Pass {
    /// Whether the rider leaves over the edge. Who stalls, lifts off or slides before does not.
    pub const fn leaves(&self) -> bool {
        !self.ways.is_empty()
    }

    /// The hardest of its ways, for who leaves over the edge: one that misses the landing, or else the one that falls
    /// highest. By it a pass is judged.
    pub fn hardest(&self) -> Option<&Way> {
        self.ways.iter().max_by(|a, b| a.by_hardness(b))
    }

    /// The way with a lean, where he leaves over the edge with it.
    pub fn way(&self, lean: Lean) -> Option<&Way> {
        self.ways.iter().find(|way| way.lean == lean)
    }

    /// The tyres' speed at the edge, m/s, for who comes there: the hardest way's, where he leaves.
    pub fn exit_speed(&self) -> Option<f64> {
        self.hardest().map(|way| way.exit_speed).or(self.judged_speed)
    }

    /// The hardest way's flight.
    pub fn flight(&self) -> Option<&Flight> {
        self.hardest().map(|way| &way.flight)
    }

    /// Where and how hard it comes down the hardest way.
    pub fn touchdown(&self) -> Option<&Touchdown> {
        self.hardest().map(|way| &way.touchdown)
    }

    /// The hardest way's touch of the ground, for who comes down on it.
    pub fn contact(&self) -> Option<&Contact> {
        self.touchdown()?.contact.as_ref()
    }

    /// The same pass on another ground: the ride and the path through the air stay.
    pub(super) fn on(&self, ground: &Ground) -> Result<Self, PassError> {
        let ways = self.ways.iter().map(|way| way.on(ground)).collect::<Result<_, _>>()?;
        Ok(Self { ways, ..*self })
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
        let rider = rider.map_err(SiteError::from)?;
        let air = self.site.air.with_wind(drawn.wind).map_err(SiteError::from)?;
        let attempt = Attempt {
            rider: &rider,
            air: &air,
            start: drawn.start,
            brake: drawn.brake,
            lean: JUDGE,
            speed_factor: drawn.speed_factor,
            sample: None,
        };
        let middle = self.middle_speeds[drawn.who];
        let descent = self.approach.descend(&attempt, |speed| {
            let faster = middle.map_or(0.0, |middle| speed - middle);
            drawn.leave + class.leave_per_speed * faster
        });
        let descent = match descent {
            Err(SiteError::Ride(RideError::Unresolved { station })) => {
                return Ok(unbalanced(drawn, station));
            }
            descent => descent?,
        };
        let mut pass = ridden(drawn, &descent);
        if let (Part::Wall, Outcome::Reached) = (pass.part, pass.outcome) {
            for lean in LEANS {
                match self.way(&attempt, &descent, lean, drawn.pop)? {
                    Ok(way) => pass.ways.push(way),
                    Err(outcome) if lean == JUDGE => {
                        let ways = Vec::new();
                        return Ok(Pass { outcome, ways, ..pass });
                    }
                    Err(_) => {}
                }
            }
        }
        Ok(pass)
    }

    /// What becomes of a rider whose way down holds, with one lean; how his ride ends where with it he does not leave.
    fn way(
        &self,
        attempt: &Attempt,
        descent: &Descent,
        lean: Lean,
        pop: f64,
    ) -> Result<Result<Way, Outcome>, PassError> {
        let again = if lean == JUDGE {
            None
        } else {
            match self.approach.again(&Attempt { lean, ..attempt.clone() }, descent) {
                Err(SiteError::Ride(RideError::Unresolved { station })) => {
                    return Ok(Err(Outcome::Unbalanced { station }));
                }
                again => again?,
            }
        };
        let ride = again.as_ref().unwrap_or(descent.last());
        let Some(exit) = ride.exit else { return Ok(Err(ride.outcome)) };
        let launch = match ride.launch(pop) {
            Err(LaunchError::HangsUp { short_of_edge, .. }) => {
                let station = exit.frame.station - short_of_edge;
                return Ok(Err(Outcome::HungUp { station }));
            }
            launch => launch?,
        };
        let flight = launch.flight(&self.ground, attempt.rider, attempt.air)?;
        Ok(Ok(Way::new(lean, exit.speed, flight)))
    }
}

/// A pass whose ride over the takeoff finds no balance: few in a thousand, of those who crawl. He counts as one who does
/// not leave.
const fn unbalanced(drawn: Drawn, station: f64) -> Pass {
    Pass {
        drawn,
        entry_speed: None,
        leave: None,
        judged_speed: None,
        grip_demand: 0.0,
        part: Part::Wall,
        outcome: Outcome::Unbalanced { station },
        ways: Vec::new(),
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
        judged_speed: wall.and_then(Ride::exit_speed),
        grip_demand: on_wall.max(descent.run_in.peak.demand),
        part,
        outcome,
        ways: Vec::new(),
    }
}
