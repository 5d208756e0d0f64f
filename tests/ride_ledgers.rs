//! Does the momentum of a ride add up, and do rides that come to rest in wind, or cannot lean in, say so?
#![allow(clippy::unwrap_used, reason = "a test fails by panicking")]

use approx::assert_relative_eq;
use loamline::feature::{Bank, Lip, Wall};
use loamline::geometry::{Bend, Line, Piece, Plan, Profile, Turn, VerticalCurve};
use loamline::math::Vec3;
use loamline::ride::{Brake, Lean, Momentum, Outcome, RideOptions, Slowing, Zone};
use loamline::{Air, Rider};

const G: f64 = 9.80665;
const LEANS: [Lean; 3] = [Lean::Deck, Lean::Balanced, Lean::Settled];

fn straight(grade: f64, length: f64) -> Line {
    Profile::cornered(&[0.0, length], &[0.0, grade * length], 1.0).unwrap().line()
}

/// A wall with joints: in from a straight, over a clothoid to an arc that steepens.
fn wall(ease: f64, radius: f64) -> Line {
    let pieces = vec![
        Piece::Straight { length: 2.0 },
        Piece::Clothoid { length: ease, radius_start: f64::INFINITY, radius_end: 1.2 * radius },
        Piece::Arc { radius, angle: 0.6 },
    ];
    let plan = Plan::new(pieces, Turn::Right).unwrap();
    let wall = Wall::new(plan, Bank::linear(0.3, 0.9).unwrap(), 2.4).unwrap();
    wall.with_grade(-0.05).unwrap().line(0.2, 1.4).unwrap()
}

/// A hip whose arc ends still curved, ridden straight over: it turns under the tyres.
fn hip() -> Line {
    let pieces = vec![
        (Bend::Up, Piece::Straight { length: 1.0 }),
        (Bend::Up, Piece::Arc { radius: 5.0, angle: 0.5 }),
    ];
    let lip = Lip::new(VerticalCurve::new(0.0, pieces).unwrap(), 2.0).unwrap();
    lip.with_hip(0.4).unwrap().line(0.2).unwrap()
}

fn sum(parts: &Momentum) -> Vec3 {
    let forces = parts.gravity + parts.drag + parts.normal + parts.side + parts.joints;
    parts.start + forces + parts.rolling + parts.brake + parts.pedal + parts.spin
}

#[test]
fn what_the_forces_gave_is_what_the_velocity_changed_by() {
    let windy = Air::standard().with_wind(Vec3::new(-3.0, 4.0, 0.5)).unwrap();
    let rider = Rider::default().with_wheel_inertia(0.15).unwrap();
    let zones = vec![
        Zone { from: 0.5, to: 1.5, slowing: Slowing::By(2.0) },
        Zone { from: 3.0, to: 4.0, slowing: Slowing::To(6.5) },
    ];
    for line in [wall(2.0, 6.5), hip()] {
        for lean in LEANS {
            for air in [Air::standard(), windy] {
                for (brake, power) in [(Brake::None, 0.0), (Brake::Zones(zones.clone()), 250.0)] {
                    let options = RideOptions { lean, brake, power, ..RideOptions::new(8.0) };
                    let ride = line.ride(&rider, &air, &options).unwrap();
                    let parts = ride.momentum.unwrap();
                    let left = ride.launch(0.0).unwrap().velocity;
                    assert_relative_eq!(parts.end, left, epsilon = 1e-12);
                    assert_relative_eq!(sum(&parts), parts.end, epsilon = 1e-9);
                    assert!(parts.residual().norm() < 1e-9, "{parts:?}");
                    assert!(parts.normal.norm() > 1.0 && parts.spin.norm() > 1e-4, "{parts:?}");
                    // The samples tell the same story: a centre of mass that moves as the parts add up.
                    let (first, last) = (ride.samples.centre[0], ride.samples.centre[1]);
                    let early = (last - first) / (ride.samples.time[1] - ride.samples.time[0]);
                    assert_relative_eq!(early, parts.start, epsilon = 0.1);
                }
            }
        }
    }
}

#[test]
fn on_a_straight_grade_each_part_has_its_closed_form() {
    let rider = Rider::default().with_cda(0.0).unwrap().with_wheel_inertia(0.2).unwrap();
    let air = Air::standard();
    let (line, brake) = (straight(-0.2, 20.0), 0.4);
    let (cos, sin) = (1.0 / 1.04_f64.sqrt(), 0.2 / 1.04_f64.sqrt());
    let (along, out) = (Vec3::new(cos, 0.0, -sin), Vec3::new(sin, 0.0, cos));
    for lean in LEANS {
        let options = RideOptions { lean, brake: Brake::Constant(brake), ..RideOptions::new(3.0) };
        let ride = line.ride(&rider, &air, &options).unwrap();
        let (parts, time) = (ride.momentum.unwrap(), *ride.samples.time.last().unwrap());
        let spinning = rider.rotating_factor();
        let gained = (G * sin - rider.crr() * G * cos - brake) * time / (1.0 + spinning);
        let close = |part: Vec3, wanted: Vec3| assert_relative_eq!(part, wanted, epsilon = 1e-9);
        close(parts.gravity, Vec3::new(0.0, 0.0, -G * time));
        close(parts.normal, out * (G * cos * time));
        close(parts.rolling, -along * (rider.crr() * G * cos * time));
        close(parts.brake, -along * (brake * time));
        close(parts.spin, -along * (spinning * gained));
        close(parts.end, along * (3.0 + gained));
        close(parts.side + parts.drag + parts.pedal + parts.joints, Vec3::zeros());
    }
}

