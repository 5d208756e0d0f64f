use super::*;
use crate::feature::EntranceShape;
use crate::math::Vec3;
use approx::assert_relative_eq;

fn shape() -> EntranceShape {
    EntranceShape {
        height: 0.8,
        trail_grade: 0.0,
        ramp_grade: 0.4,
        deck_grade: 0.0,
        sag_radius: 4.0,
        crest_radius: 3.0,
    }
}

fn entrance(shape: EntranceShape) -> Entrance {
    Entrance::new(shape, 1.5).unwrap()
}

fn flat() -> Ground {
    Ground::plane(Vec3::zeros(), 0.0, 0.0).unwrap()
}

/// Over a crest longer than the bike, both axles are on a circle of `R + r`: the ring's place follows from Pythagoras.
#[test]
fn over_a_long_crest_the_clearance_is_pythagoras() {
    let rider = Rider::default();
    let ring = Chainring::new(0.33, 0.07, 0.45).unwrap();
    for crest in [1.5, 2.0, 4.0] {
        let long = EntranceShape {
            height: 3.0,
            ramp_grade: 1.0,
            trail_grade: 0.0,
            crest_radius: crest,
            deck_grade: -1.0,
            ..shape()
        };
        let half = 0.5 * rider.wheelbase();
        let axles = ((crest + rider.wheel_radius()).powi(2) - half * half).sqrt();
        let middle = (ring.ahead() - half).hypot(axles + ring.height() - rider.wheel_radius());
        let expected = middle - ring.radius() - crest;
        let found = entrance(long).clearance(&rider, &ring).unwrap();
        assert_relative_eq!(found.least, expected, epsilon = 1e-9);
        assert_relative_eq!(found.level, 0.26, epsilon = 1e-12);
    }
}

/// At a sharp edge with the wheels astride the chainring hits where the triangle says: the edge comes up by
/// `(b / 2) tan(angle / 2)` between contacts, here with the ring half way.
#[test]
fn a_sharp_crest_hits_and_a_round_one_does_not() {
    let rider = Rider::default();
    let half = 0.5 * rider.wheelbase();
    let ring = Chainring::new(0.335, 0.07, half).unwrap();
    let sharp = |grade: f64| {
        let crest_radius = 1e-4;
        entrance(EntranceShape { height: 2.0, ramp_grade: grade, crest_radius, ..shape() })
    };
    for grade in [0.3f64, 0.6, 1.0] {
        let angle = grade.atan();
        // Contacts astride the edge; axles a radius off their straights; the bike's belly is parallel to the chord.
        let to_edge = (half - rider.wheel_radius() * (0.5 * angle).sin()) / (0.5 * angle).cos();
        let edge = to_edge * (0.5 * angle).sin();
        let axle = rider.wheel_radius() * (0.5 * angle).cos();
        let expected = axle + (ring.height() - rider.wheel_radius()) - edge - ring.radius();
        let found = sharp(grade).clearance(&rider, &ring).unwrap();
        assert_relative_eq!(found.least, expected, epsilon = 2e-4);
    }
    let options = EntranceOptions::new(5.0).unwrap();
    let check = |entrance: &Entrance| entrance.check(&flat(), &rider, &Air::standard(), &options);
    let hits = |w: &EntranceWarning| matches!(w, EntranceWarning::ChainringHits { .. });
    let ridge = EntranceShape { height: 2.0, ramp_grade: 1.0, crest_radius: 1e-4, ..shape() };
    let ridge = entrance(EntranceShape { deck_grade: -0.5, ..ridge });
    assert!(check(&ridge).unwrap().warnings.iter().any(hits));
    let round = check(&entrance(shape())).unwrap();
    assert!(round.warnings.is_empty(), "{:?}", round.warnings);
    assert!(round.clearance.least > 0.15);
    assert_relative_eq!(round.wheel_room, 3.65, epsilon = 1e-12);
}

