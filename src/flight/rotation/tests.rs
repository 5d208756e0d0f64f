use super::*;
use crate::math::quadrature;
use approx::assert_relative_eq;
use nalgebra::Rotation3;

/// The amplitude of Jacobi's functions by the arithmetic-geometric mean, and the quarter period: Abramowitz and Stegun 16.4,
/// 17.6.
fn amplitude(u: f64, m: f64) -> (f64, f64) {
    let (mut a, mut b, mut c) = (1.0, (1.0 - m).sqrt(), m.sqrt());
    let mut ladder = Vec::new();
    while c > 1e-16 {
        (a, b, c) = (0.5 * (a + b), (a * b).sqrt(), 0.5 * (a - b));
        ladder.push(c / a);
    }
    let mut phi = a * u * 2f64.powi(i32::try_from(ladder.len()).unwrap());
    for ratio in ladder.iter().rev() {
        phi = 0.5 * (phi + (ratio * phi.sin()).asin());
    }
    (phi, std::f64::consts::FRAC_PI_2 / a)
}

/// A free top with rising inertias that turns mainly about its largest: Landau and Lifshitz, Mechanics, 37.8 to 37.12.
struct Top {
    inertia: [f64; 3],
    size: [f64; 3],
    pace: f64,
    m: f64,
    momentum: f64,
}

impl Top {
    fn new(inertia: [f64; 3], rates: [f64; 2]) -> Self {
        let [a, b, c] = inertia;
        let energy = a * rates[0].powi(2) + c * rates[1].powi(2);
        let square = (a * rates[0]).powi(2) + (c * rates[1]).powi(2);
        let (low, high) = (square - energy * a, energy * c - square);
        let size = [high / (a * (c - a)), high / (b * (c - b)), low / (c * (c - a))].map(f64::sqrt);
        let pace = ((c - b) * low / (a * b * c)).sqrt();
        Self { inertia, size, pace, m: (b - a) * high / ((c - b) * low), momentum: square.sqrt() }
    }

    fn period(&self) -> f64 {
        4.0 * amplitude(0.0, self.m).1 / self.pace
    }

    fn rates(&self, time: f64) -> Vec3 {
        let (phi, _) = amplitude(self.pace * time, self.m);
        let (sin, cos) = phi.sin_cos();
        let dn = (1.0 - self.m * sin * sin).sqrt();
        Vec3::new(self.size[0] * cos, self.size[1] * sin, self.size[2] * dn)
    }

    /// By Euler's angles about the constant momentum, which points up: node, tilt and own turn; the node by quadrature.
    fn rotation(&self, time: f64) -> Rotation3<f64> {
        let [a, b, _] = self.inertia;
        let advance = |t: f64| {
            let w = self.rates(t);
            let (x, y) = (a * w.x, b * w.y);
            self.momentum * (w.x * x + w.y * y) / (x * x + y * y)
        };
        let node = quadrature::composite(advance, 0.0, time, 90);
        let along = Vec3::from(self.inertia).component_mul(&self.rates(time)) / self.momentum;
        let (tilt, own) = (along.xy().norm().atan2(along.z), along.x.atan2(along.y));
        let about = |axis, angle| Rotation3::from_axis_angle(&axis, angle);
        about(Vec3::z_axis(), node) * about(Vec3::x_axis(), tilt) * about(Vec3::z_axis(), own)
    }
}

fn body(inertia: [f64; 3], spin: f64, torque: Vec3) -> Body {
    let [roll, pitch, yaw] = inertia;
    Body::new(Inertia::new(roll, pitch, yaw).unwrap(), spin, torque).unwrap()
}

fn turning(body: Body, rates: Vec3, until: f64) -> Rotation {
    let rotation = UnitQuaternion::from_euler_angles(0.3, -0.5, 1.1);
    Rotation::new(body, Turning { rotation, rates }, until).unwrap()
}

#[test]
fn a_free_top_follows_jacobis_functions_over_ten_periods() {
    for (inertia, rates) in [
        ([1.0, 2.0, 3.0], [0.5, 1.0]),
        ([8.0, 13.0, 18.0], [2.0, 2.5]),
        ([1.0, 1.9, 2.0], [0.1, 4.0]),
    ] {
        let top = Top::new(inertia, rates);
        let until = (10.0 * top.period()).min(60.0);
        let start = Turning {
            rotation: UnitQuaternion::from_rotation_matrix(&top.rotation(0.0)),
            rates: Vec3::new(rates[0], 0.0, rates[1]),
        };
        let rotation = Rotation::new(body(inertia, 0.0, Vec3::zeros()), start, until).unwrap();
        for i in 0..=40 {
            let time = until * f64::from(i) / 40.0;
            let now = rotation.at(time);
            assert_relative_eq!(now.rates, top.rates(time), epsilon = 1e-10);
            let ours = now.rotation.to_rotation_matrix();
            let off = (ours.matrix() - top.rotation(time).matrix()).norm();
            assert!(off < 1e-9, "{time}: {off}");
        }
    }
}

