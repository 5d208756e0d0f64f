//! Flat and banked bends and crests: walls of constant bank ridden along their foot.

use std::error::Error;

use loamline::feature::{Bank, Wall};
use loamline::geometry::{Line, Plan, Profile, Turn};
use loamline::ride::{HoldSpeeds, Lean, Outcome, Ride, RideOptions};
use loamline::{Air, Rider};

use crate::harness::Inputs;
use crate::{Computed, deg, kmh, rad, solve};

type Number = Result<f64, Box<dyn Error>>;

pub(crate) fn compute(id: &str, inputs: &Inputs) -> Option<Computed> {
    let computed = match id {
        "K01" => flat_curve(inputs),
        "K02" => ideal_speed_alone(inputs),
        "K03" => ideal_banks(inputs),
        "K04" => below_the_ideal(inputs),
        "K10" => weightless_crest(inputs),
        "K12" => banked_track(inputs),
        "K13" => roundabout(inputs),
        "K14-curve" => sideways_limit(inputs),
        "K24" => bends(inputs),
        "F05" => lean_radius(inputs),
        _ => return None,
    };
    Some(computed)
}

/// The foot line of a bend of one radius and one bank.
fn bend(radius: f64, bank: f64) -> Result<Line, Box<dyn Error>> {
    let plan = Plan::arc(radius, 0.2, Turn::Left)?;
    let wall = Wall::new(plan, Bank::constant(bank)?, 1.0)?;
    Ok(wall.line(0.0, 0.0)?)
}

fn rider(grip: f64) -> Result<Rider, Box<dyn Error>> {
    let rider = Rider::default().with_com_height(0.0)?.with_cda(0.0)?.with_crr(0.0)?;
    Ok(rider.with_grip(grip)?)
}

fn air(inputs: &Inputs) -> Result<Air, Box<dyn Error>> {
    Ok(Air::standard().with_gravity(inputs.one("gravity"))?)
}

fn ridden(line: &Line, speed: f64, air: &Air) -> Result<Ride, Box<dyn Error>> {
    Ok(line.ride(&rider(f64::INFINITY)?, air, &RideOptions::new(speed))?)
}

/// The grip that a bend asks for at a speed.
fn grip_needed(radius: f64, bank: f64, speed: f64, air: &Air) -> Number {
    let ride = ridden(&bend(radius, bank)?, speed, air)?;
    Ok(ride.samples.grip_demand[0])
}

fn hold_speeds(radius: f64, bank: f64, grip: f64, air: &Air) -> Result<(f64, f64), Box<dyn Error>> {
    match bend(radius, bank)?.hold_speeds(&rider(grip)?, air, Lean::Deck)? {
        HoldSpeeds::Between { slowest, fastest } => Ok((slowest, fastest)),
        never @ HoldSpeeds::Never { .. } => Err(never.to_string().into()),
    }
}

/// The fastest ride round a level bend with a given grip.
pub(crate) fn fastest_level(radius: f64, grip: f64, air: &Air) -> Number {
    Ok(hold_speeds(radius, 0.0, grip, air)?.1)
}

/// The speed that needs no grip: where the hold speeds of next to no grip meet.
fn ideal_speed(radius: f64, bank: f64, air: &Air) -> Number {
    let (slowest, fastest) = hold_speeds(radius, bank, 1e-6, air)?;
    Ok(f64::midpoint(slowest, fastest))
}

fn flat_curve(inputs: &Inputs) -> Computed {
    let (air, speed) = (air(inputs)?, inputs.one("v"));
    let ride = ridden(&bend(inputs.one("radius"), 0.0)?, speed, &air)?;
    let grip = ride.samples.grip_demand[0];
    let normal = ride.samples.normal_load[0] * inputs.one("mass") * air.gravity();
    Ok(vec![("Fc", grip * normal), ("mu", grip)])
}

fn ideal_speed_alone(inputs: &Inputs) -> Computed {
    let speed = ideal_speed(inputs.one("radius"), rad(inputs.one("bank_deg")), &air(inputs)?)?;
    Ok(vec![("v", speed)])
}

fn ideal_bank(radius: f64, speed: f64, air: &Air) -> Number {
    let bank = solve::root(rad(0.5), rad(80.0), |bank| Ok(ideal_speed(radius, bank, air)? - speed));
    Ok(deg(bank?))
}

