//! Are lips, drops and entrances where they were drawn, and do riders leave them as they must?
#![allow(clippy::unwrap_used, reason = "a test fails by panicking")]

#[path = "checks/derivatives.rs"]
mod derivatives;

use approx::assert_relative_eq;
use derivatives::{assert_derivatives, assert_surface};
use loamline::feature::{Drop, Entrance, EntranceShape, Lip, RampError};
use loamline::geometry::{Bend, GeometryError, Piece, Turn, Uphill, VerticalCurve};
use loamline::math::Vec3;
use loamline::ride::{RideError, RideOptions};
use loamline::rider::Inertia;
use loamline::{Air, Rider};
use std::f64::consts::{FRAC_PI_2, FRAC_PI_4};

const G: f64 = 9.80665;

fn deg(angle: f64) -> f64 {
    angle.to_radians()
}

fn arc(radius: f64, end_deg: f64) -> Lip {
    Lip::new(VerticalCurve::arc(0.0, radius, deg(end_deg)).unwrap(), 1.6).unwrap()
}

/// A lip with every kind of piece, off the origin.
fn in_pieces() -> Lip {
    let pieces = vec![
        (Bend::Up, Piece::Clothoid { length: 1.2, radius_start: f64::INFINITY, radius_end: 4.0 }),
        (Bend::Up, Piece::Arc { radius: 4.0, angle: 0.4 }),
        (Bend::Up, Piece::Straight { length: 0.6 }),
        (Bend::Down, Piece::Arc { radius: 9.0, angle: 0.05 }),
    ];
    let lip = Lip::new(VerticalCurve::new(-0.1, pieces).unwrap(), 1.8).unwrap();
    lip.placed(Vec3::new(2.0, -1.0, 0.3), 0.7).unwrap()
}

fn frictionless(com_height: f64) -> Rider {
    let rider = Rider::default().with_crr(0.0).unwrap().with_cda(0.0).unwrap();
    rider.with_com_height(com_height).unwrap()
}

fn heading(angle: f64) -> Vec3 {
    Vec3::new(angle.cos(), angle.sin(), 0.0)
}

#[test]
fn an_arc_has_the_height_and_length_of_its_circle() {
    for (radius, end_deg) in [(4.0, 40.0), (2.5, 65.0), (1.5, 90.0)] {
        let lip = arc(radius, end_deg);
        assert_relative_eq!(lip.end_angle(), deg(end_deg), epsilon = 1e-14);
        assert_relative_eq!(lip.height(), radius * (1.0 - deg(end_deg).cos()), epsilon = 1e-14);
        assert_relative_eq!(lip.length(), radius * deg(end_deg), epsilon = 1e-14);
        let edge = Vec3::new(radius * deg(end_deg).sin(), 0.5, lip.height());
        assert_relative_eq!(lip.edge(0.5), edge, epsilon = 1e-14);
    }
}

#[test]
fn an_arc_from_its_height_is_the_arc_that_has_it() {
    for (grade, height, end_deg) in [(0.0, 0.9, 40.0), (-0.3, 0.5, 35.0), (0.2, 1e-6, 12.0)] {
        let curve = VerticalCurve::arc_of_height(grade, height, deg(end_deg)).unwrap();
        assert_relative_eq!(curve.height(), height, max_relative = 1e-10);
        assert_relative_eq!(curve.end_angle(), deg(end_deg), epsilon = 1e-14);
        assert_relative_eq!(curve.at(0, 0.0).angle.value().tan(), grade, epsilon = 1e-14);
    }
    // From a fall of 17 degrees an arc to 15 degrees ends lower than it began.
    let error = VerticalCurve::arc_of_height(-0.3, 0.5, deg(15.0)).unwrap_err();
    assert!(error.to_string().contains("end_angle_deg"), "{error}");
}

