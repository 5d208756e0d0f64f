//! Does a ride along a line obey the energy equation, and does it say what goes wrong on the way?
#![allow(clippy::unwrap_used, reason = "a test fails by panicking")]

use approx::assert_relative_eq;
use loamline::feature::{Bank, Wall};
use loamline::geometry::{Contact, Line, Plan, Profile, Track, Turn, Uphill};
use loamline::math::Vec3;
use loamline::math::jet::{Jet, Jet3};
use loamline::ride::{Brake, Outcome, RideError, RideOptions, Slide, Slowing, Warning, Zone};
use loamline::{Air, Rider};

const G: f64 = 9.80665;

/// A circle in a vertical plane, entered at angle `from`, with its centre on the rider's side: `kappa > 0`.
#[derive(Debug)]
struct Circle {
    kappa: f64,
    breaks: [f64; 2],
}

impl Track for Circle {
    fn breaks(&self) -> &[f64] {
        &self.breaks
    }

    fn contact(&self, _: usize, theta: f64) -> Contact {
        let (sin, cos) = Jet::variable(theta).sin_cos();
        let (radius, zero) = (self.kappa.recip(), Jet::default());
        let point = Jet3::new(sin * radius, zero, cos * -radius);
        Contact { point, normal: Jet3::new(-sin, zero, cos) }
    }
}

fn circle(kappa: f64, from: f64, to: f64) -> Line {
    // The angle of the tangent grows along a hollow and falls over a crest.
    assert!((to - from) * kappa > 0.0 && kappa > 0.0, "hollows only");
    Line::along(Circle { kappa, breaks: [from, to] }, Uphill::Nowhere)
}

/// A crest: the same circle ridden on its outside.
#[derive(Debug)]
struct Crest {
    radius: f64,
    breaks: [f64; 2],
}

impl Track for Crest {
    fn breaks(&self) -> &[f64] {
        &self.breaks
    }

    fn contact(&self, _: usize, angle: f64) -> Contact {
        let (sin, cos) = Jet::variable(angle).sin_cos();
        let out = Jet3::new(sin, Jet::default(), cos);
        Contact { point: out.scale(Jet::constant(self.radius)), normal: out }
    }
}

fn plain() -> Rider {
    Rider::default().with_com_height(0.0).unwrap()
}

fn frictionless() -> Rider {
    Rider::default().with_crr(0.0).unwrap().with_cda(0.0).unwrap()
}

fn straight(grade: f64, length: f64) -> Line {
    let end = -grade * length;
    Profile::smooth(&[0.0, length], &[0.0, end]).unwrap().line()
}

fn wall(turn: Turn) -> Wall {
    let plan = Plan::arc(7.0, 55f64.to_radians(), turn).unwrap();
    let bank = Bank::linear(20f64.to_radians(), 68f64.to_radians()).unwrap();
    Wall::new(plan, bank, 2.4).unwrap().with_grade(-0.04).unwrap()
}

fn k(rider: &Rider, air: &Air) -> f64 {
    0.5 * air.density() * rider.cda() / rider.mass()
}

#[test]
fn a_straight_grade_has_its_closed_form() {
    let (rider, air) = (plain(), Air::standard());
    let (grade, level) = (0.2_f64, 30.0);
    let theta = -grade.atan();
    let line = straight(grade, level);
    for speed in [0.0, 0.5, 8.0] {
        let ride = line.ride(&rider, &air, &RideOptions::new(speed)).unwrap();
        let push = -G * (theta.sin() + rider.crr() * theta.cos());
        let k = k(&rider, &air);
        for (s, v) in ride.samples.station.iter().zip(&ride.samples.speed) {
            let rest = push / (2.0 * k);
            let energy = rest + (0.5 * speed * speed - rest) * (-2.0 * k * s).exp();
            assert_relative_eq!(0.5 * v * v, energy, epsilon = 1e-11, max_relative = 1e-11);
        }
        assert_eq!(ride.outcome, Outcome::Reached);
        assert_relative_eq!(ride.samples.normal_load[5], theta.cos(), epsilon = 1e-12);
    }
}

