//! Does a rider who leans as balance asks obey the equations of balance, and what does it change?
#![allow(clippy::unwrap_used, reason = "a test fails by panicking")]

use approx::assert_relative_eq;
use loamline::feature::{Bank, Wall};
use loamline::geometry::{Contact, Line, Piece, Plan, Track, Turn, Uphill};
use loamline::math::Vec3;
use loamline::math::jet::{Jet, Jet3};
use loamline::ride::{Brake, Lean, Outcome, Ride, RideError, RideOptions, Slowing, Zone};
use loamline::{Air, Ground, Rider};
use proptest::prelude::*;

const G: f64 = 9.80665;
const LEANS: [Lean; 2] = [Lean::Balanced, Lean::Settled];

fn wall(turn: Turn) -> Wall {
    let plan = Plan::arc(7.0, 55f64.to_radians(), turn).unwrap();
    let bank = Bank::linear(20f64.to_radians(), 68f64.to_radians()).unwrap();
    Wall::new(plan, bank, 2.4).unwrap().with_grade(-0.04).unwrap()
}

/// A line with joints: in from a straight, over a clothoid to an arc.
fn jointed() -> Line {
    let pieces = vec![
        Piece::Straight { length: 2.0 },
        Piece::Clothoid { length: 2.0, radius_start: f64::INFINITY, radius_end: 8.0 },
        Piece::Arc { radius: 6.5, angle: 0.6 },
    ];
    let plan = Plan::new(pieces, Turn::Right).unwrap();
    let bank = Bank::linear(0.3, 0.9).unwrap();
    Wall::new(plan, bank, 2.4).unwrap().with_grade(-0.05).unwrap().line(0.2, 1.4).unwrap()
}

fn frictionless() -> Rider {
    Rider::default().with_crr(0.0).unwrap().with_cda(0.0).unwrap()
}

fn leaning(lean: Lean, speed: f64) -> RideOptions {
    RideOptions { lean, ..RideOptions::new(speed) }
}

fn ride(line: &Line, rider: &Rider, lean: Lean, speed: f64) -> Ride {
    line.ride(rider, &Air::standard(), &leaning(lean, speed)).unwrap()
}

/// First and second derivative at the middle of five values, by polynomials through them.
fn derivatives(at: &[f64], values: &[Vec3]) -> (Vec3, Vec3) {
    let mut table = values.to_vec();
    for order in 1..5 {
        for i in (order..5).rev() {
            table[i] = (table[i] - table[i - 1]) / (at[i] - at[i - order]);
        }
    }
    // Newton's form, its first two derivatives at the middle place by Taylor arithmetic.
    let (mut value, mut first, mut half) = (table[4], Vec3::zeros(), Vec3::zeros());
    for i in (0..4).rev() {
        let x = at[2] - at[i];
        half = half * x + first;
        first = first * x + value;
        value = value * x + table[i];
    }
    (first, 2.0 * half)
}

/// By how much the contact force misses the centre of mass at a sample, radians: from the places of the samples alone.
fn misses(line: &Line, ride: &Ride, rider: &Rider, air: &Air, i: usize) -> Option<f64> {
    let samples = &ride.samples;
    let stations = &samples.station[i - 2..=i + 2];
    let jumps = line
        .joints()
        .into_iter()
        .any(|joint| (stations[0] - 1e-9..=stations[4] + 1e-9).contains(&joint));
    // Where a brake meets its limit, panels are short and samples too near for differences.
    let is_close = stations[4] - stations[0] < 0.02;
    if jumps || is_close || samples.speed[i + 2] < 0.5 {
        return None;
    }
    let (velocity, acceleration) =
        derivatives(&samples.time[i - 2..=i + 2], &samples.centre[i - 2..=i + 2]);
    let k = 0.5 * air.density() * rider.cda() / rider.mass();
    let relative = velocity - air.wind();
    let force = acceleration + Vec3::new(0.0, 0.0, G) + relative * (k * relative.norm());
    let up = (samples.centre[i] - samples.tyres[i]).normalize();
    let aside = up.cross(&line.frame(samples.station[i]).tangent);
    Some((force.dot(&aside) / force.norm()).abs())
}