/// On level ground a section is `w d + d^2 / tan(batter)`; along it Simpson's rule does the rest.
#[test]
fn its_earth_is_that_of_its_sections() {
    let ramp = entrance(shape()).placed(Vec3::new(3.0, -2.0, 0.0), 0.7).unwrap();
    let options = EntranceOptions::new(6.0).unwrap().with_batter(0.6).unwrap();
    let check = ramp.check(&flat(), &Rider::default(), &Air::standard(), &options).unwrap();
    let side = side::Side::of(ramp.shape());
    let section = |x: f64| {
        let depth = side.height(x);
        1.5 * depth + depth * depth / 0.6f64.tan()
    };
    let parts = 2000;
    let step = ramp.run() / f64::from(parts);
    let simpson: f64 = (0..parts)
        .map(|i| {
            let x = f64::from(i) * step;
            step / 6.0 * (section(x) + 4.0 * section(x + 0.5 * step) + section(x + step))
        })
        .sum();
    assert_relative_eq!(check.earth.volume, simpson, max_relative = 2e-3);
    assert_relative_eq!(check.earth.back_height, 0.8, epsilon = 1e-9);
    assert_relative_eq!(check.earth.start_gap, 0.0, epsilon = 1e-12);
    assert_relative_eq!(side.length(), ramp.length(), epsilon = 1e-12);
    assert_relative_eq!(side.height(ramp.run()), 0.8, epsilon = 1e-12);
    let crib = check.crib.unwrap();
    assert_relative_eq!(crib.crib.height(), 0.8, epsilon = 1e-9);
    assert_relative_eq!(crib.crib.width(), 0.48, epsilon = 1e-9);
}

/// Without losses the deck takes `g (height of the centre of mass)` off half the square of the speed.
#[test]
fn the_speed_it_costs_is_its_height() {
    let rider = Rider::default().with_cda(0.0).unwrap().with_crr(0.0).unwrap();
    let air = Air::standard();
    let options = |speed| EntranceOptions::new(speed).unwrap();
    let check = |speed| entrance(shape()).check(&flat(), &rider, &air, &options(speed)).unwrap();
    let quick = check(5.5);
    let out = quick.deck_speed.unwrap();
    assert_relative_eq!(30.25 - out * out, 2.0 * air.gravity() * 0.8, max_relative = 1e-9);
    let (least, most) = quick.loads.unwrap();
    assert!(least < 1.0 && most > 1.0);
    let leaves = |w: &EntranceWarning| matches!(w, EntranceWarning::LeavesCrest { .. });
    assert!(check(8.0).warnings.iter().any(leaves));
    let slow = check(2.0);
    assert_eq!(slow.deck_speed, None);
    assert!(slow.warnings.contains(&EntranceWarning::DoesNotArrive { speed: 2.0 }));
    let tight = entrance(EntranceShape { sag_radius: 1.2, ..shape() });
    let tight = tight.check(&flat(), &rider, &air, &options(6.0)).unwrap();
    let stiff = |w: &EntranceWarning| matches!(w, EntranceWarning::TooTightToRide { .. });
    assert!(tight.warnings.iter().any(stiff) && tight.deck_speed.is_none());
    assert!(tight.explain().to_string().contains("certify nothing"));
    assert!(tight.warnings.iter().all(|warning| warning.to_string().len() > 20));
}

#[test]
fn what_cannot_be_checked_says_why() {
    let (rider, air) = (Rider::default(), Air::standard());
    for wrong in [f64::NAN, 0.0, -1.0] {
        assert_eq!(EntranceOptions::new(wrong).unwrap_err().field, "speed");
        assert_eq!(
            EntranceOptions::new(6.0).unwrap().with_batter(wrong).unwrap_err().field,
            "batter"
        );
        assert!(
            Chainring::new(wrong, 0.1, 0.4).is_err() && Chainring::new(0.3, wrong, 0.4).is_err()
        );
    }
    let options = EntranceOptions::new(6.0).unwrap();
    let small = Ground::grid(
        crate::math::Vec2::zeros(),
        crate::math::Vec2::repeat(0.5),
        3,
        3,
        vec![0.0; 9],
    );
    let off = entrance(shape()).check(&small.unwrap(), &rider, &air, &options).unwrap_err();
    assert!(matches!(off, EntranceError::NoGround { .. }));
    let far = options.with_chainring(Chainring::new(0.3, 0.1, 1.5).unwrap());
    let far = entrance(shape()).check(&flat(), &rider, &air, &far).unwrap_err();
    assert!(far.to_string().starts_with("ahead = 1.5"));
    let tight = entrance(EntranceShape { sag_radius: 0.3, ..shape() });
    let tight = tight.clearance(&rider, &Chainring::default()).unwrap_err();
    assert!(matches!(tight, EntranceError::Ramp(_)));
}
