//! Passes of a batch: each is what its ride, launch, flight and touchdown give by themselves.
#![allow(clippy::unwrap_used, reason = "a test that cannot set itself up fails by panicking")]

#[path = "../benches/fixtures/grounds.rs"]
mod grounds;
#[path = "../benches/fixtures/hillside.rs"]
mod hillside;

use grounds::{grid, plane};
use hillside::hillside;
use loamline::feature::Lip;
use loamline::geometry::VerticalCurve;
use loamline::ground::{Ground, Landing, Surface};
use loamline::launch::LaunchError;
use loamline::math::parallel::Crew;
use loamline::math::{Vec2, Vec3};
use loamline::passes::batch::{Batch, BatchError, Entries, Rows, Status};
use loamline::ride::{Lean, Outcome, RideOptions};
use loamline::site::Takeoff;
use loamline::touchdown::Touchdown;
use loamline::touchdown::batch::Status as FlightStatus;
use loamline::{Air, Rider};

/// Invented rows: speeds of 5 to 11 m/s, places all over the edge, pushes and soaked ones.
struct Given {
    speed: Vec<f64>,
    leave: Vec<f64>,
    pop: Vec<f64>,
}

impl Given {
    fn new(rows: usize, [low, high]: [f64; 2]) -> Self {
        let part = |i: usize, prime: f64| ((i + 1) as f64 * prime.sqrt()).fract();
        let all = |of: &dyn Fn(usize) -> f64| (0..rows).map(of).collect();
        Self {
            speed: all(&|i| 5.0 + 6.0 * part(i, 2.0)),
            leave: all(&|i| low + (high - low) * part(i, 3.0)),
            pop: all(&|i| 0.8 * part(i, 5.0) - 0.3),
        }
    }

    fn entries(&self) -> Entries<'_> {
        Entries { speed: &self.speed, leave: &self.leave, pop: &self.pop }
    }
}

/// A takeoff, who rides it, and onto what.
struct Scene {
    takeoff: Takeoff,
    enter: f64,
    ground: Ground,
    rider: Rider,
    air: Air,
    lean: Lean,
}

fn scene(ground: Ground) -> Scene {
    let site = hillside().unwrap();
    let rider = Rider::default().with_grip(0.9).unwrap();
    let air = Air::standard();
    Scene { takeoff: site.takeoff, enter: site.enter, ground, rider, air, lean: Lean::Deck }
}

fn crew(threads: usize) -> Crew<'static> {
    Crew { threads: Some(threads), watch: None }
}

impl Scene {
    fn batch(&self) -> Batch {
        let made = Batch::new(&self.takeoff, self.enter, &self.ground, &self.rider, &self.air);
        made.unwrap().with_lean(self.lean)
    }

    /// How one row comes out by itself.
    fn one(&self, [speed, leave, pop]: [f64; 3]) -> (Status, Option<(f64, Touchdown)>) {
        let options = RideOptions { lean: self.lean, ..RideOptions::new(speed).exit_only() };
        let line = self.takeoff.line(self.enter, leave).unwrap();
        let Ok(ride) = line.ride(&self.rider, &self.air, &options) else {
            return (Status::Unbalanced, None);
        };
        let status = match ride.outcome {
            Outcome::Reached => None,
            Outcome::Slid(_) => Some(Status::Slid),
            Outcome::Stalled { .. } => Some(Status::Stalled),
            Outcome::LeftSurface { .. } => Some(Status::LeftSurface),
            Outcome::DidNotStart => Some(Status::DidNotStart),
            other => panic!("{other}"),
        };
        if let Some(status) = status {
            return (status, None);
        }
        let launch = match ride.launch(pop) {
            Err(LaunchError::HangsUp { .. }) => return (Status::HungUp, None),
            launch => launch.unwrap(),
        };
        let touchdown = launch.flight(&self.ground, &self.rider, &self.air).unwrap().touchdown();
        (
            Status::Flight(FlightStatus::Flown(touchdown.outcome)),
            Some((ride.exit_speed().unwrap(), touchdown)),
        )
    }

