//! Is a free line free, and does it go where mechanics says?
#![allow(clippy::unwrap_used, reason = "a test fails by panicking")]

use approx::assert_relative_eq;
use loamline::feature::{Bank, FreeAim, FreeEntry, FreeError, FreeLine, FreeOutcome, Wall};
use loamline::force::Forces;
use loamline::geometry::{Frame, Line, Piece, Plan, Turn, Uphill};
use loamline::math::Vec3;
use loamline::math::ode::{Options, integrate};
use loamline::ride::{Outcome, Ride, RideOptions};
use loamline::{Air, Rider};
use nalgebra::{Matrix3, Vector4};
use std::convert::Infallible;
use std::f64::consts::{FRAC_PI_2, FRAC_PI_4};

mod properties;

const G: f64 = 9.80665;

fn steepening() -> Wall {
    let plan = Plan::arc(7.0, 55f64.to_radians(), Turn::Left).unwrap();
    let bank = Bank::linear(20f64.to_radians(), 68f64.to_radians()).unwrap();
    Wall::new(plan, bank, 2.4).unwrap().with_grade(-0.04).unwrap()
}

fn in_pieces(turn: Turn) -> Wall {
    let pieces = vec![
        Piece::Straight { length: 1.5 },
        Piece::Clothoid { length: 2.0, radius_start: f64::INFINITY, radius_end: 6.0 },
        Piece::Arc { radius: 6.0, angle: 0.6 },
    ];
    let plan = Plan::new(pieces, turn).unwrap();
    let length = plan.length();
    let rows = [(0.0, 0.2), (0.3 * length, 0.5), (0.7 * length, 0.9), (length, 1.2)];
    let wall = Wall::new(plan, Bank::stations(&rows).unwrap(), 3.0).unwrap();
    let at = Vec3::new(3.0, -1.0, 0.5);
    wall.placed(at, 1.1).unwrap().with_grade(0.05).unwrap().with_end_skew(0.3).unwrap()
}

/// A straight plan, banked evenly.
fn plane(bank: f64, grade: f64) -> Wall {
    let plan = Plan::new(vec![Piece::Straight { length: 12.0 }], Turn::Left).unwrap();
    Wall::new(plan, Bank::constant(bank).unwrap(), 6.0).unwrap().with_grade(grade).unwrap()
}

/// An arc, banked evenly: part of a cone about a vertical axis, of a cylinder where it stands upright.
fn cone(bank: f64) -> Wall {
    let plan = Plan::arc(6.0, 1.5, Turn::Left).unwrap();
    Wall::new(plan, Bank::constant(bank).unwrap(), 6.0).unwrap()
}

fn frictionless(com_height: f64) -> Rider {
    let rider = Rider::default().with_crr(0.0).unwrap().with_cda(0.0).unwrap();
    rider.with_com_height(com_height).unwrap()
}

fn free(wall: &Wall, rider: &Rider, entry: FreeEntry) -> FreeLine {
    wall.free_line(rider, &Air::standard(), &entry).unwrap()
}

fn ridden(line: &Line, rider: &Rider, air: &Air, speed: f64) -> Ride {
    let rider = rider.clone().with_grip(f64::INFINITY).unwrap();
    line.ride(&rider, air, &RideOptions::new(speed)).unwrap()
}

fn most_side_load(ride: &Ride) -> f64 {
    let samples = &ride.samples;
    let loads = samples.grip_demand.iter().zip(&samples.normal_load);
    loads.map(|(demand, normal)| demand * normal * G).fold(0.0, f64::max)
}