#[test]
fn about_the_middle_axis_a_wobble_grows_as_it_should() {
    let (inertia, w) = ([8.0, 13.0, 18.0], 2.0);
    let growth = w * (5.0 * 5.0 / (8.0 * 18.0f64)).sqrt();
    let rotation = turning(body(inertia, 0.0, Vec3::zeros()), Vec3::new(1e-9, w, 0.0), 16.0);
    let size = |t: f64| rotation.at(t).rates.x.abs();
    assert_relative_eq!((size(14.0) / size(8.0)).ln() / 6.0, growth, max_relative = 1e-6);
}

#[test]
fn momentum_and_energy_are_kept() {
    for spin in [0.0, 5.0, -80.0] {
        let free =
            turning(body([13.0, 18.0, 8.0], spin, Vec3::zeros()), Vec3::new(1.0, -3.0, 2.0), 60.0);
        let ledger = free.ledger(60.0);
        assert!(ledger.residual().norm() < 1e-11 * ledger.start.norm(), "{spin}: {ledger:?}");
        assert!(ledger.energy_residual().abs() < 1e-11 * ledger.start_energy);
        assert!((free.momentum(31.7) - ledger.start).norm() < 1e-11 * ledger.start.norm());
    }
    let torque = Vec3::new(10.0, -25.0, 4.0);
    let driven = turning(body([13.0, 18.0, 8.0], 6.0, torque), Vec3::new(0.2, -1.0, 0.4), 4.0);
    let ledger = driven.ledger(3.3);
    assert!(ledger.residual().norm() < 1e-10 && ledger.energy_residual().abs() < 1e-10);
    assert!(ledger.torque.norm() > 10.0 && ledger.work.abs() > 10.0);
}

/// About a principal axis a torque turns as on a turntable, wheels or not.
#[test]
fn a_torque_about_one_axis_turns_by_the_book() {
    let torque = Vec3::new(0.0, -36.0, 0.0);
    let rotation = turning(body([13.0, 18.0, 8.0], 4.0, torque), Vec3::new(0.0, 0.5, 0.0), 2.0);
    let turned = rotation.at(0.0).rotation.inverse() * rotation.at(1.5).rotation;
    assert_relative_eq!(turned.scaled_axis(), Vec3::new(0.0, 0.75 - 2.25, 0.0), epsilon = 1e-13);
    assert_relative_eq!(rotation.at(1.5).rates.y, 0.5 - 3.0, epsilon = 1e-13);
}

/// Wheels that spin turn a roll rate into yaw and back, at the rate `H / sqrt(I_roll I_yaw)`.
#[test]
fn spinning_wheels_make_the_bike_nod_sideways() {
    let rotation =
        turning(body([12.0, 14.0, 3.0], 30.0, Vec3::zeros()), Vec3::new(1e-6, 0.0, 0.0), 3.0);
    let pace: f64 = 30.0 / 6.0;
    for time in [0.3, 1.0, 2.7] {
        let rates = rotation.at(time).rates * 1e6;
        assert_relative_eq!(rates.x, (pace * time).cos(), epsilon = 1e-5);
        assert_relative_eq!(rates.z, -2.0 * (pace * time).sin(), epsilon = 1e-5);
    }
}

#[test]
fn what_is_too_fast_or_no_number_is_said() {
    let plain = body([13.0, 18.0, 8.0], 0.0, Vec3::zeros());
    let at = |rates| Rotation::new(plain, Turning { rates, ..resting() }, 60.0);
    assert!(matches!(at(Vec3::new(1e7, 0.0, 0.0)), Err(FlightError::TooFast { .. })));
    assert!(matches!(at(Vec3::new(1e200, 1e200, 0.0)), Err(FlightError::TooFast { .. })));
    assert!(matches!(at(Vec3::new(f64::NAN, 0.0, 0.0)), Err(FlightError::Value(_))));
    assert!(at(Vec3::zeros()).unwrap().duration() >= 60.0);
    let inertia = Inertia::default();
    assert!(Body::new(inertia, 0.0, Vec3::new(0.0, f64::INFINITY, 0.0)).is_err());
    assert!(Body::new(inertia, f64::NAN, Vec3::zeros()).is_err());
}
