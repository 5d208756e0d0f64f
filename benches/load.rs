//! How long do the loads of a landing take: on the bike, on foot, with stops, and the band of leg strokes?
#![allow(missing_docs, reason = "criterion's macros make items without docs")]
#![allow(clippy::unwrap_used, reason = "a bench that cannot be set up fails by panicking")]

use criterion::{Criterion, criterion_group, criterion_main};
use loamline::Rider;
use loamline::load::Impact;
use loamline::rider::Absorber;
use std::hint::black_box;

fn landings(c: &mut Criterion) {
    let rider = Rider::default();
    let rigid = Rider::default().with_absorber(Absorber::rigid()).unwrap();
    let (soft, hard) = (Impact::from_height(0.6).unwrap(), Impact::from_height(2.0).unwrap());
    let peak = |rider: &Rider, impact: &Impact| rider.loads_of(impact).unwrap().peak_bodyweights();
    c.bench_function("on the bike, 0.6 m", |b| b.iter(|| peak(&rider, black_box(&soft))));
    c.bench_function("on the bike, 2 m, all stops", |b| b.iter(|| peak(&rider, black_box(&hard))));
    c.bench_function("on a rigid bike, 0.6 m", |b| b.iter(|| peak(&rigid, black_box(&soft))));
    c.bench_function("on foot, 0.6 m", |b| {
        b.iter(|| rider.loads_on_foot(black_box(&soft)).unwrap().peak_bodyweights());
    });
}

fn bands(c: &mut Criterion) {
    let loads = Rider::default().loads_of(&Impact::from_height(1.0).unwrap()).unwrap();
    c.bench_function("band of leg strokes, 1 m", |b| b.iter(|| black_box(&loads).band().unwrap()));
}

criterion_group!(benches, landings, bands);
criterion_main!(benches);
