use super::*;
use crate::air::Air;
use crate::ground::{Ground, Landing};
use crate::launch::{Attitude, Launch};
use crate::math::{Vec2, Vec3};
use crate::rider::Rider;
use approx::assert_relative_eq;

fn no_drag() -> Rider {
    Rider::default().with_cda(0.0).unwrap()
}

fn thrown(position: Vec3, velocity: Vec3) -> Launch {
    Launch::by_hand(position, velocity).unwrap()
}

fn contact(launch: &Launch, ground: &Ground) -> Contact {
    launch.flight(ground, &no_drag(), &Air::standard()).unwrap().touchdown().contact.unwrap()
}

/// Thrown level from 1 m over the tyres' height: all numbers by hand.
#[test]
fn a_level_throw_comes_down_by_the_book() {
    let flat = Ground::plane(Vec3::zeros(), 0.0, 0.0).unwrap();
    let launch = thrown(Vec3::new(0.0, 0.0, 2.0), Vec3::new(6.0, 0.0, 0.0));
    let contact = contact(&launch, &flat);
    let time = (2.0 / 9.80665f64).sqrt();
    assert_relative_eq!(contact.time, time, epsilon = 1e-14);
    assert_relative_eq!(contact.fall_height, 1.0, epsilon = 1e-13);
    assert_relative_eq!(contact.mark, Vec3::new(6.0 * time, 0.0, 0.0), epsilon = 1e-13);
    assert_relative_eq!(contact.distance, 6.0 * time, epsilon = 1e-13);
    assert_relative_eq!(contact.drop, 2.0, epsilon = 1e-13);
    assert_relative_eq!(contact.angle, (9.80665 * time).atan2(6.0), epsilon = 1e-13);
    assert_relative_eq!(contact.along_speed, 6.0, epsilon = 1e-13);
    assert!(contact.sideways_speed.abs() < 1e-13 && contact.is_upright());
}

/// On a slope the fall height is the plain drop onto it less what the slope spares.
#[test]
fn a_slope_along_the_path_softens() {
    let slope: f64 = 0.5;
    let hill = Ground::plane(Vec3::zeros(), slope, 0.0).unwrap();
    let contact = contact(&thrown(Vec3::new(0.0, 0.0, 2.5), Vec3::new(7.0, 0.0, 1.0)), &hill);
    let v = contact.velocity;
    let into = -v.z * slope.cos() - v.x * slope.sin();
    assert_relative_eq!(contact.normal_speed, into, epsilon = 1e-12);
    assert_relative_eq!(contact.angle, (into / v.norm()).asin(), epsilon = 1e-12);
    let on_slope = contact.mark.x * slope.tan() + contact.mark.z;
    assert!(on_slope.abs() < 1e-12, "the mark lies {on_slope} off the slope");
}

#[test]
fn forward_is_the_bikes_and_then_the_landings() {
    let flat = Ground::plane(Vec3::zeros(), 0.0, 0.0).unwrap();
    let mut launch = thrown(Vec3::new(0.0, 0.0, 3.0), Vec3::new(6.0, 0.5, 0.0));
    let [t, l, u] = [Vec3::x(), Vec3::y(), Vec3::z()];
    launch.attitude = Some(Attitude { t, l, u });
    launch.tyre_point = Some(Vec3::new(0.0, 0.0, 2.0));
    let bike = contact(&launch, &flat);
    assert_relative_eq!(bike.sideways_speed, 0.5, epsilon = 1e-13);
    assert_relative_eq!(bike.grip_demand, 0.5 / bike.normal_speed, epsilon = 1e-13);
    assert_relative_eq!(bike.drop, 2.0, epsilon = 1e-13);
    let landing = Landing::new(Vec2::new(2.5, 0.2), 0.2, 0.2, 4.0, 3.0).unwrap();
    let built = flat.with_landing(&landing).unwrap();
    let flight = launch.flight(&built, &no_drag(), &Air::standard()).unwrap();
    let on_landing = flight.touchdown();
    let contact = on_landing.contact.unwrap();
    let over = contact.velocity - contact.normal * contact.velocity.dot(&contact.normal);
    assert!(contact.sideways_speed < 0.0 && contact.along_speed > 6.0);
    assert_relative_eq!(
        contact.along_speed.hypot(contact.sideways_speed),
        over.norm(),
        epsilon = 1e-12
    );
    assert_eq!(on_landing.outcome, TouchOutcome::Caught);
}

