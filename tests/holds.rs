//! Which speeds hold a line, and from where does one start for them?
#![allow(clippy::unwrap_used, reason = "a test fails by panicking")]

use approx::assert_relative_eq;
use loamline::feature::{Bank, Wall};
use loamline::geometry::{Line, Plan, Profile, Turn};
use loamline::math::Vec3;
use loamline::ride::{
    Brake, HoldSpeeds, Lean, Outcome, RideError, RideOptions, Slide, Slowing, Zone,
};
use loamline::{Air, Rider};

fn line(from_deg: f64, to_deg: f64, leave: f64) -> Line {
    let plan = Plan::arc(7.0, 55f64.to_radians(), Turn::Left).unwrap();
    let bank = Bank::linear(from_deg.to_radians(), to_deg.to_radians()).unwrap();
    Wall::new(plan, bank, 2.4).unwrap().with_grade(-0.04).unwrap().line(0.25, leave).unwrap()
}

fn outcome(line: &Line, rider: &Rider, air: &Air, speed: f64) -> Outcome {
    line.ride(rider, air, &RideOptions::new(speed).exit_only()).unwrap().outcome
}

fn between(speeds: HoldSpeeds) -> (f64, f64) {
    match speeds {
        HoldSpeeds::Between { slowest, fastest } => (slowest, fastest),
        HoldSpeeds::Never { .. } => unreachable!("some speed holds: {speeds}"),
    }
}

#[test]
fn a_hold_speed_is_where_rides_begin_to_slide() {
    let air = Air::standard();
    for (line, grip) in
        [(line(20.0, 45.0, 1.2), 0.6), (line(30.0, 40.0, 0.25), 0.4), (line(25.0, 60.0, 1.5), 0.9)]
    {
        let rider = Rider::default().with_grip(grip).unwrap();
        let (slowest, fastest) = between(line.hold_speeds(&rider, &air, Lean::Deck).unwrap());
        let e = 1e-7;
        assert_eq!(outcome(&line, &rider, &air, slowest * (1.0 + e)), Outcome::Reached);
        assert_eq!(outcome(&line, &rider, &air, fastest * (1.0 - e)), Outcome::Reached);
        let slow = outcome(&line, &rider, &air, slowest * (1.0 - e));
        assert!(matches!(slow, Outcome::Slid(slip) if slip.slide == Slide::Down), "{slow}");
        let fast = outcome(&line, &rider, &air, fastest * (1.0 + e));
        assert!(matches!(fast, Outcome::Slid(slip) if slip.slide == Slide::Up), "{fast}");
    }
}

#[test]
fn the_grip_needed_is_just_enough() {
    let (line, air) = (line(20.0, 68.0, 1.6), Air::standard());
    let rider = Rider::default().with_grip(0.3).unwrap();
    let HoldSpeeds::Never { grip_needed: Some(grip) } =
        line.hold_speeds(&rider, &air, Lean::Deck).unwrap()
    else {
        unreachable!("a wall of 68 degrees does not hold at a grip of 0.3");
    };
    assert!(grip > 0.3);
    let with =
        |grip| line.hold_speeds(&rider.clone().with_grip(grip).unwrap(), &air, Lean::Deck).unwrap();
    assert!(matches!(with(grip * (1.0 + 1e-6)), HoldSpeeds::Between { .. }));
    assert!(matches!(with(grip * (1.0 - 1e-6)), HoldSpeeds::Never { .. }));
}

#[test]
fn with_endless_grip_only_stalling_limits_a_hollow() {
    let (line, air) = (line(20.0, 68.0, 1.6), Air::standard());
    let rider = Rider::default().with_grip(f64::INFINITY).unwrap();
    let (slowest, fastest) = between(line.hold_speeds(&rider, &air, Lean::Deck).unwrap());
    assert!(fastest.is_infinite());
    assert_eq!(outcome(&line, &rider, &air, slowest * (1.0 + 1e-7)), Outcome::Reached);
    assert_ne!(outcome(&line, &rider, &air, slowest * (1.0 - 1e-7)), Outcome::Reached);
}

#[test]
fn who_balances_holds_where_his_rides_do() {
    let air = Air::standard();
    for (line, grip) in [(line(20.0, 45.0, 1.2), 0.7), (line(20.0, 68.0, 1.6), 0.6)] {
        let rider = Rider::default().with_grip(grip).unwrap();
        let hold = line.hold_speeds(&rider, &air, Lean::Balanced).unwrap();
        let at = |speed: f64| {
            let options = RideOptions { lean: Lean::Balanced, ..RideOptions::new(speed) };
            line.ride(&rider, &air, &options.exit_only()).unwrap()
        };
        let (slowest, fastest) = between(hold);
        assert_eq!(at(0.5 * (slowest + fastest)).outcome, Outcome::Reached);
        for (edge, way) in [(slowest, -1.0), (fastest, 1.0)] {
            assert!(at(edge * (1.0 - way * 1e-6)).peak.demand <= grip);
            let beyond = at(edge * (1.0 + way * 1e-6));
            assert!(beyond.exit.is_none() || beyond.peak.demand > grip);
        }
    }
}

