#![allow(clippy::inline_always, reason = "what an acceleration asks for")]

use super::*;
use crate::flight::batch::chunk::set;
use crate::force::{Forces, Moving, Vector};
use crate::launch::Launch;
use crate::math::Vec2;
use crate::{Air, Rider};
use pulp::Simd;

const G: f64 = 9.81;

/// Drag in proportion to the speed, a pull back to the `z` axis, and a push to the side that grows with time: every part
/// of a motion has a closed form.
#[derive(Debug, Clone, Copy)]
struct Linear {
    drag: f64,
    back: f64,
    push: f64,
}

impl Acceleration for Linear {
    #[inline(always)]
    fn acceleration<S: Simd, const N: usize>(&self, at: &Moving<S, N>) -> Vector<S, N> {
        let fill = |value: f64| at.time.filled(value);
        let ([x, _, _], [_, v_y, v_z]) = (at.place, at.velocity);
        let sideways = fill(self.push).mul_add(at.time, fill(-self.drag) * v_y);
        [fill(-self.back) * x, sideways, (fill(-self.drag) * v_z) - fill(G)]
    }
}

impl Linear {
    /// Place and velocity in closed form.
    fn exact(&self, p: Vec3, v: Vec3, t: f64) -> (Vec3, Vec3) {
        let (sin, cos) = (self.back.sqrt() * t).sin_cos();
        let (often, c) = (self.back.sqrt(), self.drag);
        let lost = -(-c * t).exp_m1();
        // Falling and driven aside, it goes to speeds of `-fall` and `far t - start`.
        let (fall, far) = (G / c, self.push / c);
        let start = far / c;
        let place = Vec3::new(
            p.x * cos + v.x / often * sin,
            p.y + (v.y + start) * lost / c + far * t * t / 2.0 - start * t,
            p.z + (v.z + fall) * lost / c - fall * t,
        );
        let velocity = Vec3::new(
            v.x * cos - p.x * often * sin,
            (v.y + start) * (1.0 - lost) + far * t - start,
            (v.z + fall) * (1.0 - lost) - fall,
        );
        (place, velocity)
    }
}

/// Wind that grows with the height, and lift square to the way through the air.
#[derive(Debug, Clone, Copy)]
struct Sheared {
    forces: Forces,
    lift: f64,
}

impl Acceleration for Sheared {
    #[inline(always)]
    fn acceleration<S: Simd, const N: usize>(&self, at: &Moving<S, N>) -> Vector<S, N> {
        let fill = |value: f64| at.time.filled(value);
        let ([_, _, z], wind) = (at.place, self.forces.wind());
        let share = z.mul_add(fill(0.1), fill(0.4));
        let mut u = at.velocity;
        u[0] = u[0] - share * fill(wind.x);
        u[1] = u[1] - share * fill(wind.y);
        let level = u[0].mul_add(u[0], u[1] * u[1]);
        let speed = u[2].mul_add(u[2], level).sqrt();
        let (drag, lift) = (speed * fill(-self.forces.k()), speed * fill(self.lift));
        let up = lift * u[2];
        [
            drag.mul_add(u[0], -(up * fill(0.5))),
            drag * u[1],
            drag.mul_add(u[2], lift.mul_add(level.sqrt(), fill(-self.forces.g()))),
        ]
    }
}

fn starts() -> Starts {
    let part = |i: usize, prime: f64| ((i + 1) as f64 * prime.sqrt()).fract();
    let velocity = |i: usize| {
        let (speed, pitch) = (4.0 + 10.0 * part(i, 2.0), 0.7 * part(i, 3.0));
        let (level, yaw) = (speed * pitch.cos(), part(i, 5.0) - 0.5);
        [level * yaw.cos(), level * yaw.sin(), speed * pitch.sin()]
    };
    let position = |i: usize| [part(i, 7.0) - 0.5, part(i, 11.0) - 0.5, 2.0 + part(i, 13.0)];
    let mut starts = Starts::new();
    let all = |of: &dyn Fn(usize) -> [f64; 3]| (0..ROWS).map(of).collect::<Vec<_>>();
    starts.fill(&all(&position), &all(&velocity));
    starts
}

fn plane() -> Ground {
    Ground::plane(Vec3::zeros(), 0.12, 0.3).unwrap()
}

fn flown<A: Acceleration>(driven: &Driven<A>, starts: &Starts) -> Touches {
    let mut touches = Touches::new();
    driven.fly(starts, ROWS, &mut touches);
    touches
}

