use super::*;
use crate::ground::{Ground, Landing, Surface};
use crate::launch::Launch;
use crate::math::Vec3;
use crate::{Air, Rider};
use proptest::prelude::*;
use proptest::strategy::ValueTree;
use proptest::test_runner::{Config, TestRunner};

type Row = ([f64; 3], [f64; 3]);

/// The greatest difference between batch and single flights in place, over all rows; statuses are asserted.
fn farthest(ground: &Ground, rider: &Rider, air: &Air, rows: &[Row]) -> f64 {
    let (position, velocity): (Vec<_>, Vec<_>) = rows.iter().copied().unzip();
    let launches = Launches { position: &position, velocity: &velocity };
    let batch = Batch::new(ground, rider, air).unwrap();
    let flown = batch.flights(launches, &Crew { threads: Some(1), watch: None }).unwrap();
    rows.iter()
        .enumerate()
        .map(|(i, row)| difference(ground, rider, air, row, &flown, i))
        .fold(0.0, f64::max)
}

fn difference(
    ground: &Ground,
    rider: &Rider,
    air: &Air,
    row: &Row,
    flown: &Flights,
    i: usize,
) -> f64 {
    let launch = Launch::by_hand(row.0.into(), row.1.into()).unwrap();
    let flight = launch.flight(ground, rider, air).unwrap();
    let one = flight.touchdown();
    assert_eq!(flown.status(i), Some(Status::Flown(one.outcome)), "{row:?}");
    let Some(contact) = one.contact else {
        assert!(flown.time[i].is_nan() && flown.mark[i][2].is_nan());
        return 0.0;
    };
    let near = |a: f64, b: f64, within: f64| assert!((a - b).abs() <= within, "{row:?}: {a} {b}");
    let speed = contact.velocity.norm().max(1.0);
    // The kernels and the single flight onto a plane integrate alike: the path and its walk do not.
    let walked = flight.flight_path().touch(ground, *flight.reach()).unwrap();
    let flatness = speed / contact.normal_speed;
    assert!((walked.touch().unwrap().position - contact.position).norm() < 1e-10 * flatness);
    // What turns with the ground's normal is off by more on curved ground.
    let curved = if matches!(ground.surfaces(), [Surface::Plane(_)]) { 1e-8 } else { 1e-6 };
    near(flown.time[i], contact.time, curved);
    near(flown.normal_speed[i], contact.normal_speed, curved * speed);
    near(flown.fall_height[i], contact.fall_height, curved * speed);
    near(flown.angle[i], contact.angle, curved);
    near(flown.along_speed[i], contact.along_speed, curved * speed);
    near(flown.sideways_speed[i], contact.sideways_speed, curved * speed);
    near(flown.distance[i], contact.distance, curved);
    near(flown.drop[i], contact.drop, curved);
    near(flown.residual[i], 0.0, 1e-7);
    // A quotient by the speed into the surface, so a flat touch has less of it.
    let quotient = curved * flatness * (1.0 + contact.grip_demand.min(1e3));
    near(flown.grip_demand[i].min(1e3), contact.grip_demand.min(1e3), quotient.max(1e-6));
    assert!((Vec3::from(flown.velocity[i]) - contact.velocity).norm() < curved * speed);
    assert!((Vec3::from(flown.normal[i]) - contact.normal).norm() < curved);
    (Vec3::from(flown.mark[i]) - contact.mark).norm()
}

/// The winds of the benches: none, head and cross, tail, strong tail.
const WINDS: [[f64; 3]; 4] = [[0.0; 3], [-4.0, 4.0, -0.5], [3.0, -2.0, 0.5], [6.0, 0.0, 0.0]];

fn row() -> impl Strategy<Value = Row> {
    let launch = (4.0..14.0f64, 0.0..40f64.to_radians(), -30f64.to_radians()..30f64.to_radians());
    (prop::array::uniform3(-1.0..1.0f64), launch).prop_map(|([x, y, z], (speed, pitch, yaw))| {
        let level = speed * pitch.cos();
        ([x, y, 2.5 + z], [level * yaw.cos(), level * yaw.sin(), speed * pitch.sin()])
    })
}