#[test]
fn the_contact_force_passes_through_the_centre_of_mass() {
    let windy = Air::standard().with_wind(Vec3::new(-3.0, 4.0, 0.5)).unwrap();
    let rider = Rider::default().with_wheel_inertia(0.15).unwrap();
    for line in [wall(Turn::Left).line(0.25, 1.6).unwrap(), jointed()] {
        for lean in LEANS {
            for (air, brake, power) in [(Air::standard(), 0.0, 0.0), (windy, 0.7, 150.0)] {
                let options =
                    leaning(lean, 8.0).with_brake(Brake::Constant(brake)).with_power(power);
                let ride = line.ride(&rider, &air, &options).unwrap();
                assert!(ride.exit.is_some());
                let mut worst: f64 = 0.0;
                for i in 2..ride.samples.len() - 2 {
                    worst = worst.max(misses(&line, &ride, &rider, &air, i).unwrap_or(0.0));
                }
                assert!(worst < 1e-6, "{worst}");
                assert!(ride.ledger.residual().abs() < 1e-11);
            }
        }
    }
}

#[test]
fn a_level_circle_is_leant_into_as_the_textbook_says() {
    let (radius, speed) = (9.0, 6.0);
    let plan = Plan::arc(radius, 9.0, Turn::Left).unwrap();
    let line = Wall::new(plan, Bank::constant(0.0).unwrap(), 2.0).unwrap().line(0.0, 0.0).unwrap();
    for h in [0.4, 1.0] {
        let rider = frictionless().with_com_height(h).unwrap();
        for lean in LEANS {
            let ride = ride(&line, &rider, lean, speed);
            let middle = ride.samples.len() / 2;
            let (v, phi) = (ride.samples.speed[middle], ride.samples.lean[middle]);
            let wanted = v * v * (radius - h * phi.sin()) / (G * radius * radius);
            assert_relative_eq!(phi.tan(), wanted, epsilon = 1e-8);
            assert_relative_eq!(ride.samples.grip_demand[middle], wanted, epsilon = 1e-8);
        }
    }
}

/// A level track that winds gently to both sides.
#[derive(Debug)]
struct Winding {
    amplitude: f64,
    wave: f64,
    breaks: [f64; 2],
}

impl Track for Winding {
    fn breaks(&self) -> &[f64] {
        &self.breaks
    }

    fn contact(&self, _: usize, x: f64) -> Contact {
        let (sin, _) = (Jet::variable(x) * self.wave).sin_cos();
        let (zero, one) = (Jet::default(), Jet::constant(1.0));
        let point = Jet3::new(Jet::variable(x), sin * self.amplitude, zero);
        Contact { point, normal: Jet3::new(zero, zero, one) }
    }
}

#[test]
fn a_small_lean_is_the_static_one_smoothed() {
    // Smoothing a sine by exp(-|s|/L)/(2 L) shrinks it by 1 + (wave L)².
    let (speed, h, wave, amplitude) = (5.0_f64, 0.8, 0.7, 1e-4);
    let track = Winding { amplitude, wave, breaks: [0.0, 80.0] };
    let line = Line::along(track, Uphill::Nowhere);
    let rider = frictionless().with_com_height(h).unwrap();
    let fall = speed * (h / G).sqrt();
    for lean in LEANS {
        let ride = ride(&line, &rider, lean, speed);
        let samples = &ride.samples;
        let largest = amplitude * wave * wave * speed * speed / G;
        for i in (samples.len() / 3)..(2 * samples.len() / 3) {
            let wanted =
                -largest * (wave * samples.tyres[i].x).sin() / (1.0 + (wave * fall).powi(2));
            assert_relative_eq!(samples.lean[i], wanted, epsilon = 1e-5 * largest);
        }
    }
}

