//! Many flights on one thread: how many times as many as by a general solver, to the same accuracy, in the same run?
//!
//! Launches of 4 to 14 m/s, pitched up to 40 degrees, turned up to 30 either way, in equal parts in no wind, head and cross
//! wind, tail wind and strong tail wind; on a plane to 1e-8 m, on a bumpy grid of 200 by 200 to 1e-6 m, which is asserted
//! before anything is timed. A bare point, as the solver has it, and a rider 1 m above his tyres.
#![allow(clippy::unwrap_used, reason = "a bench that cannot set itself up fails by panicking")]
#![allow(missing_docs, reason = "criterion's macros make undocumented items")]

#[path = "fixtures/dopri.rs"]
mod dopri;
#[path = "fixtures/dopri_path.rs"]
mod dopri_path;
#[path = "fixtures/launches.rs"]
mod launches;
#[path = "fixtures/slopes.rs"]
mod slopes;

use criterion::{Criterion, Throughput, criterion_group, criterion_main};
use launches::{EACH, Start, WINDS, air, batches, rider, starts};
use loamline::flight::batch::{Batch, Driven, ROWS, Starts, Touches};
use loamline::force::Forces;
use loamline::ground::{Ground, Surface};
use loamline::launch::Launch;
use loamline::math::Vec3;
use loamline::math::parallel::Crew;
use loamline::touchdown::batch::{Flights, Launches};
use slopes::{built, bumps, slope, survey};
use std::hint::black_box;

/// Flies all by the batch, in the same columns again and again.
fn by_batch(start: &Start, batches: &[Batch], out: &mut Flights) {
    let crew = Crew { threads: Some(1), watch: None };
    for batch in batches {
        let launches = Launches { position: &start.position, velocity: &start.velocity };
        batch.flights_into(black_box(launches), &mut out.columns(), &crew).unwrap();
    }
}

/// Every flight of the batch and of the solver, held to a single flight.
fn assert_accurate(start: &Start, ground: &Ground, solver: Option<Solver<'_>>, within: f64) {
    let height = if solver.is_some() { 0.0 } else { 1.0 };
    for (wind, batch) in WINDS.iter().zip(batches(ground, height)) {
        let launches = Launches { position: &start.position, velocity: &start.velocity };
        let flown = batch.flights(launches, &Crew::default()).unwrap();
        for i in 0..EACH {
            let (p, v) = (Vec3::from(start.position[i]), Vec3::from(start.velocity[i]));
            let launch = Launch::by_hand(p, v).unwrap();
            let one = launch.flight(ground, &rider(height), &air(*wind)).unwrap();
            let Some(touch) = one.end().touch() else { continue };
            let mark = touch.position - touch.normal * height;
            assert!((Vec3::from(flown.mark[i]) - mark).norm() < within);
            if let Some(solver) = solver {
                assert!((solver([p, v], *wind).1 - touch.position).norm() < within);
            }
        }
    }
}

type Solver<'a> = &'a dyn Fn([Vec3; 2], [f64; 3]) -> (f64, Vec3);

fn forces(wind: [f64; 3]) -> dopri::Air {
    let forces = Forces::new(&rider(0.0), &air(wind));
    dopri::Air { g: forces.g(), k: forces.k(), wind: forces.wind() }
}

fn by_solver(start: &Start, solver: Solver<'_>) -> f64 {
    let mut sum = 0.0;
    for wind in WINDS {
        for (p, v) in start.position.iter().zip(&start.velocity) {
            sum += solver(black_box([Vec3::from(*p), Vec3::from(*v)]), wind).0;
        }
    }
    sum
}

