//! Springs, stops and shocks: the chain of a landing with all but one stage left out.

use std::error::Error;
use std::f64::consts::FRAC_PI_2;

use loamline::Rider;
use loamline::load::{
    Chain, Impact, Link, Loads, Part, Softness, Stage, Strut, constant_force, response_index,
};
use loamline::rider::{Absorber, AirSpring};

use crate::harness::Inputs;
use crate::{Computed, FOOT, solve};

const POUND: f64 = 0.45359237;
const POUND_FORCE: f64 = POUND * 9.80665;
const INCH: f64 = FOOT / 12.0;

pub(crate) fn compute(id: &str, inputs: &Inputs) -> Option<Computed> {
    let computed = match id {
        "V01" => stiff_landing(inputs),
        "V02" => knees(inputs),
        "V04" => dropped_weight(inputs),
        "V05" => placed_weight(inputs),
        "V07" => pogo_stick(inputs),
        "V08" => climber(inputs),
        "V09" => car(inputs),
        "V10" => buffer(inputs),
        "V11" => let_go(inputs),
        "V12" => spring_gun(inputs),
        "ferris-series" => legs_on_a_surface(inputs),
        "zhang-speeds" => step_off_speeds(inputs),
        "dri-short-shock" => short_shock(inputs),
        _ => return None,
    };
    Some(computed)
}

/// What a mass takes on one spring, followed for as long as the slow ones need.
fn on_spring(impact: &Impact, mass: f64, spring: Strut) -> Result<Loads, Box<dyn Error>> {
    let links = vec![Link::new(Stage::Ground, Part::Strut(spring), mass)?];
    Ok(Chain::new(links)?.with_longest(20.0)?.loads(impact)?)
}

fn used(loads: &Loads) -> f64 {
    loads.stages[0].used.value
}

/// A fall from a height under the source's own gravity.
fn fall(height: f64, gravity: f64) -> Result<Impact, Box<dyn Error>> {
    Ok(Impact::at_speed((2.0 * gravity * height).sqrt())?.with_gravity(gravity)?)
}

/// The same as a speed alone: nothing presses but what moves.
fn speed(speed: f64) -> Result<Impact, Box<dyn Error>> {
    Ok(Impact::at_speed(speed)?.with_slope(FRAC_PI_2)?)
}

fn stiff_landing(inputs: &Inputs) -> Computed {
    let gravity = inputs.one("gravity");
    let impact = fall(inputs.one("drop"), gravity)?.with_slope(FRAC_PI_2)?;
    let force = constant_force(&impact, inputs.one("way")) * inputs.one("mass") * gravity;
    Ok(vec![("force", force)])
}

fn knees(inputs: &Inputs) -> Computed {
    let gravity = inputs.one("gravity");
    let impact = fall(inputs.one("drop"), gravity)?;
    let ratio = |way| constant_force(&impact, inputs.one(way));
    let weight = inputs.one("mass") * gravity;
    let (stiff, bent) = (ratio("way_stiff"), ratio("way_bent"));
    Ok(vec![
        ("force_stiff", stiff * weight),
        ("force_bent", bent * weight),
        ("ratio_stiff", stiff),
        ("ratio_bent", bent),
    ])
}

fn dropped_weight(inputs: &Inputs) -> Computed {
    let spring = Strut::spring(inputs.one("stiffness_lb_in") * POUND_FORCE / INCH)?;
    let impact = Impact::from_height(inputs.one("drop_in") * INCH)?;
    let loads = on_spring(&impact, inputs.one("weight_lb") * POUND, spring)?;
    Ok(vec![("max_shortening", used(&loads) / INCH), ("impact_factor", loads.peak_bodyweights())])
}

fn placed_weight(inputs: &Inputs) -> Computed {
    let mass = inputs.one("weight_lb") * POUND;
    let stiffness = inputs.one("stiffness_lb_ft") * POUND_FORCE / FOOT;
    let impact = Impact::from_height(0.0)?;
    let loads = on_spring(&impact, mass, Strut::spring(stiffness)?)?;
    Ok(vec![("max_h0", used(&loads) / FOOT)])
}

fn pogo_stick(inputs: &Inputs) -> Computed {
    let spring = Strut::spring(inputs.one("stiffness"))?;
    let (mass, way, gravity) = (inputs.one("mass"), inputs.one("way"), inputs.one("gravity"));
    let height = solve::root(0.01, 2.0, |height| {
        Ok(used(&on_spring(&fall(height, gravity)?, mass, spring)?) - way)
    })?;
    Ok(vec![("height", height)])
}

