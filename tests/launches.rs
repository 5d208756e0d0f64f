//! Does a launch continue the ride?
#![allow(clippy::unwrap_used, reason = "a test fails by panicking")]

use approx::assert_relative_eq;
use loamline::feature::{Bank, Wall};
use loamline::geometry::{Frame, Line, Plan, Profile, Turn};
use loamline::launch::{Launch, LaunchError};
use loamline::math::Vec3;
use loamline::ride::{Outcome, RideOptions};
use loamline::{Air, Rider};

fn line(turn: Turn) -> Line {
    let plan = Plan::arc(7.0, 55f64.to_radians(), turn).unwrap();
    let bank = Bank::linear(20f64.to_radians(), 68f64.to_radians()).unwrap();
    Wall::new(plan, bank, 2.4).unwrap().with_grade(-0.04).unwrap().line(0.25, 1.6).unwrap()
}

fn backward(line: &Line, of: impl Fn(&Frame) -> Vec3) -> Vec3 {
    // Fourth order from before the end only.
    let (end, h) = (line.length(), 2e-3);
    let at = |k: f64| of(&line.frame(end - k * h));
    (at(0.0) * 25.0 - at(1.0) * 48.0 + at(2.0) * 36.0 - at(3.0) * 16.0 + at(4.0) * 3.0) / (12.0 * h)
}

/// Roll and yaw go on as the line has them; pitch is the rear wheel's.
#[test]
fn angular_velocity_turns_the_attitude_as_the_line_and_the_rear_wheel_do() {
    for turn in [Turn::Left, Turn::Right] {
        let line = line(turn);
        let ride = line.ride(&Rider::default(), &Air::standard(), &RideOptions::new(8.0)).unwrap();
        let launch = ride.launch(0.0).unwrap();
        let (attitude, end) = (launch.attitude.unwrap(), line.frame(line.length()));
        let speed = ride.exit_speed().unwrap();
        let (forward, up) = (backward(&line, |f| f.tangent), backward(&line, |f| f.normal));
        let turning = launch.angular_velocity;
        assert_relative_eq!(
            turning.dot(&end.normal),
            forward.dot(&end.left()) * speed,
            epsilon = 1e-7
        );
        assert_relative_eq!(
            turning.dot(&end.tangent),
            -up.dot(&end.left()) * speed,
            epsilon = 1e-7
        );
        assert_relative_eq!(turning.dot(&end.left()), launch.pitch.unwrap().rate, epsilon = 1e-12);
        assert_relative_eq!(attitude.l, end.left(), epsilon = 1e-12);
        assert_relative_eq!(attitude.t.cross(&attitude.l), attitude.u, epsilon = 1e-12);
        let centre = backward(&line, |f| f.position + f.normal);
        assert_relative_eq!(launch.velocity, centre * speed, epsilon = 1e-7);
    }
}

#[test]
fn up_a_steepening_panel_the_line_lifts_the_nose_and_the_edge_lets_it_fall() {
    let line = line(Turn::Left);
    let ride = line.ride(&Rider::default(), &Air::standard(), &RideOptions::new(8.0)).unwrap();
    let (launch, end) = (ride.launch(0.0).unwrap(), line.frame(line.length()));
    let of_the_line = -end.normal_curvature() * ride.exit_speed().unwrap();
    assert!(of_the_line < 0.0 && launch.pitch.unwrap().rate > of_the_line);
    assert!(launch.angular_velocity.dot(&end.normal) > 0.0, "it turns left with the plan");
}

#[test]
fn pop_adds_to_the_velocity_along_the_bike() {
    let line = line(Turn::Right);
    let ride = line.ride(&Rider::default(), &Air::standard(), &RideOptions::new(8.0)).unwrap();
    let (still, popped) = (ride.launch(0.0).unwrap(), ride.launch(-0.7).unwrap());
    let up = line.frame(line.length()).normal;
    assert_relative_eq!(popped.velocity - still.velocity, up * -0.7, epsilon = 1e-12);
    let tyres = still.tyre_point.unwrap();
    assert_relative_eq!(
        still.position - tyres,
        up * Rider::default().com_height(),
        epsilon = 1e-12
    );
    assert!(ride.launch(f64::NAN).is_err());
    assert!(ride.launch(20.0).unwrap_err().to_string().contains("pop = 20"));
}

#[test]
fn a_ride_that_ended_early_does_not_launch() {
    let climb = Profile::smooth(&[0.0, 10.0], &[0.0, 5.0]).unwrap().line();
    let ride = climb.ride(&Rider::default(), &Air::standard(), &RideOptions::new(4.0)).unwrap();
    let error = ride.launch(0.0).unwrap_err();
    assert!(matches!(error, LaunchError::RideEnded { outcome: Outcome::Stalled { .. } }));
    assert!(error.to_string().contains("stalls at"));
}

#[test]
fn a_launch_by_hand_takes_finite_numbers_only() {
    let launch = Launch::by_hand(Vec3::new(0.0, 0.0, 2.0), Vec3::new(8.0, 0.0, 3.0)).unwrap();
    assert!(launch.attitude.is_none() && launch.tyre_point.is_none());
    assert!(Launch::by_hand(Vec3::new(f64::NAN, 0.0, 0.0), Vec3::zeros()).is_err());
    assert!(Launch::by_hand(Vec3::zeros(), Vec3::new(0.0, f64::INFINITY, 0.0)).is_err());
}