#[test]
fn ridden_again_nothing_is_carried_across() {
    let wind = Air::standard().with_wind(Vec3::new(-3.0, 2.0, 0.5)).unwrap();
    let spinning = Rider::default().with_wheel_inertia(0.2).unwrap();
    let hollow = steepening().with_hollow(7.0).unwrap();
    let walls = [steepening(), hollow, in_pieces(Turn::Left), in_pieces(Turn::Right), cone(0.6)];
    let mut ends = Vec::new();
    for wall in &walls {
        for rider in [Rider::default(), frictionless(0.0), spinning.clone()] {
            for air in [Air::standard(), wind] {
                let entries =
                    [(0.25, 8.0, 0.0), (0.5, 6.0, 0.3), (1.5, 9.5, -0.2), (1.0, 14.0, 0.3)];
                for (height, speed, heading) in entries {
                    let entry = FreeEntry::new(height, speed).with_heading(heading);
                    let free = wall.free_line(&rider, &air, &entry).unwrap();
                    let ride = ridden(free.line(), &rider, &air, speed);
                    let side = most_side_load(&ride);
                    assert!(side < 1e-8, "{side:e} {:?}", free.end());
                    let exit = ride.reached().unwrap();
                    assert_relative_eq!(exit.speed, free.end().speed, epsilon = 1e-9);
                    let time = ride.samples.time.last().unwrap();
                    assert_relative_eq!(*time, free.end().time, epsilon = 1e-9);
                    ends.push(free.end().outcome);
                }
            }
        }
    }
    for wanted in [FreeOutcome::Edge, FreeOutcome::Top, FreeOutcome::Foot] {
        assert!(ends.contains(&wanted), "{wanted}: {ends:?}");
    }
}

/// Frames of a line, evenly along it.
fn frames(line: &Line) -> impl Iterator<Item = Frame> + '_ {
    (0..=40).map(|i| line.frame(line.length() * f64::from(i) / 40.0))
}

#[test]
fn on_a_level_plane_it_is_straight() {
    let rider = frictionless(1.0);
    let free = free(&plane(0.0, 0.0), &rider, FreeEntry::new(1.0, 5.0).with_heading(0.3));
    assert_eq!(free.end().outcome, FreeOutcome::Edge);
    assert_relative_eq!(free.end().heading, 0.3, epsilon = 1e-12);
    assert_relative_eq!(free.end().speed, 5.0, epsilon = 1e-12);
    for frame in frames(free.line()) {
        assert_relative_eq!(frame.curvature.norm(), 0.0, epsilon = 1e-11);
    }
}

/// On a plane at `bank`, gravity pulls down it by `g sin(bank)`: a parabola on the plane.
#[test]
fn on_an_inclined_plane_it_is_a_parabola() {
    let (bank, speed, heading) = (0.5_f64, 6.0, 0.5_f64);
    for com_height in [0.0, 1.0] {
        let entry = FreeEntry::new(0.5, speed).with_heading(heading);
        let free = free(&plane(bank, 0.0), &frictionless(com_height), entry);
        let (ahead, up, down) = (speed * heading.cos(), speed * heading.sin(), G * bank.sin());
        let end = free.end();
        // It comes down to the foot where 0.5 + up t - down t^2 / 2 = 0, a nanometre late.
        let time = (up + (up * up + down).sqrt()) / down;
        assert_eq!(end.outcome, FreeOutcome::Foot);
        assert_relative_eq!(end.time, time, epsilon = 1e-9);
        assert_relative_eq!(end.station, ahead * time, epsilon = 1e-8);
        for k in 0..=20 {
            let on = free.line().on_panel(free.line().length() * f64::from(k) / 20.0).unwrap();
            let t = on.station / ahead;
            assert_relative_eq!(on.height, 0.5 + t * (up - 0.5 * down * t), epsilon = 1e-11);
        }
    }
}

