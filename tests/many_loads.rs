//! The loads of many landings at once: each is that of one landing, to the last bit.
#![allow(clippy::float_cmp, reason = "to the last bit is what is asked")]
#![allow(clippy::unwrap_used, reason = "a test that cannot set itself up fails by panicking")]

use loamline::Rider;
use loamline::load::batch::{Batch, BatchError, BatchOptions, Impacts, Onto, Rows, Status};
use loamline::load::{Impact, Loads, Softness, Stage, StageLoads};
use loamline::math::parallel::Crew;
use loamline::rider::Absorber;

fn crew(threads: usize) -> Crew<'static> {
    Crew { threads: Some(threads), watch: None }
}

/// Landings from letting go to far past what legs can take, invented.
fn given(rows: u16) -> (Vec<f64>, Vec<f64>) {
    let speed = (0..rows).map(|i| 0.09 * f64::from(i)).collect();
    (speed, (0..rows).map(|i| 0.005 * f64::from(i)).collect())
}

fn one(rider: &Rider, options: &BatchOptions, speed: f64, slope: f64) -> Loads {
    let impact = Impact::at_speed(speed).unwrap().with_gravity(options.gravity).unwrap();
    let impact = impact.onto(options.ground).with_slope(slope).unwrap();
    match options.onto {
        Onto::Foot => rider.loads_on_foot(&impact).unwrap(),
        _ => rider.loads_of(&impact).unwrap(),
    }
}

fn check(rows: &Rows, i: usize, one: &Loads) {
    let same = |a: f64, b: f64| assert_eq!(a.to_bits(), b.to_bits(), "{i}: {a} {b}");
    same(rows.peak_force[i], one.peak().value);
    same(rows.peak_time[i], one.peak().time);
    same(rows.peak_bodyweights[i], one.peak_bodyweights());
    same(rows.stopping_distance[i], one.lowest.value);
    same(rows.impulse[i], one.impulse());
    same(rows.duration[i], one.duration);
    same(rows.ground_force[i], one.stages[0].peak.value);
    let of = |stage| one.stage(stage).map_or(f64::NAN, |loads| loads.used.value);
    assert_eq!(
        rows.suspension_used[i].total_cmp(&of(Stage::Suspension)),
        std::cmp::Ordering::Equal
    );
    same(rows.legs_used[i], of(Stage::Legs));
    let bottomed = |stage| one.stage(stage).is_some_and(StageLoads::bottomed);
    assert_eq!(rows.suspension_bottomed[i], bottomed(Stage::Suspension));
    assert_eq!(rows.legs_bottomed[i], bottomed(Stage::Legs));
    let is_stopped = !one.mean_bodyweights().is_nan();
    assert_eq!(rows.status(i), Some(if is_stopped { Status::Stopped } else { Status::NotStopped }));
    assert_eq!(rows.mean_bodyweights[i].is_nan(), !is_stopped);
    assert!(!is_stopped || rows.mean_bodyweights[i] == one.mean_bodyweights());
}

#[test]
fn each_row_is_one_landing_on_any_number_of_threads() {
    let (speed, slope) = given(120);
    let impacts = Impacts { normal_speed: &speed, slope: &slope };
    let rigid = Rider::default().with_absorber(Absorber::rigid()).unwrap();
    let soft = Softness::crushing(80_000.0, 2500.0).unwrap();
    let common = BatchOptions::default();
    let cases = [
        (Rider::default(), common),
        (Rider::default(), BatchOptions { ground: soft, gravity: 3.7, ..common }),
        (Rider::default(), BatchOptions { onto: Onto::Foot, ..common }),
        (rigid, BatchOptions { gravity: 9.7, ..common }),
    ];
    for (rider, options) in cases {
        let batch = Batch::new(&rider, options).unwrap();
        let rows = batch.loads(impacts, &crew(1)).unwrap();
        assert_eq!(format!("{:?}", batch.loads(impacts, &crew(3)).unwrap()), format!("{rows:?}"));
        for i in (0..rows.len()).step_by(7) {
            check(&rows, i, &one(&rider, &options, speed[i], slope[i]));
        }
    }
}

#[test]
fn bad_rows_spoil_only_themselves() {
    let batch = Batch::new(&Rider::default(), BatchOptions::default()).unwrap();
    let normal_speed = [3.0, f64::NAN, -1.0, 3.0, f64::INFINITY];
    let slope = [0.0, 0.0, 0.0, 7.0, 0.0];
    let impacts = Impacts { normal_speed: &normal_speed, slope: &slope };
    let rows = batch.loads(impacts, &crew(2)).unwrap();
    assert_eq!(rows.status(0), Some(Status::Stopped));
    for i in 1..5 {
        assert_eq!(rows.status(i), Some(Status::BadInput), "{i}");
        assert!(rows.peak_force[i].is_nan() && !rows.legs_bottomed[i]);
    }
    assert_eq!(rows.status(5), None);
    let short = Impacts { normal_speed: &normal_speed, slope: &slope[..2] };
    let error = batch.loads(short, &crew(1)).unwrap_err();
    assert!(matches!(error, BatchError::Rows(rows) if (rows.field, rows.given) == ("slope", 2)));
    let no_gravity = BatchOptions { gravity: 0.0, ..BatchOptions::default() };
    assert!(Batch::new(&Rider::default(), no_gravity).is_err());
}
