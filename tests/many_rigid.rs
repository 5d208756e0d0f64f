//! Many rigid flights at once: each is one rigid flight, to the last bit.
#![allow(clippy::float_cmp, reason = "to the last bit is what is asked")]
#![allow(clippy::unwrap_used, reason = "a test that cannot set itself up fails by panicking")]

#[path = "../benches/fixtures/grounds.rs"]
mod grounds;

use grounds::{grid, plane};
use loamline::flight::RigidOptions;
use loamline::ground::Ground;
use loamline::launch::{Attitude, Launch};
use loamline::math::Vec3;
use loamline::math::parallel::Crew;
use loamline::touchdown::batch::{
    BatchError, RigidBatch, RigidColumns, RigidFlights, RigidLaunches, Status,
};
use loamline::touchdown::{TouchOutcome, Touchdown};
use loamline::{Air, Rider};

/// Launches, invented.
struct Given {
    position: Vec<[f64; 3]>,
    velocity: Vec<[f64; 3]>,
    attitude: Vec<[[f64; 3]; 3]>,
    turning: Vec<[f64; 3]>,
    speed: Vec<f64>,
}

fn given(rows: usize) -> Given {
    let part = |i: usize, prime: f64| ((i + 1) as f64 * prime.sqrt()).fract();
    let velocity: Vec<[f64; 3]> = (0..rows)
        .map(|i| [4.0 + 6.0 * part(i, 2.0), 2.0 * part(i, 3.0) - 1.0, 3.0 * part(i, 5.0)])
        .collect();
    let attitude = velocity.iter().map(|v| {
        let Attitude { t, l, u } = Attitude::upright((*v).into()).unwrap();
        [t.into(), l.into(), u.into()]
    });
    Given {
        position: (0..rows).map(|i| [0.0, 0.0, 1.6 + part(i, 7.0)]).collect(),
        attitude: attitude.collect(),
        turning: (0..rows)
            .map(|i| [part(i, 11.0) - 0.5, 2.0 * part(i, 13.0) - 1.0, part(i, 17.0)])
            .collect(),
        speed: (0..rows).map(|i| 5.0 + part(i, 19.0)).collect(),
        velocity,
    }
}

impl Given {
    fn launches(&self) -> RigidLaunches<'_> {
        RigidLaunches {
            position: &self.position,
            velocity: &self.velocity,
            attitude: &self.attitude,
            angular_velocity: &self.turning,
            tyre_speed: Some(&self.speed),
        }
    }

    fn one(&self, i: usize, scene: &Scene) -> Touchdown {
        let [t, l, u] = self.attitude[i].map(Vec3::from);
        let launch = Launch::by_hand(self.position[i].into(), self.velocity[i].into()).unwrap();
        let launch = launch.with_attitude(Attitude { t, l, u }, self.turning[i].into()).unwrap();
        let launch = launch.with_tyre_speed(self.speed[i]).unwrap();
        let Scene { ground, rider, air, options } = scene;
        launch.rigid_flight(ground, rider, air, *options).unwrap().touchdown()
    }
}

struct Scene {
    ground: Ground,
    rider: Rider,
    air: Air,
    options: RigidOptions,
}

impl Scene {
    fn new(ground: Ground) -> Self {
        let options = RigidOptions { torque: Vec3::new(1.0, -2.0, 0.5), ..RigidOptions::default() };
        let rider = Rider::typical(75.0, 1.75).unwrap();
        let air = Air::standard().with_wind(Vec3::new(-2.0, 1.0, 0.0)).unwrap();
        Self { ground, rider, air, options }
    }

    fn batch(&self) -> RigidBatch {
        RigidBatch::new(&self.ground, &self.rider, &self.air, self.options).unwrap()
    }

    fn flown(&self, given: &Given, threads: usize) -> RigidFlights {
        self.batch().flights(given.launches(), &crew(threads)).unwrap()
    }
}

fn crew(threads: usize) -> Crew<'static> {
    Crew { threads: Some(threads), watch: None }
}

/// All numbers of all rows, NaN and all.
fn said(rows: &RigidFlights) -> String {
    format!("{rows:?}")
}

