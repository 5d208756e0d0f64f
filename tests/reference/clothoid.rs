//! Clothoids: the plan curve's points and headings.

use std::error::Error;
use std::f64::consts::PI;

use loamline::geometry::{Piece, Plan, Turn};

use crate::harness::Inputs;
use crate::{Computed, FOOT, deg, rad};

/// Where a clothoid that starts straight along `x` has come to.
#[derive(Clone, Copy)]
struct Point {
    x: f64,
    y: f64,
    heading: f64,
}

type Found = Result<Point, Box<dyn Error>>;

pub(crate) fn compute(id: &str, inputs: &Inputs) -> Option<Computed> {
    let computed = match id {
        "G01" => fresnel_table(),
        "G02" => fresnel(inputs.one("x")).map(|p| vec![("C", p.x), ("S", p.y)]),
        "CV11" => setting_out(inputs),
        "CV12" => by_parameter(inputs),
        "CV14" => highway_spiral(inputs),
        _ => return None,
    };
    Some(computed)
}

/// The point at `s` of a clothoid that reaches the radius at its length.
fn at(length: f64, radius: f64, s: f64) -> Found {
    let piece = Piece::Clothoid { length, radius_start: f64::INFINITY, radius_end: radius };
    let here = Plan::new(vec![piece], Turn::Left)?.at(0, s);
    Ok(Point { x: here.x.value(), y: here.y.value(), heading: here.heading.value() })
}

/// The Fresnel integrals are the clothoid of curvature `pi s`.
fn fresnel(x: f64) -> Found {
    at(x, 1.0 / (PI * x), x)
}

fn fresnel_table() -> Computed {
    const NAMES: [(f64, &str, &str); 7] = [
        (0.5, "C(0.5)", "S(0.5)"),
        (1.0, "C(1.0)", "S(1.0)"),
        (1.5, "C(1.5)", "S(1.5)"),
        (2.0, "C(2.0)", "S(2.0)"),
        (2.5, "C(2.5)", "S(2.5)"),
        (3.0, "C(3.0)", "S(3.0)"),
        (5.0, "C(5.0)", "S(5.0)"),
    ];
    let mut computed = Vec::new();
    for (x, cosine, sine) in NAMES {
        let point = fresnel(x)?;
        computed.extend([(cosine, point.x), (sine, point.y)]);
    }
    Ok(computed)
}

fn setting_out(inputs: &Inputs) -> Computed {
    let (length, radius) = (inputs.one("length_ft") * FOOT, inputs.one("radius_ft") * FOOT);
    let at = |feet: f64| at(length, radius, feet * FOOT);
    let deflection = |point: Point| deg(point.y.atan2(point.x));
    Ok(vec![
        ("delta_60", at(60.0)?.heading),
        ("delta_300", at(300.0)?.heading),
        ("x_120", at(120.0)?.x / FOOT),
        ("x_240", at(240.0)?.x / FOOT),
        ("x_300", at(300.0)?.x / FOOT),
        ("y_120", at(120.0)?.y / FOOT),
        ("y_180", at(180.0)?.y / FOOT),
        ("y_240", at(240.0)?.y / FOOT),
        ("y_300", at(300.0)?.y / FOOT),
        ("defl_60_deg", deflection(at(60.0)?)),
        ("defl_300_deg", deflection(at(300.0)?)),
    ])
}

/// `A^2` is radius times length.
fn by_parameter(inputs: &Inputs) -> Computed {
    let length = inputs.one("length");
    let end = at(length, inputs.one("a").powi(2) / length, length)?;
    Ok(vec![("tau_rad", end.heading), ("tau_deg", deg(end.heading)), ("N", end.x), ("E", end.y)])
}

/// The degree of curve is what an arc of 100 ft turns. The circle at the end, brought back to where
/// it runs along the first tangent, is shifted by `O` off it, `T` along it.
fn highway_spiral(inputs: &Inputs) -> Computed {
    let length = inputs.one("length_ft");
    let radius = 100.0 / rad(inputs.one("degree_of_curve_deg"));
    let end = at(length * FOOT, radius * FOOT, length * FOOT)?;
    let (sine, cosine) = end.heading.sin_cos();
    Ok(vec![
        ("offset_O", end.y / FOOT - radius * (1.0 - cosine)),
        ("T", end.x / FOOT - radius * sine),
        ("chord", end.x.hypot(end.y) / FOOT),
    ])
}
