//! Does another integrator, with the equation written out again, give the same ride?
#![allow(clippy::unwrap_used, reason = "a test fails by panicking")]

use approx::assert_relative_eq;
use loamline::feature::{Bank, Wall};
use loamline::geometry::{Frame, Line, Plan, Turn};
use loamline::math::Vec3;
use loamline::math::ode::{Options, integrate};
use loamline::ride::{Brake, RideOptions};
use loamline::{Air, Rider};
use nalgebra::Vector2;
use std::convert::Infallible;

struct Case {
    rider: Rider,
    air: Air,
    brake: f64,
    power: f64,
}

/// The terms of the energy equation at one station, straight from its statement.
struct Terms {
    speed: f64,
    rate: f64,
    normal: f64,
    side: f64,
}

impl Case {
    fn inertia(&self, frame: &Frame) -> f64 {
        let along = frame.tangent + frame.dnormal * self.rider.com_height();
        along.norm_squared() + self.rider.rotating_factor()
    }

    fn terms(&self, frame: &Frame, energy: f64) -> Terms {
        let (h, g) = (self.rider.com_height(), self.air.gravity());
        let dc = frame.tangent + frame.dnormal * h;
        let ddc = frame.curvature + frame.ddnormal * h;
        let inertia = self.inertia(frame);
        let speed = (2.0 * energy / inertia).sqrt();
        let k = 0.5 * self.air.density() * self.rider.cda() / self.rider.mass();
        let relative = dc * speed - self.air.wind();
        let air = relative * (k * relative.norm());
        let up = Vec3::new(0.0, 0.0, g);
        let normal = (ddc * speed * speed + up + air).dot(&frame.normal);
        let rate = -g * dc.z - self.rider.crr() * normal - air.dot(&dc) - self.brake
            + self.power / (self.rider.mass() * speed);
        let change = (rate - dc.dot(&ddc) * speed * speed) / inertia;
        let side = (ddc * speed * speed + dc * change + up + air).dot(&frame.left());
        Terms { speed, rate, normal, side }
    }

    fn check(&self, line: &Line, entry: f64) {
        let options = RideOptions::new(entry).with_power(self.power);
        let options = options.with_brake(Brake::Constant(self.brake));
        let ride = line.ride(&self.rider, &self.air, &options).unwrap();
        let rhs = |s: f64, y: &Vector2<f64>| {
            let terms = self.terms(&line.frame(s), y[0]);
            Ok::<_, Infallible>(Vector2::new(terms.rate, terms.speed.recip()))
        };
        let start = Vector2::new(0.5 * self.inertia(&line.frame(0.0)) * entry * entry, 0.0);
        let fine = Options::new(1e-12, 1e-12).with_max_step(0.1);
        let steps = integrate(rhs, 0.0, start, line.length(), &fine).unwrap();
        let end = line.frame(line.length());
        let terms = self.terms(&end, steps.end()[0]);
        assert_relative_eq!(ride.exit_speed().unwrap(), terms.speed, max_relative = 1e-10);
        assert_relative_eq!(
            *ride.samples.time.last().unwrap(),
            steps.end()[1],
            max_relative = 1e-9
        );
        let g = self.air.gravity();
        assert_relative_eq!(
            *ride.samples.normal_load.last().unwrap(),
            terms.normal / g,
            max_relative = 1e-9
        );
        let demand = terms.side.abs() / terms.normal;
        assert_relative_eq!(*ride.samples.grip_demand.last().unwrap(), demand, epsilon = 1e-9);
    }
}

#[test]
fn a_wall_with_everything_on_it() {
    let plan = Plan::arc(7.0, 55f64.to_radians(), Turn::Right).unwrap();
    let bank = Bank::linear(20f64.to_radians(), 68f64.to_radians()).unwrap();
    let wall = Wall::new(plan, bank, 2.4).unwrap().with_grade(-0.04).unwrap();
    let line = wall.line(0.25, 1.6).unwrap();
    let calm = Air::standard();
    let windy = calm.with_wind(Vec3::new(-4.0, 3.0, 0.5)).unwrap();
    let rider = Rider::default().with_grip(3.0).unwrap().with_wheel_inertia(0.15).unwrap();
    for air in [calm, windy] {
        for (brake, power) in [(0.0, 0.0), (0.8, 0.0), (0.3, 250.0)] {
            let case = Case { rider: rider.clone(), air, brake, power };
            for entry in [7.5, 9.0] {
                case.check(&line, entry);
            }
        }
    }
}
