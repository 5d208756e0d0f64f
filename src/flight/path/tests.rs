use super::*;
use crate::air::Air;
use crate::rider::Rider;
use proptest::prelude::*;

fn forces(cda: f64, wind: Vec3) -> Forces {
    let air = Air::standard().with_density(1.2).unwrap().with_wind(wind).unwrap();
    Forces::new(&Rider::default().with_cda(cda).unwrap(), &air)
}

/// Place and velocity after `t`, by the classical Runge-Kutta method at two step sizes and Richardson's extrapolation:
/// nothing shared with what is tested.
fn independent(c: Vec3, v: Vec3, k: f64, wind: Vec3, t: f64) -> (Vec3, Vec3) {
    let rate = |v: Vec3| {
        let u = v - wind;
        Vec3::new(0.0, 0.0, -9.80665) - u * (k * u.norm())
    };
    let run = |n: u32| {
        let h = t / f64::from(n);
        (0..n).fold((c, v), |(c, v), _| {
            let (k1, p1) = (rate(v), v);
            let (p2, k2) = (v + k1 * (h / 2.0), rate(v + k1 * (h / 2.0)));
            let (p3, k3) = (v + k2 * (h / 2.0), rate(v + k2 * (h / 2.0)));
            let (p4, k4) = (v + k3 * h, rate(v + k3 * h));
            (
                c + (p1 + p2 * 2.0 + p3 * 2.0 + p4) * (h / 6.0),
                v + (k1 + k2 * 2.0 + k3 * 2.0 + k4) * (h / 6.0),
            )
        })
    };
    let (coarse, fine) = (run(2000), run(4000));
    (fine.0 + (fine.0 - coarse.0) / 15.0, fine.1 + (fine.1 - coarse.1) / 15.0)
}

fn vectors(size: f64) -> impl Strategy<Value = Vec3> {
    prop::array::uniform3(-size..size).prop_map(Vec3::from)
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(48))]

    #[test]
    fn a_flight_with_drag_and_wind_agrees_with_an_independent_one(
        c in vectors(50.0), v in vectors(12.0), wind in vectors(8.0), cda in 0.1..1.5f64,
        t in 0.05..3.0f64,
    ) {
        // Near rest in the air, the reference's fixed steps lose their order.
        let forces = forces(cda, wind);
        prop_assume!((v - wind).xy().norm() > 0.5);
        let mut path = FlightPath::start(c, v, forces).unwrap();
        path.fly(3.0).unwrap();
        let (place, velocity) = independent(c, v, forces.k(), wind, t);
        prop_assert!((path.position(t) - place).norm() < 1e-10, "{}", (path.position(t) - place).norm());
        prop_assert!((path.velocity(t) - velocity).norm() < 1e-8);
        let ledger = path.ledger(t);
        prop_assert!(ledger.residual().abs() < 1e-8 * ledger.start.max(100.0));
    }

    #[test]
    fn without_drag_it_is_the_parabola(c in vectors(50.0), v in vectors(12.0), t in 0.0..5.0f64) {
        let mut path = FlightPath::start(c, v, forces(0.0, Vec3::new(3.0, 1.0, 0.0))).unwrap();
        path.fly(5.0).unwrap();
        let fall = Vec3::new(0.0, 0.0, 0.5 * 9.80665 * t * t);
        prop_assert!((path.position(t) - (c + v * t - fall)).norm() < 1e-13);
        let apex = path.apex(5.0);
        let climb = v.z.max(0.0);
        prop_assert!((apex.position.z - c.z - climb * climb / (2.0 * 9.80665)).abs() < 1e-12);
    }
}

/// Straight up and down with no wind: the drag has a kink at the top, and both ways have closed forms.
#[test]
fn a_throw_straight_up_passes_its_kink() {
    let forces = forces(1.0, Vec3::zeros());
    let (k, g, v) = (forces.k(), forces.g(), 9.0);
    let terminal = (g / k).sqrt();
    let up = (v / terminal).atan() / (g * k).sqrt();
    let top = (1.0 + v * v / (terminal * terminal)).ln() / (2.0 * k);
    let mut path = FlightPath::start(Vec3::zeros(), Vec3::new(0.0, 0.0, v), forces).unwrap();
    path.fly(3.0).unwrap();
    assert!((path.apex(3.0).time - up).abs() < 1e-9);
    assert!((path.apex(3.0).position.z - top).abs() < 1e-10);
    for t in [up + 0.01, up + 0.3, 2.5] {
        let fall = ((g * k).sqrt() * (t - up)).cosh().ln() / k;
        assert!((path.position(t).z - (top - fall)).abs() < 2e-10, "at {t}");
    }
}

#[test]
fn a_flight_far_from_the_origin_is_the_same_flight() {
    let (v, away) = (Vec3::new(7.0, -2.0, 3.0), Vec3::new(524288.0, 4194304.0, 1024.0));
    let forces = forces(0.6, Vec3::new(-3.0, 1.0, 0.0));
    let [near, far] = [Vec3::zeros(), away].map(|c| {
        let mut path = FlightPath::start(c, v, forces).unwrap();
        path.fly(1.5).unwrap();
        path.position(1.2) - c
    });
    assert!((near - far).norm() < 4e-9);
}

#[test]
fn a_path_flies_on_past_its_end_to_find_the_ground() {
    let deep = Ground::plane(Vec3::new(0.0, 0.0, -80.0), 0.0, 0.0).unwrap();
    let reach = Reach::upright(1.0).unwrap();
    for cda in [0.0, 0.6] {
        let start = || {
            FlightPath::start(Vec3::zeros(), Vec3::new(5.0, 0.0, 2.0), forces(cda, Vec3::zeros()))
        };
        let mut long = start().unwrap();
        long.fly(20.0).unwrap();
        let wanted = long.touch(&deep, reach).unwrap();
        assert!(wanted.touch().unwrap().residual.abs() < 1e-9);
        for duration in [0.0, 0.3, 1.0] {
            let mut short = start().unwrap();
            short.fly(duration).unwrap();
            let found = short.touch(&deep, reach).unwrap();
            assert!((found.time() - wanted.time()).abs() < 1e-10);
        }
    }
    let bottomless = Ground::plane(Vec3::new(0.0, 0.0, -1e6), 0.0, 0.0).unwrap();
    let path = FlightPath::start(Vec3::zeros(), Vec3::x(), forces(0.5, Vec3::zeros())).unwrap();
    assert_eq!(path.touch(&bottomless, reach).unwrap(), End::NoTouchdown { time: LONGEST });
}

#[test]
fn numbers_that_are_none_are_refused() {
    let still = forces(0.5, Vec3::zeros());
    for bad in [f64::NAN, f64::INFINITY] {
        assert!(FlightPath::start(Vec3::new(0.0, bad, 0.0), Vec3::zeros(), still).is_err());
        assert!(FlightPath::start(Vec3::zeros(), Vec3::new(0.0, 0.0, bad), still).is_err());
        assert!(FlightPath::start(Vec3::zeros(), Vec3::zeros(), still).unwrap().fly(bad).is_err());
    }
    let mut wild = FlightPath::start(Vec3::zeros(), Vec3::new(1e200, 0.0, 0.0), still).unwrap();
    assert!(matches!(wild.fly(1.0), Err(FlightError::Path(_))));
}
