//! One flight, and what its end says, asks nothing of the heap: it can be called from a loop that must not wait.
#![allow(clippy::unwrap_used, reason = "a test that cannot set itself up fails by panicking")]

#[path = "../benches/fixtures/grounds.rs"]
mod grounds;

use allocation_counter::measure;
use grounds::{grid, plane};
use loamline::launch::{Attitude, Launch};
use loamline::math::Vec3;
use loamline::touchdown::TouchOutcome;
use loamline::{Air, Rider};

/// Launches of up to 1.4 s of flight, invented; some with an attitude that leans.
fn launches() -> Vec<Launch> {
    let part = |i: u32, prime: f64| (f64::from(i + 1) * prime.sqrt()).fract();
    let launch = |i: u32| {
        let velocity = Vec3::new(4.0 + 5.0 * part(i, 2.0), part(i, 3.0) - 0.5, 1.5 * part(i, 5.0));
        let launch =
            Launch::by_hand(Vec3::new(0.0, 0.0, 0.5 + 0.4 * part(i, 7.0)), velocity).unwrap();
        if i.is_multiple_of(2) {
            return launch;
        }
        let Attitude { t, l, u } = Attitude::upright(velocity).unwrap();
        let (sin, cos) = (0.3 * part(i, 11.0)).sin_cos();
        let attitude = Attitude { t, l: l * cos + u * sin, u: u * cos - l * sin };
        launch.with_attitude(attitude, Vec3::zeros()).unwrap()
    };
    (0..60).map(launch).collect()
}

#[test]
fn a_flight_onto_a_plane_or_a_grid_asks_nothing_of_the_heap() {
    let rider = Rider::default();
    let airs = [Air::standard(), Air::standard().with_wind(Vec3::new(-2.0, 1.0, 0.0)).unwrap()];
    for (name, ground) in [("plane", plane()), ("grid", grid())] {
        let mut landed = 0;
        for (air, launch) in
            airs.iter().flat_map(|air| launches().into_iter().map(move |one| (air, one)))
        {
            let mut touchdown = None;
            let asked = measure(|| {
                touchdown = Some(launch.flight(&ground, &rider, air).unwrap().touchdown());
            });
            let touchdown = touchdown.unwrap();
            // The list of warnings may ask.
            if touchdown.outcome == TouchOutcome::Landed && touchdown.warnings.is_empty() {
                assert_eq!(asked.count_total, 0, "{name}: {launch:?}");
                landed += 1;
            }
        }
        assert!(landed > 80, "{name}: {landed}");
    }
}

/// The counter counts.
#[test]
fn what_asks_is_seen() {
    assert_eq!(measure(|| drop(std::hint::black_box(vec![1.0; 9]))).count_total, 1);
}