#[test]
fn at_the_edge_one_does_not_swing_and_the_other_leans_as_if_standing() {
    let air = Air::standard();
    let line = wall(Turn::Right).line(0.25, 1.6).unwrap();
    for speed in [6.0, 8.0, 10.0] {
        let balanced = *ride(&line, &Rider::default(), Lean::Balanced, speed).reached().unwrap();
        let swing = balanced.dup.dot(&balanced.up.cross(&balanced.frame.tangent));
        assert!(swing.abs() < 1e-12, "{swing}");
        let settled = *ride(&line, &Rider::default(), Lean::Settled, speed).reached().unwrap();
        let frame = settled.frame;
        let k = 0.5 * air.density() * Rider::default().cda() / Rider::default().mass();
        let v = settled.speed;
        let force = (frame.curvature + frame.tangent * k) * (v * v) + Vec3::new(0.0, 0.0, G);
        let lean = force.dot(&frame.left()).atan2(force.dot(&frame.normal));
        assert_relative_eq!(settled.up.dot(&frame.left()), lean.sin(), epsilon = 1e-10);
        assert!(settled.speed < balanced.speed);
    }
}

#[test]
fn without_friction_energy_stays() {
    let rider = frictionless().with_wheel_inertia(0.2).unwrap();
    for line in [wall(Turn::Left).line(0.25, 1.6).unwrap(), jointed()] {
        for lean in LEANS {
            let ride = ride(&line, &rider, lean, 8.0);
            let exit = ride.reached().unwrap();
            let start = ride.ledger.start + G * ride.samples.centre[0].z;
            assert_relative_eq!(exit.energy + G * exit.centre.z, start, max_relative = 1e-12);
        }
    }
}

#[test]
fn a_centre_of_mass_at_the_tyres_rides_as_on_the_deck() {
    let line = wall(Turn::Left).line(0.25, 1.6).unwrap();
    let point = Rider::default().with_com_height(0.0).unwrap();
    let deck = ride(&line, &point, Lean::Deck, 8.0);
    let near = Rider::default().with_com_height(1e-4).unwrap();
    for lean in LEANS {
        assert_eq!(ride(&line, &point, lean, 8.0), deck);
        let near = ride(&line, &near, lean, 8.0).exit_speed().unwrap();
        assert_relative_eq!(near, deck.exit_speed().unwrap(), max_relative = 1e-3);
    }
}

#[test]
fn a_straight_needs_no_lean() {
    let line = loamline::geometry::Profile::smooth(&[0.0, 5.0, 12.0, 20.0], &[4.0, 2.5, 1.0, 0.8]);
    let line = line.unwrap().line();
    let zone = |from, to, slowing| Zone { from, to, slowing };
    let zones = vec![zone(3.0, 5.0, Slowing::By(1.0)), zone(8.0, 14.0, Slowing::To(5.0))];
    for brake in [Brake::None, Brake::Constant(0.5), Brake::Zones(zones)] {
        for speed in [0.0, 3.0] {
            let options = |lean| leaning(lean, speed).with_brake(brake.clone());
            let rides = [Lean::Deck, Lean::Balanced, Lean::Settled].map(|lean| {
                line.ride(&Rider::default(), &Air::standard(), &options(lean)).unwrap()
            });
            let [deck, balanced, settled] = rides;
            for ride in [balanced, settled] {
                assert_relative_eq!(
                    ride.exit_speed().unwrap(),
                    deck.exit_speed().unwrap(),
                    max_relative = 1e-9
                );
                let time = |ride: &Ride| *ride.samples.time.last().unwrap();
                assert_relative_eq!(time(&ride), time(&deck), max_relative = 1e-8);
                assert_relative_eq!(ride.ledger.brake, deck.ledger.brake, epsilon = 1e-6);
                assert!(ride.peak.demand < 1e-9);
            }
        }
    }
}

