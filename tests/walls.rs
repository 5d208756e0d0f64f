//! Is a wall where it was drawn, and are the frames along its lines those of its surface?
#![allow(clippy::unwrap_used, reason = "a test fails by panicking")]

#[path = "checks/derivatives.rs"]
mod derivatives;

use approx::assert_relative_eq;
use derivatives::{assert_derivatives, assert_surface};
use loamline::feature::{Bank, Wall, WallError};
use loamline::geometry::{Piece, Plan, Turn, Uphill};
use loamline::math::Vec3;
use loamline::math::jet::{Jet, Jet3};
use std::f64::consts::FRAC_PI_2;

fn steepening(turn: Turn) -> Wall {
    let plan = Plan::arc(7.0, 55f64.to_radians(), turn).unwrap();
    let bank = Bank::linear(20f64.to_radians(), 68f64.to_radians()).unwrap();
    Wall::new(plan, bank, 2.4).unwrap().with_grade(-0.04).unwrap()
}

fn in_pieces() -> Wall {
    let pieces = vec![
        Piece::Straight { length: 1.5 },
        Piece::Clothoid { length: 2.0, radius_start: f64::INFINITY, radius_end: 6.0 },
        Piece::Arc { radius: 6.0, angle: 0.6 },
    ];
    let plan = Plan::new(pieces, Turn::Right).unwrap();
    let length = plan.length();
    let rows = [(0.0, 0.2), (0.3 * length, 0.5), (0.7 * length, 0.9), (length, 1.2)];
    let wall = Wall::new(plan, Bank::stations(&rows).unwrap(), 2.0).unwrap();
    let at = Vec3::new(3.0, -1.0, 0.5);
    wall.placed(at, 1.1).unwrap().with_grade(0.05).unwrap().with_end_skew(0.3).unwrap()
}

fn hollow() -> Wall {
    in_pieces().with_hollow(9.0).unwrap()
}

#[test]
fn frames_along_a_wall_have_the_derivatives_of_the_curve() {
    assert_derivatives(&steepening(Turn::Left).line(0.25, 1.6).unwrap());
    assert_derivatives(&in_pieces().line(0.3, 1.7).unwrap());
    let wall = in_pieces();
    let end = wall.end_station(1.5);
    let points = [(0.2, 0.1), (2.0, 0.4), (4.5, 1.2), (end, 1.5)];
    assert_derivatives(&wall.line_through(&points).unwrap());
    assert_derivatives(&hollow().line(0.3, 1.7).unwrap());
    assert_derivatives(&hollow().line_through(&points).unwrap());
}

#[test]
fn a_line_keeps_its_heights_and_leaves_at_the_edge() {
    let wall = in_pieces();
    let line = wall.line(0.3, 1.7).unwrap();
    let (start, end) = (line.frame(0.0), line.frame(line.length()));
    assert_relative_eq!(start.position, wall.surface(0.0, 0.3).point, epsilon = 1e-12);
    assert_relative_eq!(end.position, wall.edge(1.7), epsilon = 1e-12);
    assert_relative_eq!(
        end.normal,
        wall.surface(wall.end_station(1.7), 1.7).normal,
        epsilon = 1e-12
    );
    assert_eq!(line.uphill(), Uphill::To(Turn::Left));
}

#[test]
fn an_upright_wall_on_a_circle_is_a_cylinder() {
    for turn in [Turn::Left, Turn::Right] {
        let plan = Plan::arc(7.0, 1.0, turn).unwrap();
        let wall = Wall::new(plan, Bank::constant(FRAC_PI_2).unwrap(), 2.0).unwrap();
        let line = wall.line(0.5, 0.5).unwrap();
        assert_relative_eq!(line.length(), 7.0, epsilon = 1e-12);
        let frame = line.frame(3.0);
        assert_relative_eq!(frame.normal_curvature(), 1.0 / 7.0, epsilon = 1e-12);
        assert_relative_eq!(frame.position.z, 0.5, epsilon = 1e-12);
        let centre = Vec3::new(0.0, 7.0 * turn.sign(), 0.5);
        assert_relative_eq!(frame.position + frame.normal * 7.0, centre, epsilon = 1e-12);
    }
}