/// A batch as the benches have it, and one of everything that can be launched.
fn batch(rows: usize) -> impl Strategy<Value = (Vec<Row>, usize, f64, f64, f64)> {
    let wild = (prop::array::uniform3(-3.0..3.0f64), prop::array::uniform3(-30.0..30.0f64));
    let any = prop_oneof![6 => row(), 1 => wild];
    (
        prop::collection::vec(any, rows),
        0..WINDS.len(),
        -0.8..0.8f64,
        prop_oneof![Just(0.0), 0.1..1.2f64],
        prop_oneof![Just(0.0), 0.3..1.5f64],
    )
}

/// Flies `batches` of so many each onto a ground made for a slope, and compares every flight with one flown by itself.
fn compare(batches: u32, rows: usize, ground: impl Fn(f64) -> Ground, within: f64) {
    let config = Config { cases: batches, failure_persistence: None, ..Config::default() };
    let flown = TestRunner::new(config).run(&batch(rows), |(rows, wind, slope, cda, height)| {
        let air = Air::standard().with_wind(WINDS[wind].into()).unwrap();
        let rider = Rider::default().with_cda(cda).unwrap();
        let rider = rider.with_com_height_landing(Some(height)).unwrap();
        let worst = farthest(&ground(slope), &rider, &air, &rows);
        prop_assert!(worst < within, "{worst} m");
        Ok(())
    });
    flown.unwrap();
}

fn plane(slope: f64) -> Ground {
    Ground::plane(Vec3::zeros(), slope, 0.3).unwrap()
}

/// Bumps and knolls on a slope, which paths graze; cells of 0.25 by 0.3 m.
fn bumps(slope: f64) -> Ground {
    let (columns, rows) = (120, 80);
    let height = |i: i32, j: i32| {
        let (x, y) = (0.25 * f64::from(i) - 4.0, 0.3 * f64::from(j) - 12.0);
        let knoll = 0.9 * (-4.0 * ((x - 5.0).powi(2) + (y - 0.6).powi(2))).exp();
        knoll + 0.15 * (1.3 * x).sin() * (1.1 * y + 0.4).cos() - 0.3 * slope * x
    };
    let z = (0..rows).flat_map(|j| (0..columns).map(move |i| height(i, j))).collect();
    let size = (columns.unsigned_abs() as usize, rows.unsigned_abs() as usize);
    Ground::grid(Vec2::new(-4.0, -12.0), Vec2::new(0.25, 0.3), size.0, size.1, z).unwrap()
}

#[test]
fn flights_onto_a_plane_are_those_flown_one_by_one() {
    compare(16, 1000, plane, 1e-8);
}

#[test]
fn flights_onto_a_grid_are_those_flown_one_by_one() {
    compare(10, 300, bumps, 1e-6);
}

#[test]
fn another_rider_and_air_fly_as_on_a_ground_not_known_before() {
    let rider = Rider::default().with_com_height_landing(Some(0.0)).unwrap();
    let high = rider.clone().with_com_height_landing(Some(1.0)).unwrap();
    let calm = Air::standard();
    let tail = calm.with_wind(WINDS[2].into()).unwrap();
    let position: Vec<[f64; 3]> = (0..40).map(|i| [0.05 * f64::from(i), 0.0, 2.0]).collect();
    let velocity: Vec<[f64; 3]> = (0..40).map(|i| [5.0 + 0.1 * f64::from(i), 0.2, 2.0]).collect();
    let launches = Launches { position: &position, velocity: &velocity };
    let flown = |batch: &Batch| batch.flights(launches, &Crew::default()).unwrap();
    for ground in [plane(0.2), bumps(0.2), surveyed(0.2)] {
        let known = Batch::new(&ground, &rider, &calm).unwrap();
        for (rider, air) in [(&rider, &tail), (&high, &tail), (&high, &calm)] {
            let anew = Batch::new(&ground, rider, air).unwrap();
            let again = flown(&known.with(rider, air).unwrap());
            assert_eq!(again, flown(&anew));
            assert_ne!(again, flown(&known));
        }
    }
}