/// A clothoid from a straight turns through its length over twice its end radius.
#[test]
fn a_clothoid_lip_turns_its_length_over_twice_its_radius() {
    let (radius, length) = (5.5, 6.7);
    let piece = Piece::Clothoid { length, radius_start: f64::INFINITY, radius_end: radius };
    let curve = VerticalCurve::new(0.0, vec![(Bend::Up, piece)]).unwrap();
    assert_relative_eq!(curve.end_angle(), length / (2.0 * radius), epsilon = 1e-14);
    assert_relative_eq!(curve.tightest_hollow(length).unwrap(), radius, max_relative = 1e-14);
    // The first terms of the series of Fresnel's integrals.
    let turn = length / (2.0 * radius);
    let rise = turn / 3.0 - turn.powi(3) / 42.0 + turn.powi(5) / 1320.0 - turn.powi(7) / 75600.0
        + turn.powi(9) / 6_894_720.0;
    assert_relative_eq!(curve.height(), length * rise, max_relative = 1e-10);
}

#[test]
fn lines_have_the_derivatives_of_their_curve() {
    let turned = in_pieces().with_hip(0.5).unwrap().with_tilt(0.0, 0.3).unwrap();
    for lip in [in_pieces(), turned.clone(), turned.with_end_skew(-0.4).unwrap()] {
        for offset in [0.0, -0.7, 0.9] {
            let line = lip.line(offset).unwrap();
            assert_derivatives(&line);
            assert_relative_eq!(line.frame(0.0).position, lip.surface(0.0, offset).point);
            let end = line.frame(line.length());
            assert_relative_eq!(end.position, lip.edge(offset), epsilon = 1e-12);
        }
        assert_surface(|s, y| lip.surface(s, y), 1.9, 0.4);
    }
}

#[test]
fn a_skewed_edge_leaves_part_of_the_last_piece_or_goes_on_with_it() {
    let lip = arc(4.0, 40.0).with_end_skew(deg(30.0)).unwrap();
    for offset in [-0.8, 0.3, 0.8] {
        let length = 4.0 * deg(40.0) + offset * deg(30.0).tan();
        let line = lip.line(offset).unwrap();
        assert_relative_eq!(line.length(), length, epsilon = 1e-12);
        let tangent = line.frame(length).tangent;
        assert_relative_eq!(tangent.z.asin(), length / 4.0, epsilon = 1e-12);
    }
    let mesh = lip.mesh(9, 5);
    assert_relative_eq!(mesh[40], lip.edge(-0.8), epsilon = 1e-12);
    assert_relative_eq!(mesh[44], lip.edge(0.8), epsilon = 1e-12);
}

#[test]
fn without_friction_energy_stays_over_any_lip() {
    let lip = in_pieces().with_hip(-0.4).unwrap().with_tilt(-0.1, 0.3).unwrap();
    let rider = frictionless(1.0).with_wheel_inertia(0.2).unwrap();
    for offset in [0.0, 0.8] {
        let line = lip.line(offset).unwrap();
        let ride = line.ride(&rider, &Air::standard(), &RideOptions::new(9.0)).unwrap();
        let start = line.frame(0.0);
        let swing = (start.tangent + start.dnormal).norm_squared() + rider.rotating_factor();
        let total = 0.5 * swing * 81.0 + G * (start.position + start.normal).z;
        let exit = ride.reached().unwrap();
        assert_relative_eq!(exit.energy + G * exit.centre.z, total, max_relative = 1e-12);
    }
}

