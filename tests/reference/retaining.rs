//! Earth pressure and what holds it.

use std::error::Error;

use loamline::earth::{Backfill, ENGINEER_HEIGHT, Footing, Spread, Theory, equivalent_friction};

use crate::harness::Inputs;
use crate::{Computed, FOOT, deg, rad};

const POUND: f64 = 4.448_221_615_260_5;
const POUNDS_PER_SQUARE_FOOT: f64 = POUND / (FOOT * FOOT);

pub(crate) fn compute(id: &str, inputs: &Inputs) -> Option<Computed> {
    let computed = match id {
        "EP02" => wall_friction(inputs),
        "EP03" => folded_cohesion(inputs),
        "EP16" => Ok(vec![("engineer_above", ENGINEER_HEIGHT)]),
        "EP19" => Ok(vec![("stiff_clay_silty_clay", Footing::clay().friction())]),
        "EP20" => Ok(presumptive()),
        "EP22" => at_rest_half_in_water(inputs),
        "EP23" => level_gravel(inputs),
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

fn at_rest_half_in_water(inputs: &Inputs) -> Computed {
    let kilo = |name: &str| 1000.0 * inputs.one(name);
    let fill = backfill(rad(inputs.one("phi_deg")), kilo("gamma"))?;
    let fill = fill.with_water(inputs.one("water_m"))?;
    let fill = fill.with_saturated_weight(Spread::exactly(kilo("gamma_saturated"))?)?;
    let thrust = fill.thrust(Theory::AtRest, inputs.one("height_m"))?;
    Ok(vec![("P0", thrust.level().force / 1000.0)])
}

fn level_gravel(inputs: &Inputs) -> Computed {
    let (height, friction) = (inputs.one("H_ft") * FOOT, rad(inputs.one("phi_deg")));
    let weight = inputs.one("gamma_pcf") * POUNDS_PER_SQUARE_FOOT / FOOT;
    let fill = backfill(friction, weight)?;
    let kips = 1000.0 * POUNDS_PER_SQUARE_FOOT;
    Ok(vec![
        ("Ka", Theory::Rankine.coefficient(friction, 0.0)?),
        ("pressure", fill.pressure(Theory::Rankine, height, height)?.earth / kips),
        ("force", fill.thrust(Theory::Rankine, height)?.level().force / (kips * FOOT)),
    ])
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