    /// Asserts that every row is what it is by itself; gives how many land, and the greatest distance between marks.
    fn check(&self, given: &Given, rows: &Rows) -> (usize, f64) {
        let flat = matches!(self.ground.surfaces(), [Surface::Plane(_)]);
        let within = if flat { 1e-8 } else { 1e-6 };
        let (mut landed, mut farthest) = (0, 0.0_f64);
        for i in 0..rows.len() {
            let row = [given.speed[i], given.leave[i], given.pop[i]];
            let (status, one) = self.one(row);
            assert_eq!(rows.status(i), Some(status), "{row:?}");
            let contact = one.and_then(|(speed, touchdown)| touchdown.contact.map(|c| (speed, c)));
            let Some((exit_speed, contact)) = contact else {
                assert!(rows.time[i].is_nan() && rows.mark[i][2].is_nan());
                continue;
            };
            let near = |a: f64, b: f64, within: f64, what: &str| {
                assert!((a - b).abs() <= within, "{what} of {row:?}: {a}, {b}");
            };
            near(rows.exit_speed[i], exit_speed, 1e-8, "exit speed");
            near(rows.time[i], contact.time, within, "time");
            near(rows.fall_height[i], contact.fall_height, 10.0 * within, "fall height");
            near(rows.normal_speed[i], contact.normal_speed, 10.0 * within, "normal speed");
            near(rows.angle[i], contact.angle, 10.0 * within, "angle");
            near(rows.distance[i], contact.distance, within, "distance");
            near(rows.drop[i], contact.drop, within, "drop");
            near(rows.along_speed[i], contact.along_speed, 2e-6, "along speed");
            near(rows.sideways_speed[i], contact.sideways_speed, 2e-6, "sideways speed");
            near(rows.grip_demand[i].min(9.0), contact.grip_demand.min(9.0), 1e-5, "grip demand");
            near(rows.lean_owed[i], contact.lean_owed, 1e-9, "lean owed");
            farthest = farthest.max((Vec3::from(rows.mark[i]) - contact.mark).norm());
            landed += 1;
        }
        assert!(farthest <= within, "{farthest}");
        (landed, farthest)
    }

    fn checked(&self, rows: usize) -> (usize, f64) {
        let places = self.takeoff.places();
        let given = Given::new(rows, [places.low, places.high]);
        let passes = self.batch().passes(given.entries(), &crew(2)).unwrap();
        self.check(&given, &passes)
    }
}

#[test]
fn onto_a_plane_each_is_one_pass() {
    let (landed, _) = scene(plane()).checked(2000);
    assert!(landed > 1200, "{landed}");
}

#[test]
fn onto_a_grid_each_is_one_pass() {
    let (landed, _) = scene(grid()).checked(500);
    assert!(landed > 300, "{landed}");
}

#[test]
fn onto_a_survey_with_a_landing_each_is_one_pass() {
    let landing = Landing::new(Vec2::new(6.0, 6.0), 1.0, 0.45, 4.0, 3.0).unwrap();
    let ground = hillside().unwrap().ground().unwrap().with_landing(&landing).unwrap();
    let (landed, _) = scene(ground).checked(200);
    assert!(landed > 120, "{landed}");
}

#[test]
fn hard_rows_each_are_one_pass() {
    // Ground that the slow never clear, riders who crawl, wind, and a lean.
    let high = Ground::plane(Vec3::new(0.0, 0.0, 0.4), 0.0, 0.0).unwrap();
    scene(high).checked(200);
    let mut crawl = scene(plane());
    crawl.rider = crawl.rider.with_grip(5.0).unwrap();
    let mut given = Given::new(200, [0.0, 2.4]);
    given.speed.iter_mut().for_each(|speed| *speed = (*speed - 5.0) * 0.8);
    let rows = crawl.batch().passes(given.entries(), &crew(2)).unwrap();
    crawl.check(&given, &rows);
    let mut windy = scene(plane());
    windy.air = windy.air.with_wind(Vec3::new(2.0, -1.0, 0.0)).unwrap();
    windy.checked(40);
    let balanced = Scene { lean: Lean::Balanced, ..scene(plane()) };
    balanced.checked(10);
}