#[test]
fn a_vertical_arc_has_its_closed_form() {
    let (rider, air) = (plain(), Air::standard());
    let (kappa, from, to) = (0.2, -0.6, 0.7);
    let line = circle(kappa, from, to);
    let speed = 9.0;
    let ride = line.ride(&rider, &air, &RideOptions::new(speed)).unwrap();
    let crr = rider.crr();
    let b = 2.0 * (crr * kappa + k(&rider, &air));
    // E' + b E = -g (sin + crr cos): a particular solution in sine and cosine, and what decays.
    let on_cos = G * (kappa - crr * b) / (kappa * kappa + b * b);
    let on_sin = (kappa * on_cos - G) / b;
    let particular = |theta: f64| on_cos * theta.cos() + on_sin * theta.sin();
    for (s, v) in ride.samples.station.iter().zip(&ride.samples.speed) {
        let decays = (0.5 * speed * speed - particular(from)) * (-b * s).exp();
        let energy = particular(from + kappa * s) + decays;
        assert_relative_eq!(0.5 * v * v, energy, max_relative = 1e-11);
    }
    assert!(ride.samples.len() > 300);
}

#[test]
fn without_friction_energy_stays_whatever_the_wall() {
    for (turn, grade, leave, speed) in
        [(Turn::Left, -0.04, 1.6, 8.0), (Turn::Right, 0.1, 0.3, 7.0), (Turn::Left, 0.0, 2.2, 9.3)]
    {
        let line = wall(turn).with_grade(grade).unwrap().line(0.7, leave).unwrap();
        let rider = frictionless().with_wheel_inertia(0.2).unwrap();
        let ride = line.ride(&rider, &Air::standard(), &RideOptions::new(speed)).unwrap();
        let start = line.frame(0.0);
        let centre = start.position + start.normal;
        let along = (start.tangent + start.dnormal).norm_squared() + rider.rotating_factor();
        let total = 0.5 * along * speed * speed + G * centre.z;
        let exit = ride.reached().unwrap();
        assert_relative_eq!(exit.energy + G * exit.centre.z, total, max_relative = 1e-12);
        for (s, v) in ride.samples.station.iter().zip(&ride.samples.speed) {
            let frame = line.frame(*s);
            let along = (frame.tangent + frame.dnormal).norm_squared() + rider.rotating_factor();
            let energy = 0.5 * along * v * v + G * (frame.position + frame.normal).z;
            assert_relative_eq!(energy, total, max_relative = 1e-11);
        }
        assert!(ride.ledger.residual().abs() < 1e-12 * total.abs());
    }
}

#[test]
fn a_level_circle_has_the_loads_of_the_textbook() {
    let (radius, speed) = (9.0, 7.0);
    for bank_deg in [0.0_f64, 25.0, 60.0] {
        let bank = bank_deg.to_radians();
        let plan = Plan::arc(radius, 1.0, Turn::Left).unwrap();
        let wall = Wall::new(plan, Bank::constant(bank).unwrap(), 2.0).unwrap();
        let rider = frictionless().with_com_height(1.1).unwrap();
        // The tyres' circle at 0.5 m up the panel, and the centre of mass on a smaller one.
        let tyres = radius + 0.5 * bank.cos();
        let centre = tyres - 1.1 * bank.sin();
        let inward = (speed * centre / tyres).powi(2) / centre;
        let line = wall.line(0.5, 0.5).unwrap();
        let ride = line.ride(&rider, &Air::standard(), &RideOptions::new(speed)).unwrap();
        let normal = G * bank.cos() + inward * bank.sin();
        let side = inward * bank.cos() - G * bank.sin();
        assert_relative_eq!(ride.samples.normal_load[40] * G, normal, max_relative = 1e-11);
        let demand = side.abs() / normal;
        assert_relative_eq!(ride.samples.grip_demand[40], demand, max_relative = 1e-10);
        assert_relative_eq!(ride.peak.demand, demand, max_relative = 1e-10);
        let warned = ride.warnings.iter().any(|w| matches!(w, Warning::LeanOwed { .. }));
        assert_eq!(warned, demand.atan().to_degrees() > 15.0);
        if demand > rider.grip() {
            let slide = if side > 0.0 { Slide::Up } else { Slide::Down };
            assert!(ride.slip.is_some_and(|s| s.slide == slide && s.station == 0.0));
        }
    }
}

#[test]
fn a_loop_holds_above_the_speed_of_the_textbook() {
    // Pressed on at the top: v² > 5 g R at the bottom, without friction and for a point.
    let rider = plain().with_crr(0.0).unwrap().with_cda(0.0).unwrap();
    let radius: f64 = 2.5;
    let line = circle(radius.recip(), 0.0, 2.0 * std::f64::consts::PI);
    let least = (5.0 * G * radius).sqrt();
    let ride = |speed: f64| line.ride(&rider, &Air::standard(), &RideOptions::new(speed)).unwrap();
    assert_eq!(ride(least * (1.0 + 1e-9)).outcome, Outcome::Reached);
    let Outcome::LeftSurface { station } = ride(0.9 * least).outcome else {
        unreachable!("too slow for the loop");
    };
    // It leaves where cos(theta) = (2 - v²/(g R)) / 3.
    let theta = ((2.0 - 0.81 * 5.0) / 3.0_f64).acos();
    assert_relative_eq!(station, radius * theta, epsilon = 1e-9);
}

