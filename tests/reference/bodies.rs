//! Bodies: parts joined to a whole, and turning in free flight.

use std::error::Error;
use std::f64::consts::TAU;

use loamline::flight::{Body, Rotation, Turning};
use loamline::math::Vec3;
use loamline::rider::{Inertia, Solid};
use nalgebra::{Matrix3, UnitQuaternion};

use crate::Computed;
use crate::harness::Inputs;

pub(crate) fn compute(id: &str, inputs: &Inputs) -> Option<Computed> {
    let computed = match id {
        "R01" => benchmark_bicycle(inputs),
        "R08" => limbs(inputs),
        "R10" => gymnast(inputs),
        "R11" => gyroscope(inputs),
        "R12" => disk(inputs),
        _ => return None,
    };
    Some(computed)
}

fn benchmark_bicycle(inputs: &Inputs) -> Computed {
    let [mass, x, z, roll, pitch, yaw, product] =
        ["mass", "x", "z", "roll", "pitch", "yaw", "product"].map(|name| inputs.many(name));
    let parts: Result<Vec<Solid>, _> = (0..mass.len())
        .map(|i| {
            let (off, centre) = (product[i], Vec3::new(x[i], 0.0, z[i]));
            let inertia = Matrix3::new(roll[i], 0.0, off, 0.0, pitch[i], 0.0, off, 0.0, yaw[i]);
            Solid::new(mass[i], centre, inertia)
        })
        .collect();
    let whole = Solid::joined(&parts?)?;
    Ok(vec![
        ("total_mass", whole.mass()),
        ("roll_inertia_about_contact", whole.inertia_about(Vec3::zeros())[(0, 0)]),
        ("first_moment", whole.mass() * whole.centre().z),
    ])
}

fn limbs(inputs: &Inputs) -> Computed {
    let (centre, gyration) = (inputs.many("centre"), inputs.many("gyration"));
    let about_end = |i: usize| -> Result<f64, Box<dyn Error>> {
        let round = Vec3::new(gyration[i].powi(2), gyration[i].powi(2), 1e-3);
        let limb = Solid::principal(1.0, Vec3::z() * centre[i], round)?;
        Ok(limb.inertia_about(Vec3::zeros())[(0, 0)].sqrt())
    };
    Ok(vec![("thigh", about_end(0)?), ("leg", about_end(1)?), ("upper_arm", about_end(2)?)])
}

fn turning(body: Body, rates: Vec3, until: f64) -> Result<Rotation, Box<dyn Error>> {
    let start = Turning { rotation: UnitQuaternion::identity(), rates };
    Ok(Rotation::new(body, start, until)?)
}

/// The momentum of the straight body, kept by the tucked one.
fn gymnast(inputs: &Inputs) -> Computed {
    let free = |pitch: f64| -> Result<Body, Box<dyn Error>> {
        Ok(Body::new(Inertia::new(pitch, pitch, 0.3 * pitch)?, 0.0, Vec3::zeros())?)
    };
    let (time, rate) = (inputs.one("time"), inputs.one("rate") * TAU);
    let straight = turning(free(inputs.one("straight"))?, Vec3::y() * rate, time)?;
    let tucked = Vec3::y() * (straight.momentum(0.0).y / inputs.one("tucked"));
    let flown = turning(free(inputs.one("tucked"))?, tucked, time)?;
    let angle = swept(&flown, time, Vec3::x(), Vec3::z());
    Ok(vec![("rate", flown.at(time).rates.y / TAU), ("turns", angle.abs() / TAU)])
}

/// The angle that the body's axis `x` sweeps out in the plane of `x` and `z`, followed in small steps.
fn swept(rotation: &Rotation, time: f64, x: Vec3, z: Vec3) -> f64 {
    let angle = |t: f64| {
        let axis = rotation.at(t).rotation * x;
        axis.dot(&z).atan2(axis.dot(&x))
    };
    let steps: i32 = 20_000;
    let at = |i: i32| angle(time * f64::from(i) / f64::from(steps));
    (0..steps).map(|i| wrapped(at(i + 1) - at(i))).sum()
}

fn wrapped(angle: f64) -> f64 {
    angle - TAU * (angle / TAU).round()
}

fn gyroscope(inputs: &Inputs) -> Computed {
    let (mass, radius) = (inputs.one("mass"), inputs.one("disk_radius"));
    let spin = 0.5 * mass * radius * radius * inputs.one("spin") * TAU;
    let weight = inputs.one("arm") * mass * inputs.one("gravity");
    // Its axle to the left: the weight's moment is about forward, and turns with the axle.
    let light: f64 = 2e-5;
    let body = Body::new(Inertia::new(light, light, light)?, spin, Vec3::x() * weight)?;
    let nods = 300.0;
    let time = nods * TAU * light / spin;
    let flown = turning(body, Vec3::zeros(), time)?;
    let rate = swept(&flown, time, Vec3::y(), Vec3::x()).abs() / time;
    Ok(vec![("precession", rate), ("period", TAU / rate)])
}

fn disk(inputs: &Inputs) -> Computed {
    let axial = inputs.one("axial_over_transverse");
    let body = Body::new(Inertia::new(1.0, 1.0, axial)?, 0.0, Vec3::zeros())?;
    // The momentum's direction is the axis about which the wobble goes round.
    let flown = turning(body, Vec3::new(inputs.one("tilt"), 0.0, 1.0), 1.0)?;
    let up = flown.momentum(0.0).normalize();
    let off = |t: f64| {
        let axis = flown.at(t).rotation * Vec3::z();
        axis - up * axis.dot(&up)
    };
    let (a, b) = (off(0.0), off(0.5));
    Ok(vec![("wobble_over_spin", a.angle(&b) / 0.5)])
}