/// Points of those bumps about 0.7 m apart, none on a line.
fn surveyed(slope: f64) -> Ground {
    let bumpy = bumps(slope);
    let points: Vec<Vec3> = (0..40 * 30)
        .map(|i| (0.7 * f64::from(i % 40) - 3.4, 0.75 * f64::from(i / 40) - 11.0))
        .map(|(x, y)| (x + 0.25 * (7.0 * y).sin(), y + 0.25 * (5.0 * x).cos()))
        .filter_map(|(x, y)| Some(Vec3::new(x, y, bumpy.height(x, y)?)))
        .collect();
    Ground::survey(&points).unwrap()
}

/// A landing on such ground.
fn landing(ground: &Ground) -> Ground {
    let landing = Landing::new(Vec2::new(6.0, -1.0), 0.1, 0.45, 5.0, 4.0).unwrap();
    ground.with_landing(&landing).unwrap()
}

#[test]
fn flights_onto_a_survey_are_those_flown_one_by_one() {
    compare(10, 300, surveyed, 1e-6);
}

#[test]
fn flights_onto_landings_are_those_flown_one_by_one() {
    compare(5, 300, |slope| landing(&surveyed(slope)), 1e-6);
    compare(5, 300, |slope| landing(&bumps(slope)), 1e-6);
}

#[test]
#[ignore = "a million flights take minutes"]
fn a_million_flights_onto_landings_are_those_flown_one_by_one() {
    compare(1000, 1000, |slope| landing(&surveyed(slope)), 1e-6);
}

#[test]
#[ignore = "a million flights take a minute"]
fn a_million_flights_onto_a_plane_are_those_flown_one_by_one() {
    compare(1000, 1000, plane, 1e-8);
}

#[test]
#[ignore = "a million flights onto a grid take minutes"]
fn a_million_flights_onto_a_grid_are_those_flown_one_by_one() {
    compare(1000, 1000, bumps, 1e-6);
}

#[test]
fn hard_cases_onto_a_plane_are_those_flown_one_by_one() {
    let ground = Ground::plane(Vec3::zeros(), 0.2, 0.0).unwrap();
    let n = [0.2f64.sin(), 0.0, 0.2f64.cos()];
    let rows: Vec<Row> = vec![
        ([0.0, 0.0, 3.0], [0.0, 0.0, 5.0]),
        ([0.0, 0.0, 3.0], [6.0, 0.0, 0.0]),
        ([0.0, 0.0, 3.0], [6.0, 0.0, 3.0]),
        ([0.0, 0.0, 3.0], [6.0, 1e-9, 3.0]),
        ([0.0, 0.0, 3.0], [6.0, 1e-3, 3.0]),
        ([0.0, 0.0, 3.0], [5.9, 0.1, -2.0]),
        // Launched on the ground, a hair above it, along it and below it.
        ([n[0], 0.0, n[2]], [5.0, 0.0, 2.0]),
        ([n[0], 0.0, n[2]], [5.0, 0.0, -2.0]),
        ([n[0], 0.0, n[2] + 1e-9], [5.0 * n[2], 0.0, -5.0 * n[0]]),
        ([0.0, 0.0, 1.5], [5.0 * n[2], 0.0, -5.0 * n[0]]),
        ([0.0, 0.0, 0.2], [5.0, 0.0, 2.0]),
        ([0.0, 0.0, -3.0], [5.0, 0.0, 2.0]),
        // Fast, far, and for long.
        ([0.0, 0.0, 3.0], [80.0, 3.0, 40.0]),
        ([1e6, -1e6, 3.0 - 1e6 * 0.2f64.tan()], [9.0, 0.0, 2.0]),
        ([0.0, 0.0, 900.0], [4.0, 0.0, 0.0]),
        ([0.0, 0.0, 40.0], [0.0, 0.0, -60.0]),
        ([0.0, 0.0, 0.0], [0.0, 0.0, 0.0]),
    ];
    for wind in WINDS {
        let air = Air::standard().with_wind(wind.into()).unwrap();
        for cda in [0.0, 0.5, 60.0] {
            let rider = Rider::default().with_cda(cda).unwrap();
            assert!(farthest(&ground, &rider, &air, &rows) < 1e-8);
        }
    }
}

fn hill() -> Ground {
    let z = (0..41 * 21).map(|i| 0.2 * (0.7 * f64::from(i % 41)).sin() - 0.15 * f64::from(i % 41));
    Ground::grid(Vec2::new(-4.0, -10.0), Vec2::repeat(1.0), 41, 21, z.collect()).unwrap()
}