/// On a surface of revolution without friction the energy and the moment of momentum about the axis stay.
#[test]
fn on_cones_and_cylinders_energy_and_moment_of_momentum_are_kept() {
    let axis = Vec3::new(0.0, 6.0, 0.0);
    for bank in [0.2, FRAC_PI_4, 1.2, FRAC_PI_2] {
        for (com_height, heading) in [(0.0, 0.0), (0.0, 0.5), (1.0, 0.0), (1.0, 0.4)] {
            let rider = frictionless(com_height);
            let wall = cone(bank);
            let free = free(&wall, &rider, FreeEntry::new(2.0, 9.0).with_heading(heading));
            let ride = ridden(free.line(), &rider, &Air::standard(), 9.0);
            let mut kept = None;
            for (station, speed) in ride.samples.station.iter().zip(&ride.samples.speed) {
                let frame = free.line().frame(*station);
                let velocity = (frame.tangent + frame.dnormal * com_height) * *speed;
                let arm = frame.position + frame.normal * com_height - axis;
                let energy = 0.5 * velocity.norm_squared() + G * arm.z;
                let moment = arm.cross(&velocity).z;
                let (energy_0, moment_0) = *kept.get_or_insert((energy, moment));
                assert_relative_eq!(energy, energy_0, epsilon = 1e-9);
                assert_relative_eq!(moment, moment_0, epsilon = 1e-9);
            }
        }
    }
}

/// On an upright cylinder the height falls as a stone does while the rider goes round at one rate.
#[test]
fn on_a_cylinder_it_falls_as_a_stone() {
    let (speed, heading) = (8.0, 0.5_f64);
    for com_height in [0.0, 1.0] {
        let entry = FreeEntry::new(5.0, speed).with_heading(heading);
        let free = free(&cone(FRAC_PI_2), &frictionless(com_height), entry);
        let (ahead, up) = (speed * heading.cos(), speed * heading.sin());
        assert_eq!(free.end().outcome, FreeOutcome::Edge);
        let time = 9.0 / ahead;
        assert_relative_eq!(free.end().time, time, epsilon = 1e-11);
        let height = 5.0 + time * (up - 0.5 * G * time);
        assert_relative_eq!(free.end().height, height, epsilon = 1e-10);
    }
}

/// A straight panel, hollow across and level at its foot, is the bottom of a cylinder that lies: along it the speed
/// stays, and across it swings a pendulum as long as the centre of mass is from the axis.
#[test]
fn in_a_straight_hollow_it_swings_as_a_pendulum() {
    let (radius, speed, heading) = (6.0, 7.0, 0.8_f64);
    let plan = Plan::new(vec![Piece::Straight { length: 3.0 }], Turn::Left).unwrap();
    let wall = Wall::new(plan, Bank::constant(0.0).unwrap(), 6.0).unwrap();
    let wall = wall.with_hollow(radius).unwrap();
    for com_height in [0.0, 1.0] {
        let entry = FreeEntry::new(0.3, speed).with_heading(heading);
        let end = *free(&wall, &frictionless(com_height), entry).end();
        assert_eq!(end.outcome, FreeOutcome::Edge);
        assert_relative_eq!(end.time, 3.0 / (speed * heading.cos()), epsilon = 1e-11);
        assert_relative_eq!(end.speed * end.heading.cos(), speed * heading.cos(), epsilon = 1e-11);
        let arm = radius - com_height;
        let energy = |height: f64, up: f64| {
            let swing = up * arm / radius;
            0.5 * swing * swing - G * arm * (height / radius).cos()
        };
        let before = energy(0.3, speed * heading.sin());
        let after = energy(end.height, end.speed * end.heading.sin());
        assert_relative_eq!(after, before, epsilon = 1e-10);
    }
}

/// Without gravity to speak of it is a geodesic: a straight line on the cone unrolled, where the circle of radius
/// `rho` becomes one of `rho / cos(bank)` and the angle about the axis is `cos(bank)` times as large.
#[test]
fn without_gravity_it_is_straight_on_the_unrolled_cone() {
    let air = Air::standard().with_gravity(1e-12).unwrap();
    let (bank, heading) = (0.7_f64, 0.2_f64);
    let wall = cone(bank);
    let entry = FreeEntry::new(0.5, 9.0).with_heading(heading);
    let free = wall.free_line(&frictionless(0.0), &air, &entry).unwrap();
    let unrolled = |station: f64, height: f64| {
        let (radius, angle) = (6.0 / bank.cos() + height, station / 6.0 * bank.cos());
        [radius * angle.sin(), radius * angle.cos()]
    };
    let [x0, y0] = unrolled(0.0, 0.5);
    let length = free.line().length();
    for k in 1..=20 {
        let way = length * f64::from(k) / 20.0;
        let on = free.line().on_panel(way).unwrap();
        let [x, y] = unrolled(on.station, on.height);
        assert_relative_eq!(x, x0 + way * heading.cos(), epsilon = 1e-10);
        assert_relative_eq!(y, y0 + way * heading.sin(), epsilon = 1e-10);
    }
}

