//! One flight from launch to touchdown, one thread: onto a plane, a grid, a survey, and a landing on a survey.
#![allow(clippy::unwrap_used, reason = "a bench that cannot set itself up fails by panicking")]
#![allow(missing_docs, reason = "criterion's macros make undocumented items")]

use criterion::{Criterion, criterion_group, criterion_main};
use loamline::flight::{FlightPath, RigidOptions};
use loamline::ground::{Ground, Landing};
use loamline::launch::{Attitude, Launch};
use loamline::math::{Vec2, Vec3};
use loamline::{Air, Rider};
use std::hint::black_box;

fn launch() -> Launch {
    Launch::by_hand(Vec3::new(0.0, 0.0, 3.1), Vec3::new(8.0, 1.0, 2.0)).unwrap()
}

/// Gentle bumps on a slope, invented.
fn height(x: f64, y: f64) -> f64 {
    0.15 * (1.3 * x).sin() * (1.1 * y + 0.4).cos() - 0.12 * x
}

fn plane() -> Ground {
    Ground::plane(Vec3::zeros(), 0.12, 0.0).unwrap()
}

fn grid() -> Ground {
    let (origin, spacing) = (Vec2::new(-5.0, -10.0), Vec2::repeat(0.1));
    let z = (0..200 * 200)
        .map(|i| (f64::from(i % 200), f64::from(i / 200)))
        .map(|(i, j)| height(origin.x + i * spacing.x, origin.y + j * spacing.y))
        .collect();
    Ground::grid(origin, spacing, 200, 200, z).unwrap()
}

fn survey() -> Ground {
    let points: Vec<Vec3> = (0..30 * 20)
        .map(|i| (f64::from(i % 30) - 5.0, f64::from(i / 30) - 10.0))
        .map(|(x, y)| (x + 0.3 * (7.0 * y).sin(), y + 0.3 * (5.0 * x).cos()))
        .map(|(x, y)| Vec3::new(x, y, height(x, y)))
        .collect();
    Ground::survey(&points).unwrap()
}

fn landing() -> Ground {
    let landing = Landing::new(Vec2::new(5.0, 0.7), 0.12, 0.45, 4.0, 3.0).unwrap();
    survey().with_landing(&landing).unwrap()
}

fn flights(c: &mut Criterion) {
    let (rider, air) = (Rider::default(), Air::standard());
    for (name, ground) in
        [("plane", plane()), ("grid", grid()), ("survey", survey()), ("landing", landing())]
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
        let (ground, options) = (plane(), RigidOptions::default());
        c.bench_function(&format!("rigid flight/{name}"), |b| {
            b.iter(|| black_box(&launch).rigid_flight(black_box(&ground), &rider, &air, options));
        });
    }
}

fn touches(c: &mut Criterion) {
    let (rider, air) = (Rider::default(), Air::standard());
    for (name, ground) in [("grid", grid()), ("landing", landing())] {
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
        b.iter(|| black_box(&straight_up).flight(black_box(&plane()), &rider, &air));
    });
}

criterion_group!(benches, flights, rigid_flights, touches, degenerate);
criterion_main!(benches);