#[test]
fn a_crest_is_left_where_its_load_vanishes() {
    // A point at rest on a sphere's top leaves at cos = 2/3; entered at v: cos = (2 + v²/(g R)) / 3.
    let rider = plain().with_crr(0.0).unwrap().with_cda(0.0).unwrap();
    let radius = 4.0;
    let line = Line::along(Crest { radius, breaks: [0.0, 1.5] }, Uphill::Nowhere);
    for speed in [0.5_f64, 3.0, 5.0] {
        let ride = line.ride(&rider, &Air::standard(), &RideOptions::new(speed)).unwrap();
        let angle = ((2.0 + speed * speed / (G * radius)) / 3.0).acos();
        let Outcome::LeftSurface { station } = ride.outcome else {
            unreachable!("nobody stays on");
        };
        assert_relative_eq!(station, radius * angle, epsilon = 1e-9);
        let quick = RideOptions::new(speed).exit_only();
        let quick = line.ride(&rider, &Air::standard(), &quick).unwrap();
        assert_relative_eq!(quick.outcome.station().unwrap(), station, epsilon = 1e-9);
        assert!(quick.samples.is_empty());
        let last = *ride.samples.station.last().unwrap();
        assert_relative_eq!(last, station, epsilon = 1e-9);
    }
}

#[test]
fn a_climb_stalls_where_its_energy_is_spent() {
    let rider = plain().with_cda(0.0).unwrap();
    let line = straight(-0.3, 10.0);
    let theta = 0.3_f64.atan();
    let speed = 5.0;
    let ride = line.ride(&rider, &Air::standard(), &RideOptions::new(speed)).unwrap();
    let slows = G * (theta.sin() + rider.crr() * theta.cos());
    let Outcome::Stalled { station } = ride.outcome else { unreachable!("too slow to get up") };
    assert_relative_eq!(station, 0.5 * speed * speed / slows, epsilon = 1e-10);
    assert_relative_eq!(*ride.samples.time.last().unwrap(), speed / slows, epsilon = 1e-9);
    assert_relative_eq!(*ride.samples.speed.last().unwrap(), 0.0, epsilon = 1e-5);
    assert!(matches!(ride.reached(), Err(RideError::Ended { outcome: Outcome::Stalled { .. } })));
    assert!(ride.ledger.residual().abs() < 1e-11);
}

#[test]
fn time_is_accurate_from_rest_and_from_a_crawl() {
    let rider = plain().with_cda(0.0).unwrap();
    let line = straight(0.25, 20.0);
    let theta = 0.25_f64.atan();
    let gains = G * (theta.sin() - rider.crr() * theta.cos());
    for speed in [0.0_f64, 1e-3, 0.3] {
        let ride = line.ride(&rider, &Air::standard(), &RideOptions::new(speed)).unwrap();
        for i in [1, 10, 300, ride.samples.len() - 1] {
            let s = ride.samples.station[i];
            let time = ((speed * speed + 2.0 * gains * s).sqrt() - speed) / gains;
            assert_relative_eq!(ride.samples.time[i], time, max_relative = 1e-9);
        }
    }
}

#[test]
fn nothing_moves_a_rider_at_rest_on_the_level() {
    let ride = |line: &Line, options| line.ride(&plain(), &Air::standard(), &options).unwrap();
    let rest = RideOptions::new(0.0);
    assert_eq!(ride(&straight(0.0, 5.0), rest.clone()).outcome, Outcome::DidNotStart);
    assert_eq!(ride(&straight(0.029, 5.0), rest.clone()).outcome, Outcome::DidNotStart);
    assert_eq!(ride(&straight(0.031, 5.0), rest.clone()).outcome, Outcome::Reached);
    assert_eq!(ride(&straight(0.0, 5.0), rest.with_power(200.0)).outcome, Outcome::Reached);
}

