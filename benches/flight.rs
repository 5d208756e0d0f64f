//! One flight from launch to touchdown, one thread: onto a plane, a grid, a survey, and a landing on a survey.
#![allow(clippy::unwrap_used, reason = "a bench that cannot set itself up fails by panicking")]
#![allow(missing_docs, reason = "criterion's macros make undocumented items")]

#[path = "fixtures/slopes.rs"]
mod slopes;

use criterion::{Criterion, criterion_group, criterion_main};
use loamline::flight::{FlightPath, RigidOptions};
use loamline::launch::{Attitude, Launch};
use loamline::math::Vec3;
use loamline::{Air, Rider};
use slopes::{built, bumps, slope, survey};
use std::hint::black_box;

fn launch() -> Launch {
    Launch::by_hand(Vec3::new(0.0, 0.0, 3.1), Vec3::new(8.0, 1.0, 2.0)).unwrap()
}

fn flights(c: &mut Criterion) {
    let (rider, air) = (Rider::default(), Air::standard());
    for (name, ground) in
        [("plane", slope()), ("grid", bumps()), ("survey", survey()), ("landing", built())]
    {
        assert!(launch().flight(&ground, &rider, &air).unwrap().end().touch().is_some());
        c.bench_function(&format!("flight/{name}"), |b| {
            let launch = launch();
            b.iter(|| black_box(&launch).flight(black_box(&ground), &rider, &air));
        });
    }
}

/// What turning costs on top: the same flights as one rigid body, still and spinning fast.
fn rigid_flights(c: &mut Criterion) {
    let (rider, air) = (Rider::typical(75.0, 1.75).unwrap(), Air::standard());
    let attitude = Attitude::upright(Vec3::new(8.0, 1.0, 2.0)).unwrap();
    for (name, rate) in [("plane", 1.0), ("plane, tumbling", 12.0)] {
        let turning = Vec3::new(0.2, 0.9, -0.4) * rate;
        let launch = launch().with_attitude(attitude, turning).unwrap();
        let (ground, options) = (slope(), RigidOptions::default());
        c.bench_function(&format!("rigid flight/{name}"), |b| {
            b.iter(|| black_box(&launch).rigid_flight(black_box(&ground), &rider, &air, options));
        });
    }
}

fn touches(c: &mut Criterion) {
    let (rider, air) = (Rider::default(), Air::standard());
    for (name, ground) in [("grid", bumps()), ("landing", built())] {
        let flight = launch().flight(&ground, &rider, &air).unwrap();
        c.bench_function(&format!("touch again/{name}"), |b| {
            let path: &FlightPath = flight.flight_path();
            b.iter(|| black_box(path).touch(black_box(&ground), *flight.reach()));
        });
        c.bench_function(&format!("nearest/{name}"), |b| {
            let c = Vec3::new(4.0, 0.5, 1.2);
            b.iter(|| black_box(&ground).nearest(black_box(c), f64::INFINITY));
        });
    }
}

fn degenerate(c: &mut Criterion) {
    let (rider, air) = (Rider::default(), Air::standard());
    let straight_up = Launch::by_hand(Vec3::new(0.0, 0.0, 2.0), Vec3::new(0.0, 0.0, 4.0)).unwrap();
    c.bench_function("flight/straight up", |b| {
        b.iter(|| black_box(&straight_up).flight(black_box(&slope()), &rider, &air));
    });
}

criterion_group!(benches, flights, rigid_flights, touches, degenerate);
criterion_main!(benches);
