//! The way from a start mark to the launch, in two parts: down the run-in, over the takeoff.

use super::error::FlagsError;
use super::flag::Gate;
use super::miss::{Miss, Stop};
use super::test_ride::TestRide;
use super::unknown::{Unknown, Values};
use crate::air::Air;
use crate::geometry::Line;
use crate::ground::Ground;
use crate::launch::Launch;
use crate::ride::{Beside, Brake, Lean, Outcome, Passing, Ride, RideOptions};
use crate::rider::Rider;
use crate::site::{Approach, Interval, Part, RiderClass, Site};

/// A timed ride keeps time panel by panel; its samples, metres apart, are not looked at.
const TIMED: f64 = 1.0;

/// A site as one class of riders comes down it.
#[derive(Debug, Clone)]
pub(super) struct Course<'a> {
    approach: Approach<'a>,
    pub(super) class: &'a RiderClass,
    rider: Rider,
    pub(super) air: Air,
    pub(super) places: Interval,
    pub(super) ground: Ground,
    /// The entry speed of the class's middle rider, where he comes there.
    middle_speed: Option<f64>,
    top: f64,
}

/// What a ride down the run-in depends on.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) struct Down {
    pub(super) crr: f64,
    pub(super) cda: f64,
    pub(super) brake: f64,
    pub(super) start: f64,
}

/// A line, who rides it and how.
pub(super) struct Track {
    pub(super) rider: Rider,
    pub(super) line: Line,
    pub(super) options: RideOptions,
}

/// What the run-in gives.
#[derive(Debug, Clone, PartialEq)]
pub(super) struct Arrival {
    /// The tyres' speed at the takeoff's start, no faster than a speed check lets him.
    pub(super) speed: f64,
    /// Seconds from the start; 0 where no times are asked for.
    pub(super) time: f64,
    /// How he passes each gate.
    pub(super) gates: Vec<Passing>,
    /// How the ride ended: it may have slid on paper.
    pub(super) outcome: Outcome,
    pub(super) demand: f64,
}

/// What a ride over the takeoff depends on.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) struct Over {
    pub(super) speed: f64,
    pub(super) leave: f64,
    pub(super) crr: f64,
    pub(super) cda: f64,
}

/// A ride over the takeoff with its launch, before any pop.
#[derive(Debug, Clone)]
pub(super) struct Crossing {
    pub(super) ride: Ride,
    pub(super) launch: Launch,
    /// Up through the bike: the way a pop goes.
    pub(super) up: crate::math::Vec3,
    pub(super) speed: f64,
    pub(super) time: f64,
}

impl Down {
    /// For a ride of a rider with these values.
    pub(super) fn of(values: &Values, ride: &TestRide) -> Self {
        let [crr, cda, brake, ..] = *values;
        Self { crr, cda, brake: brake * ride.brake_share(), start: ride.start() }
    }
}

impl<'a> Course<'a> {
    pub(super) fn new(site: &'a Site, who: &str, ground: Ground) -> Result<Self, FlagsError> {
        let class = site.class(who)?;
        let approach = site.approach()?;
        let (rider, air) = (class.middle_rider().map_err(FlagsError::from)?, site.middle_air()?);
        let places = site.places();
        let top = site.run_in.level_length();
        let middle_speed = None;
        let mut course = Self { approach, class, rider, air, places, ground, middle_speed, top };
        let down = Down {
            crr: course.rider.crr(),
            cda: course.rider.cda(),
            brake: class.brake.median(),
            start: class.start.median(),
        };
        course.middle_speed = match course.arrive(&down, class.leave.median(), &[]) {
            Ok(arrival) => Some(arrival.speed),
            Err(Miss::Stop(_)) => None,
            Err(miss) => return Err(miss.error()),
        };
        Ok(course)
    }

    /// The same onto another ground.
    pub(super) fn onto(&self, ground: &Ground) -> Self {
        Self { ground: ground.clone(), ..self.clone() }
    }

    /// The rider with these values.
    pub(super) fn rider(&self, crr: f64, cda: f64) -> Result<Rider, Miss> {
        Ok(self.rider.clone().with_crr(crr)?.with_cda(cda)?)
    }

    /// The grip of the class's rider.
    pub(super) fn grip(&self) -> f64 {
        self.rider.grip()
    }

    /// The farthest start mark up the hill.
    pub(super) const fn top(&self) -> f64 {
        self.top
    }

    /// The rider as the site has him.
    pub(super) const fn own_rider(&self) -> &Rider {
        &self.rider
    }

    /// The ride down, timed where gates are asked for.
    pub(super) fn arrive(&self, down: &Down, leave: f64, gates: &[f64]) -> Result<Arrival, Miss> {
        let Track { rider, line, options } = self.down(down, !gates.is_empty())?;
        let (ride, gates) = if gates.is_empty() {
            (line.ride(&rider, &self.air, &options)?, Vec::new())
        } else {
            let stations = self.stations(&line, gates)?;
            let (ride, answers) = line.answers(&rider, &self.air, &options, &stations)?;
            (ride, answers.seen)
        };
        let stop = |outcome| Stop::OnTheWay { part: Part::RunIn, outcome };
        if !ride.outcome.reaches_end() {
            return Err(stop(ride.outcome).into());
        }
        let entry = self.entry(leave)?;
        let Some(speed) = Approach::carried(&entry, &ride, (&rider, &self.air))? else {
            let outcome = Outcome::Stalled { station: 0.0 };
            return Err(Stop::OnTheWay { part: Part::Wall, outcome }.into());
        };
        let speed = self.checked(speed);
        let time = ride.samples.time.last().copied().unwrap_or_default();
        let (outcome, demand) = (ride.outcome, ride.peak.demand);
        Ok(Arrival { speed, time, gates, outcome, demand })
    }