fn ideal_banks(inputs: &Inputs) -> Computed {
    let (air, bank) = (air(inputs)?, rad(inputs.one("bobsled_bank_deg")));
    let speed = inputs.one("bobsled_v");
    let radius = solve::root(1.0, 200.0, |r| Ok(ideal_speed(r, bank, &air)? - speed))?;
    let curvature = bend(radius, bank)?.frame(0.0).curvature.norm();
    let acceleration = curvature * speed.powi(2);
    Ok(vec![
        ("bank", ideal_bank(inputs.one("radius"), kmh(inputs.one("v_kmh")), &air)?),
        ("bobsled_radius", radius),
        ("bobsled_ac", acceleration),
        ("bobsled_ac_g", acceleration / air.gravity()),
    ])
}

fn below_the_ideal(inputs: &Inputs) -> Computed {
    let (radius, bank) = (inputs.one("radius"), rad(inputs.one("bank_deg")));
    let air = air(inputs)?;
    Ok(vec![
        ("ideal_v", ideal_speed(radius, bank, &air)?),
        ("mu", grip_needed(radius, bank, kmh(inputs.one("v_kmh")), &air)?),
    ])
}

/// The radius of a crest that the tyres just keep to at the speed of the turning drum's rim.
fn weightless_crest(inputs: &Inputs) -> Computed {
    let (air, rate) = (air(inputs)?, std::f64::consts::TAU / inputs.one("period"));
    let radius = solve::border(0.5, 5.0, |radius| {
        // A short arc that begins level: its first point is the top of the drum.
        let bend = 1e-3;
        let profile =
            Profile::cornered(&[0.0, 0.1, 0.2], &[0.0, 0.0, -0.1 * f64::tan(bend)], radius)?;
        let ride = ridden(&profile.line(), rate * radius, &air)?;
        Ok(!matches!(ride.outcome, Outcome::LeftSurface { .. }))
    })?;
    Ok(vec![("radius", radius)])
}

fn banked_track(inputs: &Inputs) -> Computed {
    let (radius, bank) = (inputs.one("radius"), rad(inputs.one("bank2_deg")));
    let second = Air::standard().with_gravity(inputs.one("gravity2"))?;
    Ok(vec![
        ("bank", ideal_bank(radius, inputs.one("v"), &air(inputs)?)?),
        ("v_bank10", ideal_speed(radius, bank, &second)?),
    ])
}

fn roundabout(inputs: &Inputs) -> Computed {
    let (air, radius, grip) = (air(inputs)?, inputs.one("radius"), inputs.one("mu2"));
    let wide = solve::root(10.0, 500.0, |r| Ok(fastest_level(r, grip, &air)? - inputs.one("v3")))?;
    Ok(vec![
        ("mu", grip_needed(radius, 0.0, inputs.one("v"), &air)?),
        ("v_max", fastest_level(radius, grip, &air)?),
        ("r_at_30", wide),
    ])
}

fn sideways_limit(inputs: &Inputs) -> Computed {
    Ok(vec![("v_max", fastest_level(inputs.one("radius"), 0.1, &air(inputs)?)?)])
}

fn bends(inputs: &Inputs) -> Computed {
    let air = air(inputs)?;
    Ok(vec![
        ("rail_r500_bank5_v", ideal_speed(500.0, rad(5.0), &air)?),
        ("flat_r65_mu0.7_v", fastest_level(65.0, 0.7, &air)?),
        ("r182.9_96.8kmh_mu", grip_needed(182.9, 0.0, kmh(96.8), &air)?),
        ("r50_30ms_mu", grip_needed(50.0, 0.0, 30.0, &air)?),
    ])
}

/// The level bend on which a rider leans by the given angle: grip demand is the lean's tangent.
fn lean_radius(inputs: &Inputs) -> Computed {
    let (air, speed) = (air(inputs)?, kmh(inputs.one("speed_kmh")));
    let lean = rad(inputs.one("lean_deg"));
    let radius = solve::root(5.0, 200.0, |r| Ok(grip_needed(r, 0.0, speed, &air)?.atan() - lean))?;
    Ok(vec![("radius", radius)])
}
