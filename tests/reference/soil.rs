//! Soils and the work of moving them: tables as the defaults hold them, and volumes by state.

use std::error::Error;

use loamline::earth::{
    Barrow, CROWN, Digging, Grain, Hours, Loads, Roll, Soil, Spread, Tamping, Task, Trailer,
};

use crate::harness::Inputs;
use crate::{Computed, FOOT, deg};

const YARD: f64 = 3.0 * FOOT;

pub(crate) fn compute(id: &str, inputs: &Inputs) -> Option<Computed> {
    let computed = match id {
        "SS01" => Ok(swell()),
        "SS02" => Ok(gravel()),
        "SS04" => weighed(inputs).map(|soil| vec![("swell", 100.0 * soil.swell().value())]),
        "SS06" => two_shrinkages(inputs),
        "SS07" => borrowed(inputs),
        "SS08" => Ok(weights()),
        "SS09" => Ok(loose_densities()),
        "SS10" => Ok(friction_of_grains()),
        "SS11" => Ok(friction_by_chart()),
        "SS16" => Ok(settlement()),
        "SS18" => Ok(layers()),
        "LB01" => Ok(digging()),
        "LB02" => wheeling(inputs),
        "LB03" => filling(inputs),
        "LB04" => operations(inputs),
        "LB07" => barrows(inputs),
        "LB09" => {
            Ok(vec![("shovel_load_wagon_most", 1.0 / (Digging::Light.load().low() * YARD.powi(3)))])
        }
        "DR05" => Ok(vec![("crown_above_retainer", 1000.0 * CROWN)]),
        "DR06" => Roll::new(inputs.one("roll"))
            .map(|roll| vec![("overlap_min", 1000.0 * roll.overlap())])
            .map_err(Into::into),
        _ => return None,
    };
    Some(computed)
}

fn swell() -> Vec<(&'static str, f64)> {
    vec![
        ("earth_loam", 100.0 * Soil::loam().swell().value()),
        ("gravel", 100.0 * Soil::gravel().swell().value()),
        ("sand", 100.0 * Soil::sand().swell().value()),
        ("clay", 100.0 * Soil::clay().swell().high()),
    ]
}

fn gravel() -> Vec<(&'static str, f64)> {
    let swell = Soil::gravel().swell();
    vec![("gravel_dry", 100.0 * swell.high()), ("gravel_wet", 100.0 * swell.low())]
}

/// A soil by its three densities; their unit does not matter.
fn weighed(inputs: &Inputs) -> Result<Soil, Box<dyn Error>> {
    let [bank, loose, placed] = ["bank", "loose", "compacted"].map(|name| inputs.one(name));
    Ok(Soil::loam().with_densities(bank, loose, placed)?)
}

fn loads(placed: f64, soil: &Soil) -> Result<Loads, Box<dyn Error>> {
    Ok(Loads::of(placed, soil, &Barrow::default(), &Trailer::default())?)
}

fn two_shrinkages(inputs: &Inputs) -> Computed {
    let soil = weighed(inputs)?;
    let loads = loads(inputs.one("fill"), &soil)?;
    let lost = soil.shrinkage().value();
    Ok(vec![
        ("bank_volume", loads.bank),
        ("loose_volume", loads.loose),
        ("shrink_by_density_gain", 100.0 * lost / (1.0 - lost)),
        ("swell", 100.0 * soil.swell().value()),
    ])
}

fn borrowed(inputs: &Inputs) -> Computed {
    let bank = inputs.one("borrow_wet");
    let placed = inputs.one("fill_dry") * (1.0 + inputs.one("moisture"));
    let soil = Soil::loam().with_densities(bank, bank, placed)?;
    Ok(vec![("borrow", loads(inputs.one("fill"), &soil)?.bank)])
}

fn weights() -> Vec<(&'static str, f64)> {
    let ends = |names: [&'static str; 2], spread: Spread| {
        [(names[0], spread.low() / 1000.0), (names[1], spread.high() / 1000.0)]
    };
    let (gravel, sand) = (Soil::gravel(), Soil::sand());
    let (loam, clay) = (Soil::loam(), Soil::clay());
    [
        ends(["gravel_above_low", "gravel_above_high"], gravel.unit_weight()),
        ends(["gravel_below_low", "gravel_below_high"], gravel.saturated_weight()),
        ends(["sand_above_low", "sand_above_high"], sand.unit_weight()),
        ends(["sand_below_low", "sand_below_high"], sand.saturated_weight()),
        ends(["silty_sand_above_low", "silty_sand_above_high"], loam.unit_weight()),
        ends(["silty_sand_below_low", "silty_sand_below_high"], loam.saturated_weight()),
        ends(["clay_above_low", "clay_above_high"], clay.unit_weight()),
        ends(["clay_below_low", "clay_below_high"], clay.saturated_weight()),
    ]
    .concat()
}

