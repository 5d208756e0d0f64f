use super::*;
use crate::launch::Attitude;
use approx::assert_relative_eq;

fn launch() -> Launch {
    let attitude = Attitude::upright(Vec3::new(1.0, 0.2, 0.1)).unwrap();
    Launch::by_hand(Vec3::new(0.0, 0.0, 3.0), Vec3::new(8.0, 1.6, 2.0))
        .unwrap()
        .with_attitude(attitude, Vec3::new(0.1, -0.6, 0.3))
        .unwrap()
}

fn flown(launch: &Launch, rider: &Rider, torque: Vec3) -> RigidFlight {
    let ground = Ground::plane(Vec3::zeros(), 0.3, 0.0).unwrap();
    let options = RigidOptions { torque, ..RigidOptions::default() };
    launch.rigid_flight(&ground, rider, &Air::standard(), options).unwrap()
}

#[test]
fn turning_does_not_change_the_path() {
    let (rider, launch) = (Rider::default(), launch());
    let rigid = flown(&launch, &rider, Vec3::new(3.0, 20.0, 1.0));
    let point = launch.flight(rigid.flight().ground(), &rider, &Air::standard()).unwrap();
    assert_eq!(rigid.flight(), &point);
    assert!(rigid.rotation().duration() >= point.time());
}

#[test]
fn it_leaves_as_the_launch_says_and_turns_by_its_angular_velocity() {
    let rider = Rider::default().with_wheel_inertia(0.1).unwrap();
    let (launch, h) = (launch(), 1e-5);
    let rigid = flown(&launch, &rider, Vec3::zeros());
    let (now, attitude) = (rigid.attitude(0.0), launch.attitude.unwrap());
    assert_relative_eq!(now.t, attitude.t, epsilon = 1e-14);
    assert_relative_eq!(now.u, attitude.u, epsilon = 1e-14);
    assert_relative_eq!(rigid.angular_velocity(0.0), launch.angular_velocity, epsilon = 1e-14);
    let time = 0.4;
    let w = rigid.angular_velocity(time);
    let (before, after) = (rigid.attitude(time - h), rigid.attitude(time + h));
    assert_relative_eq!(
        (after.u - before.u) / (2.0 * h),
        w.cross(&rigid.attitude(time).u),
        epsilon = 1e-8
    );
    assert_relative_eq!(w.dot(&rigid.attitude(time).l), rigid.body_rates(time).y, epsilon = 1e-13);
    assert!(rigid.spin_ledger().residual().norm() < 1e-12);
}

#[test]
fn wheels_spin_with_the_tyres_speed_or_the_velocity_forward() {
    let rider = Rider::default().with_wheel_inertia(0.1).unwrap();
    let forward = launch().velocity.dot(&launch().attitude.unwrap().t);
    let spin = |launch: &Launch| flown(launch, &rider, Vec3::zeros()).rotation().body().spin();
    assert_relative_eq!(spin(&launch()), 0.2 * forward / 0.35, epsilon = 1e-14);
    let faster = launch().with_tyre_speed(9.0).unwrap();
    assert_relative_eq!(spin(&faster), 0.2 * 9.0 / 0.35, epsilon = 1e-14);
}

#[test]
fn onto_another_ground_the_turning_goes_on() {
    let rigid = flown(&launch(), &Rider::default(), Vec3::zeros());
    let deep = Ground::plane(Vec3::new(0.0, 0.0, -20.0), 0.0, 0.0).unwrap();
    let moved = rigid.on(&deep).unwrap();
    assert!(moved.flight().time() > rigid.flight().time());
    assert!(moved.rotation().duration() >= moved.flight().time());
    assert_eq!(moved.attitude(0.5), rigid.attitude(0.5));
}

#[test]
fn a_launch_without_attitude_has_no_rigid_flight() {
    let bare = Launch::by_hand(Vec3::new(0.0, 0.0, 3.0), Vec3::new(8.0, 0.0, 2.0)).unwrap();
    let ground = Ground::plane(Vec3::zeros(), 0.3, 0.0).unwrap();
    let flown =
        bare.rigid_flight(&ground, &Rider::default(), &Air::standard(), RigidOptions::default());
    assert_eq!(flown.unwrap_err(), FlightError::NoAttitude);
    let explained = rigid_said();
    assert!(explained.contains("Euler") && explained.contains("certify nothing"));
}

fn rigid_said() -> String {
    flown(&launch(), &Rider::default(), Vec3::zeros()).explain().to_string()
}
