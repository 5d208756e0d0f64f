//! The search: step by step, each landed again.

use super::error::FreeLandingError;
use super::options::FreeOptions;
use super::patch::Patch;
use super::program;
use super::pull::{Pull, Ways};
use super::{FreeLanding, FreeStop};
use crate::math::Vec2;
use crate::math::parallel::{Crew, CrewError};
use crate::math::range::positive;
use crate::passes::{Pass, Passes, Way};
use crate::touchdown::Contact;
use std::ops::ControlFlow;

/// The first step's bound, metres a node.
const FIRST: f64 = 0.05;
/// No step is bound wider than this, metres: beyond it a touchdown has nothing to do with the one that it was.
const WIDEST: f64 = 0.2;
/// A bound below this is no shovel's work any more, metres.
const NARROWEST: f64 = 5e-4;
/// Less earth than this on a node is none, metres.
const DUST: f64 = 2e-4;
/// Less promised than this, as a share of the severity, is nothing.
const NOTHING: f64 = 1e-4;

/// The shape of earth, no more than the options' volume, on the passes' ground on which the severity of their touchdowns is
/// least ([`super::super::severity`]).
///
/// Earth lies only where the passes' site has room for it ([`crate::site::Room`]).
/// Starts from the present ground, also a half-built one. The same passes and options give the same shape on any number of
/// threads. The crew's watch is told of the steps. Errors: a limit that is not above 0, slopes steeper than the soil stands, nobody who touches upright, no known
/// ground about the touchdowns, none of it free for earth, too many nodes, stopped.
pub fn free_landing(
    passes: &Passes,
    fall_limit: f64,
    options: &FreeOptions,
    crew: &Crew,
) -> Result<FreeLanding, FreeLandingError> {
    positive("fall_limit", fall_limit)?;
    let options = &options.with_soil(passes.room().soil())?;
    let marks = marks(passes);
    if marks.is_empty() {
        return Err(FreeLandingError::NobodyLands);
    }
    let patch = Patch::around(&marks, passes.ground(), Some(passes.room()), options)?;
    let search = Search { passes, fall_limit, options, patch: &patch, crew };
    let mut at = search.landed(vec![0.0; patch.bare().len()])?;
    let (mut severities, mut bound) = (vec![at.severity], FIRST);
    let mut stopped = FreeStop::Steps;
    for step in 0..options.steps() {
        search.told(step)?;
        let next = search.step(&at, bound, step)?;
        let promised = at.severity - next.expected;
        if promised <= NOTHING * at.severity {
            stopped = FreeStop::NoBetter;
            break;
        }
        let kept = next.at.filter(|next| next.severity < at.severity);
        let share = kept.as_ref().map_or(0.0, |kept| (at.severity - kept.severity) / promised);
        if let Some(kept) = kept {
            severities.push(kept.severity);
            at = kept;
        }
        bound = next_bound(bound, share);
        if bound < NARROWEST {
            stopped = FreeStop::NoProgress;
            break;
        }
    }
    let promised = search.promised(&at, severities.len())?;
    let built = patch.built(passes.ground(), &at.earth)?;
    let is_told = |rider: &&Ways| rider.hardest().is_some_and(|way| !way.by_node.is_empty());
    let told = at.riders.iter().filter(is_told).map(|rider| rider.share).sum::<f64>();
    let share_told = told * fall_limit * fall_limit;
    let (earth, options) = (at.earth, *options);
    Ok(FreeLanding {
        patch,
        earth,
        built,
        options,
        fall_limit,
        severities,
        share_told,
        stopped,
        promised,
    })
}

/// Wider where the promise came true, narrower where little of it did.
fn next_bound(bound: f64, share: f64) -> f64 {
    match share {
        share if share > 0.7 => (2.0 * bound).min(WIDEST),
        share if share > 0.3 => bound,
        _ => 0.4 * bound,
    }
}

