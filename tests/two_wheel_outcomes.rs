//! Each way in which a ride on two wheels can end, and what it says of the landing.
#![allow(clippy::unwrap_used, reason = "a test fails by panicking")]

use loamline::geometry::Profile;
use loamline::ground::Landing;
use loamline::math::{Vec2, Vec3};
use loamline::rider::Absorber;
use loamline::two_wheel::{
    Braking, Clearance, End, First, Pose, Section, Start, Terrain, TwoWheelOptions,
    TwoWheelOutcome, TwoWheelRide, TwoWheelWarning,
};
use loamline::{Air, Ground, Rider};

fn terrain(pieces: &[([f64; 2], [f64; 2])]) -> Terrain {
    let profiles: Vec<Profile> =
        pieces.iter().map(|(x, z)| Profile::cornered(x, z, 1.0).unwrap()).collect();
    Terrain::new(&profiles).unwrap()
}

fn settled(front: f64, speed: f64) -> TwoWheelOptions {
    TwoWheelOptions::new(Start::Settled { front, speed })
}

fn ride(terrain: &Terrain, options: &TwoWheelOptions) -> TwoWheelRide {
    Rider::default().two_wheel_ride(terrain, &Air::standard(), options).unwrap()
}

fn in_the_air(x: f64, z: f64, pitch: f64, velocity: Vec2, pitch_rate: f64) -> TwoWheelOptions {
    let centre = Vec2::new(x, z);
    TwoWheelOptions::new(Start::Given(Pose {
        centre,
        pitch,
        velocity,
        pitch_rate,
        travel: [0.0; 2],
    }))
}

#[test]
fn a_rise_that_is_too_high_stalls() {
    let hill = Terrain::polyline(&[0.0, 10.0, 30.0], &[0.0, 0.0, 5.0]).unwrap();
    let rider = Rider::default().with_crr(0.0).unwrap().with_cda(0.0).unwrap();
    let gone = rider.two_wheel_ride(&hill, &Air::standard(), &settled(3.0, 4.0)).unwrap();
    let TwoWheelOutcome::Stalled(spot) = gone.outcome else { panic!("{}", gone.outcome) };
    // 16 / 2 g is 0.82 m of height, less what the dampers take in the sharp foot.
    let climbed = (gone.ledger.end.height - gone.ledger.start.height) / 9.80665;
    assert!((0.6..0.82).contains(&climbed) && spot.distance > 11.0, "{spot:?} {climbed}");
    assert!(gone.hop.is_none() && gone.samples.velocity.last().unwrap().x.abs() < 0.03);
}

#[test]
fn from_rest_on_the_level_nothing_moves() {
    let level = terrain(&[([0.0, 30.0], [0.0, 0.0])]);
    let gone = ride(&level, &settled(5.0, 0.0));
    assert!(matches!(gone.outcome, TwoWheelOutcome::Stalled(spot) if spot.time == 0.0));
}

#[test]
fn rolled_slowly_off_a_high_edge_the_chainring_comes_down_on_it() {
    let drop = terrain(&[([0.0, 10.0], [0.0, 0.0]), ([10.0, 30.0], [-1.5, -1.5])]);
    let gone = ride(&drop, &settled(9.0, 1.0));
    let TwoWheelOutcome::HungUp { at, speed } = gone.outcome else { panic!("{}", gone.outcome) };
    assert!((9.0..10.6).contains(&at.distance) && speed > 0.5, "{at:?}");
    // The same edge is nothing at speed.
    assert!(!matches!(ride(&drop, &settled(5.0, 9.0)).outcome, TwoWheelOutcome::HungUp { .. }));
}

