//! How long the map of the next barrow, a list of barrows and a free landing take.

#[path = "fixtures/hillside.rs"]
mod hillside;

use criterion::{Criterion, criterion_group, criterion_main};
use loamline::design::{FreeOptions, Mound, barrow_map, free_landing, next_barrows};
use loamline::math::parallel::Crew;
use std::hint::black_box;

const CREW: Crew<'static> = Crew { threads: Some(1), watch: None };

fn barrows(c: &mut Criterion) {
    let passes = hillside::hillside().and_then(|site| Ok(site.passes(256, 1, &CREW)?));
    let (Ok(passes), Ok(mound)) = (passes, Mound::new(0.07, 1.2)) else { return };
    let mut group = c.benchmark_group("barrow");
    group.sample_size(10);
    group.bench_function("map", |b| b.iter(|| barrow_map(black_box(&passes), 1.0, &mound, 0.25)));
    group.bench_function("next 3", |b| {
        b.iter(|| next_barrows(black_box(&passes), 1.0, &mound, 3, &CREW));
    });
    for spacing in [0.3, 0.4] {
        let options = FreeOptions::new(0.7).and_then(|options| options.with_spacing(spacing));
        let Ok(options) = options else { return };
        group.bench_function(format!("free landing every {spacing} m"), |b| {
            b.iter(|| free_landing(black_box(&passes), 1.0, &options, &CREW));
        });
    }
    group.finish();
}

criterion_group!(benches, barrows);
criterion_main!(benches);
