//! Do whole flights onto the earth of an even landing touch it with the wanted fall height?
#![allow(clippy::unwrap_used, reason = "a test fails by panicking")]

use loamline::design::{EvenDesign, EvenLanding};
use loamline::launch::Launch;
use loamline::math::{Vec2, Vec3};
use loamline::{Air, Ground, Rider};

/// A facet's angle is off the curve's by half the curvature times this, metres.
const SPACING: f64 = 2e-4;
/// How far a strip reaches to each side, metres.
const HALF_WIDTH: f64 = 8.0;

/// The earth as a strip of ground; before its near end it falls away, past the far one it goes on straight.
fn strip(even: &EvenLanding) -> Ground {
    let (near, far) = even.reach();
    let height = |x: f64| {
        let inside = x.clamp(near, far);
        let slope = if x < near { -3.0 } else { even.slope(inside).unwrap().tan() };
        even.height(inside).unwrap() - slope * (x - inside)
    };
    // The strip begins behind the launch, so that flights start over known ground.
    let first = near - SPACING * ((near + 1.0) / SPACING).ceil();
    let places = (0..).map(|i| first + SPACING * f64::from(i)).take_while(|x| *x < far + 1.0);
    let along: Vec<f64> = places.map(height).collect();
    let across = even.design().cross_slope().tan() * HALF_WIDTH;
    let rows =
        [-across, across].map(|rise| along.iter().map(move |z| z + rise).collect::<Vec<_>>());
    let origin = Vec2::new(first, -HALF_WIDTH);
    let spacing = Vec2::new(SPACING, 2.0 * HALF_WIDTH);
    Ground::grid(origin, spacing, along.len(), 2, rows.concat()).unwrap()
}

/// Flies `count` flights of the family onto the strip; the most that any is off the wanted fall height.
fn worst(even: &EvenLanding, rider: &Rider, air: &Air, count: u32) -> f64 {
    let (ground, design) = (strip(even), even.design());
    let (sin, cos) = design.launch_angle().sin_cos();
    let (left, ahead) = design.sideways().sin_cos();
    let (slow, fast) = even.launch_speeds();
    let off = |i: u32| {
        let speed = slow + (fast - slow) * (f64::from(i) + 0.5) / f64::from(count);
        let velocity = Vec3::new(cos * ahead, cos * left, sin) * speed;
        let launch = Launch::by_hand(Vec3::zeros(), velocity).unwrap();
        let touchdown = launch.flight(&ground, rider, air).unwrap().touchdown();
        let contact = touchdown.contact.unwrap();
        let expected = even.launch_speed(contact.mark.x).unwrap();
        assert!((expected - speed).abs() < 1e-3, "{speed} lands where {expected} should");
        (contact.fall_height - design.fall_height()).abs()
    };
    (0..count).map(off).fold(0.0, f64::max)
}

#[test]
fn two_hundred_riders_land_on_it_with_the_wanted_fall_height() {
    let rider = Rider::default().with_com_height_landing(Some(0.9)).unwrap();
    let air = Air::standard().with_wind(Vec3::new(-2.0, 0.0, 0.0)).unwrap();
    let far = Vec2::new(8.0, -2.6);
    let design = EvenDesign::new(25f64.to_radians(), 0.5, far, 2.0).unwrap();
    let even = design.landing(&rider, &air).unwrap();
    let worst = worst(&even, &rider, &air, 200);
    assert!(worst < 1e-4, "{worst:.1e}");
}

#[test]
fn riders_thrown_sideways_onto_a_cross_slope_land_as_evenly() {
    let (rider, air) = (Rider::default(), Air::standard());
    let far = Vec2::new(7.0, -3.0);
    let design = EvenDesign::new(10f64.to_radians(), 0.7, far, 3.0).unwrap();
    let design = design.with_sideways(-0.5).unwrap().with_cross_slope(0.2).unwrap();
    let even = design.landing(&rider, &air).unwrap();
    let worst = worst(&even, &rider, &air, 40);
    assert!(worst < 1e-4, "{worst:.1e}");
}