#[test]
fn each_is_one_rigid_flight() {
    for ground in [plane(), grid()] {
        let (given, scene) = (given(150), Scene::new(ground));
        let rows = scene.flown(&given, 2);
        assert_eq!(said(&scene.flown(&given, 1)), said(&rows));
        for i in 0..rows.len() {
            let one = given.one(i, &scene);
            assert_eq!(rows.status(i), Some(Status::Flown(one.outcome)));
            let (contact, turn) = (one.contact.unwrap(), one.turn.unwrap());
            assert_eq!((rows.time[i], rows.fall_height[i]), (contact.time, contact.fall_height));
            assert_eq!((rows.angle[i], rows.lean_owed[i]), (contact.angle, contact.lean_owed));
            assert_eq!(Vec3::from(rows.mark[i]), contact.mark);
            assert_eq!(Vec3::from(rows.owed[i]), turn.owed);
            assert_eq!(Vec3::from(rows.rates[i]), turn.rates);
            assert_eq!(Vec3::from(rows.rate_to_pay[i]), turn.rate_to_pay);
            assert_eq!(Vec3::from(rows.torque_to_pay[i]), turn.torque_to_pay);
            assert_eq!(Vec3::from(rows.attitude[i][2]), turn.attitude.u);
            assert_eq!(Vec3::from(rows.wanted[i][0]), turn.wanted.t);
            assert_eq!((rows.pitch_to_surface[i], rows.gap[i]), (turn.pitch_to_surface, turn.gap));
            assert_eq!(rows.between_wheels[i], turn.between_wheels);
        }
    }
}

#[test]
fn bad_rows_spoil_only_themselves() {
    let mut given = given(140);
    let good = Scene::new(plane()).flown(&given, 1);
    given.position[3][1] = f64::NAN;
    given.velocity[4][0] = f64::INFINITY;
    given.attitude[5][2] = [0.0, 0.0, 2.0];
    given.turning[6][0] = f64::NAN;
    given.speed[7] = f64::NAN;
    given.turning[8] = [1e5, 1e5, 1e5];
    let rows = Scene::new(plane()).flown(&given, 2);
    for i in 0..140 {
        let wanted = match i {
            3..8 => Status::BadInput,
            8 => Status::Failed,
            _ => Status::Flown(TouchOutcome::Landed),
        };
        assert_eq!(rows.status(i), Some(wanted), "{i}");
        assert_eq!(rows.time[i].is_nan(), (3..9).contains(&i));
        assert_eq!(rows.attitude[i][1][1].is_nan(), (3..9).contains(&i));
        assert!((3..9).contains(&i) || rows.owed[i] == good.owed[i]);
    }
    let empty = RigidLaunches {
        position: &[],
        velocity: &[],
        attitude: &[],
        angular_velocity: &[],
        tyre_speed: None,
    };
    assert!(Scene::new(plane()).batch().flights(empty, &crew(2)).unwrap().is_empty());
}

#[test]
fn columns_that_do_not_fit_are_an_error() {
    let (given, scene) = (given(40), Scene::new(plane()));
    let wrong = |error: BatchError| match error {
        BatchError::Rows(rows) => (rows.field, rows.given, rows.wanted),
        other => panic!("{other}"),
    };
    let short = RigidLaunches { velocity: &given.velocity[1..], ..given.launches() };
    let error = scene.batch().flights(short, &crew(1)).unwrap_err();
    assert_eq!(wrong(error), ("velocity", 39, 40));
    let mut rows = RigidFlights::new(40);
    let cut: &mut [f64] = &mut [0.0; 3];
    let mut out = RigidColumns { gap: cut, ..rows.columns() };
    let error = scene.batch().flights_into(given.launches(), &mut out, &crew(1)).unwrap_err();
    assert_eq!(wrong(error), ("gap", 3, 40));
    let options = RigidOptions { torque: Vec3::new(f64::NAN, 0.0, 0.0), ..scene.options };
    assert!(RigidBatch::new(&scene.ground, &scene.rider, &scene.air, options).is_err());
}
