//! How long does a ride take: sampled or exit only, calm or in wind, on a run-in, on a wall and on a lip?
#![allow(missing_docs, reason = "criterion's macros make items without docs")]
#![allow(clippy::unwrap_used, reason = "a bench that cannot be set up fails by panicking")]

use criterion::{Criterion, criterion_group, criterion_main};
use loamline::feature::{Bank, FreeEntry, Lip, Wall};
use loamline::geometry::{Bend, Piece, Plan, Profile, Turn, VerticalCurve};
use loamline::math::Vec3;
use loamline::ride::{Lean, RideOptions};
use loamline::{Air, Rider};
use std::hint::black_box;

fn wall() -> Wall {
    let plan = Plan::arc(7.0, 55f64.to_radians(), Turn::Left).unwrap();
    let bank = Bank::linear(20f64.to_radians(), 68f64.to_radians()).unwrap();
    Wall::new(plan, bank, 2.4).unwrap().with_grade(-0.04).unwrap()
}

/// A lip with a clothoid, the one piece that has no closed form.
fn lip() -> Lip {
    let easing = Piece::Clothoid { length: 1.5, radius_start: f64::INFINITY, radius_end: 4.0 };
    let pieces = vec![(Bend::Up, easing), (Bend::Up, Piece::Arc { radius: 4.0, angle: 0.4 })];
    Lip::new(VerticalCurve::new(0.0, pieces).unwrap(), 1.5).unwrap()
}

fn trail() -> Profile {
    let distance = [0.0, 4.0, 8.0, 12.0, 16.0, 20.0, 24.0, 28.0, 30.0];
    let height = [7.5, 6.4, 5.2, 4.1, 3.0, 1.9, 1.0, 0.3, 0.2];
    Profile::smooth(&distance, &height).unwrap()
}

fn rides(c: &mut Criterion) {
    let (rider, calm) = (Rider::default(), Air::standard());
    let windy = calm.with_wind(Vec3::new(-2.0, 1.0, 0.0)).unwrap();
    let (wall, trail) = (wall(), trail());
    let line = wall.line(0.25, 1.6).unwrap();
    let quick = RideOptions::new(8.0).exit_only();
    let ride = |line: &loamline::geometry::Line, air: &Air, options: &RideOptions| {
        line.ride(&rider, black_box(air), options).unwrap().exit_speed()
    };
    c.bench_function("wall, sampled", |b| b.iter(|| ride(&line, &calm, &RideOptions::new(8.0))));
    c.bench_function("wall, exit only", |b| b.iter(|| ride(&line, &calm, &quick)));
    for lean in [Lean::Balanced, Lean::Settled] {
        let (sampled, quick) = (RideOptions::new(8.0), quick.clone());
        let (sampled, quick) = (RideOptions { lean, ..sampled }, RideOptions { lean, ..quick });
        let name = |what: &str| format!("wall, {lean:?}, {what}").to_lowercase();
        c.bench_function(&name("sampled"), |b| b.iter(|| ride(&line, &calm, &sampled)));
        c.bench_function(&name("exit only"), |b| b.iter(|| ride(&line, &calm, &quick)));
        let slow = quick.with_speed(4.0);
        c.bench_function(&name("stalling"), |b| b.iter(|| ride(&line, &calm, &slow)));
    }
    c.bench_function("wall, exit only, in wind", |b| b.iter(|| ride(&line, &windy, &quick)));
    c.bench_function("wall, its line and exit", |b| {
        b.iter(|| ride(&wall.line(0.25, black_box(1.6)).unwrap(), &calm, &quick));
    });
    let hollow = wall.clone().with_hollow(8.0).unwrap().line(0.25, 1.6).unwrap();
    c.bench_function("hollow wall, exit only", |b| b.iter(|| ride(&hollow, &calm, &quick)));
    let lip = lip().line(0.0).unwrap();
    c.bench_function("lip, sampled", |b| b.iter(|| ride(&lip, &calm, &RideOptions::new(8.0))));
    c.bench_function("lip, exit only", |b| b.iter(|| ride(&lip, &calm, &quick)));
    let ridden = lip.ride(&rider, &calm, &quick).unwrap();
    c.bench_function("lip, its launch with the pitch", |b| {
        b.iter(|| black_box(&ridden).launch(0.0).unwrap().pitch);
    });
    let rest = RideOptions::new(0.0).exit_only();
    c.bench_function("run-in of 28 m from rest, exit only", |b| {
        b.iter(|| ride(&trail.run_in(black_box(28.0)).unwrap(), &calm, &rest));
    });
    c.bench_function("run-in of 28 m from rest, sampled", |b| {
        b.iter(|| ride(&trail.run_in(28.0).unwrap(), &calm, &RideOptions::new(0.0)));
    });
    let level = Profile::smooth(&[0.0, 30.0], &[0.0, 0.0]).unwrap().line();
    c.bench_function("straight and level, exit only", |b| b.iter(|| ride(&level, &calm, &quick)));
}

fn answers(c: &mut Criterion) {
    let (rider, calm) = (Rider::default(), Air::standard());
    let line = wall().line(0.25, 1.2).unwrap();
    c.bench_function("hold speeds", |b| {
        b.iter(|| line.hold_speeds(black_box(&rider), &calm, Lean::Deck));
    });
    c.bench_function("hold speeds, balanced", |b| {
        b.iter(|| line.hold_speeds(black_box(&rider), &calm, Lean::Balanced));
    });
    let (wall, air) = (wall(), Air::standard());
    let entry = FreeEntry::new(0.25, 8.0);
    c.bench_function("free line", |b| {
        b.iter(|| wall.free_line(black_box(&rider), &air, &entry).unwrap().end().height);
    });
    let trail = trail();
    let rest = RideOptions::new(0.0);
    c.bench_function("start mark", |b| {
        b.iter(|| trail.start_mark(black_box(7.0), &rider, &calm, &rest));
    });
}

criterion_group!(benches, rides, answers);
criterion_main!(benches);