#[test]
fn braked_beyond_the_balance_of_weight_it_goes_over_the_front() {
    let level = terrain(&[([0.0, 90.0], [0.0, 0.0])]);
    let rider = Rider::default().with_grip(2.0).unwrap();
    // In front of the centre of mass 0.72 m of wheelbase, under it 1 m of height: 0.72 g is the most, and less once the nose dives.
    let braked = |deceleration: f64| {
        let braking = Braking { from: 10.0, to: 90.0, deceleration };
        let options = settled(5.0, 16.0).with_braking(braking);
        rider.two_wheel_ride(&level, &Air::standard(), &options).unwrap().outcome
    };
    assert!(matches!(braked(9.5), TwoWheelOutcome::PitchedOver(_)), "{}", braked(9.5));
    assert!(matches!(braked(4.0), TwoWheelOutcome::Stalled(_)), "{}", braked(4.0));
}

#[test]
fn braking_is_limited_by_grip_and_stops_where_the_energy_says() {
    let level = terrain(&[([0.0, 90.0], [0.0, 0.0])]);
    let rider = Rider::default().with_crr(0.0).unwrap().with_cda(0.0).unwrap();
    let braked = |deceleration: f64| {
        let options =
            settled(5.0, 8.0).with_braking(Braking { from: 10.0, to: 90.0, deceleration });
        rider.two_wheel_ride(&level, &Air::standard(), &options).unwrap()
    };
    // 64 / (2 * 4) m of braking; the nose dives, so within a few centimetres.
    let gone = braked(4.0);
    assert!((gone.outcome.spot().distance - 18.0).abs() < 0.1, "{}", gone.outcome);
    let dived = gone.ledger.dampers + gone.ledger.end.springs + gone.ledger.end.tyres;
    assert!((gone.ledger.brake - 32.0).abs() < dived && dived < 0.6, "{:?}", gone.ledger);
    assert!(gone.warnings.is_empty(), "{:?}", gone.warnings);
    let limited = braked(50.0).warnings;
    let is_limited = |w: &TwoWheelWarning| matches!(w, TwoWheelWarning::BrakeLimited { most, .. } if (most - 0.6 * 9.80665).abs() < 1e-9);
    assert!(limited.iter().any(is_limited), "{limited:?}");
}

#[test]
fn turning_backwards_in_the_air_it_loops_out() {
    let level = terrain(&[([0.0, 40.0], [0.0, 0.0])]);
    let gone = ride(&level, &in_the_air(5.0, 3.0, -0.2, Vec2::new(6.0, 0.0), -6.0));
    let TwoWheelOutcome::LoopedOut(spot) = gone.outcome else { panic!("{}", gone.outcome) };
    let quarter = (std::f64::consts::FRAC_PI_2 - 0.2) / 6.0;
    assert!((spot.time - quarter).abs() < 0.02, "{spot:?} {quarter}");
}

#[test]
fn past_the_end_of_the_landing_it_is_off_the_terrain() {
    let short = terrain(&[([0.0, 10.0], [0.0, 0.0]), ([10.0, 13.0], [-3.0, -3.0])]);
    let gone = ride(&short, &settled(5.0, 12.0));
    assert!(matches!(gone.outcome, TwoWheelOutcome::OffTerrain(_)), "{}", gone.outcome);
    assert_eq!(gone.hop.unwrap().touched, [None, None]);
}

#[test]
fn a_rear_wheel_below_the_crest_is_caught_by_it() {
    // Ground a metre below a landing that begins with a face: the front wheel is over it, the rear is not.
    let landing = terrain(&[([0.0, 10.0], [-1.0, -1.0]), ([10.0, 40.0], [0.0, -9.0])]);
    let gone = ride(&landing, &in_the_air(8.7, 1.16, -0.35, Vec2::new(7.0, -1.0), 0.0));
    let TwoWheelOutcome::RearCaught { caught, into, lost } = gone.outcome else {
        panic!("{} {:?}", gone.outcome, gone.hop)
    };
    assert!((caught.distance - 10.0).abs() < 1e-6 && into > 4.0, "{caught:?} {into}");
    assert!(lost.time > caught.time && lost.time - caught.time < 1.0, "{lost:?}");
    // A little higher, it passes.
    let passed = ride(&landing, &in_the_air(8.7, 1.9, 0.2, Vec2::new(7.0, -1.0), 0.0));
    assert!(passed.outcome.is_ridden(), "{}", passed.outcome);
}