#[test]
fn where_balance_holds_at_no_speed_the_grip_needed_is_just_enough() {
    let (line, air) = (line(20.0, 68.0, 1.6), Air::standard());
    let rider = Rider::default().with_grip(0.3).unwrap();
    let with = |grip| {
        line.hold_speeds(&rider.clone().with_grip(grip).unwrap(), &air, Lean::Balanced).unwrap()
    };
    let HoldSpeeds::Never { grip_needed: Some(grip) } = with(0.3) else {
        unreachable!("a wall of 68 degrees does not hold at a grip of 0.3");
    };
    assert!(matches!(with(grip * (1.0 + 1e-4)), HoldSpeeds::Between { .. }));
    assert!(matches!(with(grip * (1.0 - 1e-4)), HoldSpeeds::Never { .. }));
}

#[test]
fn a_level_circle_holds_up_to_the_speed_of_the_textbook() {
    let plan = Plan::arc(10.0, 0.8, Turn::Right).unwrap();
    let wall = Wall::new(plan, Bank::constant(0.3).unwrap(), 2.0).unwrap();
    let line = wall.line(0.0, 0.0).unwrap();
    let rider = Rider::default().with_com_height(0.0).unwrap().with_crr(0.0).unwrap();
    let rider = rider.with_cda(0.0).unwrap().with_grip(0.5).unwrap();
    let (slowest, fastest) =
        between(line.hold_speeds(&rider, &Air::standard(), Lean::Deck).unwrap());
    // Banked curve with friction: v² = g R tan(bank + friction angle). Below, it never slides down: tan 0.3 < 0.5.
    let top = (9.80665 * 10.0 * (0.3 + 0.5_f64.atan()).tan()).sqrt();
    assert_relative_eq!(fastest, top, max_relative = 1e-9);
    assert_relative_eq!(slowest, 0.0, epsilon = 1e-9);
}

#[test]
fn a_kicker_too_steep_for_any_speed_says_so() {
    // Over a crest of more than acos(2/3) = 48 degrees, who gets up to the top leaves the surface before.
    let line =
        Profile::cornered(&[0.0, 6.0, 10.0, 16.0], &[0.0, 0.0, 5.0, 5.0], 3.0).unwrap().line();
    let hold = line.hold_speeds(&Rider::default(), &Air::standard(), Lean::Deck).unwrap();
    assert_eq!(hold, HoldSpeeds::Never { grip_needed: None });
    assert!(!hold.holds(8.0));
}

#[test]
fn a_breath_of_wind_hardly_moves_the_hold_speeds() {
    let line = line(20.0, 45.0, 1.2);
    let rider = Rider::default();
    let calm = between(line.hold_speeds(&rider, &Air::standard(), Lean::Deck).unwrap());
    let breath = Air::standard().with_wind(Vec3::new(1e-9, 0.0, 0.0)).unwrap();
    let windy = between(line.hold_speeds(&rider, &breath, Lean::Deck).unwrap());
    assert_relative_eq!(calm.0, windy.0, epsilon = 1e-6);
    assert_relative_eq!(calm.1, windy.1, epsilon = 1e-6);
}

fn trail() -> Profile {
    Profile::smooth(&[0.0, 8.0, 16.0, 24.0, 32.0], &[9.0, 6.0, 3.5, 1.0, 0.4]).unwrap()
}

#[test]
fn a_start_mark_gives_the_speed_it_was_asked_for() {
    let (rider, air) = (Rider::default(), Air::standard());
    let profile = trail();
    let zone = Zone { from: 22.0, to: 26.0, slowing: Slowing::By(1.5) };
    let wind = air.with_wind(Vec3::new(-2.0, 0.5, 0.0)).unwrap();
    for options in [
        RideOptions::new(0.0),
        RideOptions::new(2.0),
        RideOptions::new(0.0).with_brake(Brake::Constant(0.4)),
        RideOptions::new(0.0).with_brake(Brake::Zones(vec![zone])),
    ] {
        for air in [&air, &wind] {
            for speed in [4.5, 6.0, 7.5] {
                let start = profile.start_mark(speed, &rider, air, &options).unwrap();
                let (line, options) = profile.run_in_with(start, &options).unwrap();
                let ride = line.ride(&rider, air, &options).unwrap();
                assert_relative_eq!(ride.exit_speed().unwrap(), speed, epsilon = 1e-7);
            }
        }
    }
}

#[test]
fn a_speed_out_of_reach_is_told_with_what_can_be_had() {
    let (rider, air) = (Rider::default(), Air::standard());
    let error = trail().start_mark(20.0, &rider, &air, &RideOptions::new(0.0)).unwrap_err();
    let RideError::OutOfReach { speed, fastest, start } = error else {
        unreachable!("nobody gets to 20 m/s from 9 m up: {error}");
    };
    assert_relative_eq!(speed, 20.0);
    assert!(fastest > 9.0 && fastest < 14.0 && start > 30.0);
    assert!(trail().start_mark(f64::NAN, &rider, &air, &RideOptions::new(0.0)).is_err());
}
