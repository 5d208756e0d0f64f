//! Projectiles: a launch by hand, no drag, the plain point on a plane.

use std::error::Error;

use loamline::flight::Flight;
use loamline::launch::Launch;
use loamline::math::Vec3;
use loamline::touchdown::Contact;
use loamline::{Air, Ground, Rider};

use crate::harness::Inputs;
use crate::{Computed, deg, rad, solve};

type Flown = Result<Flight, Box<dyn Error>>;

/// A throw from the origin along `x`.
#[derive(Clone, Copy)]
struct Throw {
    speed: f64,
    angle: f64,
    gravity: f64,
}

impl Throw {
    fn of(inputs: &Inputs) -> Self {
        let (speed, gravity) = (inputs.one("v0"), inputs.one("gravity"));
        Throw { speed, angle: rad(inputs.one("angle_deg")), gravity }
    }

    /// The flight onto level ground at `height` above the launch.
    fn onto(self, height: f64) -> Flown {
        let (rise, run) = self.angle.sin_cos();
        let velocity = Vec3::new(self.speed * run, 0.0, self.speed * rise);
        let ground = Ground::plane(Vec3::new(0.0, 0.0, height), 0.0, 0.0)?;
        let air = Air::standard().with_gravity(self.gravity)?;
        let rider = Rider::default().with_cda(0.0)?.with_com_height_landing(Some(0.0))?;
        Ok(Launch::by_hand(Vec3::zeros(), velocity)?.flight(&ground, &rider, &air)?)
    }

    /// The touchdown on level ground at `height` above the launch.
    fn landed(self, height: f64) -> Result<Contact, Box<dyn Error>> {
        let contact = self.onto(height)?.touchdown().contact;
        contact.ok_or_else(|| "no touchdown".into())
    }

    /// The height at which the flight passes the distance `x`.
    fn height_at(self, x: f64) -> Result<f64, Box<dyn Error>> {
        let flight = self.onto(-500.0)?;
        let time = solve::root(0.0, flight.time(), |t| Ok(flight.position(t).x - x))?;
        Ok(flight.position(time).z)
    }
}

pub(crate) fn compute(id: &str, inputs: &Inputs) -> Option<Computed> {
    let computed = match id {
        "P01" => apex(inputs),
        "P02" => caught_above(inputs),
        "P03" | "P04" | "P06" | "P07" => fall(inputs),
        "P18" => level_throw(inputs),
        "P08" | "P15" => speed_through(inputs),
        "P10" => speed_and_fall(inputs),
        "P11" => low_angle(inputs),
        "P13" | "P25" => level_range(inputs),
        "P14" => speed_to_land(inputs),
        "P17" => basketball(inputs),
        "P24" => inclined_plane(inputs),
        "step-off" => step_off(inputs),
        _ => return None,
    };
    Some(computed)
}

fn apex(inputs: &Inputs) -> Computed {
    let flight = Throw::of(inputs).onto(0.0)?;
    let top = flight.apex();
    let (time, top) = (top.time, top.position);
    Ok(vec![
        ("apex_height", top.z),
        ("apex_time", time),
        ("apex_x", top.x),
        ("apex_displacement", top.norm()),
        ("apex_line_of_sight_angle", deg(top.z.atan2(top.x))),
    ])
}

/// Time, place and velocity of touchdown on ground `dy` below the launch.
fn fall(inputs: &Inputs) -> Computed {
    let flight = Throw::of(inputs).onto(inputs.one("dy"))?;
    let down = flight.touchdown().contact.ok_or("no touchdown")?;
    Ok(vec![
        ("flight_time", down.time),
        ("range", down.mark.x),
        ("rise", flight.apex().position.z),
        ("impact_speed", down.velocity.norm()),
        ("impact_vy", -down.velocity.z),
        ("angle_below_horizontal", below_level(&down.velocity)),
    ])
}

/// The two times at which the path is `dy` above the launch, and the velocity at the later.
fn caught_above(inputs: &Inputs) -> Computed {
    let flight = Throw::of(inputs).onto(-1.0)?;
    let (dy, top) = (inputs.one("dy"), flight.apex().time);
    let rise = |t: f64| Ok(flight.position(t).z - dy);
    let late = solve::root(top, flight.time(), rise)?;
    let velocity = flight.velocity(late);
    Ok(vec![
        ("flight_time", late),
        ("early_crossing_time", solve::root(0.0, top, rise)?),
        ("impact_speed", velocity.norm()),
        ("angle_below_horizontal", below_level(&velocity)),
    ])
}

