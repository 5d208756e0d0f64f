//! A game's loop: one rider on a wall, in the air and down, asked for 60 times a second.
//!
//! The physics is done once, when the ride begins; a frame only looks up where the rider is. The wall is invented.
#![allow(clippy::print_stdout, reason = "an example shows what it does")]

use loamline::feature::{Bank, Wall};
use loamline::flight::Flight;
use loamline::geometry::{Plan, Turn};
use loamline::math::Vec3;
use loamline::ride::{Ride, RideOptions};
use loamline::{Air, Ground, Rider};
use std::error::Error;

/// Seconds from one frame to the next.
const FRAME: f64 = 1.0 / 60.0;

/// Where a rider is in the act.
#[derive(Debug, Clone, Copy, PartialEq)]
enum Part {
    Wall,
    Air,
    Down,
}

/// A ride over the wall and the flight off its end.
struct Act {
    ride: Ride,
    flight: Flight,
}

impl Act {
    /// The act of a rider who comes onto the wall at a speed, m/s, and leaves it so far up the panel, m.
    fn new(speed: f64, leave: f64) -> Result<Self, Box<dyn Error>> {
        let plan = Plan::arc(7.0, 55f64.to_radians(), Turn::Left)?;
        let bank = Bank::linear(20f64.to_radians(), 60f64.to_radians())?;
        let line = Wall::new(plan, bank, 2.4)?.line(0.25, leave)?;
        let (rider, air) = (Rider::default(), Air::standard());
        let ride = line.ride(&rider, &air, &RideOptions::new(speed))?;
        let ground = Ground::plane(Vec3::zeros(), 10f64.to_radians(), 55f64.to_radians())?;
        let flight = ride.launch(0.0)?.flight(&ground, &rider, &air)?;
        Ok(Self { ride, flight })
    }

    /// When the rider leaves the wall, seconds from its start.
    fn leaves(&self) -> f64 {
        self.ride.samples.time.last().copied().unwrap_or_default()
    }

    /// Where the centre of mass is at a time, metres, and in which part.
    fn at(&self, time: f64) -> (Part, Vec3) {
        let aloft = time - self.leaves();
        if aloft < 0.0 {
            return (Part::Wall, self.on_wall(time));
        }
        let part = if aloft < self.flight.time() { Part::Air } else { Part::Down };
        (part, self.flight.position(aloft.min(self.flight.time())))
    }

    /// Between two samples, which lie 2 cm apart, a straight line is good to a hair.
    fn on_wall(&self, time: f64) -> Vec3 {
        let samples = &self.ride.samples;
        let next = samples.time.partition_point(|t| *t <= time).clamp(1, samples.len() - 1);
        let (t0, t1) = (samples.time[next - 1], samples.time[next]);
        samples.centre[next - 1].lerp(&samples.centre[next], (time - t0) / (t1 - t0))
    }
}

fn main() -> Result<(), Box<dyn Error>> {
    let act = Act::new(8.5, 1.4)?;
    let (mut part, mut frame) = (Part::Wall, 0_u32);
    println!("frame  part   x m     y m     z m");
    while part != Part::Down {
        let (now, centre) = act.at(f64::from(frame) * FRAME);
        if now != part || frame % 12 == 0 {
            println!(
                "{frame:5}  {:5}{:6.2}  {:6.2}  {:6.2}",
                format!("{now:?}"),
                centre.x,
                centre.y,
                centre.z
            );
        }
        (part, frame) = (now, frame + 1);
    }
    let (before, after) = (act.at(act.leaves() - 1e-9).1, act.at(act.leaves()).1);
    assert!((before - after).norm() < 1e-3, "the flight begins where the ride ends");
    let touchdown = act.flight.touchdown();
    let contact = touchdown.contact.as_ref().ok_or("no touch")?;
    println!("{} from a fall height of {:.2} m", touchdown.outcome.word(), contact.fall_height);
    println!("{}", touchdown.explain());
    Ok(())
}