#[test]
fn a_point_leaves_a_lip_at_the_lips_own_angle() {
    let lip = arc(4.0, 40.0);
    let line = lip.line(0.0).unwrap();
    let ride = line.ride(&frictionless(0.0), &Air::standard(), &RideOptions::new(9.0)).unwrap();
    let launch = ride.launch(0.0).unwrap();
    let angle = launch.velocity.z.atan2(launch.velocity.x);
    assert_relative_eq!(angle, lip.end_angle(), epsilon = 1e-12);
    let speed = (81.0 - 2.0 * G * lip.height()).sqrt();
    assert_relative_eq!(launch.velocity.norm(), speed, max_relative = 1e-12);
    let load = deg(40.0).cos() + speed * speed / (G * 4.0);
    assert_relative_eq!(*ride.samples.normal_load.last().unwrap(), load, max_relative = 1e-10);
    // The centre of mass over an arc goes along with it, on a smaller circle.
    let high = line.ride(&frictionless(1.0), &Air::standard(), &RideOptions::new(9.0)).unwrap();
    let launch = high.launch(0.0).unwrap();
    let angle = launch.velocity.z.atan2(launch.velocity.x);
    assert_relative_eq!(angle, lip.end_angle(), epsilon = 1e-12);
    let exit = high.reached().unwrap();
    assert_relative_eq!(launch.velocity.norm(), exit.speed * 0.75, max_relative = 1e-12);
}

/// Whose wheels leave at once leaves a lip that is still curved with the turning of its arc, `v / R`, nose up; off a straight
/// end with none. Derived; that curvature at the edge turns people on snow over backwards is J. A. `McNeil`'s (2012, "The
/// inverting effect of curvature in winter terrain park jump takeoffs").
#[test]
fn a_lip_still_curved_at_its_edge_turns_whom_it_leaves_at_once_backwards() {
    let leaves = |pieces: Vec<(Bend, Piece)>| {
        let curve = VerticalCurve::new(0.0, pieces).unwrap();
        let line = Lip::new(curve, 1.0).unwrap().line(0.0).unwrap();
        // Hardly any time passes between the wheels' leaving: what is left is the lip's own turning.
        let short = frictionless(1.0).with_wheelbase(1e-5).unwrap();
        let ride = line.ride(&short, &Air::standard(), &RideOptions::new(11.0)).unwrap();
        (ride.exit_speed().unwrap(), ride.launch(0.0).unwrap())
    };
    let arc = Piece::Arc { radius: 8.0, angle: 0.5 };
    let (speed, launch) = leaves(vec![(Bend::Up, arc)]);
    let attitude = launch.attitude.unwrap();
    let turning = attitude.l * (-speed / 8.0);
    assert_relative_eq!(launch.angular_velocity, turning, epsilon = 1e-6);
    let straight = Piece::Straight { length: 1.0 };
    let (_, launch) = leaves(vec![(Bend::Up, arc), (Bend::Up, straight)]);
    assert!(launch.angular_velocity.norm() < 1e-6);
}

/// Derived: the rear wheel, pushed on by the curve, takes back `b_r b / (k² + b_r²)` of the turning, which is more than all of
/// it where `k² < b_r b_f`. So a rider who keeps still goes nose down off a curved edge, and more so than off a straight
/// one, unless the mass lies far out.
#[test]
fn between_the_wheels_a_curved_edge_pitches_forwards_whose_mass_lies_close() {
    // Both leave the edge at the same speed.
    let (arc, length) = (Piece::Arc { radius: 8.0, angle: 0.5 }, 1.5);
    let rates = |rider: &Rider| {
        [0.0, length].map(|straight| {
            let mut pieces = vec![(Bend::Up, arc)];
            if straight > 0.0 {
                pieces.push((Bend::Up, Piece::Straight { length: straight }));
            }
            let line = Lip::new(VerticalCurve::new(0.0, pieces).unwrap(), 1.0).unwrap().line(0.0);
            let lead = 1.0 - rider.com_height() / 8.0;
            let leaves = if straight > 0.0 { 11.0 } else { 11.0 * lead };
            let climbed = lead * 8.0 * (1.0 - 0.5_f64.cos()) + straight * 0.5_f64.sin();
            let options = RideOptions::new((leaves * leaves + 2.0 * G * climbed).sqrt() / lead);
            let ride = line.unwrap().ride(rider, &Air::standard(), &options).unwrap();
            assert_relative_eq!(ride.exit_speed().unwrap(), 11.0, max_relative = 1e-12);
            ride.launch(0.0).unwrap().pitch.unwrap().rate
        })
    };
    let usual = frictionless(1.0);
    assert!(usual.inertia().pitch() / usual.mass() < 0.48 * 0.72);
    let [curved, straight] = rates(&usual);
    assert!(curved > straight + 0.1 && straight > 0.5, "{curved} {straight}");
    // Eight times as far out, and the lip turns back more than gravity turns down.
    let far_out = usual.with_inertia(Inertia::new(90.0, 150.0, 90.0).unwrap());
    let [curved, straight] = rates(&far_out);
    assert!(curved < -0.2 && straight > 0.1, "{curved} {straight}");
}

