//! The two-wheel rider against closed forms, an independent chain of masses, and its own tolerance.
#![allow(clippy::unwrap_used, reason = "a test fails by panicking")]

use approx::assert_relative_eq;
use loamline::geometry::Profile;
use loamline::load::{Chain, Impact, Link, Part, Stage, Strut, Suspension};
use loamline::math::Vec2;
use loamline::ride::RideOptions;
use loamline::rider::{Absorber, AirSpring};
use loamline::two_wheel::{Braking, First, Pose, Start, Terrain, TwoWheelOptions, TwoWheelRide};
use loamline::{Air, Rider};

const G: f64 = 9.80665;

fn still() -> Air {
    Air::standard().with_density(0.0).unwrap()
}

fn straight(from: Vec2, to: Vec2) -> Profile {
    Profile::cornered(&[from.x, to.x], &[from.y, to.y], 1.0).unwrap()
}

fn level(from: f64, to: f64, height: f64) -> Profile {
    straight(Vec2::new(from, height), Vec2::new(to, height))
}

fn settled(front: f64, speed: f64) -> TwoWheelOptions {
    TwoWheelOptions::new(Start::Settled { front, speed })
}

/// A linear spring without damping, so that a stance has a closed form.
fn plain() -> Absorber {
    Absorber { progression: 1.0, ..Absorber::default() }
}

fn rigid(tyre_stiffness: f64) -> Rider {
    let absorber = Absorber { tyre_stiffness, ..Absorber::rigid() };
    Rider::default().with_absorber(absorber).unwrap()
}

fn ride(rider: &Rider, terrain: &Terrain, options: &TwoWheelOptions) -> TwoWheelRide {
    rider.two_wheel_ride(terrain, &still(), options).unwrap()
}

#[test]
fn on_a_slope_it_sags_as_the_balance_of_forces_says_and_stays_so() {
    let rider = Rider::default().with_absorber(plain()).unwrap().with_crr(0.0).unwrap();
    for slope in [0.0_f64, 5.0, 12.0, 25.0] {
        let slope = slope.to_radians();
        let hill = straight(Vec2::zeros(), Vec2::new(60.0, -60.0 * slope.tan()));
        let terrain = Terrain::new(&[hill]).unwrap();
        let gone = ride(&rider, &terrain, &settled(5.0, 4.0).with_longest(1.0));
        // Square to the slope, everything carries the cosine of what it carries on the level.
        let absorber = rider.absorber();
        let sag = absorber.sag * absorber.travel.unwrap() * slope.cos();
        let weight = rider.mass() * G * slope.cos();
        let front_share = rider.rear_to_com() / rider.wheelbase();
        for i in 0..gone.samples.len() {
            assert_relative_eq!(gone.samples.rear.travel[i], sag, max_relative = 1e-6);
            assert_relative_eq!(gone.samples.front.travel[i], sag, max_relative = 1e-6);
            let load = [gone.samples.rear.load[i], gone.samples.front.load[i]];
            assert_relative_eq!(load[0], weight * (1.0 - front_share), max_relative = 1e-6);
            assert_relative_eq!(load[1], weight * front_share, max_relative = 1e-6);
            assert_relative_eq!(gone.samples.pitch[i], slope, epsilon = 1e-8);
        }
        let speed = gone.samples.velocity.last().unwrap().norm();
        assert_relative_eq!(speed, 4.0 + G * slope.sin(), max_relative = 1e-8);
    }
}

#[test]
fn with_rolling_resistance_forces_and_moments_still_balance() {
    let rider = Rider::default().with_crr(0.05).unwrap();
    let slope = 0.2_f64;
    let hill = straight(Vec2::zeros(), Vec2::new(60.0, -60.0 * slope.tan()));
    let gone = ride(&rider, &Terrain::new(&[hill]).unwrap(), &settled(5.0, 6.0).with_longest(1.0));
    let (along, out) = (Vec2::new(slope.cos(), -slope.sin()), Vec2::new(slope.sin(), slope.cos()));
    let share = rider.rear_to_com() / rider.wheelbase();
    let unsprung = [1.0 - share, share].map(|share| share * rider.absorber().unsprung_mass);
    let samples = &gone.samples;
    for i in [0, samples.len() / 2, samples.len() - 1] {
        let (load, hub) = (
            [samples.rear.load[i], samples.front.load[i]],
            [samples.rear.hub[i], samples.front.hub[i]],
        );
        let sprung = rider.mass() - unsprung[0] - unsprung[1];
        let centre = (samples.centre[i] * sprung + hub[0] * unsprung[0] + hub[1] * unsprung[1])
            / rider.mass();
        let moment: f64 = (0..2)
            .map(|end| {
                let (arm, force) = (hub[end] - centre, (out - along * 0.05) * load[end]);
                arm.x * force.y - arm.y * force.x
            })
            .sum();
        let weight = rider.mass() * G * slope.cos();
        assert_relative_eq!(load[0] + load[1], weight, max_relative = 1e-6);
        assert!(moment.abs() < 1e-6 * weight, "{moment}");
    }
}

