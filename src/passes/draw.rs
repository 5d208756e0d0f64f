//! Who comes down the hill: the numbers of each pass, drawn.

use super::doubt::Doubt;
use crate::math::Vec3;
use crate::math::parallel::{Crew, CrewError};
use crate::math::sampling::Sequence;
use crate::site::{RiderClass, Site};
use serde::{Deserialize, Serialize};
use std::ops::ControlFlow;

/// After so many draws a watch is told; each takes about a microsecond.
const STRIDE: usize = 1024;

/// What is drawn for a pass, in the order of the sequence's dimensions: only ever append.
const NAMES: &[&str] = &["class", "start", "leave", "pop", "mass", "cda", "brake", "wind"];

/// The numbers drawn for one pass, before it is ridden.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize)]
pub struct Drawn {
    /// The rider's class, by its place among the site's, from 0.
    pub who: usize,
    /// The share of all passes it stands for: over all passes these add up to 1.
    pub weight: f64,
    /// Level distance of the start up the hill from the run-in's end, m.
    pub start: f64,
    /// How far up the panel the rider leaves at the entry speed of the class's middle rider, m.
    pub leave: f64,
    /// The speed of the push off the edge, m/s.
    pub pop: f64,
    /// The mass of rider and bike, kg.
    pub mass: f64,
    /// The drag area, m^2.
    pub cda: f64,
    /// The brake held down the run-in, m/s^2.
    pub brake: f64,
    /// The air's velocity, m/s.
    pub wind: Vec3,
    /// What the speed onto the takeoff is multiplied by: 1 but in doubt.
    pub speed_factor: f64,
    /// The scenario, by its place from 0; the only one where nothing is in doubt.
    pub scenario: usize,
}

/// `n` passes over a site: a function of seed and site alone.
///
/// Classes are drawn by weight from the sequence's first dimension, so that their counts are right
/// to about one; what is left of that goes into the weights, which give each class exactly its own.
/// A class so rare that none of the `n` is of it gives its weight to the others.
///
/// The crew's watch hears that none is ridden yet, and may stop it.
pub(super) fn draw(site: &Site, n: usize, seed: u64, crew: &Crew) -> Result<Vec<Drawn>, CrewError> {
    let sequence = Sequence::new(seed, NAMES);
    let hook = |_: usize, _: usize| crew.watch.map_or(ControlFlow::Continue(()), |hear| hear(0, n));
    let crew = Crew { watch: Some(&hook), ..*crew };
    let mut passes = crew.map(n, STRIDE, |index| member(site, &sequence, index as u64))?;
    let mut counts = vec![0_usize; site.classes.len()];
    for pass in &passes {
        counts[pass.who] += 1;
    }
    let present = site.classes.iter().zip(&counts).filter(|(_, count)| **count > 0);
    let total: f64 = present.map(|(class, _)| class.weight).sum();
    for pass in &mut passes {
        pass.weight = site.classes[pass.who].weight / (total * counts[pass.who] as f64);
    }
    Ok(passes)
}

fn member(site: &Site, sequence: &Sequence, index: u64) -> Drawn {
    let who = pick(&site.classes, sequence.uniform(index, "class"));
    let class = &site.classes[who];
    let share = |name| sequence.uniform(index, name);
    let wind = site
        .wind
        .map_or_else(|| site.air.wind(), |wind| wind.velocity(wind.speed.quantile(share("wind"))));
    Drawn {
        who,
        weight: 1.0,
        start: class.start.quantile(share("start")),
        leave: class.leave.quantile(share("leave")),
        pop: class.pop.quantile(share("pop")),
        mass: class.mass.quantile(share("mass")),
        cda: class.cda.quantile(share("cda")),
        brake: class.brake.quantile(share("brake")),
        wind,
        speed_factor: 1.0,
        scenario: 0,
    }
}

/// The same draws with each scenario's own errors; the first of them one scenario, and so on, for any run of a sequence
/// is as evenly spread as the whole.
pub(super) fn in_doubt(passes: &mut [Drawn], seed: u64, doubt: &Doubt) {
    let each = passes.len().div_ceil(doubt.scenarios());
    for (scenario, some) in passes.chunks_mut(each).enumerate() {
        let shift = doubt.shift(seed, scenario);
        for pass in some {
            pass.pop += shift.pop;
            pass.wind += shift.wind;
            (pass.speed_factor, pass.scenario) = (shift.speed_factor, scenario);
        }
    }
}

/// The class in whose part of the stacked weights the share `u` falls.
fn pick(classes: &[RiderClass], u: f64) -> usize {
    let mut below = 0.0;
    for (who, class) in classes.iter().enumerate() {
        below += class.weight;
        if u < below {
            return who;
        }
    }
    classes.len().saturating_sub(1)
}