#[test]
fn samples_lie_close_and_both_modes_agree() {
    let line = wall(Turn::Right).line(0.25, 1.6).unwrap();
    let (rider, air) = (Rider::default(), Air::standard());
    let wind = air.with_wind(Vec3::new(-3.0, 2.0, 0.0)).unwrap();
    for air in [air, wind] {
        let options = RideOptions::new(8.0);
        let ride = line.ride(&rider, &air, &options).unwrap();
        let quick = line.ride(&rider, &air, &options.exit_only()).unwrap();
        let gaps = ride.samples.station.windows(2).map(|w| w[1] - w[0]);
        assert!(gaps.clone().all(|gap| gap > 0.0) && gaps.fold(0.0, f64::max) <= 0.02);
        let (a, b) = (ride.exit_speed().unwrap(), quick.exit_speed().unwrap());
        assert_relative_eq!(a, b, max_relative = 1e-11);
        assert_eq!(ride.outcome.reaches_end(), quick.outcome.reaches_end());
        assert!(ride.ledger.residual().abs() < 1e-10);
        assert_relative_eq!(*ride.samples.station.last().unwrap(), line.length(), epsilon = 1e-11);
    }
}

#[test]
fn a_wanted_speed_is_met_at_the_end_of_its_zone() {
    let (rider, air) = (Rider::default(), Air::standard());
    let line = Profile::smooth(&[0.0, 10.0, 20.0, 30.0], &[6.0, 3.5, 1.5, 0.5]).unwrap().line();
    let zone = |from, to, slowing| Zone { from, to, slowing };
    let zones = vec![zone(8.0, 12.0, Slowing::To(5.0)), zone(20.0, 24.0, Slowing::By(1.0))];
    let options = RideOptions::new(2.0).with_brake(Brake::Zones(zones));
    let ride = line.ride(&rider, &air, &options).unwrap();
    let at = ride.samples.station.iter().position(|s| (s - 12.0).abs() < 1e-9).unwrap();
    assert_relative_eq!(ride.samples.speed[at], 5.0, epsilon = 1e-9);
    let before = ride.samples.station.iter().position(|s| (s - 8.0).abs() < 1e-9).unwrap();
    assert!(ride.samples.speed[before] > 5.5);
    assert!(ride.ledger.brake > 4.0 && ride.ledger.residual().abs() < 1e-10);
    // Slower than wanted anyway: no brake.
    let slow = vec![zone(1.0, 2.0, Slowing::To(9.0))];
    let free =
        line.ride(&rider, &air, &RideOptions::new(2.0).with_brake(Brake::Zones(slow))).unwrap();
    assert_relative_eq!(free.ledger.brake, 0.0);
    // More than grip gives: as slow as grip allows, and said so.
    let short = vec![zone(14.0, 14.5, Slowing::To(1.0))];
    let hard =
        line.ride(&rider, &air, &RideOptions::new(2.0).with_brake(Brake::Zones(short))).unwrap();
    let missed =
        |w: &Warning| matches!(w, Warning::SpeedNotMet { wanted, speed, .. } if speed > wanted);
    assert!(hard.warnings.iter().any(missed), "{:?}", hard.warnings);
    assert!(hard.warnings.iter().any(|w| matches!(w, Warning::BrakeLimited { .. })));
}

#[test]
fn a_hard_brake_stops_within_the_distance_that_grip_gives() {
    let rider = plain().with_cda(0.0).unwrap().with_crr(0.0).unwrap().with_grip(0.5).unwrap();
    let options = RideOptions::new(6.0).with_brake(Brake::Constant(50.0));
    let ride = straight(0.0, 20.0).ride(&rider, &Air::standard(), &options).unwrap();
    let Outcome::Stalled { station } = ride.outcome else { unreachable!("it stops") };
    assert_relative_eq!(station, 36.0 / (2.0 * 0.5 * G), epsilon = 1e-10);
}

#[test]
fn pedalling_gives_its_power_up_to_the_drive_limit() {
    let rider = plain().with_cda(0.0).unwrap().with_crr(0.0).unwrap();
    let options = RideOptions::new(0.0).with_power(300.0);
    let ride = straight(0.0, 60.0).ride(&rider, &Air::standard(), &options).unwrap();
    // Pushed evenly up to v = P/(m a), then v³ grows evenly with the way.
    let (a, p) = (3.0, 300.0 / rider.mass());
    let turns = p / a;
    let first = turns * turns / (2.0 * a);
    let speed = (turns.powi(3) + 3.0 * p * (60.0 - first)).cbrt();
    assert_relative_eq!(ride.exit_speed().unwrap(), speed, max_relative = 1e-10);
}

