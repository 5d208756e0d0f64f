use super::*;
use crate::launch::Attitude;
use crate::math::Vec2;
use std::f64::consts::FRAC_PI_2;

fn launch() -> Launch {
    Launch::by_hand(Vec3::new(0.0, 0.0, 2.4), Vec3::new(8.0, 1.0, 2.0)).unwrap()
}

fn plane(slope: f64) -> Ground {
    Ground::plane(Vec3::zeros(), slope, 0.0).unwrap()
}

#[test]
fn a_flight_onto_another_ground_is_the_flight_flown_there() {
    let (rider, air) = (Rider::default(), Air::standard());
    let short = launch().flight(&plane(-0.1), &rider, &air).unwrap();
    for slope in [-0.2, 0.0, 0.3, 0.9] {
        let moved = short.on(&plane(slope)).unwrap();
        let flown = launch().flight(&plane(slope), &rider, &air).unwrap();
        assert!((moved.time() - flown.time()).abs() < 1e-11, "slope {slope}");
        assert!((moved.path(9)[8] - flown.path(9)[8]).norm() < 1e-9);
        assert!(moved.flight_path().duration() >= moved.time());
    }
}

#[test]
fn lean_is_measured_against_the_nearest_ground() {
    let mut launch = launch();
    let along = |u: Vec3| Some(Attitude { t: Vec3::x(), l: Vec3::y(), u });
    let lean = |launch: &Launch, slope: f64| {
        launch.reach(&plane(slope), 1.0, FlightOptions::default()).unwrap().lean()
    };
    assert!(lean(&launch, 0.4).abs() < 1e-15);
    launch.attitude = along(Vec3::z());
    assert!((lean(&launch, 0.4) - 0.4).abs() < 1e-14);
    launch.attitude = along(-Vec3::z());
    assert!((lean(&launch, 0.4) - FRAC_PI_2).abs() < 1e-15);
    launch.attitude = along(Vec3::new(0.0, f64::NAN, 1.0));
    assert!(launch.reach(&plane(0.0), 1.0, FlightOptions::default()).is_err());
}

#[test]
fn a_flight_tells_its_way() {
    let (rider, air) = (Rider::default(), Air::standard());
    let flight = launch().flight(&plane(0.0), &rider, &air).unwrap();
    let path = flight.path(200);
    assert_eq!((path.len(), path[0]), (200, launch().position));
    assert!((path[199] - flight.end().touch().unwrap().position).norm() < 1e-12);
    let apex = flight.apex();
    assert!(path.iter().all(|c| c.z <= apex.position.z + 1e-12));
    assert!(apex.velocity.z.abs() < 1e-10 && flight.ledger().residual().abs() < 1e-9);
    assert!(flight.ledger().drag > 0.0);
    let momentum = flight.momentum();
    assert!(momentum.residual().norm() < 1e-10 && momentum.drag.x < 0.0);
    let said = flight.explain();
    assert!(
        said.inputs.iter().any(|input| input.name == "k") && said.to_string().contains("certify")
    );
    assert_eq!(flight.path(1), [launch().position]);
    assert!(flight.path(0).is_empty());
}

#[test]
fn wrong_numbers_are_named() {
    let (rider, air) = (Rider::default(), Air::standard());
    let mut broken = launch();
    broken.velocity.y = f64::NAN;
    let error = broken.flight(&plane(0.0), &rider, &air).unwrap_err();
    assert!(matches!(&error, FlightError::Value(value) if value.field == "velocity.y"));
    let options = FlightOptions { righting_rate: -1.0 };
    assert!(launch().flight_with(&plane(0.0), &rider, &air, options).is_err());
    assert!(launch().fly_free(&rider, &air, f64::INFINITY).is_err());
    assert!(launch().fly_free(&rider, &air, 2.0).unwrap().duration() >= 2.0);
}

#[test]
fn a_rider_who_cannot_clear_the_ground_rolls_off() {
    let (rider, air) = (Rider::default(), Air::standard());
    let low = Launch::by_hand(Vec3::new(0.0, 0.0, 1.0), Vec3::new(5.0, 0.0, 0.0)).unwrap();
    let flight = low.flight(&plane(0.0), &rider, &air).unwrap();
    assert_eq!((flight.end(), flight.time()), (&End::RolledOff, 0.0));
    assert_eq!(flight.path(3), [low.position; 3]);
    let beside = Ground::grid(Vec2::new(9.0, 9.0), Vec2::repeat(1.0), 2, 2, vec![0.0; 4]).unwrap();
    assert!(matches!(launch().flight(&beside, &rider, &air).unwrap().end(), End::OffSurvey { .. }));
}

#[test]
fn a_flight_is_the_same_whether_its_path_was_asked_for_or_not() {
    let (rider, air) = (Rider::default(), Air::standard());
    let [one, other] = [(); 2].map(|()| launch().flight(&plane(0.1), &rider, &air).unwrap());
    assert!(one.path(3).len() == 3 && one == other);
    let copy: Flight = serde_json::from_str(&serde_json::to_string(&other).unwrap()).unwrap();
    assert_eq!(copy, one);
    assert_eq!(copy.flight_path(), one.flight_path());
    assert!((one.end_velocity() - one.velocity(one.time())).norm() < 1e-11);
}

#[test]
fn one_who_leaves_leaning_is_only_flown_in_closed_form_if_he_lands_upright() {
    let (rider, air) = (Rider::default(), Air::standard());
    let attitude =
        Attitude { t: Vec3::x(), l: Vec3::new(0.0, 0.6, 0.8), u: Vec3::new(0.0, -0.8, 0.6) };
    for (slow, upright) in [(250f64, true), (20.0, false)] {
        let leaning = launch().with_attitude(attitude, Vec3::zeros()).unwrap();
        let options = FlightOptions { righting_rate: slow.to_radians() };
        let flight = leaning.flight_with(&plane(0.1), &rider, &air, options).unwrap();
        let touch = flight.end().touch().unwrap();
        assert_eq!(touch.lean_owed <= 0.0, upright);
        let walked = flight.flight_path().touch(&plane(0.1), *flight.reach()).unwrap();
        let walked = walked.touch().unwrap();
        assert!((walked.time - touch.time).abs() < 1e-11);
        assert!((walked.position - touch.position).norm() < 1e-10);
        assert!((walked.reach - touch.reach).abs() < 1e-10 && walked.normal == touch.normal);
    }
}
