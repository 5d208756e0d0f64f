//! What a flag would see of a ride by a rider with given values, and how that answers to them.

use super::course::{Course, Crossing, Down, Over, run_in_gates};
use super::error::FlagsError;
use super::flag::{Flag, Gate, Speed, Timing, Tyre};
use super::flown::{Flown, launch_lean};
use super::miss::{Miss, Stop};
use super::slopes;
use super::test_ride::TestRide;
use super::unknown::{COUNT, Unknown, Values};
use crate::flight::Flight;
use crate::force::Forces;
use crate::passes::{JUDGE, Way};
use crate::ride::{Lean, Outcome, Passing};
use crate::rider::Rider;
use crate::site::{Part, Site};
use crate::touchdown::Contact;
use nalgebra::{DMatrix, DVector, SMatrix, Vector3};

/// What a sight answers to: the unknowns, and the start.
pub(super) const CAUSES: usize = COUNT + 1;
const START: usize = COUNT;
type Row = SMatrix<f64, 1, CAUSES>;
type Block = SMatrix<f64, 3, CAUSES>;

/// What is looked at on one ride: the flag's measurements, in order: mark, timings, speeds.
#[derive(Debug, Clone, PartialEq)]
pub(super) struct Look {
    pub(super) ride: TestRide,
    pub(super) has_mark: bool,
    tyre: Tyre,
    timings: Vec<Timing>,
    speeds: Vec<Speed>,
    gates: Vec<f64>,
}

/// A ride as it comes down, by the model.
#[derive(Debug, Clone)]
pub(super) struct Coming {
    pub(super) flight: Flight,
    pub(super) contact: Contact,
    pub(super) exit_speed: f64,
    /// What would be seen, in the order of the look.
    pub(super) seen: DVector<f64>,
    crossing: Crossing,
    over: Over,
    leave_by: [f64; 2],
}

/// What was measured, and how sure it is, in the order of the look.
#[derive(Debug, Clone, PartialEq)]
pub(super) struct Measured {
    pub(super) values: DVector<f64>,
    pub(super) sds: DVector<f64>,
}

impl Measured {
    pub(super) fn of(flag: &Flag, site: &Site) -> Result<Self, FlagsError> {
        let mut measured = Self::sds_of(flag);
        if let Some(mark) = &flag.mark {
            let at = mark.resolve(site)?;
            (measured.values[0], measured.values[1]) = (at.x, at.y);
        }
        Ok(measured)
    }

    /// With a mark that still has to be resolved.
    pub(super) fn sds_of(flag: &Flag) -> Self {
        let (mut values, mut sds) = (Vec::new(), Vec::new());
        if flag.mark.is_some() {
            values.extend([0.0; 2]);
            sds.extend([flag.mark_sd; 2]);
        }
        values.extend(flag.timings.iter().map(|timing| timing.seconds));
        sds.extend(flag.timings.iter().map(|timing| timing.sd));
        values.extend(flag.speeds.iter().map(|speed| speed.value));
        sds.extend(flag.speeds.iter().map(|speed| speed.sd));
        Self { values: DVector::from_vec(values), sds: DVector::from_vec(sds) }
    }
}

impl Look {
    pub(super) fn of(flag: &Flag) -> Self {
        let timed = flag.timings.iter().flat_map(|timing| [timing.from, timing.to]);
        let gates = run_in_gates(timed.chain(flag.speeds.iter().map(|speed| speed.at)));
        let asks = !flag.timings.is_empty() || flag.speeds.iter().any(|s| s.at != Gate::Edge);
        // The whole time down counts from a gate too.
        let gates = if asks && gates.is_empty() { vec![0.0] } else { gates };
        Self {
            ride: flag.ride.clone(),
            has_mark: flag.mark.is_some(),
            tyre: flag.tyre,
            timings: flag.timings.clone(),
            speeds: flag.speeds.clone(),
            gates,
        }
    }

    /// A look at the mark alone, under the centre of mass.
    pub(super) fn at_mark(ride: &TestRide) -> Self {
        Self {
            ride: ride.clone(),
            has_mark: true,
            tyre: Tyre::Middle,
            timings: Vec::new(),
            speeds: Vec::new(),
            gates: Vec::new(),
        }
    }

    fn timed(&self) -> bool {
        !self.timings.is_empty()
    }

