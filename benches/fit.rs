//! How long does it take to fit a landing to an ensemble, and to trade score against volume?

#[path = "fixtures/faces.rs"]
mod faces;
#[path = "fixtures/hillside.rs"]
mod hillside;

use criterion::{Criterion, criterion_group, criterion_main};
use loamline::design::{fit_landing, score_many, tradeoff};
use loamline::ground::Landing;
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
    let landings = (0..2000).filter_map(|i| faces::landing(&passes, i)).collect::<Vec<Landing>>();
    group.bench_function("2,000 landings scored in closed form", |bench| {
        bench.iter(|| score_many(black_box(&passes), &landings, 1.0, &crew));
    });
    group.finish();
}

criterion_group!(benches, fits);
criterion_main!(benches);