/// A pose over level ground at zero, both tyres just clear, falling at `down` m/s.
fn falling(rider: &Rider, down: f64, forward: f64) -> Pose {
    let absorber = rider.absorber();
    let sunk = rider.mass() * G / absorber.tyre_stiffness;
    let unsprung = absorber.travel.map_or(0.0, |_| absorber.unsprung_mass);
    let hub = rider.wheel_radius() - sunk;
    let stance = (rider.mass() * rider.com_height() - unsprung * hub) / (rider.mass() - unsprung);
    let extended = stance + sunk + absorber.sag * absorber.travel.unwrap_or(0.0);
    Pose {
        centre: Vec2::new(3.0, extended),
        pitch: 0.0,
        velocity: Vec2::new(forward, -down),
        pitch_rate: 0.0,
        travel: [0.0; 2],
    }
}

#[test]
fn without_suspension_a_drop_meets_the_closed_form_of_one_spring() {
    let rider = rigid(150_000.0).with_crr(0.0).unwrap();
    let terrain = Terrain::new(&[level(0.0, 40.0, 0.0)]).unwrap();
    for height in [0.2_f64, 0.5, 1.0] {
        let down = (2.0 * G * height).sqrt();
        let start = Start::Given(falling(&rider, down, 6.0));
        let gone = ride(&rider, &terrain, &TwoWheelOptions::new(start).with_longest(0.3));
        let (weight, stiffness) = (rider.mass() * G, rider.absorber().tyre_stiffness);
        let most = weight / stiffness * (1.0 + (1.0 + 2.0 * stiffness * height / weight).sqrt());
        let together = gone.peaks.load[0].value + gone.peaks.load[1].value;
        // Peaks are taken at steps' ends, within half a step of the top.
        assert_relative_eq!(together, stiffness * most, max_relative = 1e-4);
        assert!(gone.samples.pitch.iter().all(|pitch| pitch.abs() < 1e-9));
    }
}

/// Two masses over each other on level ground, by the classical Runge-Kutta method in small steps: both wheels as one.
/// Body and wheel fall at `down`; gives the highest tyre force and the deepest travel.
fn two_masses(rider: &Rider, down: f64) -> (f64, f64) {
    let Absorber { tyre_stiffness, unsprung_mass, travel, sag, compression, rebound, .. } =
        *rider.absorber();
    let sprung = rider.mass() - unsprung_mass;
    let spring = sprung * G / (sag * travel.unwrap());
    // Tyre depth, suspension's compression, and their rates downward.
    let rates = |y: [f64; 4]| {
        let tyre = tyre_stiffness * y[0].max(0.0);
        let strut = spring * y[1] + y[3] * if y[3] > 0.0 { compression } else { rebound };
        let wheel = G + (strut - tyre) / unsprung_mass;
        [y[2], y[3], wheel, G - strut / sprung - wheel]
    };
    let (mut y, dt, mut peaks) = ([0.0, 0.0, down, 0.0], 1e-6, (0.0_f64, 0.0_f64));
    for _ in 0..250_000 {
        let mix = |y: [f64; 4], k: [f64; 4], h: f64| std::array::from_fn(|i| y[i] + h * k[i]);
        let k1 = rates(y);
        let k2 = rates(mix(y, k1, 0.5 * dt));
        let k3 = rates(mix(y, k2, 0.5 * dt));
        let k4 = rates(mix(y, k3, dt));
        y = std::array::from_fn(|i| y[i] + dt / 6.0 * (k1[i] + 2.0 * (k2[i] + k3[i]) + k4[i]));
        peaks = (peaks.0.max(tyre_stiffness * y[0]), peaks.1.max(y[1]));
    }
    peaks
}