/// Rolling resistance on a level plane takes `Crr g`, and `1 / (1 + lambda)` of it with spinning wheels.
#[test]
fn rolling_slows_it_to_a_stall() {
    for inertia in [0.0, 0.3] {
        let rider = Rider::default().with_cda(0.0).unwrap().with_crr(0.3).unwrap();
        let rider = rider.with_wheel_inertia(inertia).unwrap();
        let free = free(&plane(0.0, 0.0), &rider, FreeEntry::new(1.0, 5.0));
        let slowing = 0.3 * G / (1.0 + rider.rotating_factor());
        assert_eq!(free.end().outcome, FreeOutcome::Stalled);
        assert_relative_eq!(free.end().speed, 0.1, epsilon = 1e-12);
        assert_relative_eq!(free.end().time, (5.0 - 0.1) / slowing, epsilon = 1e-10);
        assert_relative_eq!(free.end().station, (25.0 - 0.01) / (2.0 * slowing), epsilon = 1e-10);
    }
}

/// Newton's law in space, three equations for the second derivatives and the load at once, integrated by `ode_solvers`.
#[test]
fn another_integrator_and_another_form_of_the_equation_agree() {
    let rider = Rider::default().with_com_height(0.0).unwrap().with_wheel_inertia(0.15).unwrap();
    let air = Air::standard().with_wind(Vec3::new(-3.0, 2.0, 0.5)).unwrap();
    let (wall, forces) = (steepening(), Forces::new(&rider, &air));
    let rates = |_: f64, y: &Vector4<f64>| {
        let at = wall.surface(y[0], y[1]);
        let (ds, dq) = (y[2], y[3]);
        let velocity = at.ds * ds + at.dq * dq;
        let bend = at.dss * (ds * ds) + at.dsq * (2.0 * ds * dq) + at.dqq * (dq * dq);
        let t = velocity.normalize();
        let spun = |v: Vec3| v + t * (rider.rotating_factor() * t.dot(&v));
        let columns = [spun(at.ds), spun(at.dq), t * rider.crr() - at.normal];
        let push = forces.gravity() + forces.drag(velocity) - spun(bend);
        let found = Matrix3::from_columns(&columns).lu().solve(&push).unwrap();
        Ok::<_, Infallible>(Vector4::new(ds, dq, found.x, found.y))
    };
    for (height, speed, heading) in [(0.25, 8.0, 0.0), (0.5, 7.5, 0.1), (1.5, 9.5, -0.3)] {
        let entry = FreeEntry::new(height, speed).with_heading(heading);
        let end = *wall.free_line(&rider, &air, &entry).unwrap().end();
        let at = wall.surface(0.0, height);
        let ahead = at.ds.normalize();
        let across = (at.dq - ahead * at.dq.dot(&ahead)).normalize();
        let velocity = (ahead * heading.cos() + across * heading.sin()) * speed;
        let dq = velocity.dot(&across) / at.dq.dot(&across);
        let ds = (velocity - at.dq * dq).dot(&ahead) / at.ds.norm();
        let start = Vector4::new(0.0, height, ds, dq);
        let fine = Options::new(1e-13, 1e-13).with_max_step(0.02);
        let y = integrate(rates, 0.0, start, end.time, &fine).unwrap().end();
        let at = wall.surface(y[0], y[1]);
        assert_relative_eq!(y[0], end.station, epsilon = 1e-10);
        assert_relative_eq!(y[1], end.height, epsilon = 1e-10);
        assert_relative_eq!((at.ds * y[2] + at.dq * y[3]).norm(), end.speed, epsilon = 1e-10);
    }
}

