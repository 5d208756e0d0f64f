use super::*;
use crate::air::Air;
use crate::geometry::{Line, Profile};
use crate::launch::{Launch, Warning};
use crate::ride::RideOptions;
use crate::rider::{Inertia, Rider};
use approx::assert_relative_eq;

fn still() -> Rider {
    Rider::default().with_cda(0.0).unwrap().with_crr(0.0).unwrap()
}

fn level() -> Line {
    Profile::cornered(&[0.0, 4.0], &[0.0, 0.0], 1.0).unwrap().line()
}

/// The first part of an arc of 6 m in a hollow: it ends still curved.
fn lip() -> Line {
    let line = Profile::cornered(&[0.0, 10.0, 20.0], &[0.0, 0.0, 8.0], 6.0).unwrap().line();
    let (from, to) = (line.joints()[0], line.joints()[1]);
    line.between(line.parameter(from), line.parameter(0.6 * to + 0.4 * from))
}

fn launched(line: &Line, rider: &Rider, speed: f64) -> Launch {
    let ride = line.ride(rider, &Air::standard(), &RideOptions::new(speed)).unwrap();
    ride.launch(0.0).unwrap()
}

/// Turning on from the launch at its rate, the bike has the angle of the rear wheel's leaving when it leaves.
#[test]
fn the_attitude_turns_on_to_the_angle_at_the_rears_leaving() {
    for (line, speed) in [(level(), 6.0), (lip(), 8.0)] {
        let launch = launched(&line, &still(), speed);
        let (pitch, attitude) = (launch.pitch.unwrap(), launch.attitude.unwrap());
        let end = line.frame(line.length());
        let later = attitude.turned(&attitude.l, pitch.rate * pitch.after);
        let nose_down = (-later.t.dot(&end.normal)).atan2(later.t.dot(&end.tangent));
        assert_relative_eq!(nose_down, pitch.angle, epsilon = 1e-12);
        assert_relative_eq!(launch.angular_velocity.dot(&attitude.l), pitch.rate, epsilon = 1e-12);
        assert_relative_eq!(attitude.t.cross(&attitude.l), attitude.u, epsilon = 1e-12);
    }
}

#[test]
fn off_a_level_drop_the_nose_goes_down_and_slower_riders_more() {
    let pitches =
        [4.0, 5.0, 7.0, 9.0, 14.0].map(|v| launched(&level(), &still(), v).pitch.unwrap());
    assert!(pitches.iter().all(|p| p.angle > 0.0 && p.rate > 0.0 && p.short_of_edge == 0.0));
    assert!(pitches.windows(2).all(|p| p[0].angle > p[1].angle && p[0].rate > p[1].rate));
    assert!(pitches.windows(2).all(|p| p[0].shift_at(0.5).z < p[1].shift_at(0.5).z));
    // Level momentum is kept by a wheel that rolls freely.
    assert!(pitches.iter().all(|p| p.drift.x.abs() < 1e-5 && p.shift.x.abs() < 1e-5));
}

/// With a pitch inertia of 27 kg m² the shift 3 m out is that of the worked figures: 0.22 m at 5 m/s and 0.05 m at 9 m/s.
#[test]
fn the_shift_is_warned_of() {
    let long = still().with_inertia(Inertia::new(20.0, 27.0, 12.0).unwrap());
    let shift = |rider: &Rider, v: f64| launched(&level(), rider, v).pitch.unwrap().judged(v).z;
    assert_relative_eq!(shift(&long, 5.0), -0.22, epsilon = 0.005);
    assert_relative_eq!(shift(&long, 9.0), -0.05, epsilon = 0.006);
    let warned = |v: f64| {
        let launch = launched(&level(), &still(), v);
        launch.warnings.iter().any(|w| matches!(w, Warning::Shift { higher, .. } if *higher < 0.0))
    };
    assert!(warned(5.0) && warned(9.0) && !warned(14.0));
}