#[test]
fn a_level_drop_of_both_wheels_is_that_of_two_masses_over_each_other() {
    let rider = Rider::default().with_absorber(plain()).unwrap().with_crr(0.0).unwrap();
    let terrain = Terrain::new(&[level(0.0, 40.0, 0.0)]).unwrap();
    // A tenth of a metre before the touch, so that there is a flight.
    let down = (2.0 * G * 0.3_f64).sqrt();
    let mut pose = falling(&rider, (2.0 * G * 0.2_f64).sqrt(), 6.0);
    pose.centre.y += 0.1;
    let start = Start::Given(pose);
    let gone = ride(&rider, &terrain, &TwoWheelOptions::new(start).with_longest(0.35));
    let (force, travel) = two_masses(&rider, down);
    let together = gone.peaks.load[0].value + gone.peaks.load[1].value;
    assert_relative_eq!(together, force, max_relative = 1e-4);
    assert_relative_eq!(gone.peaks.travel[0].value, travel, max_relative = 1e-4);
    assert_relative_eq!(gone.peaks.travel[1].value, travel, max_relative = 1e-4);
    assert_eq!(gone.hop.unwrap().first().unwrap().0, First::Together);
}

/// The chain of a landing with the legs held stiff: tyres, unsprung mass, suspension, all the rest as one mass.
fn chain_without_legs(rider: &Rider) -> Chain {
    let absorber = rider.absorber();
    let (travel, sprung) = (absorber.travel.unwrap(), rider.mass() - absorber.unsprung_mass);
    let load = sprung * G;
    let spring = AirSpring::from_sag(load, travel, absorber.sag, absorber.progression).unwrap();
    let suspension = Suspension::new(spring, travel, 20.0 * load / (absorber.sag * travel))
        .unwrap()
        .with_damping(absorber.compression, absorber.rebound)
        .unwrap();
    let tyres = Part::Strut(Strut::spring(absorber.tyre_stiffness).unwrap());
    let ground = Link::new(Stage::Ground, tyres, absorber.unsprung_mass).unwrap();
    let suspension = Part::Suspension(suspension);
    Chain::new(vec![ground, Link::new(Stage::Suspension, suspension, sprung).unwrap()]).unwrap()
}

#[test]
fn a_level_drop_of_both_wheels_is_that_of_the_chain_of_a_landing() {
    let rider = Rider::default().with_crr(0.0).unwrap();
    let terrain = Terrain::new(&[level(0.0, 40.0, 0.0)]).unwrap();
    // From within the travel to well into the stop.
    for height in [0.2_f64, 0.6, 1.2] {
        let impact = Impact::from_height(height).unwrap();
        let loads = chain_without_legs(&rider).loads(&impact).unwrap();
        let start = Start::Given(falling(&rider, (2.0 * G * height).sqrt(), 6.0));
        let gone = ride(&rider, &terrain, &TwoWheelOptions::new(start).with_longest(0.25));
        let together = gone.peaks.load[0].value + gone.peaks.load[1].value;
        assert_relative_eq!(together, loads.stages[0].peak.value, max_relative = 3e-4);
        assert_relative_eq!(gone.peaks.load[0].time, loads.stages[0].peak.time, epsilon = 1e-3);
        for end in 0..2 {
            let used = loads.stages[1].used.value;
            assert_relative_eq!(gone.peaks.travel[end].value, used, max_relative = 1e-4);
        }
        // The force of the tyres all along, while they are on.
        let samples = &gone.samples;
        let last = loads.duration.min(0.2);
        for i in (0..samples.len()).filter(|i| samples.time[*i] < last) {
            let at = loads.time.partition_point(|t| *t <= samples.time[i]).max(1) - 1;
            let Some(next) = loads.time.get(at + 1) else { continue };
            let share = (samples.time[i] - loads.time[at]) / (next - loads.time[at]);
            let force = &loads.stages[0].force;
            let theirs = force[at] + share * (force[at + 1] - force[at]);
            let ours = samples.rear.load[i] + samples.front.load[i];
            assert!((ours - theirs).abs() < 2e-3 * together, "{} {ours} {theirs}", samples.time[i]);
        }
    }
}

