//! How long does it take to fit a landing to an ensemble, and to trade score against volume?

#[path = "fixtures/hillside.rs"]
mod hillside;

use criterion::{Criterion, criterion_group, criterion_main};
use loamline::design::{fit_landing, tradeoff};
use loamline::math::parallel::Crew;
use std::hint::black_box;

fn fits(criterion: &mut Criterion) {
    let crew = Crew::default();
    let Ok(site) = hillside::hillside() else { return };
    let Ok(passes) = site.passes(4096, 1, &crew) else { return };
    let mut group = criterion.benchmark_group("4096 passes");
    group.sample_size(10);
    group.bench_function("a landing for 4 m^3", |bench| {
        bench.iter(|| fit_landing(black_box(&passes), &site, 4.0, 1.0, 1, &crew));
    });
    group.bench_function("a trade-off of four volumes", |bench| {
        bench.iter(|| tradeoff(black_box(&passes), &site, &[2.0, 3.0, 4.0, 6.0], 1.0, 1, &crew));
    });
    group.finish();
}

criterion_group!(benches, fits);
criterion_main!(benches);