    /// The ride by a rider with these values, as far as it is seen.
    pub(super) fn come(
        &self,
        course: &Course,
        values: &Values,
        lean: Lean,
    ) -> Result<Coming, Miss> {
        let middle = course.class.leave.median();
        let arrival = course.arrive(&Down::of(values, &self.ride), middle, &self.gates)?;
        let speed = arrival.speed + values[Unknown::Speed.index()];
        let (leave, leave_by) = course.leave(&self.ride, values, speed);
        let [crr, cda, ..] = *values;
        let over = Over { speed, leave, crr, cda };
        let crossing = course.over(&over, lean, self.timed())?;
        let launch = crossing.launch(values[Unknown::Pop.index()])?;
        let flight = launch.flight(&course.ground, &course.rider(crr, cda)?, &course.air)?;
        let touchdown = flight.touchdown();
        let outcome = touchdown.outcome;
        let contact = touchdown.contact.ok_or(Stop::NoTouch { outcome })?;
        let mut seen = Vec::new();
        if self.has_mark {
            let at = contact.mark + ahead(&contact) * self.shift(course.own_rider());
            seen.extend([at.x, at.y]);
        }
        let clock = |gate: Gate| match gate {
            Gate::UpHill(place) => self.gate(&arrival.gates, place).time,
            Gate::Edge => arrival.time + crossing.time,
            Gate::Touch => arrival.time + crossing.time + contact.time,
        };
        seen.extend(self.timings.iter().map(|timing| clock(timing.to) - clock(timing.from)));
        seen.extend(self.speeds.iter().map(|speed| match speed.at {
            Gate::UpHill(place) => self.gate(&arrival.gates, place).speed,
            Gate::Edge | Gate::Touch => crossing.speed,
        }));
        let (seen, exit_speed) = (DVector::from_vec(seen), crossing.speed);
        Ok(Coming { flight, contact, exit_speed, seen, crossing, over, leave_by })
    }

    /// How a ride by a rider with these values comes down, and the most grip it asks for: judged by the lean that judges
    /// what holds, as passes are.
    pub(super) fn way(
        &self,
        course: &Course,
        values: &Values,
        lean: Lean,
    ) -> Result<(Way, f64), Miss> {
        let middle = course.class.leave.median();
        let arrival = course.arrive(&Down::of(values, &self.ride), middle, &[])?;
        if let outcome @ Outcome::Slid(_) = arrival.outcome {
            return Err(Stop::OnTheWay { part: Part::RunIn, outcome }.into());
        }
        let speed = arrival.speed + values[Unknown::Speed.index()];
        let (leave, _) = course.leave(&self.ride, values, speed);
        let [crr, cda, ..] = *values;
        let over = Over { speed, leave, crr, cda };
        let judged = course.over(&over, JUDGE, false)?;
        if let outcome @ Outcome::Slid(_) = judged.ride.outcome {
            return Err(Stop::OnTheWay { part: Part::Wall, outcome }.into());
        }
        let demand = judged.ride.peak.demand.max(arrival.demand);
        let crossing = if lean == JUDGE { judged } else { course.over(&over, lean, false)? };
        let launch = crossing.launch(values[Unknown::Pop.index()])?;
        let flight = launch.flight(&course.ground, &course.rider(crr, cda)?, &course.air)?;
        Ok((Way::new(lean, crossing.speed, flight), demand))
    }

    fn gate(&self, seen: &[Passing], place: f64) -> Passing {
        let at = self.gates.iter().position(|gate| (gate - place).abs() <= 0.0);
        at.and_then(|at| seen.get(at)).copied().unwrap_or_default()
    }

    /// How far ahead of the middle mark the tyre's is.
    fn shift(&self, rider: &Rider) -> f64 {
        match self.tyre {
            Tyre::Middle => 0.0,
            Tyre::Rear => -rider.rear_to_com(),
            Tyre::Front => rider.wheelbase() - rider.rear_to_com(),
        }
    }