/// The launch's pitch takes the rear contact for the pivot, as if wheels had no size: so small ones here. With wheels of
/// 0.35 m the pivot is the hub, a third less far below the centre of mass, and the rate differs by some per cent.
#[test]
fn with_stiff_springs_and_small_wheels_the_pitch_is_that_of_the_launch() {
    let usual = rigid(3e7).with_crr(0.0).unwrap();
    let rider = usual.clone().with_wheel_radius(0.02).unwrap();
    for grade in [0.0, 0.2] {
        let lip = straight(Vec2::zeros(), Vec2::new(10.0, 10.0 * grade));
        let landing = level(10.0, 40.0, 10.0 * grade - 6.0);
        let terrain = Terrain::new(&[lip.clone(), landing]).unwrap();
        for speed in [8.0, 12.0] {
            let gone = ride(&rider, &terrain, &settled(8.0, speed));
            let [rear, front] = gone.hop.unwrap().left.map(Option::unwrap);
            let i = gone.samples.time.iter().position(|t| *t > rear.time).unwrap();
            // The same speed as the front wheel leaves: the centre of mass is 0.72 m before the edge then.
            let at_edge = gone.samples.time.iter().position(|t| *t >= front.time).unwrap();
            let speed = gone.samples.velocity[at_edge].norm();
            let ahead = rider.wheelbase() - rider.rear_to_com();
            let climbed = grade * (3.0 - ahead / (1.0 + grade * grade).sqrt());
            let line = lip.run_in(3.0).unwrap();
            let options = RideOptions::new((speed * speed + 2.0 * G * climbed).sqrt());
            let launch = line.ride(&usual, &still(), &options).unwrap().launch(0.0).unwrap();
            let pitch = launch.pitch.unwrap();
            assert_relative_eq!(gone.samples.pitch_rate[i], pitch.rate, max_relative = 0.02);
            assert_relative_eq!(rear.time - front.time, pitch.duration, max_relative = 0.02);
        }
    }
}

/// Derived: a rigid bike whose rear hub rolls level while the front is free keeps its speed along, and its energy: at an
/// angle `q` its centre of mass has come down by `b sin q + H (1 - cos q)`, `b` the rear hub's and `H` its height over
/// that hub, so that `q'^2 = 2 m g (b sin q + H (1 - cos q)) / (I + m (b cos q + H sin q)^2)`.
#[test]
fn off_a_straight_edge_the_pitch_rate_is_that_of_a_rigid_bike_about_its_rear_hub() {
    let rider = rigid(3e7).with_crr(0.0).unwrap();
    let terrain = Terrain::new(&[level(0.0, 10.0, 0.0), level(10.0, 40.0, -4.0)]).unwrap();
    for speed in [6.0, 8.0, 12.0] {
        let gone = ride(&rider, &terrain, &settled(5.0, speed));
        let [rear, front] = gone.hop.unwrap().left.map(Option::unwrap);
        // Nose down, the hubs fall back behind a centre of mass that keeps its speed: a little longer than `b / v`.
        let (lasted, least) = (rear.time - front.time, rider.wheelbase() / speed);
        assert!((least..1.15 * least).contains(&lasted), "{lasted} {least}");
        let (arm, over) = (rider.rear_to_com(), rider.com_height() - rider.wheel_radius());
        let (sin, cos) = rear.pitch.sin_cos();
        let fallen = arm * sin + over * (1.0 - cos);
        let inertia = rider.inertia().pitch() + rider.mass() * (arm * cos + over * sin).powi(2);
        let wanted = (2.0 * rider.mass() * G * fallen / inertia).sqrt();
        let i = gone.samples.time.iter().position(|t| *t > rear.time).unwrap();
        assert_relative_eq!(gone.samples.pitch_rate[i], wanted, max_relative = 0.01);
    }
}

/// A lip of one arc that ends still curved, `angle` up, from 16 m on.
fn curved_lip(radius: f64, angle: f64) -> Profile {
    let leg = radius * (0.5 * angle).tan() * (1.0 + 1e-9);
    let (x, z) = (16.0 + leg * angle.cos(), leg * angle.sin());
    Profile::cornered(&[0.0, 16.0, x], &[0.0, 0.0, z], radius).unwrap()
}