#[test]
fn where_it_falls_on_a_landing() {
    let flat = Ground::plane(Vec3::zeros(), 0.0, 0.0).unwrap();
    let landing = Landing::new(Vec2::new(4.0, 0.0), 0.0, 0.4, 4.0, 2.0).unwrap();
    let ground = flat.with_landing(&landing).unwrap();
    let outcome = |vx: f64, y: f64| {
        let launch = thrown(Vec3::new(0.0, y, 3.5), Vec3::new(vx, 0.0, 3.0));
        let flight = launch.flight(&ground, &no_drag(), &Air::standard()).unwrap();
        assert!(flight.touchdown().contact.unwrap().residual.abs() < 1e-9);
        flight.touchdown().outcome
    };
    assert_eq!(outcome(2.0, 0.0), TouchOutcome::Short);
    assert_eq!(outcome(7.0, 0.0), TouchOutcome::Caught);
    assert_eq!(outcome(12.0, 0.0), TouchOutcome::Long);
    assert_eq!(outcome(7.0, 1.5), TouchOutcome::Wide);
}

#[test]
fn warnings_are_typed_and_readable() {
    let flat = Ground::plane(Vec3::zeros(), 0.0, 0.0).unwrap();
    let mut launch = thrown(Vec3::new(0.0, 0.0, 3.0), Vec3::new(6.0, 5.0, 0.0));
    let (sin, cos) = 1.2f64.sin_cos();
    let (t, l, u) = (Vec3::x(), Vec3::new(0.0, cos, -sin), Vec3::new(0.0, sin, cos));
    launch.attitude = Some(Attitude { t, l, u });
    let options = crate::flight::FlightOptions { righting_rate: 0.5 };
    let flight = launch.flight_with(&flat, &no_drag(), &Air::standard(), options).unwrap();
    let touchdown = flight.touchdown();
    assert!(matches!(
        touchdown.warnings[..],
        [Warning::HighFall { .. }, Warning::NotUpright { .. }, Warning::Sideways { .. }]
    ));
    let contact = touchdown.contact.unwrap();
    assert!(!contact.is_upright());
    assert_relative_eq!(contact.lean_owed, 1.2 - 0.5 * contact.time, epsilon = 1e-12);
    assert!(touchdown.warnings.iter().all(|warning| warning.to_string().len() > 20));
    assert!(touchdown.explain().to_string().contains("certify nothing"));
    let small = Ground::grid(Vec2::zeros(), Vec2::repeat(1.0), 2, 2, vec![0.0; 4]).unwrap();
    let off = launch.flight(&small, &no_drag(), &Air::standard()).unwrap().touchdown();
    assert_eq!((off.outcome, off.contact), (TouchOutcome::OffSurvey, None));
    assert_eq!(off.warnings, [Warning::OffSurvey]);
}

mod rigid {
    use super::*;
    use crate::flight::{RigidFlight, RigidOptions};
    use crate::touchdown::Wheel;

    /// Level and still at the launch, turned by an angle about an axis of its own, and turning there.
    fn flown(turned: Vec3, rates: Vec3, slope: f64, torque: Vec3) -> RigidFlight {
        let turn = nalgebra::UnitQuaternion::from_scaled_axis(turned);
        let launch = thrown(Vec3::new(0.0, 0.0, 3.0), Vec3::new(6.0, 0.0, 1.0))
            .with_attitude(Attitude::of_rotation(&turn), turn * rates)
            .unwrap();
        let ground = Ground::plane(Vec3::zeros(), slope, 0.0).unwrap();
        let options = RigidOptions { torque, ..RigidOptions::default() };
        launch.rigid_flight(&ground, &no_drag(), &Air::standard(), options).unwrap()
    }