fn climber(inputs: &Inputs) -> Computed {
    let (mass, gravity) = (inputs.one("mass"), inputs.one("gravity"));
    let impact = speed((2.0 * gravity * inputs.one("fall")).sqrt())?;
    let caught = |stiffness: f64| -> Result<(f64, f64), Box<dyn Error>> {
        let loads = on_spring(&impact, mass, Strut::spring(stiffness)?)?;
        // A quarter of a swing from no stretch to the longest.
        Ok((0.25 / loads.peak().time, used(&loads)))
    };
    let (freq, stretch) = caught(inputs.one("stiffness"))?;
    let (freq_half, stretch_half) = caught(0.5 * inputs.one("stiffness"))?;
    Ok(vec![
        ("freq", freq),
        ("stretch", stretch),
        ("freq_half_k", freq_half),
        ("stretch_half_k", stretch_half),
    ])
}

fn car(inputs: &Inputs) -> Computed {
    let load = inputs.one("load") * inputs.one("gravity");
    let spring = AirSpring::from_sag(load, 4.0 * inputs.one("sag"), 0.25, 1.0)?;
    let printed = Strut::spring(inputs.one("printed_stiffness"))?;
    let at = |v: f64| on_spring(&speed(v)?, inputs.one("car_mass"), printed);
    let fastest = solve::root(0.01, 5.0, |v| Ok(used(&at(v)?) - inputs.one("amplitude")))?;
    let quarter = at(fastest)?.peak().time;
    Ok(vec![
        ("k", spring.rate()),
        ("freq", 0.25 / quarter),
        ("period", 4.0 * quarter),
        ("v_max", fastest),
    ])
}

fn buffer(inputs: &Inputs) -> Computed {
    let impact = speed(inputs.one("speed"))?;
    let stiffness = solve::root(1e4, 1e8, |stiffness| {
        let loads = on_spring(&impact, inputs.one("mass"), Strut::spring(stiffness)?)?;
        Ok(used(&loads) - inputs.one("way"))
    })?;
    Ok(vec![("k", stiffness)])
}

fn let_go(inputs: &Inputs) -> Computed {
    let gravity = inputs.one("gravity");
    let impact = Impact::at_speed(0.0)?.with_gravity(gravity)?;
    let mass = inputs.one("weight") / gravity;
    let loads = on_spring(&impact, mass, Strut::spring(inputs.one("stiffness"))?)?;
    // Fastest where spring and weight are even: midway.
    let way = &loads.stages[0].compression;
    let step = loads.time[1] - loads.time[0];
    let speeds = way.windows(3).map(|x| (x[2] - x[0]) / (2.0 * step));
    Ok(vec![("max_extension", used(&loads)), ("speed_midway", speeds.fold(0.0, f64::max))])
}

fn spring_gun(inputs: &Inputs) -> Computed {
    let impact = fall(inputs.one("height"), inputs.one("gravity"))?;
    let spring = Strut::spring(inputs.one("stiffness"))?;
    Ok(vec![("compression", used(&on_spring(&impact, inputs.one("mass"), spring)?))])
}

/// The lowest strut of a chain has tyre and ground in series; here the leg stands in for the tyre.
fn legs_on_a_surface(inputs: &Inputs) -> Computed {
    let both = |at: usize| -> Result<f64, Box<dyn Error>> {
        let absorber = Absorber { tyre_stiffness: inputs.many("leg")[at], ..Absorber::default() };
        let ground = Softness::spring(inputs.many("surface")[at])?;
        let chain = Rider::default()
            .with_absorber(absorber)?
            .chain(&Impact::from_height(0.1)?.onto(ground))?;
        match chain.links()[0].part() {
            Part::Strut(strut) => Ok(strut.stiffness() / 1000.0),
            _ => Err("no strut on the ground".into()),
        }
    };
    Ok(vec![("hard", both(1)?), ("soft", both(0)?)])
}

fn step_off_speeds(inputs: &Inputs) -> Computed {
    let names = ["v_0.32", "v_0.62", "v_1.03"];
    let speeds = names.into_iter().zip(inputs.many("height"));
    speeds.map(|(name, height)| Ok((name, Impact::from_height(*height)?.normal_speed()))).collect()
}

fn short_shock(inputs: &Inputs) -> Computed {
    let (time, speed) = (inputs.one("shock"), inputs.one("speed"));
    let index = response_index(&[0.0, time], &[speed / time; 2])?;
    Ok(vec![
        ("index_per_speed", index.value / speed),
        ("compression_at_limit", index.compression / index.value * inputs.one("limit")),
    ])
}
