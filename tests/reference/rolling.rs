//! Slopes, rolling, braking and coasting: rides along straight grades.

use std::error::Error;

use loamline::design::pitch_over_limit;
use loamline::geometry::{Line, Profile};
use loamline::ride::{Brake, Outcome, Ride, RideOptions, Slowing, Zone};
use loamline::{Air, Rider};

use crate::harness::Inputs;
use crate::{Computed, rad, solve};

type Number = Result<f64, Box<dyn Error>>;

pub(crate) fn compute(id: &str, inputs: &Inputs) -> Option<Computed> {
    let computed = match id {
        "F10" => skier(inputs),
        "F11" => gliding(inputs),
        "F12" => box_on_a_ramp(inputs),
        "F13" => traction(inputs),
        "F15" => uphill_slide(inputs),
        "F04" => stopping_sight(inputs),
        "K07" => run_in(inputs),
        "K14" => braking_to_a_speed(inputs),
        "K23" => rolling_wheels(inputs),
        "C03" => drafting(inputs),
        "pitch-over" => pitch_over(inputs),
        _ => return None,
    };
    Some(computed)
}

/// A straight line of the given length, downhill at the angle.
fn slope(down: f64, length: f64) -> Result<Line, Box<dyn Error>> {
    let (fall, run) = down.sin_cos();
    Ok(Profile::cornered(&[0.0, length * run], &[0.0, -length * fall], 1.0)?.line())
}

/// A point mass that feels neither air nor rolling.
fn bare() -> Result<Rider, Box<dyn Error>> {
    Ok(Rider::default()
        .with_com_height(0.0)?
        .with_cda(0.0)?
        .with_crr(0.0)?
        .with_grip(f64::INFINITY)?)
}

fn air(inputs: &Inputs) -> Result<Air, Box<dyn Error>> {
    Ok(Air::standard().with_gravity(inputs.one("gravity"))?)
}

/// The mean acceleration of a ride of ten metres from 20 m/s.
fn acceleration(down: f64, rider: &Rider, air: &Air, brake: Brake) -> Number {
    const LENGTH: f64 = 10.0;
    let options = RideOptions::new(20.0).with_brake(brake);
    let ride = slope(down, LENGTH)?.ride(rider, air, &options)?;
    let exit = ride.exit_speed().ok_or("the ride ended early")?;
    Ok((exit.powi(2) - options.speed.powi(2)) / (2.0 * LENGTH))
}

/// The centre of mass one metre up.
fn pitch_over(inputs: &Inputs) -> Computed {
    let behind = inputs.one("behind_front_over_height");
    let rider = Rider::default().with_com_height(1.0)?;
    let wheelbase = rider.wheelbase();
    let rider = rider.with_rear_to_com(Some(wheelbase - behind))?;
    let slope = (-inputs.one("grade")).atan();
    let air = air(inputs)?;
    Ok(vec![("a_over_g", pitch_over_limit(&rider, &air, slope) / air.gravity())])
}

fn skier(inputs: &Inputs) -> Computed {
    let (down, mass) = (rad(inputs.one("slope_deg")), inputs.one("mass"));
    let air = air(inputs)?;
    let free = acceleration(down, &bare()?, &air, Brake::None)?;
    let coefficient = solve::root(0.0, 0.4, |crr| {
        let held = free - acceleration(down, &bare()?.with_crr(crr)?, &air, Brake::None)?;
        Ok(mass * held - inputs.one("friction"))
    })?;
    Ok(vec![("mu_k", coefficient)])
}

fn gliding(inputs: &Inputs) -> Computed {
    let (air, rider) = (air(inputs)?, bare()?.with_crr(inputs.one("mu_k"))?);
    let on = |name| acceleration(rad(inputs.one(name)), &rider, &air, Brake::None);
    Ok(vec![("accel_13deg", on("slope_a_deg")?), ("accel_10deg", on("slope_b_deg")?)])
}

fn box_on_a_ramp(inputs: &Inputs) -> Computed {
    let (air, rider) = (air(inputs)?, bare()?.with_crr(inputs.one("mu_k"))?);
    let at = |degrees: f64| acceleration(rad(degrees), &rider, &air, Brake::None);
    let steady = solve::root(0.0, 45.0, at)?;
    Ok(vec![("accel", at(inputs.one("slope_deg"))?), ("constant_speed_angle", steady)])
}

/// The hardest braking that grip allows: uphill for what the source drives downhill.
fn traction(inputs: &Inputs) -> Computed {
    let air = air(inputs)?;
    let limit = |down: f64, grip: f64| -> Number {
        let brake = Brake::Constant(100.0);
        Ok(-acceleration(rad(down), &bare()?.with_grip(grip)?, &air, brake)?)
    };
    Ok(vec![
        ("down6_mu1.0", limit(-6.0, 1.0)?),
        ("down6_mu0.7", limit(-6.0, 0.7)?),
        ("down6_mu0.1", limit(-6.0, 0.1)?),
        ("up4_mu1.0", limit(4.0, 1.0)?),
        ("up4_mu0.7", limit(4.0, 0.7)?),
        ("up4_mu0.1", limit(4.0, 0.1)?),
    ])
}

