//! Quadratic drag: long falls through still air, and the force itself.

use std::error::Error;

use loamline::force::Forces;
use loamline::launch::Launch;
use loamline::math::Vec3;
use loamline::{Air, Ground, Rider};

use crate::harness::Inputs;
use crate::{Computed, kmh, solve};

type Number = Result<f64, Box<dyn Error>>;

pub(crate) fn compute(id: &str, inputs: &Inputs) -> Option<Computed> {
    let computed = match id {
        "D01" | "D02" | "D03" | "D04" => terminal(inputs),
        "D05" => lumped(inputs),
        "D06" => ratio(inputs),
        "D13" => sphere(inputs),
        _ => return None,
    };
    Some(computed)
}

/// A body that falls from rest: the speed after so long.
struct Fall {
    mass: f64,
    drag_area: f64,
    density: f64,
    gravity: f64,
}

impl Fall {
    fn of(inputs: &Inputs) -> Self {
        Fall {
            mass: inputs.one("mass"),
            drag_area: inputs.one("Cd") * inputs.one("area"),
            density: inputs.one("rho"),
            gravity: inputs.one("gravity"),
        }
    }

    fn rider(&self) -> Result<Rider, Box<dyn Error>> {
        let rider = Rider::default().with_mass(self.mass)?.with_cda(self.drag_area)?;
        Ok(rider.with_com_height_landing(Some(0.0))?)
    }

    fn air(&self) -> Result<Air, Box<dyn Error>> {
        Ok(Air::standard().with_density(self.density)?.with_gravity(self.gravity)?)
    }

    /// Deep enough to come within a thousandth of the terminal speed, and reached within a minute.
    fn settling_depth(&self) -> f64 {
        7.0 * self.mass / (self.density * self.drag_area)
    }

    /// The speed at which a fall of `depth` ends.
    fn speed_after(&self, depth: f64) -> Number {
        let ground = Ground::plane(Vec3::new(0.0, 0.0, -depth), 0.0, 0.0)?;
        let launch = Launch::by_hand(Vec3::zeros(), Vec3::zeros())?;
        let down = launch.flight(&ground, &self.rider()?, &self.air()?)?.touchdown();
        Ok(down.contact.ok_or("no touchdown")?.velocity.norm())
    }
}

fn terminal(inputs: &Inputs) -> Computed {
    let body = Fall::of(inputs);
    let speed = body.speed_after(body.settling_depth())?;
    let mut computed = vec![("vt", speed), ("vt_kmh", speed * 3.6)];
    if inputs.has("drop") {
        let bare = Fall { drag_area: 0.0, ..Fall::of(inputs) };
        computed.push(("v_after_5m_no_drag", bare.speed_after(inputs.one("drop"))?));
    } else {
        let light = Fall { mass: 50.0, ..body };
        computed.push(("vt_50kg", light.speed_after(light.settling_depth())?));
    }
    Ok(computed)
}

/// The `b` of `f = b v^2`, from the drag area whose fall ends at the given speed.
fn lumped(inputs: &Inputs) -> Computed {
    let density = 1.2;
    let (mass, gravity) = (inputs.one("mass"), inputs.one("gravity"));
    let drag_area = solve::root(0.1, 10.0, |drag_area| {
        let body = Fall { mass, drag_area, density, gravity };
        Ok(body.speed_after(body.settling_depth())? - inputs.one("vt"))
    })?;
    let body = Fall { mass, drag_area, density, gravity };
    Ok(vec![("b", force(&body, 1.0)?)])
}

fn ratio(inputs: &Inputs) -> Computed {
    let body = Fall { mass: 1.0, drag_area: 0.7, density: 1.2, gravity: 9.8 };
    let at = |name| force(&body, kmh(inputs.one(name)));
    Ok(vec![("ratio", at("v2_kmh")? / at("v1_kmh")?)])
}

/// The `c2` of `F = c2 D^2 v^2` for a sphere of the given drag area per square of its radius.
fn sphere(inputs: &Inputs) -> Computed {
    let radius: f64 = 0.5;
    let drag_area = inputs.one("drag_area_over_r2") * radius.powi(2);
    let body = Fall { mass: 1.0, drag_area, density: inputs.one("rho"), gravity: 9.8 };
    Ok(vec![("c2", force(&body, 1.0)?)])
}

/// The drag force at a speed, in newtons.
fn force(body: &Fall, speed: f64) -> Number {
    let (rider, air) = (body.rider()?, body.air()?);
    let drag = Forces::new(&rider, &air).drag(Vec3::new(speed, 0.0, 0.0));
    Ok(drag.norm() * body.mass)
}
