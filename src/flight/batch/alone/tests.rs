use super::*;
use crate::air::Air;
use crate::flight::FlightPath;
use crate::ground::{Ground, Reach};
use crate::rider::Rider;

/// Launches of 4 to 14 m/s, pitched up to 40 degrees, turned up to 30, and planes of 0.12 and -0.3; invented.
fn each(mut look: impl FnMut(&Vec3, &Vec3, &Forces, &Plane)) {
    let planes = [0.12, -0.3].map(|slope| Plane::new(Vec3::zeros(), slope, 0.4).unwrap());
    for wind in [[0.0, 0.0, 0.0], [-4.0, 4.0, -0.5], [3.0, -2.0, 0.5], [6.0, 0.0, 0.0]] {
        let air = Air::standard().with_wind(wind.into()).unwrap();
        let forces = Forces::new(&Rider::default(), &air);
        for i in 0..2000 {
            let part = |prime: f64| (f64::from(i) * prime.sqrt()).fract();
            let (speed, pitch, yaw) = (4.0 + 10.0 * part(2.0), 0.7 * part(3.0), part(5.0) - 0.5);
            let level = speed * pitch.cos();
            let v = Vec3::new(level * yaw.cos(), level * yaw.sin(), speed * pitch.sin());
            let plane = &planes[usize::from(i % 5 == 0)];
            look(&Vec3::new(0.0, 0.0, 2.0 + part(7.0)), &v, &forces, plane);
        }
    }
}

#[test]
fn a_touch_is_that_of_the_path_and_few_are_left_open() {
    let (mut open, mut worst) = (0, [0f64; 4]);
    each(|position, velocity, forces, plane| {
        let Some(landed) = touch(position, velocity, forces, plane, 0.8) else {
            open += 1;
            return;
        };
        let ground = Ground::plane(plane.point(), plane.slope(), plane.heading()).unwrap();
        let mut path = FlightPath::start(*position, *velocity, *forces).unwrap();
        let end = path.touch(&ground, Reach::upright(0.8).unwrap()).unwrap();
        path.fly(landed.time).unwrap();
        let found = end.touch().unwrap();
        let errors = [
            (found.time - landed.time).abs(),
            (found.position - landed.position).norm(),
            (path.velocity(landed.time) - landed.velocity).norm(),
            plane.above(&landed.position) - 0.8,
        ];
        worst.iter_mut().zip(errors).for_each(|(worst, error)| *worst = worst.max(error.abs()));
    });
    let limits = [5e-12, 3e-11, 5e-11, 1e-13];
    assert!(worst.iter().zip(limits).all(|(worst, limit)| *worst < limit), "{worst:?}");
    assert!(open < 30, "{open} of 8000");
}

#[test]
fn what_is_not_certain_is_left_open() {
    let forces = |wind: [f64; 3]| {
        Forces::new(&Rider::default(), &Air::standard().with_wind(wind.into()).unwrap())
    };
    let plane = Plane::new(Vec3::zeros(), 0.1, 0.0).unwrap();
    let open = |position: [f64; 3], velocity: [f64; 3], wind: [f64; 3]| {
        touch(&position.into(), &velocity.into(), &forces(wind), &plane, 1.0).is_none()
    };
    let still = [0.0; 3];
    assert!(!open([0.0, 0.0, 2.0], [7.0, 0.0, 2.0], still));
    // On the ground, under it, straight up, at rest in the air, in a storm, and what is not a number.
    assert!(open([0.0, 0.0, 1.0], [7.0, 0.0, 2.0], still));
    assert!(open([0.0, 0.0, -1.0], [7.0, 0.0, 2.0], still));
    assert!(open([0.0, 0.0, 2.0], [0.0, 0.0, 4.0], still));
    assert!(open([0.0, 0.0, 2.0], [6.0, 0.0, 0.0], [6.0, 0.0, 0.0]));
    assert!(open([0.0, 0.0, 2.0], [7.0, 0.0, 2.0], [-25.0, 0.0, 0.0]));
    for wild in [f64::NAN, f64::INFINITY, 1e300] {
        assert!(open([0.0, 0.0, wild], [7.0, 0.0, 2.0], still));
        assert!(open([0.0, 0.0, 2.0], [wild, 0.0, 2.0], still));
    }
}