/// Where a ride comes to rest.
fn rest(ride: &Ride) -> Number {
    match ride.outcome {
        Outcome::Stalled { station } => Ok(station),
        ref other => Err(format!("the ride should stall, not end as {other:?}").into()),
    }
}

fn uphill_slide(inputs: &Inputs) -> Computed {
    let brake = Brake::Constant(inputs.one("friction") / inputs.one("mass"));
    let options = RideOptions::new(inputs.one("v0")).with_brake(brake);
    let line = slope(-rad(inputs.one("slope_deg")), 20.0)?;
    Ok(vec![("distance", rest(&line.ride(&bare()?, &air(inputs)?, &options)?)?)])
}

/// The brake comes on where the reaction time has passed.
fn stopping_sight(inputs: &Inputs) -> Computed {
    let speed = inputs.one("speed_mph") * 0.44704;
    let slowing = Slowing::By(inputs.one("f") * inputs.one("gravity"));
    let from = inputs.one("reaction_time") * speed;
    let brake = Brake::Zones(vec![Zone { from, to: 200.0, slowing }]);
    let options = RideOptions::new(speed).with_brake(brake);
    let ride = slope(0.0, 200.0)?.ride(&bare()?, &air(inputs)?, &options)?;
    Ok(vec![("distance_m", rest(&ride)?)])
}

fn run_in(inputs: &Inputs) -> Computed {
    let drop = inputs.one("drop");
    let profile = Profile::cornered(&[0.0, 40.0, 70.0], &[drop, 0.0, 0.0], 20.0)?;
    let end = |speed: f64| -> Number {
        let options = RideOptions::new(speed);
        let ride = profile.line().ride(&bare()?, &air(inputs)?, &options)?;
        Ok(ride.exit_speed().ok_or("the ride ended early")?)
    };
    Ok(vec![("v_from_rest", end(0.0)?), ("v_with_v0", end(inputs.one("v0_b"))?)])
}

/// The length of level ground on which the brake takes the speed down to the bend's.
fn braking_to_a_speed(inputs: &Inputs) -> Computed {
    let air = air(inputs)?;
    let bend = crate::curves::fastest_level(inputs.one("radius"), 0.1, &air)?;
    let brake = Brake::Constant(inputs.one("brake_over_weight") * inputs.one("gravity"));
    let options = RideOptions::new(inputs.one("v0")).with_brake(brake);
    let length = solve::root(1.0, 220.0, |length| {
        let ride = slope(0.0, length)?.ride(&bare()?, &air, &options)?;
        Ok(ride.exit_speed().ok_or("the ride ended early")? - bend)
    })?;
    Ok(vec![("braking_distance", length)])
}

/// Wheels alone: two of half the body's inertia each, as one cylinder or hoop.
fn rolling_wheels(inputs: &Inputs) -> Computed {
    let air = Air::standard();
    let share = |name| -> Number {
        let rider = bare()?;
        let inertia = inputs.one(name) * rider.mass() * rider.wheel_radius().powi(2) / 2.0;
        let down = rad(20.0);
        let free = acceleration(down, &rider, &air, Brake::None)?;
        Ok(acceleration(down, &rider.with_wheel_inertia(inertia)?, &air, Brake::None)? / free)
    };
    Ok(vec![
        ("solid_cylinder_a_over_gsin", share("solid_cylinder_inertia_over_m_r2")?),
        ("hoop_a_over_gsin", share("hoop_inertia_over_m_r2")?),
    ])
}

/// What following saves: the pedalling power that keeps a speed, alone and behind others.
fn drafting(inputs: &Inputs) -> Computed {
    let air = air(inputs)?.with_density(inputs.one("rho"))?;
    let climb = slope(-inputs.one("gradient").atan(), 5.0)?;
    let power = |cda: &str, speed: f64| -> Number {
        let drag_area = inputs.one(cda) + inputs.one("wheel_drag_area");
        let rider = bare()?.with_mass(inputs.one("mass"))?.with_cda(drag_area)?;
        let rider = rider.with_crr(inputs.one("crr"))?;
        solve::root(100.0, 1000.0, |power| {
            let options = RideOptions::new(speed).with_power(power);
            let ride = climb.ride(&rider, &air, &options)?;
            Ok(ride.exit_speed().ok_or("the ride ended early")? - speed)
        })
    };
    let saving = |cda: &str, speed: f64| -> Number {
        Ok(100.0 * (1.0 - power(cda, speed)? / power("cda_lone", speed)?))
    };
    Ok(vec![
        ("saving_6ms_percent", saving("cda_2nd_of_2", 6.0)?),
        ("saving_8ms_percent", saving("cda_7th_of_8", 8.0)?),
    ])
}
