//! A C program gets the core's numbers.
#![allow(clippy::expect_used, reason = "a test that cannot run its tools fails by panicking")]

#[path = "tools/c.rs"]
mod c;

use loamline::ground::Landing;
use loamline::launch::Launch;
use loamline::math::{Vec2, Vec3};
use loamline::{Air, Ground, Rider};

#[test]
fn the_c_program_gets_the_numbers_of_the_core() {
    let landing = Landing::new(Vec2::new(4.0, 0.0), 0.0, 0.349, 4.0, 3.0).expect("a landing");
    let level = Ground::plane(Vec3::zeros(), 0.0, 0.0).expect("a plane");
    let built = level.with_landing(&landing).expect("it stands on the plane");
    let (from, velocity) = (Vec3::new(0.0, 0.0, 2.8), Vec3::new(8.0, 0.0, 1.2));
    let launch = Launch::by_hand(from, velocity).expect("a launch");
    let flight = launch.flight(&built, &Rider::default(), &Air::standard()).expect("a flight");
    let contact = flight.touchdown().contact.expect("a touch");
    let (x, fall) = (contact.mark.x, contact.fall_height);
    let third = flight.position(0.3);
    let said = c::run(&c::here().join("example.c"));
    assert!(said.contains(&format!("caught at x {x:.2} m, fall height {fall:.2} m")), "{said}");
    assert!(said.contains(&format!("0.3 s  x {:.2} m  z {:.2} m", third.x, third.z)), "{said}");
    assert!(said.contains("refused: mass = -1"), "{said}");
}
