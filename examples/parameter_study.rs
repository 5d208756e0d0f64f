//! A parameter study: fall height over entry speed and exit height, by the hardest of three leans, on all cores.
//!
//! The wall is invented, the ground below it level. A cell without a number is a ride that does not come over the edge.
#![allow(clippy::print_stdout, reason = "an example shows what it does")]

use loamline::feature::{Bank, Wall};
use loamline::geometry::{Plan, Turn};
use loamline::math::Vec3;
use loamline::math::parallel::Crew;
use loamline::ride::{Lean, RideOptions};
use loamline::{Air, Ground, Rider};
use std::error::Error;

const SPEEDS: [f64; 6] = [7.5, 8.0, 8.5, 9.0, 9.5, 10.0];
const LEAVES: [f64; 5] = [0.8, 1.0, 1.2, 1.4, 1.6];
const LEANS: [Lean; 3] = [Lean::Deck, Lean::Balanced, Lean::Settled];

/// What every case of the study shares.
struct Study {
    wall: Wall,
    ground: Ground,
    rider: Rider,
    air: Air,
}

impl Study {
    fn new() -> Result<Self, Box<dyn Error>> {
        let plan = Plan::arc(8.0, 55f64.to_radians(), Turn::Right)?;
        let bank = Bank::linear(20f64.to_radians(), 60f64.to_radians())?;
        let (wall, ground) = (Wall::new(plan, bank, 2.4)?, Ground::plane(Vec3::zeros(), 0.0, 0.0)?);
        Ok(Self { wall, ground, rider: Rider::default(), air: Air::standard() })
    }

    /// The fall height of one case, m, where the rider comes over the edge and down.
    fn case(&self, speed: f64, leave: f64, lean: Lean) -> Option<f64> {
        let options = RideOptions { lean, ..RideOptions::new(speed) }.exit_only();
        let line = self.wall.line(0.25, leave).ok()?;
        let launch = line.ride(&self.rider, &self.air, &options).ok()?.launch(0.0).ok()?;
        let flight = launch.flight(&self.ground, &self.rider, &self.air).ok()?;
        flight.touchdown().contact.map(|contact| contact.fall_height)
    }

    /// The hardest of the three leans; nothing where one of them does not come down.
    fn hardest(&self, speed: f64, leave: f64) -> Option<f64> {
        let falls = LEANS.map(|lean| self.case(speed, leave, lean));
        falls.into_iter().try_fold(0.0, |most, fall| fall.map(|fall| f64::max(most, fall)))
    }
}

/// The whole table, row by row: an exit height each.
fn table(study: &Study, threads: usize) -> Result<Vec<Option<f64>>, Box<dyn Error>> {
    let crew = Crew { threads: Some(threads), ..Crew::default() };
    let case = |i: usize| study.hardest(SPEEDS[i % SPEEDS.len()], LEAVES[i / SPEEDS.len()]);
    Ok(crew.map(SPEEDS.len() * LEAVES.len(), 1, case)?)
}

fn main() -> Result<(), Box<dyn Error>> {
    let study = Study::new()?;
    let falls = table(&study, 2)?;
    let speeds = SPEEDS.map(|speed| format!("{speed:6.1}")).concat();
    println!("fall height, m, by the hardest lean\nleave m  at{speeds} m/s");
    for (leave, row) in LEAVES.iter().zip(falls.chunks(SPEEDS.len())) {
        let show =
            |fall: &Option<f64>| fall.map_or("     -".to_owned(), |fall| format!("{fall:6.2}"));
        println!("{leave:7.1}    {}", row.iter().map(show).collect::<Vec<_>>().concat());
    }
    assert_eq!(falls, table(&study, 1)?, "the same to the last bit on any number of threads");
    Ok(())
}