#[test]
fn a_slow_rider_stalls_at_a_station() {
    let line = wall(Turn::Left).line(0.25, 1.6).unwrap();
    for lean in LEANS {
        let mut before = 0.0;
        for speed in [1.0, 2.0, 3.0, 4.0, 5.0] {
            let ride = ride(&line, &Rider::default(), lean, speed);
            let Outcome::Stalled { station } = ride.outcome else {
                unreachable!("too slow: {}", ride.outcome);
            };
            assert!(station > before && ride.exit.is_none());
            before = station;
            assert_relative_eq!(*ride.samples.station.last().unwrap(), station, epsilon = 1e-12);
            assert!(*ride.samples.speed.last().unwrap() < 1e-5);
            assert!(ride.ledger.residual().abs() < 1e-10 && ride.ledger.end < 1e-2);
        }
    }
}

/// A crest on a bend: over a hill that is ridden in a turn.
#[derive(Debug)]
struct Crest {
    radius: f64,
    breaks: [f64; 2],
}

impl Track for Crest {
    fn breaks(&self) -> &[f64] {
        &self.breaks
    }

    fn contact(&self, _: usize, angle: f64) -> Contact {
        let (sin, cos) = Jet::variable(angle).sin_cos();
        let out = Jet3::new(sin, Jet::default(), cos);
        Contact { point: out.scale(Jet::constant(self.radius)), normal: out }
    }
}

#[test]
fn a_crest_is_left_where_its_load_vanishes() {
    // As a point on a sphere of the centre of mass: cos = (2 + V²/(g (R + h))) / 3.
    let (radius, h) = (4.0, 0.7);
    let rider = frictionless().with_com_height(h).unwrap();
    let line = Line::along(Crest { radius, breaks: [0.0, 1.5] }, Uphill::Nowhere);
    for lean in LEANS {
        for speed in [0.5_f64, 3.0, 4.5] {
            let ride = ride(&line, &rider, lean, speed);
            let v = speed * (radius + h) / radius;
            let angle = ((2.0 + v * v / (G * (radius + h))) / 3.0).acos();
            let Outcome::LeftSurface { station } = ride.outcome else {
                unreachable!("nobody stays on: {}", ride.outcome);
            };
            assert_relative_eq!(station, radius * angle, epsilon = 1e-9);
        }
    }
}

#[test]
fn a_bend_too_tight_for_the_model_is_an_error() {
    let plan = Plan::arc(1.3, 6.0, Turn::Left).unwrap();
    let line = Wall::new(plan, Bank::constant(0.2).unwrap(), 2.0).unwrap().line(0.1, 0.1).unwrap();
    for lean in LEANS {
        let error =
            line.ride(&Rider::default(), &Air::standard(), &leaning(lean, 6.0)).unwrap_err();
        let refused = matches!(error, RideError::TooTight { .. } | RideError::Unresolved { .. });
        assert!(refused, "{error}");
    }
}

prop_compose! {
    fn lines()(
        radius in 4.0..15.0,
        angle in 0.3..1.2,
        ease in 0.5..3.0,
        bank in (0.0..85.0, 0.0..85.0),
        grade in -0.15..0.15,
        heights in (0.0..2.4, 0.0..2.4),
        left in any::<bool>(),
    ) -> Line {
        let turn = if left { Turn::Left } else { Turn::Right };
        let pieces = vec![
            Piece::Clothoid { length: ease, radius_start: f64::INFINITY, radius_end: radius },
            Piece::Arc { radius, angle },
        ];
        let plan = Plan::new(pieces, turn).unwrap();
        let (from, to): (f64, f64) = bank;
        let bank = Bank::linear(from.to_radians(), to.to_radians()).unwrap();
        let wall = Wall::new(plan, bank, 2.4).unwrap().with_grade(grade).unwrap();
        wall.line(heights.0, heights.1).unwrap()
    }
}