/// Off a lip that is still curved at its edge a stiff bike goes nose down as the launch says, for the rear wheel goes on being
/// pushed up; and a bike on its springs goes nose down as well, more where the rear spring was pressed harder.
#[test]
fn off_a_curved_edge_stiff_and_sprung_bikes_go_nose_down() {
    let sprung = Rider::default().with_crr(0.0).unwrap();
    let stiff = rigid(3e7).with_crr(0.0).unwrap().with_wheel_radius(0.02).unwrap();
    let lip = curved_lip(8.0, 0.45);
    let edge = lip.line().frame(lip.line().length()).position;
    let landing = level(edge.x, edge.x + 40.0, edge.z - 8.0);
    let terrain = Terrain::new(&[lip.clone(), landing]).unwrap();
    for speed in [7.0, 9.0, 11.0] {
        let launch = lip.line().ride(&sprung, &still(), &RideOptions::new(speed)).unwrap();
        let wanted = launch.launch(0.0).unwrap().pitch.unwrap().rate;
        let rate = |rider: &Rider| {
            let gone = ride(rider, &terrain, &settled(6.0, speed));
            let [rear, front] = gone.hop.unwrap().left.map(Option::unwrap);
            let at = |time: f64| gone.samples.time.iter().position(|t| *t > time).unwrap();
            // While both wheels are on, the curve turns the nose up.
            assert!(gone.samples.pitch_rate[at(front.time)] < -0.5 * speed / 8.0);
            gone.samples.pitch_rate[at(rear.time)]
        };
        assert_relative_eq!(rate(&stiff), wanted, max_relative = 0.03);
        assert!(rate(&sprung) > wanted, "{speed} {wanted}");
    }
}

/// An invented takeoff and landing: run-in, hollow, ramp, edge, gap, downhill, foot.
fn jump() -> Terrain {
    let takeoff = Profile::cornered(&[0.0, 12.0, 18.0, 20.5], &[5.0, 0.5, 0.2, 0.8], 6.0).unwrap();
    let landing =
        Profile::cornered(&[23.0, 24.0, 34.0, 50.0], &[0.6, 0.4, -2.6, -2.9], 4.0).unwrap();
    Terrain::new(&[takeoff, landing]).unwrap()
}

#[test]
fn energy_is_kept_to_what_was_taken() {
    for speed in [3.0, 4.0, 5.0, 6.0] {
        let braking = Braking { from: 36.0, to: 44.0, deceleration: 3.0 };
        let options = settled(3.0, speed).with_braking(braking);
        let gone = Rider::default().two_wheel_ride(&jump(), &Air::standard(), &options).unwrap();
        let scale = gone.ledger.start.total() - gone.ledger.end.height;
        assert!(gone.ledger.residual().abs() < 1e-6 * scale, "{:?}", gone.ledger);
    }
}

#[test]
fn momentum_is_what_the_forces_gave() {
    let rider = Rider::default();
    let options =
        settled(3.0, 4.0).with_braking(Braking { from: 36.0, to: 42.0, deceleration: 3.0 });
    let gone = rider.two_wheel_ride(&jump(), &Air::standard(), &options).unwrap();
    let parts = gone.momentum;
    assert!(parts.residual().norm() < 1e-6, "{:?}", parts.residual());
    assert!(parts.brake.x < -0.5 && parts.rolling.x < -0.5 && parts.drag.x < -0.1, "{parts:?}");
    // Down a slope each wheel carries its share of the weight all the time.
    let slope = 0.2_f64;
    let hill = straight(Vec2::zeros(), Vec2::new(60.0, -60.0 * slope.tan()));
    let terrain = Terrain::new(&[hill]).unwrap();
    let gone = ride(&rider.with_crr(0.0).unwrap(), &terrain, &settled(5.0, 6.0).with_longest(1.0));
    let out = Vec2::new(slope.sin(), slope.cos()) * (G * slope.cos());
    assert_relative_eq!(gone.momentum.rear, out * 0.6, epsilon = 1e-6);
    assert_relative_eq!(gone.momentum.front, out * 0.4, epsilon = 1e-6);
    assert_relative_eq!(gone.momentum.gravity, Vec2::new(0.0, -G), epsilon = 1e-12);
}

#[test]
fn a_finer_tolerance_comes_nearer() {
    let end = |tolerance: f64| {
        let options = settled(3.0, 5.0).with_tolerance(tolerance).with_longest(4.0);
        let gone = Rider::default().two_wheel_ride(&jump(), &Air::standard(), &options).unwrap();
        *gone.samples.centre.last().unwrap()
    };
    let exact = end(1e-12);
    let off: Vec<f64> =
        [1e-5, 1e-7, 1e-9].into_iter().map(|tolerance| (end(tolerance) - exact).norm()).collect();
    assert!(off[0] < 1e-2 && off[1] < 1e-4 && off[2] < 1e-6, "{off:?}");
}