/// A short bike has no time to turn: it leaves as the line does, turned back by a lip that is still curved.
#[test]
fn a_short_bike_leaves_as_the_line_does() {
    let mut last = f64::INFINITY;
    for wheelbase in [0.4, 0.1, 0.025] {
        let rider = still().with_wheelbase(wheelbase).unwrap();
        let launch = launched(&lip(), &rider, 8.0);
        let pitch = launch.pitch.unwrap();
        let off = (pitch.rate + launch.tyre_speed.unwrap() / 6.0).abs();
        assert!(off < 0.4 * last && pitch.duration < 1.2 * wheelbase / 8.0);
        assert!(pitch.angle.abs() < 0.1 * wheelbase && pitch.shift_at(0.4).norm() < wheelbase);
        last = off;
    }
    assert!(last < 0.05, "{last}");
}

/// A low rider on a short bike against the closed form of the curved edge (see [`Pitch`]): with mass close in, at the centre of
/// percussion and far out. What is left out goes with the wheelbase.
#[test]
fn off_a_curved_edge_the_rate_is_that_of_the_impulse_at_the_rear_contact() {
    let line = lip();
    let end = line.frame(line.length());
    for index in [0.3, 1.0, 3.0] {
        let mut misses = Vec::new();
        for wheelbase in [0.4, 0.2, 0.1, 0.05] {
            let (b_r, b_f) = (0.4 * wheelbase, 0.6 * wheelbase);
            let gyration = index * b_r * b_f;
            let rider = still().with_wheelbase(wheelbase).unwrap().with_com_height(0.0).unwrap();
            let inertia = Inertia::new(gyration, gyration, gyration).unwrap();
            let rider = rider.with_mass(1.0).unwrap().with_inertia(inertia);
            let launch = launched(&line, &rider, 8.0);
            let v = launch.tyre_speed.unwrap();
            let about = gyration + b_r * b_r;
            let up = v / 6.0 * (gyration - b_r * b_f) / about
                - 9.80665 * end.normal.z / v * b_r * wheelbase / about;
            misses.push((-launch.pitch.unwrap().rate - up).abs() * 6.0 / v);
        }
        assert!(misses.windows(2).all(|pair| pair[1] < 0.6 * pair[0]), "{index} {misses:?}");
        assert!(misses[3] < 5e-3, "{index} {misses:?}");
    }
}

#[test]
fn a_ride_carried_on_at_the_front_is_not_shifted_by_its_geometry() {
    // All of the weight on the rear contact: it leaves as the tyres' point does, and nothing is left to turn about.
    let rider = still().with_rear_to_com(Some(0.0)).unwrap().with_com_height(0.0).unwrap();
    for (line, speed) in [(level(), 5.0), (lip(), 8.0)] {
        let pitch = launched(&line, &rider, speed).pitch.unwrap();
        assert!(pitch.shift.norm() < 1e-4 && pitch.drift.norm() < 1e-3, "{pitch:?}");
        assert_relative_eq!(pitch.after, 0.0, epsilon = 1e-4);
    }
}

#[test]
fn a_very_slow_rider_hangs_up() {
    for speed in [0.3, 1.5, 3.0] {
        let ride = level().ride(&still(), &Air::standard(), &RideOptions::new(speed)).unwrap();
        let error = ride.launch(0.0).unwrap_err();
        assert!(matches!(error, LaunchError::HangsUp { short_of_edge, .. } if short_of_edge > 0.0));
        assert!(error.to_string().contains("hangs up on the edge"), "{error}");
    }
}

#[test]
fn a_lean_turns_about_the_line_across_the_surface() {
    let mut exit = level().ride(&still(), &Air::standard(), &RideOptions::new(8.0)).unwrap();
    let upright = exit.launch(0.0).unwrap().pitch.unwrap();
    let end = exit.exit.as_mut().unwrap();
    end.up = Vec3::new(0.0, 0.3f64.sin(), 0.3f64.cos());
    let leaning = exit.launch(0.0).unwrap();
    let pitch = leaning.pitch.unwrap();
    assert!(pitch.rate > 0.0 && (pitch.rate - upright.rate).abs() > 0.01);
    assert_relative_eq!(leaning.angular_velocity.y, pitch.rate, epsilon = 1e-12);
}