#[test]
fn ends_are_typed_and_stand_where_they_happen() {
    let rider = Rider::default();
    let end = |wall: &Wall, height, speed, heading| {
        *free(wall, &rider, FreeEntry::new(height, speed).with_heading(heading)).end()
    };
    let wall = steepening();
    let edge = end(&wall, 0.25, 8.0, 0.0);
    assert_eq!(edge.outcome, FreeOutcome::Edge);
    assert_relative_eq!(edge.station, wall.length(), epsilon = 1e-11);
    let top = end(&wall, 1.0, 14.0, 0.3);
    assert_eq!(top.outcome, FreeOutcome::Top);
    assert_relative_eq!(top.height, 2.4, epsilon = 1.1e-9);
    let foot = end(&wall, 1.0, 3.0, 0.0);
    assert_eq!(foot.outcome, FreeOutcome::Foot);
    assert_relative_eq!(foot.height, 0.0, epsilon = 1.1e-9);
    let skewed = in_pieces(Turn::Left);
    let edge = end(&skewed, 1.5, 9.5, -0.2);
    assert_eq!(edge.outcome, FreeOutcome::Edge);
    assert_relative_eq!(edge.station, skewed.end_station(edge.height), epsilon = 1e-11);
    // Straight up the fall line of a plane there is nothing across: it slows down and stands.
    let stalled = end(&plane(1.0, 0.0), 0.5, 5.0, FRAC_PI_2);
    assert_eq!(stalled.outcome, FreeOutcome::Stalled);
    // Up a grade of one in two it comes back.
    let back = end(&plane(0.6, 0.5), 3.0, 4.0, 0.9);
    assert_eq!(back.outcome, FreeOutcome::Start);
    assert!(back.heading.abs() > FRAC_PI_2);
}

#[test]
fn over_a_crest_it_leaves_the_surface() {
    // On a straight wall whose bank falls with the cube of the station, the panel drops away under the tyres.
    let plan = Plan::new(vec![Piece::Straight { length: 8.0 }], Turn::Left).unwrap();
    let rows = [0.0, 2.0, 4.0, 6.0, 8.0_f64].map(|s| (s, 0.9 - 0.0012 * s.powi(3)));
    let wall = Wall::new(plan, Bank::stations(&rows).unwrap(), 4.0).unwrap();
    let free = free(&wall, &Rider::default(), FreeEntry::new(2.5, 13.0).with_heading(0.3));
    assert_eq!(free.end().outcome, FreeOutcome::LeftSurface);
    let ride = ridden(free.line(), &Rider::default(), &Air::standard(), 13.0);
    assert!(matches!(ride.outcome, Outcome::Reached | Outcome::LeftSurface { .. }));
    assert_relative_eq!(*ride.samples.normal_load.last().unwrap(), 0.0, epsilon = 1e-8);
}

#[test]
fn a_line_that_turns_back_knows_no_side_on_which_the_panel_rises() {
    let rider = Rider::default();
    let back = free(&plane(0.6, 0.5), &rider, FreeEntry::new(3.0, 4.0).with_heading(0.9));
    assert_eq!(back.line().uphill(), Uphill::Nowhere);
    let on = free(&steepening(), &rider, FreeEntry::new(0.25, 8.0));
    assert_eq!(on.line().uphill(), Uphill::To(Turn::Right));
}

