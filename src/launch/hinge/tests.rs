use super::*;
use crate::air::Air;
use crate::geometry::{Line, Profile};
use crate::math::ode;
use crate::ride::{Exit, RideOptions};
use crate::rider::Rider;
use approx::assert_relative_eq;
use std::convert::Infallible;

const G: f64 = 9.80665;

fn level() -> Line {
    Profile::cornered(&[0.0, 4.0], &[0.0, 0.0], 1.0).unwrap().line()
}

/// The last part of an arc of 8 m, in a hollow or over a crest, that ends still curved.
fn arc(rise: f64) -> Line {
    let line = Profile::cornered(&[0.0, 10.0, 20.0], &[0.0, 0.0, rise], 8.0).unwrap().line();
    let (from, to) = (line.joints()[0], line.joints()[1]);
    line.between(line.parameter(from), line.parameter(0.5 * (from + to)))
}

fn exit(line: &Line, speed: f64) -> Exit {
    let rider = Rider::default().with_cda(0.0).unwrap().with_crr(0.0).unwrap();
    line.ride(&rider, &Air::standard(), &RideOptions::new(speed)).unwrap().exit.unwrap()
}

fn hinge(exit: &Exit, gravity: f64) -> Hinge<'_> {
    let arm = Vec2::new(exit.bike.rear_to_com, exit.com_height);
    let gravity = Vec2::new(0.0, -gravity);
    Hinge { edge: &exit.edge, bike: exit.bike, gravity, arm, gyration: exit.bike.pitch }
}

fn start(exit: &Exit, speed: f64, rate: f64) -> Moment {
    let contact = Vec2::new(-exit.edge.length(), 0.0);
    let angle = exit.edge.at(0.0).direction;
    Moment { way: 0.0, time: 0.0, contact, speed, angle, rate }
}

fn left(end: End) -> Moment {
    let End::Leaves(at) = end else { panic!("{end:?}") };
    at
}

fn energy(hinge: &Hinge, at: &Moment) -> f64 {
    let (centre, velocity) = hinge.centre(at);
    let spin = 0.5 * hinge.gyration * at.rate * at.rate;
    0.5 * velocity.norm_squared() + spin - hinge.gravity.dot(&centre)
}

/// Linear in a small angle `a` nose down: `a'' = m + w² a`, so `a = m / w² (cosh(w t) - 1)`. What is left out grows with
/// the square of the time.
#[test]
fn off_a_level_edge_a_small_angle_grows_as_the_hyperbolic_cosine() {
    let exit = exit(&level(), 10.0);
    let hinge = Hinge { gyration: 0.4, ..hinge(&exit, G) };
    let (b, h) = (hinge.arm.x, hinge.arm.y);
    let about = hinge.gyration + b * b;
    let (m, w) = (G * b / about, (G * h * (hinge.gyration - b * b)).sqrt() / about);
    let mut misses = Vec::new();
    for speed in [10.0, 20.0, 40.0, 80.0] {
        let at = left(hinge.turn(start(&exit, speed, 0.0)));
        let angle = m / (w * w) * ((w * at.time).cosh() - 1.0);
        let rate = m / w * (w * at.time).sinh();
        misses.push((-at.angle / angle - 1.0).abs().max((-at.rate / rate - 1.0).abs()));
    }
    assert!(misses[3] < 5e-4, "{misses:?}");
    assert!(misses.windows(2).all(|pair| pair[1] < 0.3 * pair[0]), "{misses:?}");
}

#[test]
fn a_centre_at_the_tyres_falls_about_the_contact() {
    let exit = exit(&level(), 10.0);
    let whole = hinge(&exit, G);
    let flat = Hinge { arm: Vec2::new(whole.arm.x, 0.0), ..whole };
    let at = left(flat.turn(start(&exit, 30.0, 0.0)));
    let push = G * flat.arm.x / (flat.gyration + flat.arm.x.powi(2));
    assert_relative_eq!(at.rate, -push * at.time, max_relative = 1e-3);
    assert_relative_eq!(at.angle, -0.5 * push * at.time.powi(2), max_relative = 1e-3);
}

#[test]
fn energy_is_kept_on_hollow_crest_and_level() {
    for (line, speed) in [(arc(6.0), 7.0), (arc(-6.0), 5.0), (level(), 5.0), (level(), 3.6)] {
        let exit = exit(&line, 4.0);
        let hinge = hinge(&exit, G);
        let first = start(&exit, speed, speed * exit.edge.at(0.0).curvature);
        let at = left(hinge.turn(first));
        // The lip's direction is known everywhere, its place by integration: both meet.
        assert_relative_eq!(energy(&hinge, &at), energy(&hinge, &first), epsilon = 2e-5);
        assert!(at.time > 0.0);
    }
}