fn loose_densities() -> Vec<(&'static str, f64)> {
    let [sand, gravel] = [Soil::sand(), Soil::gravel()].map(|soil| soil.loose_density());
    vec![
        ("dirt_loose_dry", Soil::loam().loose_density().low()),
        ("clay_wet", Soil::clay().loose_density().high()),
        ("gravel_dry", gravel.low()),
        ("gravel_wet", gravel.high()),
        ("sand_dry", sand.low()),
        ("sand_wet", sand.high()),
    ]
}

fn friction_of_grains() -> Vec<(&'static str, f64)> {
    let sand = Soil::sand().friction();
    vec![
        ("phi_loose_low", deg(sand.low())),
        ("phi_loose_high", deg(Soil::gravel().friction().low())),
        ("phi_medium_high", deg(sand.high())),
    ]
}

fn friction_by_chart() -> Vec<(&'static str, f64)> {
    vec![
        ("phi_mixed", deg(Soil::loam().friction().high())),
        ("phi_sand_gravel", deg(Soil::gravel().friction().high())),
    ]
}

fn settlement() -> Vec<(&'static str, f64)> {
    let loam = Soil::loam().settlement();
    vec![("machine_built", 100.0 * loam.low()), ("coastal_practice", 100.0 * loam.high())]
}

fn layers() -> Vec<(&'static str, f64)> {
    vec![
        ("sand_granular_rammer", 1000.0 * Tamping::Rammer.layer(Grain::Granular)),
        ("cohesive_or_stony_rammer_max", 1000.0 * Tamping::Rammer.layer(Grain::Cohesive)),
        ("any_layer_min", 1000.0 * Tamping::Hand.layer(Grain::Cohesive)),
    ]
}

fn digging() -> Vec<(&'static str, f64)> {
    let [light, medium, heavy] =
        [Digging::Light, Digging::Medium, Digging::Heavy].map(Digging::dig);
    vec![
        ("pit_loose_sand_soil", 1.0 / light.high()),
        ("trench_firm_sand_soil", 1.0 / medium.low()),
        ("pit_firm", 1.0 / medium.high()),
        ("trench_clay_heavy", 1.0 / heavy.low()),
        ("pit_boulder_clay", 1.0 / heavy.high()),
    ]
}

/// The hours of a cubic metre dug and one placed.
fn hours(haul: f64, layer: f64, grain: Grain) -> Result<Hours, Box<dyn Error>> {
    let task = Task { bank: 1.0, placed: 1.0, barrows: 15.0, haul, layer };
    Ok(Hours::of(&task, Digging::Medium, grain)?)
}

fn wheeling(inputs: &Inputs) -> Computed {
    let names = ["0_to_10_m", "10_to_20_m", "20_to_50_m"];
    let bands = names.into_iter().zip(inputs.many("distance"));
    bands.map(|(name, haul)| Ok((name, hours(*haul, 0.1, Grain::Granular)?.haul.low()))).collect()
}

/// By layer an end of the span: the other end is the one number of the other table, an hour.
fn filling(inputs: &Inputs) -> Computed {
    let loose = ["loose_to100", "loose_100_200", "loose_200_300", "loose_over300"];
    let clay = ["clay_to100", "clay_100_200", "clay_200_300", "clay_over300"];
    let mut computed = Vec::new();
    for (names, grain) in [(loose, Grain::Granular), (clay, Grain::Cohesive)] {
        for (name, layer) in names.into_iter().zip(inputs.many("layer")) {
            let place = hours(10.0, *layer, grain)?.place;
            let other = if (place.high() - 1.0).abs() < 1e-12 { place.low() } else { place.high() };
            computed.push((name, 1.0 / other));
        }
    }
    Ok(computed)
}

fn operations(inputs: &Inputs) -> Computed {
    let hours = hours(inputs.one("distance"), inputs.one("layer"), Grain::Granular)?;
    Ok(vec![
        ("dig_sand", Digging::Light.dig().low()),
        ("load_sand", Digging::Light.load().high()),
        ("load_medium", Digging::Medium.load().high()),
        ("load_heavy", Digging::Heavy.load().high()),
        ("wheel_to_50m_spread", hours.haul.high()),
        ("backfill_compact", hours.place.low()),
    ])
}

/// Barrows in a cubic yard of loose earth.
fn barrows(inputs: &Inputs) -> Computed {
    let names = ["loads_2ft3", "loads_3ft3", "loads_6ft3"];
    let soil = Soil::loam().with_densities(1.0, 1.0, 1.0)?;
    let count = |feet: f64| -> Result<f64, Box<dyn Error>> {
        let barrow = Barrow::new(feet * FOOT.powi(3))?;
        Ok(Loads::of(YARD.powi(3), &soil, &barrow, &Trailer::default())?.barrows)
    };
    names
        .into_iter()
        .zip(inputs.many("barrow_ft3"))
        .map(|(name, of)| Ok((name, count(*of)?)))
        .collect()
}
