//! A whole site: what it must refuse, and how riders come down it.
#![allow(clippy::unwrap_used, reason = "a test that cannot make its site fails by panicking")]

#[path = "../benches/fixtures/hillside.rs"]
mod hillside;

use approx::assert_relative_eq;
use hillside::hillside;
use loamline::Rider;
use loamline::math::Vec3;
use loamline::ride::{Lean, Outcome};
use loamline::site::{Dist, Part, RiderClass, Site, SiteError, Wind};

/// One thing about a site changed.
type Change = fn(&mut Site);

/// What the site says when one thing about it is changed.
fn told(change: impl FnOnce(&mut Site)) -> String {
    let mut site = hillside().unwrap();
    change(&mut site);
    site.check().map_or_else(|error| error.to_string(), |()| "nothing".into())
}

#[test]
fn weights_must_add_up_and_the_error_says_to_what() {
    assert_eq!(told(|_| ()), "nothing");
    assert_eq!(told(|site| site.classes[0].weight += 5e-7), "nothing");
    let message = told(|site| site.classes[0].weight = 0.5);
    assert_eq!(message, "the weights of the rider classes add up to 0.8, not to 1");
}

#[test]
fn every_wrong_value_is_named() {
    let cases: [(Change, &str); 12] = [
        (|site| site.classes.clear(), "no class of riders"),
        (|site| site.classes[1].name = "steady".into(), "\"steady\""),
        (|site| site.marks[1].name = "stump".into(), "\"stump\""),
        (|site| site.marks[0].name = String::new(), "mark number 1 has no name"),
        (|site| site.marks[0].position.y = f64::NAN, "mark.position"),
        (|site| site.enter = 2.5, "enter = 2.5"),
        (|site| site.fall_limit = 0.0, "fall_limit"),
        (|site| site.barrow_count = 0, "barrow_count"),
        (|site| site.landing.slope.low = -0.1, "slope.low"),
        (|site| site.classes[1].start = Dist::Fixed(25.0), "class \"quick\": start = 25"),
        (|site| site.classes[0].leave = Dist::Fixed(2.5), "class \"steady\": leave = 2.5"),
        (
            |site| site.wind = Some(Wind { heading: 0.0, speed: Dist::Fixed(f64::NAN) }),
            "wind.speed",
        ),
    ];
    for (change, part) in cases {
        let message = told(change);
        assert!(message.contains(part), "{message}");
    }
}

#[test]
fn an_unknown_class_is_told_the_known_ones() {
    let error = hillside().unwrap().ride(17.0, 1.3, "brave", Lean::Deck).unwrap_err();
    let known = vec!["steady".to_owned(), "quick".to_owned()];
    assert_eq!(error, SiteError::NoSuchClass { name: "brave".into(), known });
}

#[test]
fn the_run_in_ends_where_the_wall_begins() {
    let mut site = hillside().unwrap();
    let position = Vec3::new(3.0, -2.0, 1.0);
    site.takeoff = site.takeoff.as_wall().unwrap().clone().placed(position, 0.7).unwrap().into();
    let run_in = site.run_in(17.0).unwrap();
    let (end, entry) = (run_in.frame(run_in.length()), site.takeoff_line(1.5).unwrap().frame(0.0));
    assert_relative_eq!(end.position, entry.position, epsilon = 1e-12);
    let across = end.tangent.x * entry.tangent.y - end.tangent.y * entry.tangent.x;
    assert!(across.abs() < 1e-12);
    let start = run_in.frame(0.0).position - end.position;
    assert_relative_eq!(start.xy().norm(), 17.0, epsilon = 1e-10);
    assert!(site.run_in(24.5).is_err() && site.run_in(0.0).is_err());
}

#[test]
fn without_friction_height_alone_gives_the_speed() {
    let mut site = hillside().unwrap();
    let rider = Rider::default().with_cda(0.0).unwrap().with_crr(0.0).unwrap();
    let rider = rider.with_grip(f64::INFINITY).unwrap();
    site.classes = vec![RiderClass::alike("ghost", rider.clone(), 17.0, 1.3)];
    for (start, leave) in [(15.0, 0.8), (17.0, 1.3), (21.0, 2.2)] {
        let descent = site.ride(start, leave, "ghost", Lean::Deck).unwrap();
        let exit = descent.last().exit.unwrap();
        let at_rest = site.run_in(start).unwrap().frame(0.0);
        let height = (at_rest.position + at_rest.normal * rider.com_height()).z;
        assert_relative_eq!(exit.energy, 9.80665 * (height - exit.centre.z), epsilon = 1e-9);
        assert_eq!(descent.ended(), (Part::Wall, Outcome::Reached));
    }
}

#[test]
fn farther_up_the_hill_is_faster_at_the_edge() {
    let site = hillside().unwrap();
    let speed =
        |start| site.ride(start, 1.3, "steady", Lean::Deck).unwrap().last().exit_speed().unwrap();
    assert!(speed(14.0) < speed(17.0) && speed(17.0) < speed(20.0));
}

#[test]
fn what_goes_wrong_is_told_by_part() {
    let mut site = hillside().unwrap();
    let (part, outcome) = site.ride(2.0, 1.3, "steady", Lean::Deck).unwrap().ended();
    assert!(part == Part::Wall && matches!(outcome, Outcome::Stalled { .. }), "{outcome}");
    let (part, outcome) = site.ride(12.0, 2.0, "steady", Lean::Deck).unwrap().ended();
    assert!(part == Part::Wall && matches!(outcome, Outcome::Slid(_)), "{outcome}");
    site.classes[0].brake = Dist::Fixed(5.0);
    let descent = site.ride(17.0, 1.3, "steady", Lean::Deck).unwrap();
    assert_eq!(descent.ended(), (Part::RunIn, Outcome::DidNotStart));
    assert!(descent.wall.is_none() && descent.entry_speed.is_none());
}

#[test]
fn the_ground_goes_through_the_surveyed_points() {
    let site = hillside().unwrap();
    let ground = site.ground().unwrap();
    for point in &site.survey {
        assert_relative_eq!(ground.height(point.x, point.y).unwrap(), point.z, epsilon = 1e-12);
    }
}

#[test]
fn a_site_survives_json() {
    let site = hillside().unwrap();
    let text = serde_json::to_string(&site).unwrap();
    assert!(serde_json::from_str::<Site>(&text).unwrap() == site);
}
