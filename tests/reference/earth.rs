//! Volumes of earth: from sections, from depths on a grid, and exactly between two surfaces.

use std::error::Error;

use loamline::Ground;
use loamline::earth::sections::{self, Between};
use loamline::earth::{self, Barrow, Loads, Soil, Spread, Trailer, Volume};
use loamline::math::Vec3;

use crate::harness::Inputs;
use crate::{Computed, FOOT};

const YARD: f64 = 3.0 * FOOT;

pub(crate) fn compute(id: &str, inputs: &Inputs) -> Option<Computed> {
    let computed = match id {
        "EV01" => along_a_line(inputs),
        "EV03" => level_cutting(inputs),
        "EV04" => three_sections(inputs),
        "EV05" => seven_strips(inputs),
        "EV06" => prism(inputs),
        "EV08" => wedge(inputs),
        "EV10" => borrow_pit(inputs),
        "SS03" => dug_earth(inputs),
        _ => return None,
    };
    Some(computed)
}

fn along_a_line(inputs: &Inputs) -> Computed {
    let total = |stations, areas| {
        let (stations, areas) = (inputs.many(stations), inputs.many(areas));
        sections::along(stations, areas, Between::EndAreasAndPyramids)
    };
    let fill = total("fill_station_m", "fill_area_m2")?;
    let cut = total("cut_station_m", "cut_area_m2")?;
    let earth = Volume { fill, cut, ..Volume::default() };
    Ok(vec![("fill_total", fill), ("cut_total", cut), ("fill_deficit", earth.net())])
}

/// The volume dug from level ground for a flat bed of the given width between straight sides.
fn cutting(width: f64, side: f64, depth: f64, length: f64) -> Result<f64, Box<dyn Error>> {
    let (bed, top) = (0.5 * width, 0.5 * width + side * depth);
    let edge = top + 1.0;
    let survey = |across: &[(f64, f64)]| {
        let ends = [0.0, length].into_iter();
        let points: Vec<Vec3> =
            ends.flat_map(|x| across.iter().map(move |(y, z)| Vec3::new(x, *y, *z))).collect();
        Ground::survey(&points)
    };
    let before = survey(&[(-edge, 0.0), (edge, 0.0)])?;
    let after = survey(&[
        (-edge, 0.0),
        (-top, 0.0),
        (-bed, -depth),
        (bed, -depth),
        (top, 0.0),
        (edge, 0.0),
    ])?;
    Ok(earth::volume(&before, &after)?.cut)
}

fn level_cutting(inputs: &Inputs) -> Computed {
    let yards = |kind: &str, depth: f64| -> Result<f64, Box<dyn Error>> {
        let width = inputs.one(&format!("{kind}_base_ft")) * FOOT;
        let side = inputs.one(&format!("{kind}_slope"));
        let cut = cutting(width, side, depth * FOOT, inputs.one("length_ft") * FOOT)?;
        Ok(cut / YARD.powi(3))
    };
    Ok(vec![
        ("earth_depth_2ft", yards("earth", 2.0)?),
        ("earth_depth_5ft", yards("earth", 5.0)?),
        ("earth_depth_8ft", yards("earth", 8.0)?),
        ("earth_depth_10ft", yards("earth", 10.0)?),
        ("rock_depth_2ft", yards("rock", 2.0)?),
        ("rock_depth_5ft", yards("rock", 5.0)?),
        ("rock_depth_8ft", yards("rock", 8.0)?),
        ("rock_depth_10ft", yards("rock", 10.0)?),
    ])
}

fn three_sections(inputs: &Inputs) -> Computed {
    let (areas, spacing) = (inputs.many("area_m2"), inputs.one("spacing_m"));
    Ok(vec![
        ("trapezoidal", sections::trapezoidal(areas, spacing)?),
        ("simpson", sections::simpson(areas, spacing)?),
    ])
}

/// The source prints the sum of the weighted areas, before a third of the spacing.
fn seven_strips(inputs: &Inputs) -> Computed {
    let spacing = inputs.one("spacing");
    let volume = sections::simpson(inputs.many("strip_area"), spacing)?;
    Ok(vec![("simpson_weighted_sum", volume / (spacing / 3.0))])
}

fn prism(inputs: &Inputs) -> Computed {
    let stations = [0.0, inputs.one("L_ft") * FOOT];
    let areas = ["A1_ft2", "A2_ft2"].map(|name| inputs.one(name) * FOOT.powi(2));
    let volume = sections::along(&stations, &areas, Between::EndAreas)?;
    Ok(vec![("volume", volume / FOOT.powi(3)), ("volume_yd3", volume / YARD.powi(3))])
}

/// How far average end areas miss a pyramid, as a share of their own result and of the truth.
fn wedge(inputs: &Inputs) -> Computed {
    let (area, length) = (inputs.one("base_area"), inputs.one("length"));
    let ends = sections::along(&[0.0, length], &[area, 0.0], Between::EndAreas)?;
    // Half-way up a pyramid a quarter of its base is left.
    let truth = sections::prismoid(area, area / 4.0, 0.0, length)?;
    Ok(vec![
        ("correction_over_approx", (ends - truth) / ends),
        ("correction_over_true", (ends - truth) / truth),
    ])
}

fn borrow_pit(inputs: &Inputs) -> Computed {
    let target = inputs.one("target_ft");
    let depths: Vec<f64> = inputs.many("corner_ft").iter().map(|z| (target - z) * FOOT).collect();
    let &[dx, dy] = inputs.many("cell_ft") else { return Err("a cell has two sides".into()) };
    let fill = sections::grid(&depths, 2, dx * FOOT, dy * FOOT)?;
    Ok(vec![("fill", fill / YARD.powi(3))])
}

fn dug_earth(inputs: &Inputs) -> Computed {
    let none = Spread::exactly(0.0)?;
    let soil = Soil::loam().with_swell(Spread::exactly(inputs.one("swell"))?)?;
    let bank: f64 = inputs.many("dims").iter().product();
    let soil = soil.with_shrinkage(none)?;
    Ok(vec![("loose", Loads::of(bank, &soil, &Barrow::default(), &Trailer::default())?.loose)])
}
