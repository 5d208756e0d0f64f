//! A whole ride on two wheels: run-in, lip, flight, landing, run-out; by tolerance.
#![allow(missing_docs, clippy::unwrap_used, reason = "a bench that fails stops by panicking")]

use criterion::{BenchmarkId, Criterion, criterion_group, criterion_main};
use loamline::geometry::Profile;
use loamline::two_wheel::{Start, Terrain, TwoWheelOptions};
use loamline::{Air, Rider};
use std::hint::black_box;

fn jump() -> Terrain {
    let takeoff = Profile::cornered(&[0.0, 12.0, 18.0, 20.5], &[5.0, 0.5, 0.2, 0.8], 6.0).unwrap();
    let landing =
        Profile::cornered(&[23.0, 24.0, 34.0, 50.0], &[0.6, 0.4, -2.6, -2.9], 4.0).unwrap();
    Terrain::new(&[takeoff, landing]).unwrap()
}

fn rides(c: &mut Criterion) {
    let (rider, air, terrain) = (Rider::default(), Air::standard(), jump());
    let mut group = c.benchmark_group("two_wheel_ride");
    for tolerance in [1e-6, 1e-9, 1e-12] {
        let options = TwoWheelOptions::new(Start::Settled { front: 3.0, speed: 4.0 })
            .with_tolerance(tolerance);
        group.bench_function(BenchmarkId::from_parameter(tolerance), |b| {
            b.iter(|| black_box(&rider).two_wheel_ride(&terrain, &air, &options).unwrap());
        });
    }
    group.finish();
}

criterion_group!(benches, rides);
criterion_main!(benches);