#[test]
fn the_pitch_at_the_landing_says_which_wheel_comes_down_first() {
    let level = terrain(&[([0.0, 25.0], [0.0, 0.0])]);
    for (pitch, first) in [(0.15, First::Front), (-0.15, First::Rear)] {
        let gone = ride(&level, &in_the_air(5.0, 1.6, pitch, Vec2::new(6.0, 0.0), 0.0));
        let hop = gone.hop.unwrap();
        let (found, by) = hop.first().unwrap();
        assert_eq!(found, first);
        assert!((0.005..0.3).contains(&by), "{by}");
        let [rear, front] = hop.touched.map(Option::unwrap);
        assert!(((rear.time - front.time).abs() - by).abs() < 1e-12 && rear.place.y.abs() < 1e-6);
        assert!(rear.place.x < front.place.x || first == First::Front);
        assert!(gone.outcome.is_ridden(), "{}", gone.outcome);
    }
}

#[test]
fn a_hard_landing_bottoms_out_and_a_harder_one_crushes_a_wheel() {
    let level = terrain(&[([0.0, 60.0], [0.0, 0.0])]);
    let hard = ride(&level, &in_the_air(5.0, 2.4, 0.0, Vec2::new(6.0, 0.0), 0.0));
    for wheel in End::BOTH {
        assert!(hard.is_bottomed(wheel), "{:?}", hard.warnings);
    }
    assert!(hard.warnings.iter().any(|w| matches!(w, TwoWheelWarning::BeyondLegs { .. })));
    let rider = Rider::default().with_absorber(Absorber::rigid()).unwrap();
    let high = Clearance { height: 0.6, ..Clearance::default() };
    let fallen = in_the_air(5.0, 1.1, 0.0, Vec2::new(6.0, -25.0), 0.0).with_clearance(high);
    let gone = rider.two_wheel_ride(&level, &Air::standard(), &fallen).unwrap();
    assert!(matches!(gone.outcome, TwoWheelOutcome::Crushed { .. }), "{}", gone.outcome);
}

#[test]
fn a_built_landing_is_ridden_along_its_section() {
    let flat = Ground::plane(Vec3::zeros(), 0.0, 0.0).unwrap();
    let landing = Landing::new(Vec2::new(12.0, 0.0), 0.0, 0.35, 5.0, 2.5).unwrap();
    let built = flat.with_landing(&landing).unwrap();
    let section = Section { from: Vec2::new(0.0, 0.0), heading: 0.0, length: 40.0 };
    let terrain = Terrain::over(&built, &section).unwrap();
    for x in [3.0, 12.5, 14.0, 16.0, 30.0] {
        let exact = built.height(x, 0.0).unwrap();
        assert!((terrain.height(x).unwrap() - exact).abs() < 0.02, "{x}");
    }
    let crest = built.height(12.0, 0.0).unwrap();
    let gone = ride(&terrain, &in_the_air(11.6, crest + 1.5, 0.35, Vec2::new(7.0, -1.5), 0.0));
    assert!(gone.outcome.is_ridden(), "{} {:?}", gone.outcome, gone.hop);
    let beyond = Section { length: 20_000.0, ..section };
    assert!(Terrain::over(&built, &beyond).is_err());
}

#[test]
fn a_ride_explains_itself_and_comes_back_from_its_text() {
    let level = terrain(&[([0.0, 20.0], [0.0, 0.0])]);
    let gone = ride(&level, &settled(5.0, 6.0));
    let said = gone.explain().to_string();
    assert!(said.contains("rigid body") && said.contains("Limits"));
    let back: TwoWheelRide = serde_json::from_str(&serde_json::to_string(&gone).unwrap()).unwrap();
    assert_eq!(back, gone);
}