    /// What is ridden down the run-in.
    pub(super) fn down(&self, down: &Down, timed: bool) -> Result<Track, Miss> {
        let options = RideOptions {
            sample: timed.then_some(TIMED),
            ..RideOptions::new(0.0).with_brake(Brake::Constant(down.brake))
        };
        let (rider, line) = (self.rider(down.crr, down.cda)?, self.approach.run_in(down.start)?);
        Ok(Track { rider, line, options })
    }

    /// Where riders come onto the takeoff.
    pub(super) fn entry(&self, leave: f64) -> Result<Line, Miss> {
        Ok(self.approach.entry(leave)?)
    }

    /// A speed onto the takeoff, no faster than a speed check lets him.
    pub(super) fn checked(&self, speed: f64) -> f64 {
        self.approach.checked(speed)
    }

    /// The gates' stations on a line down the run-in.
    pub(super) fn stations(&self, line: &Line, gates: &[f64]) -> Result<Vec<f64>, Miss> {
        let station = |gate: &f64| {
            let rest = if *gate > 0.0 { self.approach.run_in(*gate)?.length() } else { 0.0 };
            Ok(line.length() - rest)
        };
        gates.iter().map(station).collect()
    }

    /// Where he leaves, and how that changes with his entry speed: not at all where the edge ends.
    pub(super) fn leave(&self, ride: &TestRide, values: &Values, speed: f64) -> (f64, [f64; 2]) {
        let bias = values[Unknown::Leave.index()];
        let (wanted, by_speed) = if let Some(told) = ride.leave() {
            (told + bias, 0.0)
        } else {
            let faster = self.middle_speed.map_or(0.0, |middle| speed - middle);
            let per_speed = self.class.leave_per_speed;
            (self.class.leave.median() + per_speed * faster + bias, per_speed)
        };
        if self.places.contains(wanted) {
            (wanted, [by_speed, 1.0])
        } else {
            (self.places.nearest(wanted), [0.0, 0.0])
        }
    }

    /// The ride over the takeoff, timed where asked for. One that slides on paper still leaves.
    pub(super) fn over(&self, over: &Over, lean: Lean, timed: bool) -> Result<Crossing, Miss> {
        let rider = self.rider(over.crr, over.cda)?;
        self.over_as(&rider, over, lean, timed)
    }

    /// What is ridden over the takeoff.
    pub(super) fn onto_takeoff(
        &self,
        over: &Over,
        lean: Lean,
        timed: bool,
    ) -> Result<(Line, RideOptions), Miss> {
        if over.speed <= 0.0 {
            let outcome = Outcome::Stalled { station: 0.0 };
            return Err(Stop::OnTheWay { part: Part::Wall, outcome }.into());
        }
        let options =
            RideOptions { lean, sample: timed.then_some(TIMED), ..RideOptions::new(over.speed) };
        Ok((self.approach.over(over.leave)?, options))
    }

    /// The takeoff's lines close by, moved by the place of leaving.
    pub(super) fn beside(&self, over: &Over) -> Result<Beside, Miss> {
        let places = [self.places.low, self.places.high];
        Beside::new(over.leave, places, |leave| Ok(self.approach.over(leave)?))
    }

    /// The same of a rider of one's own.
    pub(super) fn over_as(
        &self,
        rider: &Rider,
        over: &Over,
        lean: Lean,
        timed: bool,
    ) -> Result<Crossing, Miss> {
        let (line, options) = self.onto_takeoff(over, lean, timed)?;
        let ride = line.ride(rider, &self.air, &options)?;
        let Some(exit) = ride.exit else {
            return Err(Stop::OnTheWay { part: Part::Wall, outcome: ride.outcome }.into());
        };
        let launch = ride.launch(0.0)?;
        let time = ride.samples.time.last().copied().unwrap_or_default();
        Ok(Crossing { ride, launch, up: exit.up, speed: exit.speed, time })
    }
}

impl Crossing {
    /// The launch with a pop.
    pub(super) fn launch(&self, pop: f64) -> Result<Launch, Miss> {
        Ok(self.ride.launch(pop)?)
    }
}

/// The gates on the run-in that a flag's times and speeds ask for, each once.
pub(super) fn run_in_gates(gates: impl Iterator<Item = Gate>) -> Vec<f64> {
    let mut all: Vec<f64> = gates
        .filter_map(|gate| match gate {
            Gate::UpHill(distance) => Some(distance),
            Gate::Edge | Gate::Touch => None,
        })
        .collect();
    all.sort_by(f64::total_cmp);
    all.dedup();
    all
}