#[test]
fn left_and_right_are_mirror_images() {
    let [left, right] = [Turn::Left, Turn::Right].map(|t| steepening(t).line(0.25, 1.6).unwrap());
    for station in [0.0, 2.0, 5.0] {
        let (a, b) = (left.frame(station), right.frame(station));
        let mirror = |v: Vec3| Vec3::new(v.x, -v.y, v.z);
        assert_relative_eq!(mirror(a.position), b.position, epsilon = 1e-12);
        assert_relative_eq!(mirror(a.ddnormal), b.ddnormal, epsilon = 1e-12);
    }
}

#[test]
fn second_derivatives_of_the_surface_are_those_of_its_points() {
    for wall in [in_pieces(), hollow()] {
        assert_surface(|s, q| wall.surface(s, q), 4.2, 1.1);
        let mesh = wall.mesh(5, 3);
        assert_eq!(mesh.len(), 15);
        assert_relative_eq!(mesh[14], wall.edge(2.0), epsilon = 1e-12);
    }
}

#[test]
fn a_curve_on_the_panel_has_its_derivatives_whatever_its_variable() {
    let wall = hollow();
    let s = |t: f64| Jet::new(4.2 + 0.8 * t - 0.3 * t * t, 0.8 - 0.6 * t, -0.6, 0.0);
    let q = |t: f64| Jet::new(0.9 + 0.4 * t * t * t, 1.2 * t * t, 2.4 * t, 2.4);
    let at = |t: f64| wall.contact(s(t), q(t));
    let (t, h) = (0.3, 1e-3);
    let difference = |of: &dyn Fn(f64) -> Vec3| {
        let at = |k: f64| of(t + k * h);
        (at(-2.0) - at(2.0) + (at(1.0) - at(-1.0)) * 8.0) / (12.0 * h)
    };
    let third = |jet: &Jet3| Vec3::new(jet.x.d3(), jet.y.d3(), jet.z.d3());
    let close = |a: Vec3, b: Vec3| assert_relative_eq!(a, b, epsilon = 1e-9);
    close(difference(&|t| at(t).point.value()), at(t).point.d1());
    close(difference(&|t| at(t).point.d1()), at(t).point.d2());
    close(difference(&|t| at(t).point.d2()), third(&at(t).point));
    close(difference(&|t| at(t).normal.value()), at(t).normal.d1());
    close(difference(&|t| at(t).normal.d1()), at(t).normal.d2());
    let plain = wall.surface(s(t).value(), q(t).value());
    assert_relative_eq!(plain.point, at(t).point.value(), epsilon = 1e-13);
    assert_relative_eq!(plain.normal, at(t).normal.value(), epsilon = 1e-13);
}

#[test]
fn a_hollow_panel_on_a_circle_is_part_of_a_torus() {
    let (radius, bank, hollow) = (7.0, 0.3_f64, 2.5);
    for turn in [Turn::Left, Turn::Right] {
        let plan = Plan::arc(radius, 1.0, turn).unwrap();
        let wall = Wall::new(plan, Bank::constant(bank).unwrap(), 2.0).unwrap();
        let wall = wall.with_hollow(hollow).unwrap();
        // The tube's middle runs on a circle of its own about the turn's axis.
        let (out, up) = (radius - hollow * bank.sin(), hollow * bank.cos());
        for (s, q) in [(0.0, 0.0), (2.0, 0.7), (6.0, 2.0)] {
            let at = wall.surface(s, q);
            let from_axis = (at.point - Vec3::new(0.0, turn.sign() * radius, 0.0)).xy().norm();
            assert_relative_eq!((from_axis - out).hypot(at.point.z - up), hollow, epsilon = 1e-12);
            let rise = bank + q / hollow;
            assert_relative_eq!(at.dq.z, rise.sin(), epsilon = 1e-12);
            assert_relative_eq!(at.normal.z, rise.cos(), epsilon = 1e-12);
            assert_relative_eq!(at.dq.norm(), 1.0, epsilon = 1e-13);
            // Principal curvatures: of the tube, and round the axis by Meusnier.
            assert_relative_eq!(at.dqq.dot(&at.normal), hollow.recip(), epsilon = 1e-12);
            let round = at.dss.dot(&at.normal) / at.ds.norm_squared();
            assert_relative_eq!(round, rise.sin() / from_axis, epsilon = 1e-12);
        }
    }
}

