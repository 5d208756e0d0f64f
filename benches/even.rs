//! One even landing, one thread: with drag in each form, without drag, and one that is cut short at its near end.
#![allow(clippy::unwrap_used, reason = "a bench that cannot set itself up fails by panicking")]
#![allow(missing_docs, reason = "criterion's macros make undocumented items")]

use criterion::{Criterion, criterion_group, criterion_main};
use loamline::design::{EvenDesign, EvenForm, StoppedBy};
use loamline::math::Vec2;
use loamline::{Air, Rider};
use std::hint::black_box;

fn design(near: f64) -> EvenDesign {
    EvenDesign::new(25f64.to_radians(), 0.5, Vec2::new(9.0, -3.0), near).unwrap()
}

fn even(c: &mut Criterion) {
    let (rider, air) = (Rider::default(), Air::standard());
    for (name, form) in [
        ("by distance", EvenForm::Distance),
        ("by launch speed", EvenForm::LaunchSpeed),
        ("by root", EvenForm::Root),
    ] {
        c.bench_function(&format!("even/{name}"), |b| {
            b.iter(|| black_box(design(2.0)).landing_in(&rider, &air, form).unwrap());
        });
    }
    let free = Rider::default().with_cda(0.0).unwrap();
    c.bench_function("even/without drag", |b| {
        b.iter(|| black_box(design(2.0)).landing(&free, &air).unwrap());
    });
}

fn degenerate(c: &mut Criterion) {
    let (rider, air) = (Rider::default(), Air::standard());
    let cut_short = design(0.0).landing(&rider, &air).unwrap();
    assert_ne!(cut_short.stopped_by(), StoppedBy::NearEnd);
    c.bench_function("even/cut short", |b| {
        b.iter(|| black_box(design(0.0)).landing(&rider, &air).unwrap());
    });
}

criterion_group!(benches, even, degenerate);
criterion_main!(benches);
