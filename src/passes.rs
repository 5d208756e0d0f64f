//! Everyone who comes down the hill: passes drawn from the site's classes, ridden, flown and landed.

pub mod batch;
mod doubt;
mod draw;
mod error;
mod pass;
mod reason;
mod summary;
mod way;

pub use doubt::Doubt;
pub use draw::Drawn;
pub use error::{PassError, PassesError};
pub use pass::Pass;
pub use reason::{Kind, Reason};
pub use summary::{Spread, Summary};
pub(crate) use way::JUDGE;
pub use way::{LEANS, Way};

use crate::explain::Explanation;
use crate::ground::Ground;
use crate::math::parallel::{Crew, CrewError};
use crate::math::range::OutOfRange;
use crate::ride::{Lean, RideOptions};
use crate::site::{Approach, Attempt, Room, Site, SiteError};
use pass::Course;

/// The most passes at once: their paths are kept, a few kilobytes each.
const MOST: usize = 1 << 20;
/// After so many passes a watch is told; each takes well under a millisecond.
const STRIDE: usize = 16;

/// Passes over a site, with the path of each flight.
#[derive(Debug, Clone, PartialEq)]
pub struct Passes {
    classes: Vec<String>,
    members: Vec<Pass>,
    ground: Ground,
    room: Room,
    seed: u64,
}

impl Site {
    /// `n` passes (1 to 1048576) on the site's ground, a function of site, `n` and `seed`: the same
    /// to the last bit on any number of threads.
    ///
    /// Every number of a pass is drawn from a scrambled Sobol' sequence over the classes' weights
    /// and distributions. The rider starts from rest, rides the run-in with his brake and the wall
    /// without, leaves where his class does at his entry speed, and flies to the ground: once with
    /// each lean of [`LEANS`], for nobody knows beforehand how he leans. Who stalls, lifts off or
    /// slides before the edge does not leave; his pass says so.
    ///
    /// Errors: `n` out of range, a site that is none, a pass that cannot be computed (which one),
    /// nobody who leaves the edge (why, in groups), stopped by the crew's watch.
    pub fn passes(&self, n: usize, seed: u64, crew: &Crew) -> Result<Passes, PassesError> {
        self.ridden(n, seed, None, crew)
    }

    /// As [`passes`](Self::passes), where what nobody knows is drawn again for each scenario: the first part of the passes
    /// is ridden with one scenario's errors, the next with another's. So many passes in all, at least one a scenario.
    pub fn passes_in_doubt(
        &self,
        n: usize,
        seed: u64,
        doubt: &Doubt,
        crew: &Crew,
    ) -> Result<Passes, PassesError> {
        if n < doubt.scenarios() {
            let allowed = format!("at least the {} scenarios", doubt.scenarios());
            return Err(OutOfRange::new("n", n as f64, allowed).into());
        }
        self.ridden(n, seed, Some(doubt), crew)
    }

    fn ridden(
        &self,
        n: usize,
        seed: u64,
        doubt: Option<&Doubt>,
        crew: &Crew,
    ) -> Result<Passes, PassesError> {
        if !(1..=MOST).contains(&n) {
            return Err(OutOfRange::new("n", n as f64, format!("from 1 to {MOST}")).into());
        }
        self.check()?;
        let approach = self.approach()?;
        let middle_speeds = middle_speeds(self, &approach)?;
        let course = Course { site: self, approach, ground: self.ground()?, middle_speeds };
        let mut drawn = draw::draw(self, n, seed, crew)?;
        if let Some(doubt) = doubt {
            draw::in_doubt(&mut drawn, seed, doubt);
        }
        let ridden = crew.map(n, STRIDE, |index| course.pass(drawn[index]));
        let classes: Vec<String> = self.classes.iter().map(|class| class.name.clone()).collect();
        let members = collected(ridden, &classes, |index| drawn[index].who)?;
        let passes = Passes { classes, members, ground: course.ground, room: self.room(), seed };
        if passes.members.iter().any(Pass::leaves) {
            return Ok(passes);
        }
        Err(PassesError::NobodyLeaves { count: n, reasons: passes.reasons() })
    }
}

impl Passes {
    /// The passes, in the order drawn.
    pub fn members(&self) -> &[Pass] {
        &self.members
    }

    /// How many there are.
    pub fn len(&self) -> usize {
        self.members.len()
    }

    /// Whether there are none: never.
    pub fn is_empty(&self) -> bool {
        self.members.is_empty()
    }

    /// The classes' names; a pass tells its own by place.
    pub fn classes(&self) -> &[String] {
        &self.classes
    }

    /// The ground they come down on.
    pub const fn ground(&self) -> &Ground {
        &self.ground
    }

    /// Where on their site earth may lie.
    pub const fn room(&self) -> &Room {
        &self.room
    }

    /// The seed they were drawn from.
    pub const fn seed(&self) -> u64 {
        self.seed
    }

    /// The same rides and paths through the air onto another ground, such as one with a landing:
    /// only the touch is looked for again.
    pub fn on(&self, ground: &Ground, crew: &Crew) -> Result<Self, PassesError> {
        let landed = crew.map(self.len(), STRIDE, |index| self.members[index].on(ground));
        let members = collected(landed, &self.classes, |index| self.members[index].drawn.who)?;
        let (classes, ground) = (self.classes.clone(), ground.clone());
        Ok(Self { classes, members, ground, room: self.room.clone(), seed: self.seed })
    }

