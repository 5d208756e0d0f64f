//! A whole leaning ride: brakes that meet a wanted speed, how far it goes, and what is said of it.

use super::chain::{Chain, Entry, Problem};
use super::footing::Footing;
use super::mesh::Stretch;
use super::motion::{Model, State};
use super::panel::Ends;
use super::search::{Found, Task};
use super::solved::Solved;
use crate::geometry::{Frame, Line};
use crate::ride::answers::Cause;
use crate::ride::beside::{Beside, ExitAnswers, Moved, Near};
use crate::ride::brake::Slowing;
use crate::ride::conclude::Conclusion;
use crate::ride::edge::{Bike, Edge};
use crate::ride::error::RideError;
use crate::ride::events::Ending;
use crate::ride::options::RideOptions;
use crate::ride::outcome::{Outcome, Warning};
use crate::ride::record::Record;
use crate::ride::result::{Exit, Ride};
use crate::ride::zones::{Leg, legs};

/// A wanted speed is met when it is met to this, m/s, and looked for closer.
const SPEED_MET: f64 = 1e-6;
const CLOSELY: f64 = 1e-9;
/// Rides in search of the decelerations that meet wanted speeds.
const MOST_SEARCHES: usize = 40;

/// A line, cut into legs, and who rides it how.
pub(super) struct Outing<'a> {
    line: &'a Line,
    model: Model,
    bike: Bike,
    entry: Entry,
    legs: Vec<Leg>,
    options: &'a RideOptions,
}

/// The decelerations braked for, leg by leg, and the speeds that came of them.
struct Braking {
    asked: Vec<f64>,
    speeds: Vec<Option<f64>>,
}

impl<'a> Outing<'a> {
    pub(super) fn new(line: &'a Line, model: Model, bike: Bike, options: &'a RideOptions) -> Self {
        let first = line.sections().next();
        let (piece, parameter) = first.map_or((0, 0.0), |first| (first.piece, first.from));
        let (footing, _) = Footing::at(line, piece, parameter);
        let model = Model { datum: footing.tyres.z, ..model };
        let lean = model.static_lean(&footing, options.speed);
        let entry = Entry { footing, speed: options.speed, lean };
        Self { line, model, bike, entry, legs: legs(line, &options.brake), options }
    }

    /// The ride, and how its exit answers where that is asked; nothing where it does not come there.
    pub(super) fn ride(
        &self,
        asked: Option<(&[Cause], &Beside)>,
    ) -> Result<(Ride, ExitAnswers), RideError> {
        let mut braking = Braking {
            asked: self.legs.iter().map(|leg| leg.slowing.first()).collect(),
            speeds: Vec::new(),
        };
        if let Some(outcome) = self.ends_at_once(braking.asked.first().copied().unwrap_or(0.0)) {
            return Ok((self.nowhere(outcome), ExitAnswers::default()));
        }
        let mut found = self.find(&mut braking);
        for _ in 0..MOST_SEARCHES {
            if !self.brake_better(&mut braking) {
                break;
            }
            found = self.find(&mut braking);
        }
        let warnings = self.not_met(&braking, &found);
        match found {
            Found::Reached(chain) => {
                let ride = self.conclude(&chain, None, warnings);
                let Some((causes, beside)) = asked else {
                    return Ok((ride, ExitAnswers::default()));
                };
                let told = self.answers(&chain, &ride, causes, beside);
                Ok((ride, told.ok_or(RideError::Unresolved { station: length(&chain) })?))
            }
            Found::Ended(chain, ending) => {
                Ok((self.conclude(&chain, Some(ending), warnings), ExitAnswers::default()))
            }
            Found::AtOnce(ending) => {
                Ok((self.nowhere(outcome(ending, 0.0)), ExitAnswers::default()))
            }
            Found::TooTight(chain, towards) => Err(RideError::TooTight {
                station: length(&chain),
                radius: towards.recip(),
                com_height: self.model.com_height,
            }),
            Found::Unresolved(chain) => {
                Err(RideError::Unresolved { station: chain.map_or(0.0, |chain| length(&chain)) })
            }
        }
    }

