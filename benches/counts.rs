//! What flights, passes and the scores of landings cost in instructions: the same on a busy machine as on one at rest. Run under callgrind by `make counts`, which
//! holds the counts to those kept in counts.txt.
//!
//! Takes the names of kernels; all of them without one. Only what `counted` does is counted.
#![allow(clippy::unwrap_used, reason = "a bench that cannot set itself up fails by panicking")]

#[path = "fixtures/faces.rs"]
mod faces;
#[path = "fixtures/grounds.rs"]
mod grounds;
#[path = "fixtures/hillside.rs"]
mod hillside;
#[path = "fixtures/launches.rs"]
mod launches;
#[path = "fixtures/slopes.rs"]
mod slopes;

use launches::{WINDS, air, batches, rider, starts};
use loamline::design::score_many;
use loamline::ground::{Ground, Landing};
use loamline::launch::Launch;
use loamline::math::parallel::Crew;
use loamline::passes::batch::{Batch as Passes, Entries, Rows};
use loamline::touchdown::batch::{Flights, Launches};
use loamline::{Air, Rider};
use slopes::{built, bumps, slope};
use std::hint::black_box;

/// Flights of each wind.
const EACH: usize = 256;
/// Places kept of a path.
const SAMPLES: usize = 200;
const ONE: Crew<'static> = Crew { threads: Some(1), watch: None };

/// The part that callgrind counts: it knows it by this name.
#[inline(never)]
fn counted(work: impl FnOnce()) {
    black_box(work)();
}

fn many(ground: &Ground, height: f64) {
    let (start, batches, mut out) = (starts(), batches(ground, height), Flights::new(EACH));
    let given = Launches { position: &start.position[..EACH], velocity: &start.velocity[..EACH] };
    counted(|| {
        for batch in &batches {
            batch.flights_into(black_box(given), &mut out.columns(), &ONE).unwrap();
        }
    });
}

fn paths() {
    let (start, batches) = (starts(), batches(&slope(), 0.0));
    let given = Launches { position: &start.position[..EACH], velocity: &start.velocity[..EACH] };
    let times: Vec<_> =
        batches.iter().map(|batch| batch.flights(given, &ONE).unwrap().time).collect();
    let mut out = vec![[0.0; 3]; EACH * SAMPLES];
    counted(|| {
        for (batch, time) in batches.iter().zip(&times) {
            batch.paths_into(black_box(given), time, &mut out, &ONE).unwrap();
        }
    });
}

/// One after another, each with all that its end says.
fn one_by_one(ground: &Ground, height: f64) {
    let (start, rider) = (starts(), rider(height));
    let launches: Vec<Launch> = start.position[..EACH]
        .iter()
        .zip(&start.velocity)
        .map(|(p, v)| Launch::by_hand((*p).into(), (*v).into()).unwrap())
        .collect();
    let airs = WINDS.map(air);
    counted(|| {
        for (air, launch) in airs.iter().flat_map(|air| launches.iter().map(move |one| (air, one)))
        {
            black_box(launch.flight(black_box(ground), &rider, air).unwrap().touchdown());
        }
    });
}

fn passes() {
    let site = hillside::hillside().unwrap();
    let part = |i: usize, prime: f64| ((i + 1) as f64 * prime.sqrt()).fract();
    let count = EACH * WINDS.len();
    let column = |low: f64, span: f64, prime: f64| -> Vec<f64> {
        (0..count).map(|i| low + span * part(i, prime)).collect()
    };
    let (speed, leave, pop) =
        (column(8.2, 1.8, 2.0), column(0.8, 1.1, 3.0), column(-0.1, 0.4, 5.0));
    let rider = Rider::default().with_grip(0.9).unwrap();
    let (ground, air) = (grounds::plane(), Air::standard());
    let batch = Passes::new(&site.takeoff, site.enter, &ground, &rider, &air).unwrap();
    let (mut out, given) = (Rows::new(count), Entries { speed: &speed, leave: &leave, pop: &pop });
    counted(|| batch.passes_into(black_box(given), &mut out.columns(), &ONE).unwrap());
}

/// Each of many landings with each of some riders, in the search's closed form.
fn scores() {
    const RIDERS: usize = 64;
    let passes = hillside::hillside().unwrap().passes(RIDERS, 1, &ONE).unwrap();
    let found = (0..RIDERS / 2).filter_map(|i| faces::landing(&passes, i));
    let landings: Vec<Landing> = found.take(EACH * WINDS.len() / RIDERS).collect();
    assert_eq!(landings.len() * RIDERS, EACH * WINDS.len());
    counted(|| {
        black_box(score_many(black_box(&passes), &landings, 1.0, &ONE).unwrap());
    });
}

fn main() {
    let kernels: [(&str, &dyn Fn()); 9] = [
        ("many-plane", &|| many(&slope(), 0.0)),
        ("many-grid", &|| many(&bumps(), 0.0)),
        ("many-grid-high", &|| many(&bumps(), 1.0)),
        ("many-landing", &|| many(&built(), 0.0)),
        ("paths", &paths),
        ("one-plane", &|| one_by_one(&slope(), 1.0)),
        ("one-grid", &|| one_by_one(&bumps(), 1.0)),
        ("passes-plane", &passes),
        ("scores", &scores),
    ];
    let wanted: Vec<String> =
        std::env::args().skip(1).filter(|arg| !arg.starts_with('-')).collect();
    for name in &wanted {
        assert!(kernels.iter().any(|(kernel, _)| kernel == name), "no kernel is named {name}");
    }
    for (name, kernel) in kernels {
        if wanted.is_empty() || wanted.iter().any(|one| one == name) {
            kernel();
        }
    }
}