#[test]
fn flights_onto_other_grounds_are_those_flown_one_by_one() {
    let (rider, air) = (Rider::default(), Air::standard());
    let landing = Landing::new(Vec2::new(5.0, 0.0), 0.1, 0.4, 5.0, 3.0).unwrap();
    let with_landing = hill().with_landing(&landing).unwrap();
    let level = Ground::plane(Vec3::new(0.0, 0.0, -2.0), 0.0, 0.0).unwrap();
    for ground in [hill(), with_landing, hill().higher(&level)] {
        let mut runner =
            TestRunner::new(Config { cases: 1, failure_persistence: None, ..Config::default() });
        let rows = prop::collection::vec(row(), 200).new_tree(&mut runner).unwrap().current();
        assert!(farthest(&ground, &rider, &air, &rows) < 1e-6);
    }
}

/// Where a launch begins in or at the ground, whichever side of it rounding puts it on, a rider rolls off as one by himself.
#[test]
fn launches_at_the_ground_come_out_as_one_by_one() {
    let ground = bumps(0.2);
    let rider = Rider::default().with_com_height_landing(Some(0.0)).unwrap();
    let velocities = [[5.0, 0.0, -1.0], [5.0, 1.0, 0.5], [2.0, -0.5, -4.0]];
    let place = |i: usize| (1.7 * (0.37 * i as f64).sin(), 3.1 * (0.53 * i as f64).cos());
    let rows: Vec<Row> = (0..300)
        .map(|i| {
            let (x, y) = place(i);
            let off = [-1e-3, -1e-9, 0.0, 1e-12, 1e-6, 1e-3][i % 6];
            ([x, y, ground.height(x, y).unwrap() + off], velocities[i % 3])
        })
        .collect();
    assert!(farthest(&ground, &rider, &Air::standard(), &rows) < 1e-6);
}

fn bits(flights: &Flights) -> Vec<u64> {
    let columns = [&flights.time, &flights.angle, &flights.distance, &flights.along_speed];
    let vectors = [&flights.mark, &flights.velocity, &flights.normal];
    let numbers = columns.into_iter().flatten().chain(vectors.into_iter().flatten().flatten());
    numbers.map(|x| x.to_bits()).collect()
}

#[test]
fn bad_rows_spoil_only_themselves_on_any_number_of_threads() {
    let mut runner = TestRunner::new(Config { failure_persistence: None, ..Config::default() });
    let rows = prop::collection::vec(row(), 5000).new_tree(&mut runner).unwrap().current();
    let (mut position, mut velocity): (Vec<_>, Vec<_>) = rows.into_iter().unzip();
    let batch = Batch::new(
        &Ground::plane(Vec3::zeros(), 0.1, 0.0).unwrap(),
        &Rider::default(),
        &Air::standard(),
    );
    let batch = batch.unwrap();
    let fly = |position: &[[f64; 3]], velocity: &[[f64; 3]], threads: Option<usize>| {
        batch.flights(Launches { position, velocity }, &Crew { threads, watch: None }).unwrap()
    };
    let good = fly(&position, &velocity, Some(1));
    assert!((0..5000).all(|i| good.status(i) == Some(Status::ALL[0])));
    for threads in [None, Some(2), Some(3)] {
        assert_eq!(bits(&fly(&position, &velocity, threads)), bits(&good));
    }
    for (i, bad) in [f64::NAN, f64::INFINITY, f64::NEG_INFINITY].into_iter().enumerate() {
        position[1000 * i + 7][i] = bad;
        velocity[1000 * i + 500][i] = bad;
    }
    position[4000][0] = 1e300;
    velocity[4001][2] = 1e200;
    let spoiled = fly(&position, &velocity, None);
    for i in 0..5000 {
        let is_bad = i < 3000 && [7, 500].contains(&(i % 1000));
        match spoiled.status(i) {
            Some(Status::BadInput) => assert!(is_bad && spoiled.time[i].is_nan()),
            _ if i == 4000 || i == 4001 => {}
            _ => assert!(!is_bad && spoiled.time[i].to_bits() == good.time[i].to_bits(), "{i}"),
        }
    }
}

