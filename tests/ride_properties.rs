//! What holds for rides on any wall?
#![allow(clippy::unwrap_used, reason = "a test fails by panicking")]

use approx::assert_relative_eq;
use loamline::feature::{Bank, Wall};
use loamline::geometry::{Line, Piece, Plan, Turn};
use loamline::math::Vec3;
use loamline::ride::{HoldSpeeds, Lean, Outcome, RideError, RideOptions};
use loamline::{Air, Rider};
use proptest::prelude::*;

const G: f64 = 9.80665;

prop_compose! {
    fn lines()(
        radius in 5.0..15.0,
        angle in 0.3..1.2,
        ease in 0.5..3.0,
        bank in (0.0..80.0, 0.0..80.0),
        grade in -0.15..0.15,
        heights in (0.0..2.4, 0.0..2.4),
        skew in -0.4..0.4,
        left in any::<bool>(),
    ) -> Line {
        let turn = if left { Turn::Left } else { Turn::Right };
        let pieces = vec![
            Piece::Clothoid { length: ease, radius_start: f64::INFINITY, radius_end: radius },
            Piece::Arc { radius, angle },
        ];
        let plan = Plan::new(pieces, turn).unwrap();
        let (from, to): (f64, f64) = bank;
        // Steep enough an edge and a skew may carry the bank past upright: less of it then.
        let bank = Bank::linear(from.to_radians(), (0.7 * to + 0.3 * from).to_radians()).unwrap();
        let wall = Wall::new(plan, bank, 2.4).unwrap().with_grade(grade).unwrap();
        let wall = wall.clone().with_end_skew(skew).unwrap_or(wall);
        wall.line(heights.0, heights.1).unwrap()
    }
}

/// A ride, where the hollow is not too tight for it.
fn ride(
    line: &Line,
    rider: &Rider,
    air: &Air,
    options: &RideOptions,
) -> Option<loamline::ride::Ride> {
    match line.ride(rider, air, options) {
        // Typed errors of lines that cannot be ridden, and of a drive of a few watts near rest.
        Err(RideError::TooTight { .. } | RideError::Unresolved { .. }) => None,
        other => Some(other.unwrap()),
    }
}

proptest! {
    #[test]
    fn without_friction_energy_stays(line in lines(), speed in 0.0..15.0) {
        let rider = Rider::default().with_crr(0.0).unwrap().with_cda(0.0).unwrap();
        let Some(ride) = ride(&line, &rider, &Air::standard(), &RideOptions::new(speed)) else {
            return Ok(());
        };
        let total = |s: f64, v: f64| {
            let frame = line.frame(s);
            let along = (frame.tangent + frame.dnormal).norm_squared();
            0.5 * along * v * v + G * (frame.position + frame.normal).z
        };
        let start = total(0.0, speed);
        // At a joint the frame may jump, and the station stands twice.
        let joints = line.joints();
        let at_joint = |s: f64| joints.iter().any(|joint| (joint - s).abs() < 1e-9);
        for (s, v) in ride.samples.station.iter().zip(&ride.samples.speed) {
            if at_joint(*s) {
                continue;
            }
            assert_relative_eq!(total(*s, *v), start, epsilon = 1e-9, max_relative = 1e-11);
        }
        if let Some(exit) = ride.exit {
            let scale = exit.energy + G * exit.centre.z.abs();
            assert!((exit.energy + G * exit.centre.z - start).abs() <= 1e-12 * scale.max(1.0));
        }
    }

    #[test]
    fn the_exit_alone_misses_no_outcome(
        line in lines(),
        speed in 0.0..15.0,
        power in 0.0..300.0,
        wind in (-6.0..6.0, -6.0..6.0),
    ) {
        let air = Air::standard().with_wind(Vec3::new(wind.0, wind.1, 0.0)).unwrap();
        let options = RideOptions::new(speed).with_power(power);
        let rider = Rider::default();
        let Some(full) = ride(&line, &rider, &air, &options) else { return Ok(()) };
        let Some(quick) = ride(&line, &rider, &air, &options.exit_only()) else { return Ok(()) };
        prop_assert_eq!(
            std::mem::discriminant(&full.outcome),
            std::mem::discriminant(&quick.outcome)
        );
        if let (Some(a), Some(b)) = (full.outcome.station(), quick.outcome.station()) {
            prop_assert!((a - b).abs() < 1e-6, "{} {} off {:e}", full.outcome, quick.outcome, a - b);
        }
        prop_assert!(full.ledger.residual().abs() < 1e-9);
        // What the samples show is what the outcome says.
        let slides = full.samples.grip_demand.iter().any(|d| *d > rider.grip() * (1.0 + 1e-9));
        prop_assert!(!slides || full.slip.is_some());
        prop_assert!(full.samples.station.windows(2).all(|w| w[1] - w[0] <= 0.02 + 1e-12));
    }

    #[test]
    fn hold_speeds_and_rides_agree(line in lines(), grip in 0.3..1.2, speed in 0.5..18.0) {
        let rider = Rider::default().with_grip(grip).unwrap();
        let air = Air::standard();
        let hold = line.hold_speeds(&rider, &air, Lean::Deck).unwrap();
        let near = match hold {
            HoldSpeeds::Between { slowest, fastest } => {
                f64::abs(speed - slowest) < 1e-5 || f64::abs(speed - fastest) < 1e-5
            }
            HoldSpeeds::Never { .. } => false,
        };
        let Some(ride) = ride(&line, &rider, &air, &RideOptions::new(speed).exit_only()) else {
            return Ok(());
        };
        prop_assert!(near || hold.holds(speed) == (ride.outcome == Outcome::Reached), "{hold} {}", ride.outcome);
    }
}