    /// How what is seen answers to the unknowns and the start: a row for each number seen.
    pub(super) fn answers(
        &self,
        course: &Course,
        values: &Values,
        lean: Lean,
        coming: &Coming,
    ) -> Result<DMatrix<f64>, Miss> {
        let middle = course.class.leave.median();
        let share = self.ride.brake_share();
        let by = slopes::of_arrival(course, &Down::of(values, &self.ride), middle, &self.gates)?;
        // Of each number of the arrival, by all causes.
        let arrival = |number: usize| {
            let mut row = Row::zeros();
            for (cause, place) in [(0, 0), (1, 1), (2, 2), (3, START)] {
                row[place] = by[(number, cause)] * if cause == 2 { share } else { 1.0 };
            }
            row
        };
        let mut entry = arrival(0);
        entry[Unknown::Speed.index()] += 1.0;
        let mut leave = entry * coming.leave_by[0];
        leave[Unknown::Leave.index()] += coming.leave_by[1];
        let crossed = slopes::of_crossing(course, &coming.over, lean, self.timed())?;
        let unit = |unknown: Unknown| {
            let mut row = Row::zeros();
            row[unknown.index()] = 1.0;
            row
        };
        let inputs = SMatrix::<f64, 4, CAUSES>::from_rows(&[
            entry,
            leave,
            unit(Unknown::Crr),
            unit(Unknown::Cda),
        ]);
        let crossing = crossed * inputs;
        let touch = landed(course, values, coming, &crossing)?;
        let mut rows: Vec<Row> = Vec::new();
        if self.has_mark {
            let shift = self.shift(course.own_rider());
            let mark = touch.mark + touch.ahead * shift;
            rows.extend([mark.row(0).into_owned(), mark.row(1).into_owned()]);
        }
        let (down, across) = (arrival(1), crossing.row(13).into_owned());
        let number = |place: f64, part: usize| {
            let at = self.gates.iter().position(|gate| (gate - place).abs() <= 0.0);
            at.map_or_else(Row::zeros, |at| arrival(2 + 2 * at + part))
        };
        let clock = |gate: Gate| match gate {
            Gate::UpHill(place) => number(place, 0),
            Gate::Edge => down + across,
            Gate::Touch => down + across + touch.time,
        };
        rows.extend(self.timings.iter().map(|timing| clock(timing.to) - clock(timing.from)));
        rows.extend(self.speeds.iter().map(|speed| match speed.at {
            Gate::UpHill(place) => number(place, 1),
            Gate::Edge | Gate::Touch => crossing.row(12).into_owned(),
        }));
        let mut all = DMatrix::zeros(rows.len(), CAUSES);
        for (i, row) in rows.iter().enumerate() {
            all.row_mut(i).copy_from(row);
        }
        Ok(all)
    }
}

/// A touch's answers to unknowns and start.
struct Landed {
    mark: Block,
    ahead: Block,
    time: Row,
}

fn landed(
    course: &Course,
    values: &Values,
    coming: &Coming,
    crossing: &SMatrix<f64, { slopes::CROSSED }, CAUSES>,
) -> Result<Landed, Miss> {
    let pop = values[Unknown::Pop.index()];
    let part = |i: usize| -> Block { crossing.fixed_rows::<3>(i).into_owned() };
    let place = part(0);
    let mut velocity = part(3) + part(6) * pop;
    let popped = velocity.column(Unknown::Pop.index()) + coming.crossing.up;
    velocity.set_column(Unknown::Pop.index(), &popped);
    let u = coming.crossing.launch.attitude.as_ref().map_or(Vector3::zeros(), |a| a.u);
    let lean = launch_lean(&coming.flight, &u, &part(9), &place);
    let mut drag = Row::zeros();
    let whole = course.rider(values[0], 1.0)?;
    drag[Unknown::Cda.index()] = Forces::new(&whole, &course.air).k();
    let mut causes = SMatrix::<f64, { super::flown::CAUSES }, CAUSES>::zeros();
    causes.fixed_rows_mut::<3>(0).copy_from(&place);
    causes.fixed_rows_mut::<3>(3).copy_from(&velocity);
    causes.row_mut(6).copy_from(&drag);
    causes.row_mut(7).copy_from(&lean);
    let Some(flown) = Flown::of(&coming.flight) else {
        let outcome = coming.flight.touchdown().outcome;
        return Err(Stop::NoTouch { outcome }.into());
    };
    Ok(Landed { mark: flown.mark * causes, ahead: flown.ahead * causes, time: flown.time * causes })
}

/// The unit vector over the ground along which a rider comes down; none where he comes straight down.
fn ahead(contact: &Contact) -> Vector3<f64> {
    let over = contact.velocity - contact.normal * contact.velocity.dot(&contact.normal);
    over.try_normalize(1e-12).unwrap_or_else(Vector3::zeros)
}