    #[test]
    fn a_level_bike_owes_the_slope_to_a_slope() {
        let slope = 0.35;
        let rigid = flown(Vec3::zeros(), Vec3::zeros(), slope, Vec3::zeros());
        let touchdown = rigid.touchdown();
        let (turn, contact) = (touchdown.turn.unwrap(), touchdown.contact.unwrap());
        assert_relative_eq!(turn.owed, Vec3::new(0.0, slope, 0.0), epsilon = 1e-12);
        assert_relative_eq!(turn.pitch_to_surface, slope, epsilon = 1e-12);
        assert_relative_eq!(turn.rate_to_pay.y * contact.time, slope, epsilon = 1e-12);
        assert_eq!(turn.first_wheel, Wheel::Rear);
        assert_relative_eq!(turn.gap, 1.2 * slope.sin(), epsilon = 1e-12);
        assert_relative_eq!(turn.between_wheels, turn.gap / contact.normal_speed);
        assert_relative_eq!(turn.wanted.u, contact.normal, epsilon = 1e-14);
    }

    #[test]
    fn what_is_owed_is_paid_by_the_rate_and_by_the_torque() {
        for axis in [Vec3::x(), Vec3::y(), Vec3::z()] {
            let open = flown(axis * 0.4, axis * -0.2, 0.0, Vec3::zeros());
            let turn = open.touchdown().turn.unwrap();
            assert!(turn.owed.norm() > 0.1 && turn.owed.cross(&axis).norm() < 1e-12);
            let turning = flown(axis * 0.4, axis * -0.2 + turn.rate_to_pay, 0.0, Vec3::zeros());
            assert!(turning.touchdown().turn.unwrap().owed.norm() < 1e-9);
            let pushed = flown(axis * 0.4, axis * -0.2, 0.0, turn.torque_to_pay);
            assert!(pushed.touchdown().turn.unwrap().owed.norm() < 1e-9);
            assert_relative_eq!(
                pushed.touchdown().turn.unwrap().rates,
                axis * -0.2 + 2.0 * turn.rate_to_pay,
                epsilon = 1e-9
            );
        }
    }

    #[test]
    fn the_front_comes_first_with_the_nose_down_and_is_warned_of() {
        let dive = flown(Vec3::new(0.0, 0.3, 0.0), Vec3::zeros(), 0.0, Vec3::zeros()).touchdown();
        assert_eq!(dive.turn.as_ref().unwrap().first_wheel, Wheel::Front);
        let warned =
            |touchdown: &Touchdown, kind: fn(&Warning) -> bool| touchdown.warnings.iter().any(kind);
        assert!(warned(&dive, |w| matches!(w, Warning::NoseDown { .. })));
        let crooked = flown(Vec3::new(0.5, -0.5, 0.4), Vec3::zeros(), 0.0, Vec3::zeros());
        let crooked = crooked.touchdown();
        assert!(warned(&crooked, |w| matches!(w, Warning::Crooked { .. })));
        assert!(warned(&crooked, |w| matches!(w, Warning::NoseUp { .. })));
        assert!(crooked.warnings.iter().all(|warning| warning.to_string().len() > 20));
        assert!(dive.explain().to_string().contains("owed.pitch"));
        let square = flown(Vec3::zeros(), Vec3::zeros(), 0.0, Vec3::zeros()).touchdown();
        assert_eq!(square.turn.unwrap().first_wheel, Wheel::Both);
    }

    #[test]
    fn a_point_flight_knows_no_turn() {
        let rigid = flown(Vec3::zeros(), Vec3::zeros(), 0.2, Vec3::zeros());
        let (point, whole) = (rigid.flight().touchdown(), rigid.touchdown());
        assert_eq!(point.turn, None);
        assert_eq!(point.contact, whole.contact);
    }
}