proptest! {
    #![proptest_config(ProptestConfig { cases: 64, ..ProptestConfig::default() })]
    #[test]
    fn on_any_wall_a_ride_balances_or_says_why_not(
        line in lines(),
        speed in 0.0..15.0,
        h in 0.3..1.3,
        power in prop_oneof![Just(0.0), 0.0..300.0],
        wind in (-6.0..6.0, -6.0..6.0),
        is_settled in any::<bool>(),
    ) {
        let air = Air::standard().with_wind(Vec3::new(wind.0, wind.1, 0.0)).unwrap();
        let rider = Rider::default().with_com_height(h).unwrap();
        let lean = LEANS[usize::from(is_settled)];
        let options = leaning(lean, speed).with_power(power);
        let ride = match line.ride(&rider, &air, &options) {
            Ok(ride) => ride,
            Err(RideError::TooTight { .. } | RideError::Unresolved { .. }) => return Ok(()),
            Err(error) => return Err(TestCaseError::fail(error.to_string())),
        };
        prop_assert!(ride.ledger.residual().abs() < 1e-9);
        let quick = line.ride(&rider, &air, &options.exit_only()).unwrap();
        prop_assert_eq!(
            std::mem::discriminant(&ride.outcome),
            std::mem::discriminant(&quick.outcome)
        );
        for i in (2..ride.samples.len().saturating_sub(2)).step_by(7) {
            let missed = misses(&line, &ride, &rider, &air, i).unwrap_or(0.0);
            prop_assert!(missed < 1e-4, "{missed} at {}", ride.samples.station[i]);
        }
    }
}

proptest! {
    #![proptest_config(ProptestConfig { cases: 24, ..ProptestConfig::default() })]
    /// Wind and pedals can keep a rider at a crawl, over which a lean does not resolve. In still air without them every
    /// ride has its end.
    #[test]
    fn in_still_air_every_lean_is_found(
        line in lines(), speed in 0.1..15.0, h in 0.3..1.3, is_settled in any::<bool>(),
    ) {
        let rider = Rider::default().with_com_height(h).unwrap();
        let options = leaning(LEANS[usize::from(is_settled)], speed);
        match line.ride(&rider, &Air::standard(), &options) {
            Ok(ride) => {
                prop_assert!(ride.ledger.residual().abs() < 1e-9);
                prop_assert!(ride.momentum.is_some_and(|parts| parts.residual().norm() < 1e-5));
            }
            Err(error) => prop_assert!(matches!(error, RideError::TooTight { .. }), "{error}"),
        }
    }
}

/// A wall of 7 m radius through 55 degrees, bank 20 to 68, grade -0.04, entered 0.25 m and left 1.6 m up the panel at
/// 8 m/s at its start; level ground at the height of the foot's end.
#[test]
fn off_a_steepening_wall_who_balances_lands_harder() {
    let wall = wall(Turn::Left);
    let line = wall.line(0.25, 1.6).unwrap();
    let (rider, air) = (Rider::default(), Air::standard());
    let foot = Vec3::new(0.0, 0.0, wall.edge(0.0).z);
    let ground = Ground::plane(foot, 0.0, 0.0).unwrap();
    let heights = [Lean::Deck, Lean::Balanced, Lean::Settled].map(|lean| {
        let launch = ride(&line, &rider, lean, 8.0).launch(0.0).unwrap();
        let flight = launch.flight(&ground, &rider, &air).unwrap();
        flight.touchdown().contact.unwrap().fall_height
    });
    // No outside values: what this set-up gives, so that a change is seen.
    for (height, known) in heights.into_iter().zip([0.860, 1.220, 1.432]) {
        assert_relative_eq!(height, known, epsilon = 1e-3);
    }
}