#[test]
fn columns_of_other_lengths_are_refused_and_none_is_nothing() {
    let plane = Ground::plane(Vec3::zeros(), 0.1, 0.0).unwrap();
    let batch = Batch::new(&plane, &Rider::default(), &Air::standard()).unwrap();
    let three = [[0.0, 0.0, 2.0]; 3];
    let launches = Launches { position: &three, velocity: &three[..2] };
    let error = batch.flights(launches, &Crew::default()).unwrap_err();
    assert_eq!(error, BatchError::Rows(WrongRows { field: "velocity", given: 2, wanted: 3 }));
    let launches = Launches { position: &three, velocity: &three };
    let mut out = Flights::new(4);
    let error = batch.flights_into(launches, &mut out.columns(), &Crew::default()).unwrap_err();
    assert_eq!(error, BatchError::Rows(WrongRows { field: "time", given: 4, wanted: 3 }));
    let none = batch.flights(Launches { position: &[], velocity: &[] }, &Crew::default());
    assert!(none.unwrap().is_empty());
    assert!(Status::ALL.iter().all(|status| Status::from_code(status.code()) == Some(*status)));
    assert_eq!((Status::from_code(10), Status::Failed.to_string()), (None, "failed".into()));
}

#[test]
fn sampled_paths_are_those_of_single_flights() {
    let ground = plane(0.3);
    let calm = Rider::default().with_cda(0.0).unwrap();
    let mut runner = TestRunner::new(Config { failure_persistence: None, ..Config::default() });
    let rows = prop::collection::vec(row(), 300).new_tree(&mut runner).unwrap().current();
    let (mut position, mut velocity): (Vec<_>, Vec<_>) = rows.into_iter().unzip();
    // Straight up, at rest in the air, never fast, and not a number.
    velocity[7] = [0.0, 0.0, 5.0];
    velocity[20] = [6.0, 0.0, 0.0];
    velocity[33] = [0.0, 0.0, 0.0];
    position[150][1] = f64::NAN;
    for (wind, rider) in
        WINDS.iter().zip([&Rider::default(), &Rider::default(), &calm, &Rider::default()])
    {
        let air = Air::standard().with_wind((*wind).into()).unwrap();
        let batch = Batch::new(&ground, rider, &air).unwrap();
        let launches = Launches { position: &position, velocity: &velocity };
        let time = batch.flights(launches, &Crew::default()).unwrap().time;
        for samples in [1, 2, 41] {
            let mut out = vec![[0.0; 3]; samples * position.len()];
            batch.paths_into(launches, &time, &mut out, &Crew::default()).unwrap();
            for (i, places) in out.chunks(samples).enumerate() {
                if time[i].is_nan() {
                    assert!(places.iter().flatten().all(|x| x.is_nan()));
                    continue;
                }
                let launch = Launch::by_hand(position[i].into(), velocity[i].into()).unwrap();
                let one = launch.flight(&ground, rider, &air).unwrap();
                for (place, wanted) in places.iter().zip(one.flight_path().sample(time[i], samples))
                {
                    assert!((Vec3::from(*place) - wanted).norm() < 1e-8, "{i}: {place:?} {wanted}");
                }
            }
        }
    }
}

#[test]
fn paths_into_places_that_do_not_fit_are_refused() {
    let batch = Batch::new(&plane(0.1), &Rider::default(), &Air::standard()).unwrap();
    let three = [[0.0, 0.0, 2.0]; 3];
    let launches = Launches { position: &three, velocity: &three };
    let refused = |time: &[f64], rows: usize| {
        let mut out = vec![[0.0; 3]; rows];
        batch.paths_into(launches, time, &mut out, &Crew::default()).unwrap_err()
    };
    let error = refused(&[1.0; 2], 6);
    assert_eq!(error, BatchError::Rows(WrongRows { field: "time", given: 2, wanted: 3 }));
    let error = refused(&[1.0; 3], 7);
    assert_eq!(error, BatchError::Rows(WrongRows { field: "out", given: 7, wanted: 6 }));
    // No flights, or no places, are nothing to do.
    let mut none = [];
    assert!(batch.paths_into(launches, &[1.0; 3], &mut none, &Crew::default()).is_ok());
}