/// Where a straight goes over into an arc the tyres speed up under a rider who does not: the energy, wheels' spin included, stays,
/// `(1 + l) v² = ((1 - h / R)² + l) w²`.
#[test]
fn a_joint_gives_what_the_wheels_spin_takes() {
    let (radius, speed) = (6.0, 8.0);
    let pieces = vec![
        (Bend::Up, Piece::Straight { length: 4.0 }),
        (Bend::Up, Piece::Arc { radius, angle: 0.3 }),
    ];
    let lip = Lip::new(VerticalCurve::new(0.0, pieces).unwrap(), 2.0).unwrap();
    let line = lip.line(0.0).unwrap();
    let still = Rider::default().with_crr(0.0).unwrap().with_cda(0.0).unwrap();
    for wheel_inertia in [0.0, 0.4] {
        let rider = still.clone().with_wheel_inertia(wheel_inertia).unwrap();
        let (spin, lead) = (rider.rotating_factor(), 1.0 - rider.com_height() / radius);
        let wanted = speed * (lead * ((1.0 + spin) / (lead * lead + spin)).sqrt() - 1.0);
        for lean in LEANS {
            let options = RideOptions { lean, ..RideOptions::new(speed) };
            let ride = line.ride(&rider, &Air::standard(), &options).unwrap();
            let joints = ride.momentum.unwrap().joints;
            assert_relative_eq!(joints, Vec3::x() * wanted, epsilon = 1e-10);
        }
    }
    let quick = RideOptions::new(speed).exit_only();
    assert_eq!(line.ride(&still, &Air::standard(), &quick).unwrap().momentum, None);
}

/// Up a grade into the wind, `a` the deceleration by grade and rolling and `u` the speed through the air:
/// `v dv/ds = -(a + k u²)`, so that the way to rest is `ln((a + k u0²) / (a + k w²)) / 2k - w (atan(u0 q) - atan(w q)) / (a q)`
/// with `q = sqrt(k / a)`.
#[test]
fn into_the_wind_a_climb_stalls_where_its_closed_form_says() {
    let (line, wind) = (straight(0.3, 40.0), 6.0);
    let (cos, sin) = (1.0 / 1.09_f64.sqrt(), 0.3 / 1.09_f64.sqrt());
    let air = Air::standard().with_wind(Vec3::new(-cos, 0.0, -sin) * wind).unwrap();
    let rider = Rider::default();
    let k = 0.5 * air.density() * rider.cda() / rider.mass();
    let a = G * sin + rider.crr() * G * cos;
    let q = (k / a).sqrt();
    for speed in [0.05, 0.5, 3.0, 8.0] {
        let through = speed + wind;
        let wanted = ((a + k * through * through) / (a + k * wind * wind)).ln() / (2.0 * k)
            - wind * ((through * q).atan() - (wind * q).atan()) / (a * q);
        for lean in LEANS {
            for sample in [None, Some(0.02)] {
                let options = RideOptions { lean, sample, ..RideOptions::new(speed) };
                let Outcome::Stalled { station } =
                    line.ride(&rider, &air, &options).unwrap().outcome
                else {
                    unreachable!("nobody climbs that");
                };
                assert_relative_eq!(station, wanted, max_relative = 1e-9);
            }
        }
    }
}

/// Upright where the line begins and asked to lean by more than a right angle a little later: the swing that it takes lifts
/// the tyres off before it has begun.
#[test]
fn a_lean_that_comes_too_soon_lifts_the_tyres_off_at_the_start() {
    let plan = vec![
        Piece::Clothoid { length: 1.0, radius_start: f64::INFINITY, radius_end: 5.0 },
        Piece::Arc { radius: 5.0, angle: 0.8 },
    ];
    let wall = Wall::new(Plan::new(plan, Turn::Left).unwrap(), Bank::constant(0.4).unwrap(), 2.4);
    let line = wall.unwrap().line(1.0, 1.0).unwrap();
    for lean in [Lean::Balanced, Lean::Settled] {
        let options = |speed| RideOptions { lean, ..RideOptions::new(speed) };
        let ride = |speed| line.ride(&Rider::default(), &Air::standard(), &options(speed)).unwrap();
        assert!(ride(6.0).outcome.reaches_end());
        let fast = ride(14.0);
        assert_eq!(fast.outcome, Outcome::LeftSurface { station: 0.0 });
        assert_eq!(fast.momentum.unwrap().residual(), Vec3::zeros());
    }
}