fn below_level(velocity: &Vec3) -> f64 {
    deg((-velocity.z).atan2(velocity.x))
}

fn level_throw(inputs: &Inputs) -> Computed {
    let throw = Throw { speed: inputs.one("v0"), angle: 0.0, gravity: inputs.one("gravity") };
    let down = throw.landed(-inputs.one("height"))?;
    Ok(vec![("flight_time", down.time), ("x", down.mark.x)])
}

fn speed_through(inputs: &Inputs) -> Computed {
    let (angle, gravity) = (rad(inputs.one("angle_deg")), inputs.one("gravity"));
    let speed = solve::root(3.0, 100.0, |speed| {
        Ok(Throw { speed, angle, gravity }.height_at(inputs.one("x"))? - inputs.one("y"))
    })?;
    Ok(vec![("v0", speed)])
}

fn speed_and_fall(inputs: &Inputs) -> Computed {
    let level = |speed| Throw { speed, angle: 0.0, gravity: inputs.one("gravity") };
    let (height, x) = (inputs.one("height"), inputs.one("x"));
    let speed = solve::root(1.0, 100.0, |v| Ok(level(v).landed(-height)?.mark.x - x))?;
    let down = level(speed).landed(-height)?;
    Ok(vec![
        ("flight_time", down.time),
        ("v0", speed),
        ("impact_vy", -down.velocity.z),
        ("impact_speed", down.velocity.norm()),
        ("angle_below_horizontal", below_level(&down.velocity)),
    ])
}

fn low_angle(inputs: &Inputs) -> Computed {
    let (speed, gravity) = (inputs.one("v0"), inputs.one("gravity"));
    let angle = solve::root(0.01, rad(45.0), |angle| {
        let range = Throw { speed, angle, gravity }.landed(0.0)?.mark.x;
        Ok(range - inputs.one("range"))
    })?;
    Ok(vec![("launch_angle", deg(angle))])
}

fn level_range(inputs: &Inputs) -> Computed {
    let range = Throw::of(inputs).landed(0.0)?.mark.x;
    Ok(vec![("range", range), ("range_at_26p5_ms", range)])
}

fn speed_to_land(inputs: &Inputs) -> Computed {
    let (angle, gravity) = (rad(inputs.one("angle_deg")), inputs.one("gravity"));
    let speed = solve::root(1.0, 100.0, |speed| {
        let throw = Throw { speed, angle, gravity };
        Ok(throw.landed(-inputs.one("release_height"))?.mark.x - inputs.one("x"))
    })?;
    Ok(vec![("v0", speed)])
}

fn basketball(inputs: &Inputs) -> Computed {
    let (speed, gravity) = (inputs.one("v0"), inputs.one("gravity"));
    let x = inputs.one("x");
    let angle = solve::root(rad(50.0), rad(80.0), |angle| {
        Ok(Throw { speed, angle, gravity }.height_at(x)? - inputs.one("y"))
    })?;
    let level = solve::root(1.0, 50.0, |speed| {
        let throw = Throw { speed, angle: rad(45.0), gravity };
        Ok(throw.landed(0.0)?.mark.x - x)
    })?;
    Ok(vec![("tan_angle", angle.tan()), ("angle", deg(angle)), ("v0_max_range_12m", level)])
}

/// Any `d` and `g sin(alpha)` give the same angle: here 1 m and 4 m/s^2.
fn inclined_plane(inputs: &Inputs) -> Computed {
    let (d, gravity): (f64, f64) = (1.0, 4.0);
    let speed = (gravity * d).sqrt();
    let (x, y) = (inputs.one("target_x_over_d") * d, inputs.one("target_y_over_d") * d);
    let angle = solve::root(rad(50.0), rad(80.0), |angle| {
        Ok(Throw { speed, angle, gravity }.height_at(x)? - y)
    })?;
    Ok(vec![("in_plane_launch_angle", deg(angle))])
}

fn step_off(inputs: &Inputs) -> Computed {
    let speed = |height: f64| -> Result<f64, Box<dyn Error>> {
        let throw = Throw { speed: 0.0, angle: 0.0, gravity: inputs.one("gravity") };
        Ok(throw.landed(-height)?.normal_speed)
    };
    Ok(vec![("v_0.32", speed(0.32)?), ("v_0.62", speed(0.62)?), ("v_1.03", speed(1.03)?)])
}