#[test]
fn a_hip_is_left_straight_on_with_less_rise_and_the_surface_leaning() {
    for hip in [deg(35.0), deg(-35.0)] {
        let lip = arc(4.0, 40.0).placed(Vec3::new(1.0, 2.0, 3.0), 0.6).unwrap();
        let lip = lip.with_hip(hip).unwrap();
        for offset in [-0.8, 0.0, 0.5] {
            let line = lip.line(offset).unwrap();
            let rider = frictionless(0.0).with_grip(f64::INFINITY).unwrap();
            let ride = line.ride(&rider, &Air::standard(), &RideOptions::new(9.0)).unwrap();
            let velocity = ride.launch(0.0).unwrap().velocity;
            let rise = deg(40.0).tan() * hip.cos();
            let wanted = (heading(0.6) + Vec3::new(0.0, 0.0, rise)).normalize();
            assert_relative_eq!(velocity.normalize(), wanted, epsilon = 1e-12);
            // The surface's fall line is the lip's own direction.
            let normal = line.frame(line.length()).normal;
            let fall = heading(0.6 + hip) * -deg(40.0).sin();
            let up = fall + Vec3::new(0.0, 0.0, deg(40.0).cos());
            assert_relative_eq!(normal, up, epsilon = 1e-12);
            let left = Vec3::new(-(0.6_f64.sin()), 0.6_f64.cos(), 0.0);
            let from_middle = line.frame(0.0).position - lip.position();
            assert_relative_eq!(from_middle.dot(&left), offset, epsilon = 1e-12);
        }
        let side = if hip > 0.0 { Turn::Left } else { Turn::Right };
        assert_eq!(lip.line(0.0).unwrap().uphill(), Uphill::To(side));
    }
    assert_eq!(arc(4.0, 40.0).line(0.0).unwrap().uphill(), Uphill::Nowhere);
}

#[test]
fn a_tilt_banks_the_surface_by_its_angle_across() {
    let lip = arc(4.0, 40.0).with_tilt(0.0, deg(20.0)).unwrap();
    for (share, tilt) in [(0.0, 0.0), (0.5, 10.0), (1.0, 20.0)] {
        let at = lip.surface(share * lip.length(), 0.3);
        assert_relative_eq!(at.dq.z.asin(), deg(tilt), epsilon = 1e-13);
        assert_relative_eq!(at.dq.norm(), 1.0, epsilon = 1e-13);
    }
    let line = lip.line(0.0).unwrap();
    assert_eq!(line.uphill(), Uphill::To(Turn::Left));
    // Thrown towards the low side: the bike stands square to the surface, the rider's head to the right.
    let ride = line.ride(&frictionless(1.0), &Air::standard(), &RideOptions::new(8.0)).unwrap();
    let launch = ride.launch(0.0).unwrap();
    assert!(launch.attitude.unwrap().u.y < -0.2 && launch.velocity.y < -0.1);
    assert!(launch.angular_velocity.dot(&launch.attitude.unwrap().t) > 0.1);
}