    /// The same passes judged by one lean alone: who does not come to the edge with it does not leave.
    pub fn with_lean(&self, lean: Lean) -> Self {
        let only = |pass: &Pass| Pass {
            ways: pass.ways.iter().filter(|way| way.lean == lean).cloned().collect(),
            ..*pass
        };
        let members = self.members.iter().map(only).collect();
        let (classes, ground) = (self.classes.clone(), self.ground.clone());
        Self { classes, members, ground, room: self.room.clone(), seed: self.seed }
    }

    /// How many scenarios they were drawn in: one where nothing was in doubt.
    pub fn scenarios(&self) -> usize {
        1 + self.members.iter().map(|pass| pass.drawn.scenario).max().unwrap_or(0)
    }

    /// The same passes with the weight of each named class multiplied by a factor, at least 0, all weights together 1
    /// again: to have first-timers count three times, say.
    ///
    /// Errors: a name that is no class, a factor below 0, nobody left with a weight.
    pub fn weighted(&self, factors: &[(String, f64)]) -> Result<Self, PassesError> {
        let mut by_class = vec![1.0; self.classes.len()];
        for (name, factor) in factors {
            let field = format!("weights[\"{name}\"]");
            let Some(place) = self.classes.iter().position(|class| class == name) else {
                let allowed = format!("for one of the classes {}", self.classes.join(", "));
                return Err(OutOfRange::new(field, *factor, allowed).into());
            };
            if !(*factor >= 0.0 && factor.is_finite()) {
                return Err(OutOfRange::new(field, *factor, "a finite number, at least 0").into());
            }
            by_class[place] *= factor;
        }
        let weight = |pass: &Pass| pass.drawn.weight * by_class[pass.drawn.who];
        let total: f64 = self.members.iter().map(weight).sum();
        if total <= 0.0 {
            return Err(OutOfRange::new("weights", total, "above 0 for some class").into());
        }
        let mut passes = self.clone();
        for pass in &mut passes.members {
            pass.drawn.weight = weight(pass) / total;
        }
        Ok(passes)
    }

    /// The weight of all who leave over the edge: their share of all passes.
    pub fn share_leaving(&self) -> f64 {
        self.members.iter().filter(|pass| pass.leaves()).map(|pass| pass.drawn.weight).sum()
    }

    /// The model behind the numbers, what went in, its sources and its limits.
    pub fn explain(&self) -> Explanation {
        let model = "Each pass is one rider of one class: start, brake, mass, drag area, wind, push and where he leaves are \
            drawn from the class's spreads. He rolls from rest down the run-in, rides the takeoff with each of three leans \
            (square to it, in balance, in balance and come up to the edge's own lean), flies, and comes down where the \
            tyres first touch. Balance judges who holds; of those who leave, each counts by his hardest way down.";
        let limits = "No better than the spreads put in: until flags stand in the ground, speed, grip and where people \
            leave are guesses. Each number is drawn by itself; only the place of leaving goes with the speed. How a rider \
            leans is not known: three leans bound it, they do not measure it.";
        Explanation::new(model, limits)
            .with_input("passes", self.len() as f64, "")
            .with_input("seed", self.seed as f64, "")
            .with_input("share_leaving", self.share_leaving(), "")
            .with_source("Newton's laws for a mass on a given line and in the air")
            .with_source(
                "scrambled Sobol' points: S. Joe, F. Y. Kuo, SIAM J. Sci. Comput. 30 (2008); B. Burley, JCGT 9 (2020)",
            )
    }

    /// Why the others do not, in groups, the commonest first.
    pub fn reasons(&self) -> Vec<Reason> {
        reason::reasons(&self.members, &self.classes)
    }
}

/// All results in order, or the error of the first pass that has one.
fn collected(
    results: Result<Vec<Result<Pass, PassError>>, CrewError>,
    classes: &[String],
    who: impl Fn(usize) -> usize,
) -> Result<Vec<Pass>, PassesError> {
    let results = results?.into_iter().enumerate();
    let named = |(index, result): (usize, Result<Pass, PassError>)| {
        result.map_err(|source| PassesError::Pass {
            index,
            class: classes[who(index)].clone(),
            source: Box::new(source),
        })
    };
    results.map(named).collect()
}

/// The entry speed of each class's middle rider, where he comes to the wall.
fn middle_speeds(site: &Site, approach: &Approach) -> Result<Vec<Option<f64>>, SiteError> {
    let air = site.middle_air()?;
    let speed = |class: &crate::site::RiderClass| {
        let rider = class.middle_rider()?;
        let (start, brake) = (class.start.median(), class.brake.median());
        let sample = RideOptions::new(0.0).exit_only().sample;
        let (lean, speed_factor) = (Lean::Deck, 1.0);
        let attempt =
            Attempt { rider: &rider, air: &air, start, brake, lean, speed_factor, sample };
        Ok(approach.descend(&attempt, |_| class.leave.median())?.entry_speed)
    };
    site.classes.iter().map(speed).collect()
}
