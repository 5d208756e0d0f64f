//! Earth pressure and what holds it.

use std::error::Error;

use loamline::earth::{
    Backfill, ENGINEER_HEIGHT, Footing, Spread, Theory, WATER_WEIGHT, equivalent_friction,
};

use crate::harness::Inputs;
use crate::{Computed, FOOT, deg, rad};

const POUND: f64 = 4.448_221_615_260_5;
const POUNDS_PER_SQUARE_FOOT: f64 = POUND / (FOOT * FOOT);

pub(crate) fn compute(id: &str, inputs: &Inputs) -> Option<Computed> {
    let computed = match id {
        "EP02" => wall_friction(inputs),
        "EP03" => folded_cohesion(inputs),
        "EP05" => at_rest_under_water(inputs),
        "EP06" => at_rest(inputs),
        "EP13" => level_sand(inputs),
        "EP16" => Ok(vec![("engineer_above", ENGINEER_HEIGHT)]),
        "EP19" => Ok(vec![("stiff_clay_silty_clay", Footing::clay().friction())]),
        "EP20" => Ok(presumptive()),
        _ => return None,
    };
    Some(computed)
}

fn backfill(friction: f64, weight: f64) -> Result<Backfill, Box<dyn Error>> {
    Ok(Backfill::new(Spread::exactly(friction)?, Spread::exactly(weight)?)?)
}

fn wall_friction(inputs: &Inputs) -> Computed {
    let wall_friction = rad(inputs.one("delta_deg"));
    let theory = Theory::Coulomb { wall_friction };
    let friction = rad(inputs.one("phi_deg"));
    let unit = backfill(friction, 2.0)?.thrust(theory, 1.0)?;
    let coefficient = theory.coefficient(friction, 0.0)?;
    Ok(vec![("Ka", coefficient), ("Ka_horizontal", unit.level().force)])
}

fn folded_cohesion(inputs: &Inputs) -> Computed {
    let friction = rad(inputs.one("phi_deg"));
    let kips = 1000.0 * POUNDS_PER_SQUARE_FOOT;
    let weight = inputs.one("gamma_kcf") * kips / FOOT;
    let height = inputs.one("H_ft") * FOOT;
    let folded = equivalent_friction(friction, inputs.one("c_ksf") * kips, weight, height)?;
    Ok(vec![
        ("Ka", Theory::Rankine.coefficient(friction, 0.0)?),
        ("Keq", Theory::Rankine.coefficient(folded, 0.0)?),
        ("phi_eq", deg(folded)),
    ])
}

/// `1 - sin phi` is the coefficient that the source gives.
fn at_rest_under_water(inputs: &Inputs) -> Computed {
    let (above, below) = (inputs.one("above"), inputs.one("below"));
    let saturated = Spread::exactly(1000.0 * inputs.one("gamma_eff_below") + WATER_WEIGHT)?;
    let fill = backfill((1.0 - inputs.one("K0")).asin(), 1000.0 * inputs.one("gamma_above"))?;
    let fill = fill.with_water(below)?.with_saturated_weight(saturated)?;
    let pressure = fill.pressure(Theory::AtRest, above + below, above + below)?;
    Ok(vec![
        ("eff_lateral", pressure.earth / 1000.0),
        ("water", pressure.water / 1000.0),
        ("total", (pressure.earth + pressure.water) / 1000.0),
    ])
}

fn at_rest(inputs: &Inputs) -> Computed {
    let force = |case: &str| -> Result<f64, Box<dyn Error>> {
        let &[height, weight, friction] = inputs.many(case) else { return Err("three".into()) };
        let thrust = backfill(rad(friction), weight)?.thrust(Theory::AtRest, height)?;
        Ok(thrust.level().force)
    };
    Ok(vec![("P0_a", force("a")?), ("P0_b", force("b")?)])
}

fn level_sand(inputs: &Inputs) -> Computed {
    let fill = backfill(rad(inputs.one("phi_deg")), inputs.one("gamma"))?;
    Ok(vec![("Pa", fill.thrust(Theory::Rankine, inputs.one("H"))?.level().force)])
}

fn presumptive() -> Vec<(&'static str, f64)> {
    let bearing = |footing: Footing| footing.bearing() / POUNDS_PER_SQUARE_FOOT;
    vec![
        ("gravel_bearing", bearing(Footing::gravel())),
        ("gravel_friction", Footing::gravel().friction()),
        ("sand_bearing", bearing(Footing::sand())),
        ("sand_friction", Footing::sand().friction()),
        ("clay_silt_bearing", bearing(Footing::clay())),
    ]
}