#[test]
fn wind_from_behind_pushes_and_lengthwise_wind_needs_no_grip() {
    let (rider, line) = (plain(), straight(0.05, 40.0));
    let speed = |wind: Vec3| {
        let air = Air::standard().with_wind(wind).unwrap();
        line.ride(&rider, &air, &RideOptions::new(6.0)).unwrap()
    };
    let calm = speed(Vec3::zeros()).exit_speed().unwrap();
    assert!(speed(Vec3::new(8.0, 0.0, 0.0)).exit_speed().unwrap() > calm);
    assert!(speed(Vec3::new(-8.0, 0.0, 0.0)).exit_speed().unwrap() < calm);
    assert!(speed(Vec3::new(-8.0, 0.0, 0.0)).peak.demand < 1e-12);
    assert!(speed(Vec3::new(0.0, 8.0, 0.0)).peak.demand > 1e-3);
}

#[test]
fn a_line_of_two_lines_carries_its_energy_over() {
    let (rider, air) = (frictionless(), Air::standard());
    let wall = wall(Turn::Left);
    let line = wall.line(0.25, 1.6).unwrap();
    let foot = line.frame(0.0).position;
    let run_in = Profile::smooth(&[0.0, 6.0, 12.0], &[3.0, 1.0, 0.0]).unwrap();
    let run_in = run_in.ending_at(foot, wall.heading()).unwrap().line();
    let ride = run_in.ride(&rider, &air, &RideOptions::new(0.0)).unwrap();
    let speed = ride.carry_to(&line, &rider, &air).unwrap();
    let whole = line.ride(&rider, &air, &RideOptions::new(speed)).unwrap();
    let exit = ride.reached().unwrap();
    let start = G * (run_in.frame(0.0).position + run_in.frame(0.0).normal).z;
    assert_relative_eq!(exit.energy + G * exit.centre.z, start, max_relative = 1e-12);
    let exit = whole.reached().unwrap();
    assert_relative_eq!(exit.energy + G * exit.centre.z, start, max_relative = 1e-12);
    // The banked panel holds the centre of mass lower and nearer the turn: it is not the same speed.
    assert!((speed - ride.exit_speed().unwrap()).abs() > 0.1);
}

#[test]
fn what_cannot_be_ridden_is_refused_by_name() {
    let line = straight(0.1, 10.0);
    let refuse = |options: RideOptions, text: &str| {
        let error = line.ride(&plain(), &Air::standard(), &options).unwrap_err().to_string();
        assert!(error.contains(text), "{error} does not name {text}");
    };
    refuse(RideOptions::new(-1.0), "speed = -1");
    refuse(RideOptions::new(f64::NAN), "speed");
    refuse(RideOptions::new(3.0).with_power(-1.0), "power");
    refuse(RideOptions::new(3.0).with_brake(Brake::Constant(f64::INFINITY)), "brake");
    refuse(RideOptions { sample: Some(0.0), ..RideOptions::new(3.0) }, "sample");
    let zone = |from, to| Zone { from, to, slowing: Slowing::By(1.0) };
    let zones = Brake::Zones(vec![zone(0.0, 2.0), zone(1.0, 3.0)]);
    refuse(RideOptions::new(3.0).with_brake(zones), "zone 1");
    refuse(RideOptions::new(3.0).with_brake(Brake::Zones(vec![zone(2.0, 2.0)])), "zone 0");
    let tight = circle(1.0, -0.5, 0.5);
    let error = tight.ride(&Rider::default(), &Air::standard(), &RideOptions::new(5.0));
    assert!(matches!(error, Err(RideError::TooTight { station, radius, .. })
        if station < 1e-9 && (radius - 1.0).abs() < 1e-9));
}

/// What is gained before the joint is nothing, or nearly so: it is not taken for a stall.
#[test]
fn a_start_just_before_a_joint_is_a_start() {
    let (distance, height) = ([0.0, 5.0, 7.5, 10.0, 15.0, 19.0], [4.0, 3.0, 2.6, 2.1, 0.8, 0.3]);
    let hill = Profile::smooth(&distance, &height).unwrap();
    let (rider, air) = (Rider::default(), Air::standard());
    for sample in [None, Some(0.05)] {
        let options = RideOptions { sample, ..RideOptions::new(0.0) };
        let exit = |start: f64| {
            let ride = hill.run_in(start).unwrap().ride(&rider, &air, &options).unwrap();
            assert_eq!(ride.outcome, Outcome::Reached, "from {start}");
            ride.exit_speed().unwrap()
        };
        for joint in [9.0, 11.5, 14.0] {
            let at = exit(joint);
            for power in -15..=-2 {
                let off = 10_f64.powi(power);
                let faster = exit(joint + off) - at;
                assert!((-1e-9..=off + 1e-9).contains(&faster), "{joint} + {off}: {faster}");
            }
        }
    }
}