#[test]
fn flights_under_linear_forces_have_their_closed_form() {
    let grid = {
        let z = (0..41 * 41).map(|i| 0.1 * (0.5 * f64::from(i % 41)).sin()).collect();
        Ground::grid(Vec2::new(-10.0, -20.0), Vec2::repeat(1.0), 41, 41, z).unwrap()
    };
    let (starts, linear) = (starts(), Linear { drag: 0.3, back: 0.2, push: 0.7 });
    for ground in [plane(), grid] {
        let driven = Driven::new(&ground, 0.9, linear).unwrap();
        let touches = flown(&driven, &starts);
        for row in 0..ROWS {
            assert_eq!(touches.fate[row], Fate::Touched);
            let (c, t) = (touches.position(row), touches.time[row]);
            let (place, velocity) = linear.exact(starts.position(row), starts.velocity(row), t);
            assert!((c - place).norm() < 1e-8, "{row}: {c} {place}");
            assert!((touches.velocity(row) - velocity).norm() < 1e-7);
            let near = ground.nearest(c, 2.0).unwrap();
            assert!((near.distance - 0.9).abs() < 1e-7 && touches.residual[row].abs() < 1e-7);
        }
    }
}

#[test]
fn under_gravity_drag_and_wind_they_are_the_flights_of_one() {
    let (starts, ground, rider) = (starts(), plane(), Rider::default());
    for wind in [[0.0; 3], [-4.0, 4.0, -0.5], [3.0, -2.0, 0.5], [6.0, 0.0, 0.0]] {
        let air = Air::standard().with_wind(wind.into()).unwrap();
        let height = rider.com_height_landing();
        let driven = Driven::new(&ground, height, Forces::new(&rider, &air)).unwrap();
        let touches = flown(&driven, &starts);
        assert!(touches.certain.iter().filter(|certain| **certain > 0.0).count() >= ROWS - 2);
        for row in 0..ROWS {
            let launch = Launch::by_hand(starts.position(row), starts.velocity(row)).unwrap();
            let one = launch.flight(&ground, &rider, &air).unwrap();
            let touch = one.end().touch().unwrap();
            assert!((touches.position(row) - touch.position).norm() < 1e-8);
            assert!((touches.time[row] - touch.time).abs() < 1e-8);
            assert!((touches.velocity(row) - one.velocity(touch.time)).norm() < 1e-7);
            assert!((touches.normal(row) - touch.normal).norm() < 1e-12);
        }
    }
}

#[test]
fn under_a_wind_profile_and_lift_they_are_those_of_the_general_solver() {
    let (starts, air) = (starts(), Air::standard().with_wind(Vec3::new(-5.0, 3.0, 0.0)).unwrap());
    let sheared = Sheared { forces: Forces::new(&Rider::default(), &air), lift: 0.002 };
    let driven = Driven::new(&plane(), 0.0, sheared).unwrap();
    let touches = flown(&driven, &starts);
    assert!(touches.certain.iter().all(|certain| *certain > 0.0));
    for row in 0..ROWS {
        let (end, velocity) = driven.fly_one(&starts, row).unwrap();
        let touch = end.touch().unwrap();
        assert!((touches.position(row) - touch.position).norm() < 1e-8);
        assert!((touches.velocity(row) - velocity).norm() < 1e-7);
    }
}

#[test]
fn hard_rows_spoil_only_themselves() {
    let (mut starts, rider, ground) = (starts(), Rider::default(), plane());
    let mut put = |row: usize, place: [f64; 3], velocity: [f64; 3]| {
        set(&mut starts.position, row, &place.into());
        set(&mut starts.velocity, row, &velocity.into());
    };
    // Straight up, through rest in the wind, on the ground, and not a number.
    put(3, [0.0, 0.0, 3.0], [0.0, 0.0, 5.0]);
    put(4, [0.0, 0.0, 3.0], [6.0, 0.0, 3.0]);
    put(5, [0.0, 0.0, 0.5], [5.0, 0.0, -2.0]);
    put(6, [0.0, f64::NAN, 0.5], [5.0, 0.0, -2.0]);
    put(7, [0.0, 0.0, 3.0], [5.0, f64::INFINITY, 2.0]);
    put(8, [0.0, 0.0, 3.0], [1e200, 0.0, 2.0]);
    let height = rider.com_height_landing();
    for wind in [Vec3::zeros(), Vec3::new(6.0, 0.0, 0.0)] {
        let air = Air::standard().with_wind(wind).unwrap();
        let touches =
            flown(&Driven::new(&ground, height, Forces::new(&rider, &air)).unwrap(), &starts);
        for row in 0..ROWS {
            let one = Launch::by_hand(starts.position(row), starts.velocity(row))
                .ok()
                .and_then(|launch| launch.flight(&ground, &rider, &air).ok());
            let wanted = match row {
                5 => Fate::RolledOff,
                6 | 7 => Fate::BadInput,
                8 => Fate::Failed,
                _ => Fate::Touched,
            };
            assert_eq!(touches.fate[row], wanted, "{row}");
            if let Some(touch) = one.and_then(|one| one.end().touch().copied()) {
                assert!((touches.position(row) - touch.position).norm() < 1e-8, "{row}");
            }
        }
    }
}