fn onto_a_plane(criterion: &mut Criterion) {
    let (start, ground) = (starts(), slope());
    let normal = Vec3::new(0.12f64.sin(), 0.0, 0.12f64.cos());
    let solver =
        |start, wind| dopri::touch(forces(wind), &|c: &Vec3| normal.dot(c), 1e-10, 60.0, start);
    assert_accurate(&start, &ground, Some(&solver), 1e-8);
    let mut group = criterion.benchmark_group("plane");
    group.throughput(Throughput::Elements((WINDS.len() * EACH) as u64)).sample_size(20);
    let (batches, mut out) = (batches(&ground, 0.0), Flights::new(EACH));
    group.bench_function("batch", |b| b.iter(|| by_batch(&start, &batches, &mut out)));
    group.bench_function("Dopri5", |b| b.iter(|| by_solver(&start, &solver)));
    group.finish();
}

/// The same under an acceleration that the batch only calls: gravity, drag and wind as any model would bring them.
fn driven(criterion: &mut Criterion) {
    let (start, ground) = (starts(), slope());
    let normal = Vec3::new(0.12f64.sin(), 0.0, 0.12f64.cos());
    let solver =
        |start, wind| dopri::touch(forces(wind), &|c: &Vec3| normal.dot(c), 1e-10, 60.0, start);
    let driven = WINDS.map(|wind| {
        let forces = Forces::new(&rider(0.0), &air(wind));
        Driven::new(&ground, 0.0, forces).unwrap()
    });
    let (mut chunk, mut touches) = (Starts::new(), Touches::new());
    for (wind, driven) in WINDS.iter().zip(&driven) {
        for first in (0..EACH).step_by(ROWS) {
            chunk.fill(&start.position[first..], &start.velocity[first..]);
            driven.fly(&chunk, ROWS, &mut touches);
            for row in 0..ROWS {
                let launch = Launch::by_hand(chunk.position(row), chunk.velocity(row)).unwrap();
                let one = launch.flight(&ground, &rider(0.0), &air(*wind)).unwrap();
                let touch = one.end().touch().unwrap();
                assert!((touches.position(row) - touch.position).norm() < 1e-8);
            }
        }
    }
    let mut group = criterion.benchmark_group("plane, any acceleration");
    group.throughput(Throughput::Elements((WINDS.len() * EACH) as u64)).sample_size(20);
    group.bench_function("batch", |b| {
        b.iter(|| {
            for (driven, first) in driven
                .iter()
                .flat_map(|driven| (0..EACH).step_by(ROWS).map(move |first| (driven, first)))
            {
                chunk.fill(black_box(&start.position[first..]), &start.velocity[first..]);
                driven.fly(&chunk, ROWS, &mut touches);
                black_box(&touches);
            }
        });
    });
    group.bench_function("Dopri5", |b| b.iter(|| by_solver(&start, &solver)));
    group.finish();
}

fn onto_a_grid(criterion: &mut Criterion) {
    let (start, ground) = (starts(), bumps());
    let Surface::Grid(heights) = &ground.surfaces()[0] else { return };
    let over = |c: &Vec3| heights.height(c.x, c.y).map_or(1.0, |z| c.z - z);
    let solver = |start, wind| dopri::touch(forces(wind), &over, 1e-7, 0.1, start);
    assert_accurate(&start, &ground, Some(&solver), 1e-6);
    assert_accurate(&start, &ground, None, 1e-6);
    let mut group = criterion.benchmark_group("grid");
    group.throughput(Throughput::Elements((WINDS.len() * EACH) as u64)).sample_size(20);
    let mut out = Flights::new(EACH);
    let (point, ball) = (batches(&ground, 0.0), batches(&ground, 1.0));
    group.bench_function("batch", |b| b.iter(|| by_batch(&start, &point, &mut out)));
    group.bench_function("batch, 1 m above the tyres", |b| {
        b.iter(|| by_batch(&start, &ball, &mut out));
    });
    group.bench_function("Dopri5", |b| b.iter(|| by_solver(&start, &solver)));
    group.finish();
}

