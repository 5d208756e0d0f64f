//! A whole ride: start, leg by leg, and what is said at the end.

use super::answers::{Answering, Answers};
use super::brake::{Brake, Slowing};
use super::conclude::Conclusion;
use super::edge::Edge;
use super::error::RideError;
use super::events::Setting;
use super::march::{March, State};
use super::options::{Lean, RideOptions};
use super::outcome::{Outcome, Warning};
use super::result::{Exit, Ride};
use super::station::{Station, Up};
use super::zones::{Leg, legs};
use crate::geometry::Frame;
use crate::math::roots;

/// A wanted speed is met when it is met to this, m/s.
const SPEED_MET: f64 = 1e-6;
/// Doublings of the deceleration before grip is taken to be what limits it.
const MOST_DOUBLINGS: usize = 8;

/// A line, cut into legs, with all that acts on it.
pub(super) struct Course<'a> {
    setting: Setting<'a>,
    legs: Vec<Leg>,
}

impl<'a> Course<'a> {
    pub(super) fn new(setting: Setting<'a>, brake: &Brake) -> Self {
        Self { setting, legs: legs(setting.line, brake) }
    }

    pub(super) fn ride(&self, options: &RideOptions) -> Result<Ride, RideError> {
        Ok(self.follow(options, None)?.0)
    }

    /// The ride, and how it answers.
    pub(super) fn answers(
        &self,
        options: &RideOptions,
        answering: Answering,
    ) -> Result<(Ride, Answers), RideError> {
        let (ride, answering) = self.follow(options, Some(answering))?;
        Ok((ride, answering.map_or_else(Answers::default, Answering::done)))
    }

    fn follow(
        &self,
        options: &RideOptions,
        answering: Option<Answering>,
    ) -> Result<(Ride, Option<Answering>), RideError> {
        let first = self.setting.line.sections().next();
        let (piece, parameter) = first.map_or((0, 0.0), |first| (first.piece, first.from));
        let (_, start) = self.place(piece, parameter);
        let energy = start.energy(options.speed);
        let state = State {
            sum: energy + self.setting.equation.g() * start.centre.z,
            at_rest: options.speed == 0.0,
            piece,
            parameter,
        };
        let mut march = March::new(self.setting, options.sample, state);
        march.answering = answering;
        march.record.ledger.start = energy;
        let mut warnings = Vec::new();
        let mut ending = self.rests(&start, state).then_some(Outcome::DidNotStart);
        for leg in &self.legs {
            if ending.is_some() {
                break;
            }
            ending = self.leg(&mut march, leg, &mut warnings)?;
        }
        let last = self.exit(march.state, march.record.station);
        let conclusion = Conclusion {
            line: self.setting.line,
            lean: Lean::Deck,
            grip: self.setting.equation.grip,
            gravity: self.setting.equation.g() * (start.centre.z - last.centre.z),
            ending,
            last,
            warnings,
        };
        Ok((conclusion.ride(march.record), march.answering))
    }

    /// Whether a start from rest gets nowhere.
    fn rests(&self, start: &Station, state: State) -> bool {
        let asked = match self.legs.first().map(|leg| leg.slowing) {
            Some(Slowing::By(asked)) => asked,
            Some(Slowing::To(_)) | None => 0.0,
        };
        let equation = &self.setting.equation;
        state.at_rest && equation.loads(start, 0.0, asked).gain() - equation.g() * start.dc.z <= 0.0
    }

    fn leg(
        &self,
        march: &mut March,
        leg: &Leg,
        warnings: &mut Vec<Warning>,
    ) -> Result<Option<Outcome>, RideError> {
        let wanted = match leg.slowing {
            Slowing::By(asked) => return march.ride(&leg.sections, asked),
            Slowing::To(wanted) => wanted,
        };
        let asked = self.steady(march.state, leg, wanted)?;
        let ending = march.ride(&leg.sections, asked)?;
        let speed = self.speed_after(march.state);
        if ending.is_none() && speed > wanted + SPEED_MET {
            warnings.push(Warning::SpeedNotMet { station: march.record.station, wanted, speed });
        }
        Ok(ending)
    }

    /// The steady deceleration that ends a leg at the wanted speed: none for who is slower anyway, and the hardest
    /// tried where grip does not give enough.
    fn steady(&self, state: State, leg: &Leg, wanted: f64) -> Result<f64, RideError> {
        // Over the square of the wanted speed, which falls evenly with the deceleration.
        let excess = |asked: f64| -> Result<f64, RideError> {
            let mut trial = March::new(self.setting, None, state);
            let speed = match trial.ride(&leg.sections, asked)? {
                None => self.speed_after(trial.state),
                Some(_) => 0.0,
            };
            Ok(speed * speed - wanted * wanted)
        };
        let free = excess(0.0)?;
        if free <= 0.0 {
            return Ok(0.0);
        }
        let length: f64 = leg.sections.iter().map(|section| section.to - section.from).sum();
        let mut most = free / length;
        let mut left = excess(most)?;
        for _ in 0..MOST_DOUBLINGS {
            if left <= 0.0 {
                break;
            }
            most *= 2.0;
            left = excess(most)?;
        }
        if left > 0.0 {
            return Ok(most);
        }
        let ends = [roots::End { x: 0.0, f: free }, roots::End { x: most, f: left }];
        let mut failed = None;
        let found = roots::between(
            |asked| {
                excess(asked).unwrap_or_else(|error| {
                    failed = Some(error);
                    f64::NAN
                })
            },
            ends,
            1e-14 * most,
        );
        failed.map_or_else(|| Ok(found?), Err)
    }

    fn speed_after(&self, state: State) -> f64 {
        let (_, station) = self.place(state.piece, state.parameter);
        station.speed(state.sum - self.setting.equation.g() * station.centre.z)
    }

    fn place(&self, piece: usize, parameter: f64) -> (Frame, Station) {
        self.setting.place(piece, parameter)
    }

    /// The rider where the march has come to.
    fn exit(&self, state: State, at: f64) -> Exit {
        self.setting.exit(state, at)
    }
}

impl Setting<'_> {
    fn place(&self, piece: usize, parameter: f64) -> (Frame, Station) {
        let (frame, _) = self.line.at(piece, parameter);
        (frame, Station::new(&frame, &self.body))
    }

    /// The rider at a place, square to the surface, `at` metres from the line's start.
    pub(super) fn exit(&self, state: State, at: f64) -> Exit {
        let (frame, station) = self.place(state.piece, state.parameter);
        let up = Up::square(&frame);
        let energy = state.sum - self.equation.g() * station.centre.z;
        Exit {
            frame: Frame { station: at, ..frame },
            up: up.u,
            dup: up.du,
            speed: station.speed(energy),
            com_height: self.body.com_height,
            energy,
            centre: station.centre,
            edge: Edge::of(self.line, &frame, self.body.bike.wheelbase),
            bike: self.body.bike,
            gravity: self.equation.g(),
        }
    }
}