#[test]
fn a_drop_is_left_level_or_at_its_grade() {
    let drop = Drop::new(3.0, 1.2, -0.1).unwrap().placed(Vec3::new(0.0, 0.0, 1.5), FRAC_PI_2);
    let drop = drop.unwrap().with_end_skew(deg(20.0)).unwrap();
    let slope = (-0.1_f64).atan();
    for offset in [-0.6, 0.0, 0.6] {
        let line = drop.line(offset).unwrap();
        let length = 3.0 + offset * deg(20.0).tan();
        assert_relative_eq!(line.length(), length, epsilon = 1e-13);
        let edge = Vec3::new(-offset, length * slope.cos(), 1.5 + length * slope.sin());
        assert_relative_eq!(drop.edge(offset), edge, epsilon = 1e-13);
        let ride = line.ride(&frictionless(1.0), &Air::standard(), &RideOptions::new(5.0)).unwrap();
        let velocity = ride.launch(0.0).unwrap().velocity;
        assert_relative_eq!(velocity.z / velocity.y, -0.1, epsilon = 1e-12);
        let normal = ride.samples.normal_load[0];
        assert_relative_eq!(normal, slope.cos(), max_relative = 1e-12);
    }
    assert_eq!(drop.mesh(2, 3).len(), 6);
    let bad = Drop::new(0.0, 1.0, 0.0).unwrap_err();
    assert!(bad.to_string().contains("length = 0"), "{bad}");
    assert!(Drop::new(1.0, 3.0, 0.0).unwrap().with_end_skew(deg(50.0)).is_err());
}

fn entrance() -> EntranceShape {
    EntranceShape {
        height: 0.9,
        trail_grade: -0.05,
        ramp_grade: 0.35,
        deck_grade: 0.02,
        sag_radius: 4.0,
        crest_radius: 3.0,
    }
}

#[test]
fn an_entrance_comes_up_to_its_deck() {
    let shape = entrance();
    let entrance = Entrance::new(shape, 1.4).unwrap();
    let curve = entrance.curve();
    assert_relative_eq!(curve.height(), 0.9, epsilon = 1e-14);
    assert_relative_eq!(curve.end_angle().tan(), 0.02, epsilon = 1e-14);
    assert_eq!(curve.pieces().len(), 3);
    let middle = curve.pieces()[0].1.length() + 0.5 * curve.pieces()[1].1.length();
    assert_relative_eq!(curve.at(1, middle).angle.value().tan(), 0.35, epsilon = 1e-14);
    let line = entrance.line(0.4).unwrap();
    assert_derivatives(&line);
    assert_relative_eq!(line.length(), entrance.length(), epsilon = 1e-12);
    assert_relative_eq!(entrance.edge(0.0), Vec3::new(entrance.run(), 0.0, 0.9), epsilon = 1e-13);
    let low = Entrance::new(EntranceShape { height: 0.1, ..shape }, 1.4).unwrap_err();
    assert!(matches!(low, RampError::TooLow { height: 0.1, needed } if needed > 0.3), "{low}");
    // As high as its curves alone: no straight between them.
    let Err(RampError::TooLow { needed, .. }) =
        Entrance::new(EntranceShape { height: 0.1, ..shape }, 1.4)
    else {
        unreachable!("too low for its curves");
    };
    let none = Entrance::new(EntranceShape { height: needed, ..shape }, 1.4).unwrap();
    assert_eq!(none.curve().pieces().len(), 2);
}