/// Surveys, and landings built on them, for a bare point; beside the same flights one by one, of which few are
/// taken.
fn onto_surveys(criterion: &mut Criterion) {
    const FEW: usize = 64;
    let (start, rider, airs) = (starts(), rider(0.0), WINDS.map(air));
    for (name, ground) in [("survey", survey()), ("landing on a survey", built())] {
        assert_accurate(&start, &ground, None, 1e-6);
        let (batches, mut out) = (batches(&ground, 0.0), Flights::new(EACH));
        let mut group = criterion.benchmark_group(name);
        group.throughput(Throughput::Elements((WINDS.len() * EACH) as u64)).sample_size(10);
        group.bench_function("batch", |b| b.iter(|| by_batch(&start, &batches, &mut out)));
        group.throughput(Throughput::Elements((WINDS.len() * FEW) as u64));
        group.bench_function("one by one", |b| {
            b.iter(|| {
                for (air, i) in airs.iter().flat_map(|air| (0..FEW).map(move |i| (air, i))) {
                    let [p, v] = [start.position[i], start.velocity[i]];
                    let launch = Launch::by_hand(p.into(), v.into()).unwrap();
                    black_box(launch.flight(&ground, &rider, air).unwrap().touchdown());
                }
            });
        });
        group.finish();
    }
}

/// Places kept of each path.
const SAMPLES: usize = 200;

/// As many places of each path as are kept, by the solver's steps and by the batch, to 1e-8 m, which is asserted first.
fn sampled(criterion: &mut Criterion) {
    let (start, ground) = (starts(), slope());
    let (batches, crew) = (batches(&ground, 0.0), Crew { threads: Some(1), watch: None });
    let launches = Launches { position: &start.position, velocity: &start.velocity };
    let times: Vec<Vec<f64>> =
        batches.iter().map(|batch| batch.flights(launches, &crew).unwrap().time).collect();
    let mut out = vec![[0.0; 3]; EACH * SAMPLES];
    let by_solver = |w: usize, out: &mut [[f64; 3]]| {
        for (i, places) in out.chunks_mut(SAMPLES).enumerate() {
            let from = [Vec3::from(start.position[i]), Vec3::from(start.velocity[i])];
            dopri_path::path(forces(WINDS[w]), 1e-10, black_box(from), times[w][i], places);
        }
    };
    for (w, (wind, batch)) in WINDS.iter().zip(&batches).enumerate() {
        let mut steps = out.clone();
        by_solver(w, &mut steps);
        batch.paths_into(launches, &times[w], &mut out, &crew).unwrap();
        for i in 0..EACH {
            let launch =
                Launch::by_hand(start.position[i].into(), start.velocity[i].into()).unwrap();
            let one = launch.flight(&ground, &rider(0.0), &air(*wind)).unwrap();
            let places = one.flight_path().sample(times[w][i], SAMPLES);
            for (s, place) in places.iter().enumerate() {
                assert!((Vec3::from(out[SAMPLES * i + s]) - place).norm() < 1e-8);
                assert!((Vec3::from(steps[SAMPLES * i + s]) - place).norm() < 1e-8);
            }
        }
    }
    let mut group = criterion.benchmark_group("200 places of each path");
    group.throughput(Throughput::Elements((WINDS.len() * EACH) as u64)).sample_size(10);
    group.bench_function("batch", |b| {
        b.iter(|| {
            for (batch, time) in batches.iter().zip(&times) {
                batch.paths_into(black_box(launches), time, &mut out, &crew).unwrap();
            }
        });
    });
    group.bench_function("Dopri5", |b| b.iter(|| (0..4).for_each(|w| by_solver(w, &mut out))));
    // What writing alone costs: as many numbers from elsewhere.
    let from = out.clone();
    group.bench_function("plain copy", |b| {
        b.iter(|| (0..4).for_each(|_| out.copy_from_slice(black_box(&from))));
    });
    group.finish();
}

criterion_group!(benches, onto_a_plane, driven, onto_a_grid, onto_surveys, sampled);
criterion_main!(benches);