#[test]
fn a_line_that_does_not_reach_the_edge_says_so() {
    let rider = Rider::default();
    let wall = steepening();
    let free_line = free(&wall, &rider, FreeEntry::new(0.25, 8.0)).at_edge().unwrap();
    let line = free_line.line();
    let exit = line.frame(line.length()).position;
    let on = line.on_panel(line.length()).unwrap();
    assert_relative_eq!(exit, wall.edge(on.height), epsilon = 1e-11);
    let short = free(&wall, &rider, FreeEntry::new(1.0, 3.0)).at_edge().unwrap_err();
    assert_eq!(short.end().unwrap().outcome, FreeOutcome::Foot);
    let none = wall.free_line(&rider, &Air::standard(), &FreeEntry::new(0.0, 3.0)).unwrap_err();
    assert!(matches!(none, FreeError::EndsAtStart { end } if end.outcome == FreeOutcome::Foot));
}

#[test]
fn the_speed_that_leaves_at_a_height_is_found() {
    let (rider, air) = (Rider::default(), Air::standard());
    for wall in [steepening(), in_pieces(Turn::Right), steepening().with_hollow(7.0).unwrap()] {
        let mut before = 0.0;
        for leave in [0.4, 1.0, 1.6] {
            let aim = FreeAim::new(0.3, leave).with_heading(0.05);
            let speed = wall.free_speed(&rider, &air, &aim).unwrap();
            assert!(speed > before, "{leave}: {speed} after {before}");
            let entry = FreeEntry::new(0.3, speed).with_heading(0.05);
            let end = *wall.free_line(&rider, &air, &entry).unwrap().end();
            assert_eq!(end.outcome, FreeOutcome::Edge);
            assert_relative_eq!(end.height, leave, epsilon = 1e-7);
            before = speed;
        }
    }
    // On a level plane along it nobody climbs.
    let flat = plane(0.0, 0.0).free_speed(&frictionless(1.0), &air, &FreeAim::new(1.0, 2.0));
    assert_eq!(flat, Err(FreeError::OutOfReach { leave: 2.0 }));
    let off = steepening().free_speed(&rider, &air, &FreeAim::new(0.3, 2.5));
    assert!(matches!(off, Err(FreeError::Range(error)) if error.field == "leave"));
}

#[test]
fn wrong_entries_are_named() {
    let wall = steepening();
    let named = |entry: FreeEntry| match wall
        .free_line(&Rider::default(), &Air::standard(), &entry)
        .unwrap_err()
    {
        FreeError::Range(error) => error.field.into_owned(),
        other => other.to_string(),
    };
    for bad in [f64::NAN, f64::INFINITY, -0.1, 2.5] {
        assert_eq!(named(FreeEntry::new(bad, 8.0)), "enter");
    }
    for bad in [f64::NAN, f64::INFINITY, 0.0, -1.0, 101.0] {
        assert_eq!(named(FreeEntry::new(0.3, bad)), "speed");
    }
    for bad in [f64::NAN, f64::INFINITY, 1.6, -1.6] {
        assert_eq!(named(FreeEntry::new(0.3, 8.0).with_heading(bad)), "heading_deg");
    }
}

/// Frames have the derivatives of the curve, the third of the point included, within and between panels.
#[test]
fn frames_along_a_free_line_have_the_derivatives_of_the_curve() {
    let rider = Rider::default().with_wheel_inertia(0.2).unwrap();
    let free = free(&steepening(), &rider, FreeEntry::new(0.25, 8.0));
    let line = free.line();
    let h = 1e-3;
    for i in 1..40 {
        let station = line.length() * f64::from(i) / 40.0;
        let difference = |of: fn(&Frame) -> Vec3| {
            let at = |k: f64| of(&line.frame(station + k * h));
            (at(-2.0) - at(2.0) + (at(1.0) - at(-1.0)) * 8.0) / (12.0 * h)
        };
        let frame = line.frame(station);
        let close = |a: Vec3, b: Vec3| assert_relative_eq!(a, b, epsilon = 1e-8);
        close(difference(|f| f.position), frame.tangent);
        close(difference(|f| f.tangent), frame.curvature);
        close(difference(|f| f.curvature), frame.dcurvature);
        close(difference(|f| f.normal), frame.dnormal);
        close(difference(|f| f.dnormal), frame.ddnormal);
    }
}