/// Where the upright touch the ground.
fn marks(passes: &Passes) -> Vec<Vec2> {
    let contacts = passes.members().iter().filter_map(|pass| pass.contact());
    contacts.filter(|contact| contact.is_upright()).map(|contact| contact.mark.xy()).collect()
}

/// What does not change from step to step.
struct Search<'a> {
    passes: &'a Passes,
    fall_limit: f64,
    options: &'a FreeOptions,
    patch: &'a Patch,
    crew: &'a Crew<'a>,
}

/// A shape of the earth, and how all riders land on it.
struct At {
    earth: Vec<f64>,
    severity: f64,
    riders: Vec<Ways>,
}

/// A step as tried.
struct Next {
    expected: f64,
    /// None where somebody who touched the ground no longer does: that is no way to spare him.
    at: Option<At>,
}

impl Search<'_> {
    /// The watch hears of each step, and may stop it.
    fn told(&self, step: usize) -> Result<(), FreeLandingError> {
        let total = self.options.steps();
        match self.crew.watch.map_or(ControlFlow::Continue(()), |watch| watch(step, total)) {
            ControlFlow::Continue(()) => Ok(()),
            ControlFlow::Break(()) => Err(CrewError::Stopped { done: step, total }.into()),
        }
    }

    fn change(&self, at: &At, bound: f64, step: usize) -> Result<Vec<f64>, FreeLandingError> {
        let found = program::step(self.patch, self.options, &at.earth, &at.riders, bound);
        found.map_err(|status| FreeLandingError::Program { step, status })
    }

    /// What the widest step promises from here.
    fn promised(&self, at: &At, step: usize) -> Result<f64, FreeLandingError> {
        let change = self.change(at, WIDEST, step)?;
        Ok((at.severity - program::expected(&at.riders, &change)).max(0.0))
    }

    fn step(&self, at: &At, bound: f64, step: usize) -> Result<Next, FreeLandingError> {
        let change = self.change(at, bound, step)?;
        let expected = program::expected(&at.riders, &change);
        let raised = |(node, earth): (usize, &f64)| {
            earth + self.patch.unknown(node).map_or(0.0, |unknown| change[unknown])
        };
        let dust = |depth: f64| if depth < DUST { 0.0 } else { depth };
        let earth: Vec<f64> = at.earth.iter().enumerate().map(raised).map(dust).collect();
        let landed = self.landed(earth)?;
        let all = landed.riders.len() >= at.riders.len();
        Ok(Next { expected, at: all.then_some(landed) })
    }

    /// All riders on the ground with this earth.
    fn landed(&self, earth: Vec<f64>) -> Result<At, FreeLandingError> {
        let ground = self.patch.built(self.passes.ground(), &earth)?;
        let quiet = Crew { threads: self.crew.threads, watch: None };
        let landed = self.passes.on(&ground, &quiet)?;
        let riders = riders(&landed, self.patch, &earth, self.fall_limit);
        let severity = riders.iter().map(Ways::severity).sum();
        Ok(At { earth, severity, riders })
    }
}

/// All who touch, in order, with the pulls of each of their ways. A way whose answer is not told pulls at no node.
fn riders(passes: &Passes, patch: &Patch, earth: &[f64], fall_limit: f64) -> Vec<Ways> {
    let touched = || passes.members().iter().filter(|pass| pass.contact().is_some());
    let total: f64 = touched().map(|pass| pass.drawn.weight).sum();
    let told = |contact: &Contact| Pull { fall_height: contact.fall_height, by_node: Vec::new() };
    let pull = |way: &Way| {
        let pull = Pull::of(&way.flight, patch, earth);
        pull.or_else(|| way.contact().map(told))
    };
    let rider = |pass: &Pass| Ways {
        ways: pass.ways.iter().filter_map(pull).collect(),
        share: pass.drawn.weight / (total * fall_limit * fall_limit),
    };
    touched().map(rider).collect()
}