#[test]
fn a_huge_hollow_radius_is_a_flat_panel_and_an_infinite_one_is_none() {
    let flat = in_pieces();
    let (s, q) = (4.2, 1.1);
    let nearly = flat.clone().with_hollow(1e9).unwrap().surface(s, q);
    assert_relative_eq!(nearly.point, flat.surface(s, q).point, epsilon = 1e-8);
    assert_relative_eq!(nearly.dss, flat.surface(s, q).dss, epsilon = 1e-8);
    assert_eq!(hollow().with_hollow(f64::INFINITY).unwrap(), flat);
    assert_eq!((flat.hollow_radius(), hollow().hollow_radius()), (None, Some(9.0)));
}

#[test]
fn a_wall_that_cannot_be_is_refused_by_the_name_of_what_is_wrong() {
    let plan = || Plan::arc(7.0, 1.0, Turn::Left).unwrap();
    let named = |error: WallError, field: &str| {
        assert!(error.to_string().contains(field), "{error} does not name {field}");
    };
    named(Bank::linear(0.2, 95f64.to_radians()).unwrap_err(), "bank_deg = 95");
    named(Bank::linear(f64::NAN, 0.5).unwrap_err(), "bank_deg");
    named(Bank::stations(&[(0.0, 0.1), (0.0, 0.2)]).unwrap_err(), "bank_deg");
    let bank = Bank::constant(0.5).unwrap();
    named(Wall::new(plan(), bank.clone(), 0.0).unwrap_err(), "width");
    let short = Bank::stations(&[(0.0, 0.1), (3.0, 0.2)]).unwrap();
    named(Wall::new(plan(), short, 2.0).unwrap_err(), "station 0 to 3");
    // The stations stand in range, the smooth ramp between them does not.
    let humped = Bank::stations(&[(0.0, 0.0), (2.0, 1.5), (5.0, 1.5), (7.0, 0.0)]).unwrap();
    named(Wall::new(plan(), humped, 2.0).unwrap_err(), "from 0 to 90");
    let wall = Wall::new(plan(), bank, 2.0).unwrap();
    named(wall.clone().with_grade(f64::INFINITY).unwrap_err(), "grade");
    named(wall.clone().with_end_skew(1.2).unwrap_err(), "end_skew_deg");
    named(wall.clone().placed(Vec3::new(0.0, f64::NAN, 0.0), 0.0).unwrap_err(), "position");
    for bad in [0.0, -1.0, f64::NAN, f64::NEG_INFINITY] {
        named(wall.clone().with_hollow(bad).unwrap_err(), "hollow_radius");
    }
    // 2 m at a radius of 1.5 m are 76 degrees more than the 29 at the foot.
    named(wall.clone().with_hollow(1.5).unwrap_err(), "hollow_radius = 1.5 is too small");
    named(wall.line(-0.1, 1.0).unwrap_err(), "enter");
    named(wall.line(0.1, 2.1).unwrap_err(), "leave");
    named(wall.line(0.1, f64::NAN).unwrap_err(), "leave");
    named(wall.line_through(&[(0.0, 0.5), (6.0, 0.5)]).unwrap_err(), "the end edge is at 7");
    named(wall.line_through(&[(0.0, 0.5), (3.0, 2.5), (7.0, 0.5)]).unwrap_err(), "up the panel");
}