/// Newton: what the centre's acceleration asks beyond gravity is the contact's force along the normal, and nothing
/// along the line. Euler: that force's moment turns the bike.
#[test]
fn the_contact_gives_what_the_motion_asks() {
    for (line, speed, rate) in [(arc(6.0), 7.0, 1.1), (arc(-6.0), 5.0, -0.9), (level(), 5.0, -2.0)]
    {
        let exit = exit(&line, 4.0);
        let hinge = hinge(&exit, G);
        let (s, h) = (0.53, 1e-4);
        let state = State::new(-0.6, 0.02, 0.1, speed, -0.2, rate);
        let moved = |h: f64| to_moment(s + h, &classic_step(|s, y| hinge.rate(s, y), s, &state, h));
        let (before, after) = (moved(-h), moved(h));
        let span = after.time - before.time;
        let push = (hinge.centre(&after).1 - hinge.centre(&before).1) / span - hinge.gravity;
        let normal = left_of(direction(exit.edge.at(s).direction));
        assert_relative_eq!(push, normal * hinge.load(s, &state), epsilon = 1e-5);
        let arm = turned(hinge.arm, state[4]);
        let moment = -(arm.x * push.y - arm.y * push.x);
        let spin_up = (after.rate - before.rate) / span;
        assert_relative_eq!(hinge.gyration * spin_up, moment, epsilon = 1e-5);
    }
}

#[test]
fn steps_are_fine_enough() {
    for (line, speed) in [(level(), 4.0), (level(), 8.0), (arc(6.0), 8.0)] {
        let exit = exit(&line, 4.0);
        let hinge = hinge(&exit, G);
        let first = start(&exit, speed, speed * exit.edge.at(0.0).curvature);
        let rhs = |s: f64, y: &State| Ok::<_, Infallible>(hinge.rate(s, y));
        let options = ode::Options::new(1e-12, 1e-12);
        let mut fine = to_state(&first);
        let mut way = 0.0;
        while let Some(end) = exit.edge.joint_after(way) {
            fine = ode::integrate(rhs, way, fine, end, &options).unwrap().end();
            way = end;
        }
        let coarse = to_state(&left(hinge.turn(first)));
        assert!((coarse - fine).norm() < 2e-5, "{speed}: {}", (coarse - fine).norm());
    }
}

#[test]
fn without_gravity_on_the_level_nothing_turns_it() {
    let exit = exit(&level(), 5.0);
    let hinge = hinge(&exit, 0.0);
    // Nothing presses the rear wheel on: it has left at once, and what turns goes on turning.
    let spinning = start(&exit, 5.0, 0.7);
    assert_eq!(left(hinge.turn(spinning)), spinning);
}

#[test]
fn where_the_load_runs_out_the_rear_lifts_before_the_edge() {
    let line = Profile::cornered(&[0.0, 10.0, 20.0], &[0.0, 0.0, -6.0], 8.0).unwrap().line();
    let crest = line.between(0.0, line.parameter(line.joints()[0] + 0.5));
    let exit = exit(&crest, 4.0);
    let hinge = hinge(&exit, G);
    // Level first; then over a crest of 8 m at more than the speed of free fall along it.
    let at = left(hinge.turn(start(&exit, 10.0, 0.0)));
    assert!(at.way > 0.6 && at.way < 0.9, "{at:?}");
    assert!(hinge.load(at.way, &to_state(&at)).abs() < 1e-9);
}

#[test]
fn who_is_too_slow_stops_or_strikes_the_edge() {
    let exit = exit(&level(), 5.0);
    let hinge = hinge(&exit, G);
    for speed in [0.01, 0.5, 1.2, 2.0, 3.0] {
        let End::HangsUp(at) = hinge.turn(start(&exit, speed, 0.0)) else { panic!("{speed}") };
        assert!(at.way < exit.edge.length() && at.angle <= 0.0);
    }
    // A bike with room under it only stops where its rear wheel stops.
    let tall = Bike { wheel_radius: 5.0, ..exit.bike };
    let stops = |speed| Hinge { bike: tall, ..hinge }.turn(start(&exit, speed, 0.0));
    assert!(matches!(stops(1.2), End::HangsUp(_)) && matches!(stops(2.5), End::Leaves(_)));
}