    fn answers(
        &self,
        chain: &Chain,
        ride: &Ride,
        causes: &[Cause],
        beside: &Beside,
    ) -> Option<ExitAnswers> {
        let problem = self.problem();
        let by_cause =
            causes.iter().map(|cause| chain.answer(&problem, *cause)).collect::<Option<_>>()?;
        let answer = chain.moved(&problem, beside)?;
        let (end, station) = (chain.end(&self.model), ride.exit?.frame.station);
        let at_end = |near: &Near| {
            let last = near.line.sections().last()?;
            let (frame, _) = near.line.at(last.piece, last.to);
            let ends = end + answer.end * near.by;
            let exit = self.exit(&near.line, (&frame, &Footing::new(&frame)), &ends, station);
            Some((near.weight, exit))
        };
        let exits = beside.lines().iter().filter_map(at_end).collect();
        Some(ExitAnswers { by_cause, moved: Some(Moved { exits, time: answer.time }) })
    }

    fn problem(&self) -> Problem<'_> {
        Problem { line: self.line, model: &self.model, lean: self.options.lean, entry: &self.entry }
    }

    fn find(&self, braking: &mut Braking) -> Found {
        let stretches: Vec<Stretch> = self
            .legs
            .iter()
            .zip(&braking.asked)
            .flat_map(|(leg, asked)| {
                leg.sections.iter().map(|section| Stretch { section: *section, asked: *asked })
            })
            .collect();
        let task = Task {
            problem: self.problem(),
            stretches: &stretches,
            timed: self.options.sample.is_some(),
        };
        let found = task.find();
        braking.speeds = self.legs.iter().map(|leg| self.speed_after(leg, &found)).collect();
        found
    }

    /// The tyres' speed where a leg ends; none where the ride does not come there.
    fn speed_after(&self, leg: &Leg, found: &Found) -> Option<f64> {
        let (Found::Reached(chain) | Found::Ended(chain, _)) = found else {
            return None;
        };
        let end = leg.sections.last()?.to;
        let panel =
            chain.panels.iter().find(|panel| panel.bed.span.parameter(1.0) >= end - 1e-12)?;
        Some(Solved::new(self.line, &self.model, panel).end_square().max(0.0).sqrt())
    }

    /// Changes the decelerations of legs that miss the speed wanted at their ends; whether there were any.
    fn brake_better(&self, braking: &mut Braking) -> bool {
        let mut is_changed = false;
        for (k, leg) in self.legs.iter().enumerate() {
            let Slowing::To(wanted) = leg.slowing else { continue };
            let speed = braking.speeds[k].unwrap_or(0.0);
            let excess = speed * speed - wanted * wanted;
            let is_met = (speed - wanted).abs() <= CLOSELY;
            if is_met || (excess < 0.0 && braking.asked[k] == 0.0) {
                continue;
            }
            let length: f64 = leg.sections.iter().map(|section| section.to - section.from).sum();
            let change = (0.5 * excess / length).max(-0.5 * braking.asked[k] - 1e-12);
            let asked = (braking.asked[k] + change).clamp(0.0, 1e3);
            is_changed |= asked.to_bits() != braking.asked[k].to_bits();
            braking.asked[k] = asked;
        }
        is_changed
    }

    fn not_met(&self, braking: &Braking, found: &Found) -> Vec<Warning> {
        let mut warnings = Vec::new();
        let (Found::Reached(chain) | Found::Ended(chain, _)) = found else {
            return warnings;
        };
        for (leg, speed) in self.legs.iter().zip(&braking.speeds) {
            if let (Slowing::To(wanted), Some(speed)) = (leg.slowing, *speed)
                && speed > wanted + SPEED_MET
                && let Some(end) = leg.sections.last().map(|section| section.to)
            {
                let before = |from: f64| from < end - 1e-12;
                let ridden = chain.panels.iter().filter(|panel| before(panel.bed.span.from));
                let station = ridden.map(|panel| panel.bed.length).sum();
                warnings.push(Warning::SpeedNotMet { station, wanted, speed });
            }
        }
        warnings
    }

    /// What keeps the ride from beginning.
    fn ends_at_once(&self, asked: f64) -> Option<Outcome> {
        let Entry { footing, speed, lean } = self.entry;
        let (normal, _) = self.model.static_loads(&footing, speed);
        if normal <= 0.0 {
            return Some(Outcome::LeftSurface { station: 0.0 });
        }
        (speed == 0.0 && self.model.push_at_rest(&footing, lean, asked) <= 0.0)
            .then_some(Outcome::DidNotStart)
    }

    /// A ride that ends where it began.
    fn nowhere(&self, outcome: Outcome) -> Ride {
        let ends = self.entry.start(&self.model, 0.0);
        let first = self.line.frame(0.0);
        let last = self.exit(self.line, (&first, &self.entry.footing), &ends, 0.0);
        let mut record = Record::new(self.options.sample);
        record.ledger.start = last.energy;
        self.conclusion(&last, 0.0, Some(outcome), Vec::new()).ride(record)
    }

    fn conclude(&self, chain: &Chain, ending: Option<Ending>, warnings: Vec<Warning>) -> Ride {
        let Model { equation, rotating, .. } = self.model;
        let mut record = Record::new(self.options.sample);
        for panel in &chain.panels {
            let solved = Solved::new(self.line, &self.model, panel);
            record.take(&solved, &equation, rotating);
        }
        let first = chain.panels.first().map_or_else(Ends::zeros, |panel| panel.start);
        let start_height = self.model.potential(&self.entry.footing, first[0]);
        record.ledger.start = first[2] - start_height;
        let Some(panel) = chain.panels.last() else {
            return self.nowhere(Outcome::Reached);
        };
        let span = panel.bed.span;
        let (frame, _) = self.line.at(span.piece, span.parameter(1.0));
        let ends = chain.end(&self.model);
        let last = self.exit(self.line, (&frame, &panel.bed.last), &ends, record.station);
        let fallen = start_height - self.model.potential(&panel.bed.last, ends[0]);
        let outcome = ending.map(|ending| outcome(ending, record.station));
        self.conclusion(&last, fallen, outcome, warnings).ride(record)
    }

    fn conclusion(
        &self,
        last: &Exit,
        gravity: f64,
        ending: Option<Outcome>,
        warnings: Vec<Warning>,
    ) -> Conclusion<'_> {
        let (line, lean) = (self.line, self.options.lean);
        let grip = self.model.equation.grip;
        Conclusion { line, lean, grip, gravity, ending, last: *last, warnings }
    }

    /// The rider at the end of a line.
    fn exit(
        &self,
        line: &Line,
        (frame, footing): (&Frame, &Footing),
        ends: &Ends,
        station: f64,
    ) -> Exit {
        let [lean, roll, sum] = (*ends).into();
        let speed = self.model.square(footing, lean, roll, sum).max(0.0).sqrt();
        // At rest nothing turns with the way.
        let turn = if speed > 0.0 { roll / speed } else { 0.0 };
        let towards = footing.towards(lean);
        let state = State { lean, roll, speed };
        Exit {
            frame: Frame { station, ..*frame },
            up: footing.up(lean),
            dup: footing.aside(lean) * turn - footing.tangent * towards,
            speed,
            com_height: self.model.com_height,
            energy: sum - self.model.potential(footing, lean),
            centre: state.centre(footing, self.model.com_height),
            edge: Edge::of(line, frame, self.bike.wheelbase),
            bike: self.bike,
            gravity: self.model.equation.g(),
        }
    }
}

impl Slowing {
    /// The deceleration to begin with.
    fn first(self) -> f64 {
        match self {
            Self::By(asked) => asked,
            Self::To(_) => 0.0,
        }
    }
}

fn length(chain: &Chain) -> f64 {
    chain.panels.iter().map(|panel| panel.bed.length).sum()
}

fn outcome(ending: Ending, station: f64) -> Outcome {
    match ending {
        Ending::Stall => Outcome::Stalled { station },
        Ending::Lift => Outcome::LeftSurface { station },
    }
}
