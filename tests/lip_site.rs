//! A site whose takeoff is a lip or a drop: what it must refuse, and how riders come over it.
#![allow(clippy::unwrap_used, reason = "a test that cannot make its site fails by panicking")]

#[path = "../benches/fixtures/hillside.rs"]
mod hillside;

use approx::assert_relative_eq;
use hillside::hillside;
use loamline::Rider;
use loamline::feature::{Drop, Lip};
use loamline::flags::{Flag, FlagOptions, FlagsWarning, Priors, Spot, TestRide, fit_flags};
use loamline::geometry::VerticalCurve;
use loamline::math::parallel::Crew;
use loamline::math::{Vec2, Vec3};
use loamline::ride::{Lean, Outcome};
use loamline::site::{Dist, Part, RiderClass, Site, Takeoff};

const PLACE: Vec3 = Vec3::new(1.0, 0.5, 0.0);

fn lip() -> Lip {
    let curve = VerticalCurve::arc(0.0, 5.0, 25_f64.to_radians()).unwrap();
    Lip::new(curve, 1.6).unwrap().placed(PLACE, 0.7).unwrap()
}

/// The hillside with another takeoff: each class leaves anywhere across it.
fn with(takeoff: impl Into<Takeoff>) -> Site {
    let mut site = hillside().unwrap();
    site.takeoff = takeoff.into();
    site.enter = 0.0;
    for class in &mut site.classes {
        class.leave = Dist::Uniform { low: -0.4, high: 0.4 };
        class.leave_per_speed = 0.0;
    }
    site
}

#[test]
fn the_run_in_ends_at_the_middle_of_the_lip_heading_over_it() {
    let site = with(lip());
    site.check().unwrap();
    let run_in = site.run_in(17.0).unwrap();
    let end = run_in.frame(run_in.length());
    assert_relative_eq!(end.position, PLACE, epsilon = 1e-12);
    assert_relative_eq!(end.tangent.y.atan2(end.tangent.x), 0.7, epsilon = 1e-12);
    let line = site.takeoff_line(0.3).unwrap();
    assert_relative_eq!(
        line.frame(line.length()).position,
        site.takeoff.edge(0.3),
        epsilon = 1e-12
    );
    let [right, left] = site.takeoff.edge_ends();
    assert_relative_eq!((left - right).norm(), 1.6, epsilon = 1e-12);
}

#[test]
fn everyone_who_has_the_speed_leaves_and_comes_down() {
    for takeoff in [
        Takeoff::from(lip()),
        lip().with_hip(0.4).unwrap().with_tilt(0.0, -0.2).unwrap().into(),
        Drop::new(3.0, 1.4, -0.05).unwrap().placed(PLACE, 0.7).unwrap().into(),
    ] {
        let passes = with(takeoff.clone()).passes(64, 1, &Crew::default()).unwrap();
        for pass in passes.members() {
            assert_eq!((pass.part, pass.outcome), (Part::Wall, Outcome::Reached), "{takeoff:?}");
            assert!(pass.leave.unwrap().abs() <= 0.4);
            let contact = pass.contact().unwrap();
            let beyond = (contact.mark - takeoff.edge(0.0)).xy();
            assert!(beyond.dot(&nalgebra::Vector2::new(0.7_f64.cos(), 0.7_f64.sin())) > 0.5);
        }
    }
}

#[test]
fn height_alone_gives_the_speed_wherever_a_tilted_lip_is_left() {
    let tilt = 0.2_f64;
    let mut site = with(lip().with_tilt(tilt, tilt).unwrap());
    let rider = Rider::default().with_com_height(0.0).unwrap();
    let rider = rider.with_crr(0.0).unwrap().with_cda(0.0).unwrap();
    let rider = rider.with_grip(f64::INFINITY).unwrap();
    site.classes = vec![RiderClass::alike("plain", rider, 17.0, 0.0)];
    let g = site.air.gravity();
    for leave in [-0.5, 0.0, 0.7] {
        let descent = site.ride(17.0, leave, "plain", Lean::Deck).unwrap();
        let run_in = site.run_in(17.0).unwrap();
        let drop = run_in.frame(0.0).position.z - (PLACE.z + leave * tilt.sin());
        let entry = descent.entry_speed.unwrap();
        assert_relative_eq!(0.5 * entry * entry, g * drop, max_relative = 1e-10);
        let fall = run_in.frame(0.0).position.z - site.takeoff.edge(leave).z;
        let exit = descent.last().exit_speed().unwrap();
        assert_relative_eq!(0.5 * exit * exit, g * fall, max_relative = 1e-10);
    }
}

#[test]
fn what_does_not_fit_the_lip_is_named() {
    let told = |site: Site| site.check().unwrap_err().to_string();
    let names = |message: String, part: &str| assert!(message.contains(part), "{message}");
    let mut site = with(lip());
    site.enter = 0.2;
    names(told(site), "enter = 0.2");
    let mut site = with(lip());
    site.classes[1].leave = Dist::Fixed(0.9);
    names(told(site), "class \"quick\": leave = 0.9 is out of range: from -0.8 to 0.8 m across");
    let tight = VerticalCurve::arc(0.0, 0.3, 0.4).unwrap();
    names(told(with(Lip::new(tight, 1.6).unwrap())), "wheel_radius = 0.35");
    assert!(with(lip()).ride(17.0, 0.9, "quick", Lean::Deck).is_err());
}

#[test]
fn over_a_level_lip_flags_leave_no_lean_open() {
    let site = with(lip());
    let values = Priors::of(&site, site.class("steady").unwrap(), false).unwrap().medians();
    let flag = |mark: Vec2| {
        let ride = TestRide::new("steady", 17.0).unwrap();
        Flag::new("first", ride).with_mark(Spot::At(mark), 0.3).unwrap()
    };
    let seen = flag(Vec2::zeros()).seen(&site, &values, Lean::Deck).unwrap();
    let flags = [flag(seen.mark.xy())];
    let found = fit_flags(&site, &flags, &FlagOptions::default(), &Crew::default()).unwrap();
    assert_eq!(found.leans.len(), 3);
    let told = &found.warnings;
    assert!(
        !told.iter().any(|warning| matches!(warning, FlagsWarning::LeanOpen { .. })),
        "{told:?}"
    );
}
