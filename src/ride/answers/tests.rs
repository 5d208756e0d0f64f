use super::{Answers, Cause};
use crate::air::Air;
use crate::geometry::{Line, Profile};
use crate::math::Vec3;
use crate::ride::{Brake, RideOptions};
use crate::rider::Rider;
use approx::assert_relative_eq;

fn hill() -> Profile {
    let (distance, height) = ([0.0, 5.0, 11.0, 16.0, 22.0], [4.8, 3.6, 1.9, 0.7, 0.2]);
    Profile::smooth(&distance, &height).unwrap()
}

fn rider() -> Rider {
    Rider::default().with_grip(0.5).unwrap()
}

fn windy() -> Air {
    Air::standard().with_wind(Vec3::new(-2.0, 1.5, 0.2)).unwrap()
}

/// Energy and time at the end, time and speed at a gate, and their derivatives by one cause.
fn numbers(
    line: &Line,
    rider: &Rider,
    air: &Air,
    options: &RideOptions,
    cause: Cause,
) -> ([f64; 4], [f64; 4]) {
    let station = [line.length() - 6.3];
    let (ride, answers) = line.answers(rider, air, options, &station).unwrap();
    let Answers { energy, time, seen } = answers;
    let exit = ride.reached().unwrap();
    let lasts = ride.samples.time.last().unwrap();
    let seen = seen[0];
    (
        [exit.energy, *lasts, seen.time, seen.speed],
        [energy, time, seen.time_by, seen.speed_by].map(|row| row.by(cause)),
    )
}

/// Against differences of rides, to the fourth order.
fn check(what: &str, h: f64, exact: [f64; 4], at: impl Fn(f64) -> [f64; 4]) {
    let [a, b, c, d] = [-2.0, -1.0, 1.0, 2.0].map(|k| at(k * h));
    for i in 0..4 {
        let slope = (a[i] - 8.0 * b[i] + 8.0 * c[i] - d[i]) / (12.0 * h);
        let off = (exact[i] - slope).abs();
        assert!(off <= 1e-7 * slope.abs().max(0.01), "{what} {i}: {} for {slope}", exact[i]);
    }
}

#[test]
fn rides_answer_as_rides_close_by_have_it() {
    let ways = [
        ("coasting", RideOptions::new(0.0), Air::standard()),
        ("windy", RideOptions::new(0.0), windy()),
        ("rolling in", RideOptions::new(2.0), windy()),
        ("braking", RideOptions::new(0.0).with_brake(Brake::Constant(0.4)), windy()),
        ("pedalling", RideOptions::new(0.0).with_power(160.0), windy()),
    ];
    for (what, options, air) in ways {
        let options = RideOptions { sample: Some(0.5), ..options };
        let ride = |start: f64, rider: &Rider, options: &RideOptions, cause| {
            numbers(&hill().run_in(start).unwrap(), rider, &air, options, cause)
        };
        let rolling = |by: f64| rider().with_crr(0.02 + by).unwrap();
        let exact = ride(18.3, &rolling(0.0), &options, Cause::Rolling).1;
        check(what, 1e-3, exact, |by| ride(18.3, &rolling(by), &options, Cause::Rolling).0);
        let drag = |by: f64| rider().with_cda(0.5 + by).unwrap();
        let per = crate::force::Forces::new(&drag(0.0), &air).k() / 0.5;
        let exact = ride(18.3, &drag(0.0), &options, Cause::Drag).1.map(|by| by * per);
        check(what, 1e-2, exact, |by| ride(18.3, &drag(by), &options, Cause::Drag).0);
        let exact = ride(18.3, &rider(), &options, Cause::Start).1.map(|by| -by);
        // The energy stays where the start goes: from rest it does.
        if options.speed == 0.0 {
            check(what, 4e-3, exact, |by| ride(18.3 + by, &rider(), &options, Cause::Start).0);
        }
        if let Brake::Constant(asked) = options.brake {
            let braked = |by: f64| options.clone().with_brake(Brake::Constant(asked + by));
            let exact = ride(18.3, &rider(), &options, Cause::Brake).1;
            check(what, 4e-3, exact, |by| ride(18.3, &rider(), &braked(by), Cause::Brake).0);
        }
    }
}

#[test]
fn an_entry_and_a_brake_at_the_limit_of_grip_answer_too() {
    let line = hill().run_in(7.0).unwrap();
    let braked = |speed: f64, asked: f64| RideOptions {
        sample: Some(0.5),
        ..RideOptions::new(speed).with_brake(Brake::Constant(asked))
    };
    for asked in [0.3, 8.0] {
        let ride =
            |speed: f64| numbers(&line, &rider(), &windy(), &braked(speed, asked), Cause::Speed);
        let (at, exact) = ride(9.0);
        check("entry", 4e-3, exact, |by| ride(9.0 + by).0);
        assert!(at[0] > 0.0);
    }
    let by = numbers(&line, &rider(), &windy(), &braked(9.0, 8.0), Cause::Brake).1;
    assert!(by.iter().all(|by| by.abs() < 1e-12), "grip is what holds: {by:?}");
}

#[test]
fn without_drag_the_closed_form_comes_back() {
    // Down a straight slope from rest with the mass at the tyres: v² = 2 s g (sin - crr cos) / (1 + lambda). Derived.
    let tilt = 0.2_f64;
    let line = Profile::cornered(&[0.0, 20.0], &[20.0 * tilt.tan(), 0.0], 1.0).unwrap();
    let line = line.run_in(15.0).unwrap();
    let rider = Rider::default().with_com_height(0.0).unwrap().with_cda(0.0).unwrap();
    let (ride, answers) =
        line.answers(&rider, &Air::standard(), &RideOptions::new(0.0), &[]).unwrap();
    let (g, way) = (Air::standard().gravity(), line.length());
    let push = g * (tilt.sin() - rider.crr() * tilt.cos());
    let exit = ride.reached().unwrap();
    assert_relative_eq!(exit.energy, push * way, max_relative = 1e-12);
    let by = |cause| answers.energy.by(cause);
    assert_relative_eq!(by(Cause::Rolling), -g * tilt.cos() * way, max_relative = 1e-12);
    assert_relative_eq!(by(Cause::Start), -push / tilt.cos(), max_relative = 1e-11);
    assert_relative_eq!(by(Cause::Brake), -way, max_relative = 1e-12);
    // T goes with the root of the way over the push.
    let lasts = ride.samples.time.last().unwrap();
    let by = |cause| answers.time.by(cause);
    let per_way = 0.5 * lasts / way;
    assert_relative_eq!(by(Cause::Start), -per_way / tilt.cos(), max_relative = 1e-9);
    let per_push = -0.5 * lasts / push;
    assert_relative_eq!(by(Cause::Rolling), -per_push * g * tilt.cos(), max_relative = 1e-9);
}
