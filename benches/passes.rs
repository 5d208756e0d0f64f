//! How long do passes take, and how long does it take to find the touches again on another ground? And how many times as
//! many passes as one by one does a batch make, in the same run?
//!
//! For the batch: riders who enter the wall at 8.2 to 10 m/s and leave it from 0.8 to 1.9 m up, square to it in calm air, all of
//! whom hold it; from entry speed to fall height, columns written over again and again.
#![allow(clippy::unwrap_used, reason = "a bench that cannot set itself up fails by panicking")]
#![allow(missing_docs, reason = "criterion's macros make items without docs")]

#[path = "fixtures/grounds.rs"]
mod grounds;
#[path = "fixtures/hillside.rs"]
mod hillside;

use criterion::{Criterion, Throughput, criterion_group, criterion_main};
use grounds::{grid, plane};
use loamline::ground::Ground;
use loamline::math::parallel::Crew;
use loamline::passes::batch::{Batch, Entries, Rows};
use loamline::ride::RideOptions;
use loamline::site::Site;
use loamline::{Air, Rider};
use std::hint::black_box;

const COUNT: usize = 256;
/// Passes of a batch, and of those one by one.
const MANY: usize = 1 << 16;
const FEW: usize = 64;
const ONE: Crew<'static> = Crew { threads: Some(1), watch: None };

fn passes(criterion: &mut Criterion) {
    let site = hillside::hillside().unwrap();
    criterion.bench_function("256 passes, one thread", |bench| {
        bench.iter(|| black_box(&site).passes(COUNT, 1, &ONE));
    });
    let (ground, passes) = (site.ground().unwrap(), site.passes(COUNT, 1, &ONE).unwrap());
    criterion.bench_function("256 passes onto another ground", |bench| {
        bench.iter(|| black_box(&passes).on(&ground, &ONE));
    });
}

/// Speeds and places of leaving, invented.
fn entries() -> [Vec<f64>; 3] {
    let part = |i: usize, prime: f64| ((i + 1) as f64 * prime.sqrt()).fract();
    [
        (0..MANY).map(|i| 8.2 + 1.8 * part(i, 2.0)).collect(),
        (0..MANY).map(|i| 0.8 + 1.1 * part(i, 3.0)).collect(),
        (0..MANY).map(|i| 0.4 * part(i, 5.0) - 0.1).collect(),
    ]
}

/// The fall heights of the first passes, one by one.
fn one_by_one(site: &Site, ground: &Ground, rider: &Rider, air: &Air, rows: &[Vec<f64>; 3]) -> f64 {
    let fall = |i: usize| {
        let line = site.takeoff.line(site.enter, rows[1][i]).unwrap();
        let options = RideOptions::new(rows[0][i]).exit_only();
        let launch = line.ride(rider, air, &options).unwrap().launch(rows[2][i]).unwrap();
        let touchdown = launch.flight(ground, rider, air).unwrap().touchdown();
        touchdown.contact.map_or(0.0, |contact| contact.fall_height)
    };
    (0..FEW).map(fall).sum()
}

fn batch(criterion: &mut Criterion) {
    let (site, air) = (hillside::hillside().unwrap(), Air::standard());
    let rider = Rider::default().with_grip(0.9).unwrap();
    let rows = entries();
    let given = Entries { speed: &rows[0], leave: &rows[1], pop: &rows[2] };
    for (name, ground) in [("plane", plane()), ("grid", grid())] {
        let made = || Batch::new(&site.takeoff, site.enter, &ground, &rider, &air).unwrap();
        let (batch, mut out) = (made(), Rows::new(MANY));
        let mut group = criterion.benchmark_group(format!("passes onto a {name}"));
        group.sample_size(10);
        group.throughput(Throughput::Elements(FEW as u64));
        group.bench_function("one by one", |bench| {
            bench.iter(|| one_by_one(&site, &ground, &rider, &air, black_box(&rows)));
        });
        group.throughput(Throughput::Elements(MANY as u64));
        for threads in [1, 2] {
            let crew = Crew { threads: Some(threads), watch: None };
            group.bench_function(format!("batch, {threads} threads"), |bench| {
                bench.iter(|| {
                    batch.passes_into(black_box(given), &mut out.columns(), &crew).unwrap();
                });
            });
        }
        assert!(out.fall_height.iter().all(|fall| fall.is_finite()));
        group.bench_function("the lines beforehand", |bench| bench.iter(made));
        group.finish();
    }
}

criterion_group!(benches, passes, batch);
criterion_main!(benches);
