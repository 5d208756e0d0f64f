//! Whatever is put in: a ride or a typed error, never a panic; and energy that adds up.
#![allow(clippy::unwrap_used, reason = "a test fails by panicking")]

use loamline::geometry::Profile;
use loamline::math::Vec2;
use loamline::two_wheel::{
    Braking, Clearance, Pose, Start, Terrain, TwoWheelError, TwoWheelOptions, TwoWheelRide,
};
use loamline::{Air, Rider};
use proptest::prelude::*;

/// Numbers of all kinds, also those that are none.
fn odd() -> impl Strategy<Value = f64> {
    prop_oneof![
        4 => -30.0..30.0f64,
        1 => prop::sample::select(vec![
            0.0, -0.0, f64::NAN, f64::INFINITY, f64::NEG_INFINITY, 1e300, -1e300, 1e-300, f64::MAX,
        ]),
    ]
}

/// Sharp ground of a few straights.
fn ground() -> impl Strategy<Value = Terrain> {
    prop::collection::vec((0.2..4.0f64, -1.0..1.0f64), 3..12).prop_map(|steps| {
        let (mut x, mut z) = (vec![0.0, 6.0], vec![0.0, 0.0]);
        for (along, up) in steps {
            x.push(x[x.len() - 1] + along);
            z.push(z[z.len() - 1] + up);
        }
        Terrain::polyline(&x, &z).unwrap()
    })
}

fn options(start: Start) -> TwoWheelOptions {
    TwoWheelOptions::new(start).with_tolerance(1e-6).with_longest(1.0)
}

fn is_whole(ride: &TwoWheelRide) -> bool {
    let samples = &ride.samples;
    let ends = samples.centre.iter().chain(&samples.rear.hub).chain(&samples.front.hub);
    ends.flat_map(|p| [p.x, p.y]).chain(samples.pitch.iter().copied()).all(f64::is_finite)
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(48))]

    #[test]
    fn over_any_ground_energy_adds_up(terrain in ground(), speed in 0.0..12.0f64) {
        let start = Start::Settled { front: 3.0, speed };
        let ride = Rider::default().two_wheel_ride(&terrain, &Air::standard(), &options(start));
        let ride = ride.unwrap();
        prop_assert!(is_whole(&ride));
        let scale = ride.ledger.start.total().abs() + ride.ledger.dampers + 10.0;
        prop_assert!(ride.ledger.residual().abs() < 1e-4 * scale, "{:?}", ride.ledger);
    }

    #[test]
    fn any_pose_gives_a_ride_or_an_error(
        terrain in ground(), numbers in prop::array::uniform8(odd()),
    ) {
        let [x, z, pitch, u, w, rate, rear, front] = numbers;
        let pose = Pose {
            centre: Vec2::new(x, z),
            pitch,
            velocity: Vec2::new(u, w),
            pitch_rate: rate,
            travel: [rear, front],
        };
        let gone = Rider::default().two_wheel_ride(
            &terrain, &Air::standard(), &options(Start::Given(pose)),
        );
        prop_assert!(gone.is_ok_and(|ride| is_whole(&ride)) || numbers.iter().any(|n| n.abs().is_nan() || n.abs() > 0.1));
    }

    #[test]
    fn any_option_gives_a_ride_or_an_error(numbers in prop::array::uniform8(odd())) {
        let [front, speed, from, to, deceleration, height, ahead, tolerance] = numbers;
        let options = TwoWheelOptions::new(Start::Settled { front, speed })
            .with_braking(Braking { from, to, deceleration })
            .with_clearance(Clearance { height, ahead })
            .with_tolerance(tolerance.abs() * 1e-6)
            .with_longest(0.5);
        let terrain = Terrain::polyline(&[0.0, 30.0], &[1.0, 0.0]).unwrap();
        if let Ok(ride) = Rider::default().two_wheel_ride(&terrain, &Air::standard(), &options) {
            prop_assert!(is_whole(&ride));
        }
    }

    #[test]
    fn any_profiles_make_a_terrain_or_an_error(numbers in prop::array::uniform8(odd())) {
        let [a, b, c, d, e, f, g, h] = numbers;
        let made: Vec<Profile> = [([a, b], [e, f]), ([c, d], [g, h])]
            .into_iter()
            .filter_map(|(x, z)| Profile::smooth(&x, &z).ok())
            .collect();
        if let Ok(terrain) = Terrain::new(&made) {
            let (from, _) = terrain.span();
            let start = Start::Settled { front: from + 2.0, speed: 3.0 };
            let _ = Rider::default().two_wheel_ride(&terrain, &Air::standard(), &options(start));
            let _ = terrain.height(a);
        }
        prop_assert!(Terrain::polyline(&[a, b, c], &[d, e, f]).is_ok() == (a < b && b < c && [a, b, c, d, e, f].iter().all(|n| n.is_finite())));
    }
}

#[test]
fn wrong_inputs_name_what_is_wrong() {
    let rider = Rider::default;
    let air = Air::standard();
    let level = Terrain::polyline(&[0.0, 30.0], &[0.0, 0.0]).unwrap();
    let from = |front: f64, speed: f64| options(Start::Settled { front, speed });
    let of = |rider: Rider, terrain: &Terrain, front: f64, speed: f64| {
        rider.two_wheel_ride(terrain, &air, &from(front, speed)).unwrap_err()
    };
    let short = of(rider(), &level, 1.0, 3.0);
    assert!(
        matches!(short, TwoWheelError::RunInTooShort { needed, .. } if (needed - 1.55).abs() < 1e-12)
    );
    let lip = Profile::cornered(&[0.0, 5.0, 8.0], &[0.0, 0.0, 1.0], 0.3).unwrap();
    let tight = of(rider(), &Terrain::new(&[lip]).unwrap(), 3.0, 3.0);
    let TwoWheelError::HollowTooTight { radius, wheel_radius, distance } = tight else {
        panic!("{tight}")
    };
    assert!((radius - 0.3).abs() < 1e-12 && (wheel_radius - 0.35).abs() < 1e-12);
    assert!((distance - 5.0).abs() < 0.1);
    let named = |error: TwoWheelError| match error {
        TwoWheelError::Range(number) => number.field.into_owned(),
        other => other.to_string(),
    };
    assert_eq!(named(of(rider(), &level, 5.0, 200.0)), "speed");
    assert_eq!(named(of(rider(), &level, 40.0, 2.0)), "front");
    let nose_heavy = rider().with_rear_to_com(Some(1.2)).unwrap();
    assert_eq!(named(of(nose_heavy, &level, 5.0, 2.0)), "rear_to_com");
    let thin = rider().with_inertia(loamline::rider::Inertia::new(4.0, 4.0, 4.0).unwrap());
    let thin = of(thin, &level, 5.0, 2.0);
    assert!(
        matches!(thin, TwoWheelError::InertiaTooSmall { inertia, unsprung } if inertia < unsprung)
    );
    assert!(matches!(Terrain::new(&[]), Err(TwoWheelError::NoProfiles)));
    let deck = |from: f64| Profile::smooth(&[from, from + 5.0], &[0.0, 0.0]).unwrap();
    let overlap = Terrain::new(&[deck(0.0), deck(4.0)]);
    assert!(matches!(overlap, Err(TwoWheelError::ProfilesOverlap { index: 1, .. })));
}