#[test]
fn off_a_lip_each_is_one_pass() {
    let lip = Lip::new(VerticalCurve::arc(0.0, 6.0, 0.5).unwrap(), 2.0).unwrap();
    let scene = Scene { takeoff: lip.into(), enter: 0.0, ..scene(plane()) };
    let (landed, _) = scene.checked(300);
    assert!(landed > 250, "{landed}");
}

#[test]
fn bad_rows_spoil_only_themselves() {
    let (scene, mut given) = (scene(plane()), Given::new(300, [1.0, 2.0]));
    let good = scene.batch().passes(given.entries(), &crew(1)).unwrap();
    let bad = [f64::NAN, f64::INFINITY, -1.0, 101.0];
    for (i, value) in bad.into_iter().enumerate() {
        given.speed[10 * i] = value;
        given.leave[10 * i + 1] = value;
        given.pop[10 * i + 2] = value * 7.0;
    }
    let rows = scene.batch().passes(given.entries(), &crew(1)).unwrap();
    for i in 0..300 {
        if i < 40 && i % 10 < 3 {
            assert_eq!(rows.status(i), Some(Status::Flight(FlightStatus::BadInput)), "{i}");
            assert!(rows.time[i].is_nan() && rows.fall_height[i].is_nan());
        } else {
            assert_eq!(rows.status(i), good.status(i), "{i}");
            assert_eq!(rows.mark[i].map(f64::to_bits), good.mark[i].map(f64::to_bits), "{i}");
        }
    }
}

#[test]
fn threads_and_neighbours_change_no_bit() {
    let (scene, given) = (scene(plane()), Given::new(3000, [0.8, 2.2]));
    let batch = scene.batch();
    let one = batch.passes(given.entries(), &crew(1)).unwrap();
    let bits =
        |rows: &Rows| -> Vec<u64> { rows.mark.iter().flatten().map(|x| x.to_bits()).collect() };
    for threads in [2, 5] {
        assert_eq!(bits(&batch.passes(given.entries(), &crew(threads)).unwrap()), bits(&one));
    }
    let entries = given.entries();
    let part = Entries {
        speed: &entries.speed[130..700],
        leave: &entries.leave[130..700],
        pop: &entries.pop[130..700],
    };
    assert_eq!(bits(&batch.passes(part, &crew(2)).unwrap()), bits(&one)[390..2100]);
    assert!(
        batch.passes(Entries { speed: &[], leave: &[], pop: &[] }, &crew(1)).unwrap().is_empty()
    );
}

#[test]
fn columns_of_other_lengths_are_an_error() {
    let batch = scene(plane()).batch();
    let short = Entries { speed: &[7.0, 8.0], leave: &[1.0], pop: &[0.0, 0.0] };
    let error = batch.passes(short, &crew(1)).unwrap_err();
    let wrong = |error: BatchError| match error {
        BatchError::Rows(rows) => (rows.field, rows.given, rows.wanted),
        other => panic!("{other}"),
    };
    assert_eq!(wrong(error), ("leave", 1, 2));
    let fine = Entries { speed: &[7.0], leave: &[1.0], pop: &[0.0] };
    let error = batch.passes_into(fine, &mut Rows::new(2).columns(), &crew(1)).unwrap_err();
    assert_eq!(wrong(error), ("entry_speed", 2, 1));
}

/// What the batch promises, at length: `cargo test --release --test passes_batch -- --ignored --nocapture`.
#[test]
#[ignore = "a hundred thousand passes one by one take a while"]
#[allow(clippy::print_stderr, reason = "how near they are is what one looks for")]
fn a_hundred_thousand_each_are_one_pass() {
    for (name, ground) in [("plane", plane()), ("grid", grid())] {
        let (landed, farthest) = scene(ground).checked(100_000);
        assert!(landed > 60_000);
        eprintln!("{name}: {landed} land, marks within {farthest:.1e} m");
    }
}