#[test]
fn what_cannot_be_is_refused_by_the_name_of_what_is_wrong() {
    let named = |error: RampError, words: &str| {
        assert!(error.to_string().contains(words), "{error} does not say {words}");
    };
    let curve = |radius, end| VerticalCurve::arc(0.0, radius, end);
    for bad in [0.0, -2.0, f64::NAN, f64::INFINITY] {
        named(curve(bad, FRAC_PI_4).unwrap_err().into(), "radius");
        named(Lip::new(curve(2.0, FRAC_PI_4).unwrap(), bad).unwrap_err(), "width");
        named(
            Entrance::new(EntranceShape { sag_radius: bad, ..entrance() }, 1.0).unwrap_err(),
            "sag_radius",
        );
        named(
            Entrance::new(EntranceShape { height: bad, ..entrance() }, 1.0).unwrap_err(),
            "height",
        );
    }
    for bad in [0.0, -0.1, 1.6, f64::NAN] {
        named(curve(2.0, bad).unwrap_err().into(), "end_angle_deg");
    }
    named(VerticalCurve::new(f64::NAN, vec![]).unwrap_err().into(), "grade");
    assert_eq!(VerticalCurve::new(0.0, vec![]), Err(GeometryError::NoPieces));
    let over = (Bend::Up, Piece::Arc { radius: 2.0, angle: 1.7 });
    let past = VerticalCurve::new(0.0, vec![over]).unwrap_err();
    assert!(matches!(past, GeometryError::PastVertical { station, .. } if station > 3.0));
    // A skewed edge goes on round the arc, on its left past vertical.
    named(arc(1.5, 85.0).with_end_skew(deg(45.0)).unwrap_err(), "vertical");
    let lip = || arc(3.0, 40.0);
    named(lip().with_hip(1.2).unwrap_err(), "hip_deg");
    named(lip().with_tilt(0.0, f64::NAN).unwrap_err(), "tilt_deg");
    named(lip().with_end_skew(1.2).unwrap_err(), "end_skew_deg");
    named(lip().placed(Vec3::new(0.0, f64::NAN, 0.0), 0.0).unwrap_err(), "position");
    named(lip().placed(Vec3::zeros(), f64::INFINITY).unwrap_err(), "heading_deg");
    named(lip().line(0.9).unwrap_err(), "offset");
    named(lip().line(f64::NAN).unwrap_err(), "offset");
    let shape = EntranceShape { ramp_grade: 0.02, ..entrance() };
    named(Entrance::new(shape, 1.0).unwrap_err(), "ramp_grade = 0.02");
}

#[test]
fn a_lip_too_tight_for_wheels_or_for_the_model_is_told_with_both_numbers() {
    let rider = Rider::default();
    let tight = arc(0.3, 40.0);
    let error = tight.check_rider(&rider).unwrap_err();
    assert_eq!(error, RampError::TighterThanWheel { radius: 0.3, wheel_radius: 0.35 });
    assert_eq!(arc(0.4, 40.0).check_rider(&rider), Ok(()));
    assert_eq!(Entrance::new(entrance(), 1.0).unwrap().check_rider(&rider), Ok(()));
    // Twice the height of the centre of mass is the tightest that the ride takes.
    let ride = |radius: f64| {
        let line = arc(radius, 40.0).line(0.0).unwrap();
        line.ride(&rider, &Air::standard(), &RideOptions::new(8.0))
    };
    assert!(ride(2.0).is_ok());
    assert!(matches!(
        ride(1.9),
        Err(RideError::TooTight { radius, com_height, .. })
            if (radius - 1.9).abs() < 1e-9 && (com_height - rider.com_height()).abs() < 1e-12
    ));
}

#[test]
fn what_was_built_comes_back_from_what_is_written() {
    let lip = in_pieces().with_hip(0.5).unwrap().with_tilt(0.0, 0.3).unwrap();
    let json = serde_json::to_string(&arc(3.0, 50.0).with_hip(0.2).unwrap()).unwrap();
    assert_eq!(serde_json::from_str::<Lip>(&json).unwrap(), arc(3.0, 50.0).with_hip(0.2).unwrap());
    assert!(serde_json::from_str::<Lip>(&json.replace("\"width\":1.6", "\"width\":-1")).is_err());
    let drop = Drop::new(2.0, 1.0, 0.1).unwrap();
    let text = serde_json::to_string(&drop).unwrap();
    assert_eq!(serde_json::from_str::<Drop>(&text).unwrap(), drop);
    let ramp = Entrance::new(entrance(), 1.0).unwrap().placed(lip.position(), 1.0).unwrap();
    let text = serde_json::to_string(&ramp).unwrap();
    assert_eq!(serde_json::from_str::<Entrance>(&text).unwrap(), ramp);
}
