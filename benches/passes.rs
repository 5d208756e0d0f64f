//! How long do passes take, and how long does it take to find the touches again on another ground?

#[path = "fixtures/hillside.rs"]
mod hillside;

use criterion::{Criterion, criterion_group, criterion_main};
use loamline::math::parallel::Crew;
use std::hint::black_box;

const COUNT: usize = 256;

fn passes(criterion: &mut Criterion) {
    let (Ok(site), crew) = (hillside::hillside(), Crew { threads: Some(1), watch: None }) else {
        return;
    };
    criterion.bench_function("256 passes, one thread", |bench| {
        bench.iter(|| black_box(&site).passes(COUNT, 1, &crew));
    });
    let (Ok(ground), Ok(passes)) = (site.ground(), site.passes(COUNT, 1, &crew)) else { return };
    criterion.bench_function("256 passes onto another ground", |bench| {
        bench.iter(|| black_box(&passes).on(&ground, &crew));
    });
}

criterion_group!(benches, passes);
criterion_main!(benches);
