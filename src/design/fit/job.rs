//! One search for one budget: points all over, bred on, polished, built.

use super::{Fit, FitOptions, Search, build::Builder};
use crate::{
    design::{
        appraise::{Appraisal, Riders, appraise},
        candidate::{Fault, SHARE},
        error::FitError,
        plot::Plot,
        scenario::by_scenario,
        score::score,
    },
    math::{
        parallel::Crew,
        sampling::Sequence,
        search::{Minimum, evolve, polish},
    },
};
use std::collections::BTreeMap;

/// The wide search, guided at first, and the polish.
const WIDE: Look = Look { riders: 192, close: 0.04, guide: 0.0, blur: 1.0 };
const GUIDED: Look = Look { guide: 0.25, ..WIDE };
pub(super) const CLOSE: Look = Look { riders: 1024, close: 0.01, ..WIDE };
/// How many are polished.
const FINALISTS: usize = 4;
/// Those bred from lie so far apart in some number, in its range, lest all are of one valley; and those polished and scored.
const APART: [f64; 2] = [0.08, 0.02];
/// How many landings are scored exactly at least and at most, and how many riders are landed for it in all.
const SCORED: [usize; 2] = [3, 5];
const LANDED: usize = 2048;
/// The simplex's first sides, in each number's range.
const STEP: f64 = 0.06;

/// How closely a candidate is looked at: how many riders are asked, within which share the earth is met, what nearly soft
/// touches count, so that a search finds its way to where some are, and over which part of the usual blur one is soft.
#[derive(Clone, Copy)]
pub(super) struct Look {
    pub riders: usize,
    pub close: f64,
    pub guide: f64,
    pub blur: f64,
}

/// A candidate's numbers and what they came to.
pub(super) type Tried = (Vec<f64>, Appraisal);

/// One search for one budget.
#[derive(Clone, Copy)]
pub(super) struct Job<'a> {
    pub search: &'a Search<'a>,
    pub plot: &'a Plot<'a>,
    pub volume: f64,
    pub crew: &'a Crew<'a>,
}

impl Job<'_> {
    /// The best landing that was found; `known` are numbers to start from besides those drawn.
    pub(super) fn best(&self, options: &FitOptions, known: &[Vec<f64>]) -> Result<Fit, FitError> {
        let tried = self.spread(options, known)?;
        if tried.iter().all(|(_, appraisal)| appraisal.result.is_err()) {
            return Err(why(self.volume, &tried));
        }
        let bred = self.breed(&tried, options)?;
        let finalists = best_of(&bred, FINALISTS, APART[1]);
        let finished = self.polish(&finalists, options.steps)?;
        let (sharp, looks) = self.sharpen(&best_of(&finished, FINALISTS, APART[1]), options)?;
        let appraised = tried.len()
            + options.population * options.generations
            + finalists.len() * options.steps
            + looks;
        let ranked = best_of(&sharp, sharp.len(), APART[1]);
        let mut best: Option<Fit> = None;
        let (mut scored, [least, most]) = (0, SCORED);
        let enough = (LANDED / self.search.passes.len()).clamp(least, most);
        // Exact scores cost most: only the likely best get one, and the rest only where those cannot be built.
        for tried in ranked.iter().chain(&finished).chain(&bred) {
            if scored == enough {
                break;
            }
            let Some(fit) = self.built(tried, appraised)? else { continue };
            scored += 1;
            if best.as_ref().is_none_or(|best| fit.is_better_than(best)) {
                best = Some(fit);
            }
        }
        best.ok_or(FitError::NoPlace { hint: "the earth around the face runs over them" })
    }

    pub(super) fn appraise(&self, numbers: &[f64], look: Look) -> Appraisal {
        let Look { guide, blur, .. } = look;
        let riders = Riders { guide, blur, ..self.search.riders(look.riders) };
        appraise(&self.search.range, self.plot, numbers, (self.volume, look.close), riders)
    }

    /// Candidates all over the range, and those known.
    fn spread(&self, options: &FitOptions, known: &[Vec<f64>]) -> Result<Vec<Tried>, FitError> {
        let names = self.search.range.form.names();
        let sequence = Sequence::new(options.seed, names);
        let drawn = |index: usize| {
            known.get(index).cloned().unwrap_or_else(|| {
                names.iter().map(|name| sequence.uniform(index as u64, name)).collect()
            })
        };
        let trial = |index: usize| {
            let numbers: Vec<f64> = drawn(index);
            let appraisal = self.appraise(&numbers, GUIDED);
            (numbers, appraisal)
        };
        Ok(self.crew.map(options.trials + known.len(), 8, trial)?)
    }

    /// The best of the trials, bred on, best first; guided at first, and then not.
    fn breed(&self, tried: &[Tried], options: &FitOptions) -> Result<Vec<Tried>, FitError> {
        // Where few can be built, those that nearly can are bred from too.
        let mut nearly: Vec<&Tried> =
            tried.iter().filter(|(_, told)| told.result.is_err()).collect();
        nearly.sort_by(|a, b| a.1.cost.total_cmp(&b.1.cost));
        let able = best_of(tried, options.population, APART[0]);
        let parents = able.iter().chain(nearly).take(options.population);
        let mut bred: Vec<Vec<f64>> = parents.map(|(at, _)| at.clone()).collect();
        for (look, part) in [(GUIDED, 1), (WIDE, 2)] {
            let cost = |at: &[f64]| self.appraise(at, look).cost;
            let costs = self.crew.map(bred.len(), 1, |place| cost(&bred[place]))?;
            let start = bred.into_iter().zip(costs).map(|(at, cost)| Minimum { at, cost });
            let seed = options.seed.wrapping_add(part);
            let found = evolve(cost, start.collect(), options.generations / 2, seed, self.crew)?;
            bred = found.into_iter().map(|found| found.at).collect();
        }
        let again = |at: Vec<f64>| {
            let appraisal = self.appraise(&at, WIDE);
            (at, appraisal)
        };
        let mut bred: Vec<Tried> = bred.into_iter().map(again).collect();
        bred.sort_by(|a, b| a.1.cost.total_cmp(&b.1.cost));
        Ok(bred)
    }

    fn polish(&self, starts: &[Tried], steps: usize) -> Result<Vec<Tried>, FitError> {
        let polished = self.crew.map(starts.len(), 1, |index| {
            let start = &starts[index].0;
            let sides: Vec<f64> =
                start.iter().map(|x| if *x > 0.5 { -STEP } else { STEP }).collect();
            let cost = |at: &[f64]| self.appraise(at, CLOSE).cost;
            let found = polish(cost, start, &sides, steps)?;
            let appraisal = self.appraise(&found.at, CLOSE);
            Ok::<Tried, FitError>((found.at, appraisal))
        })?;
        polished.into_iter().collect()
    }

    /// A candidate as built, trimmed to the budget and scored exactly; none where as built it breaks a bound.
    fn built(&self, tried: &Tried, appraised: usize) -> Result<Option<Fit>, FitError> {
        let (numbers, Appraisal { result: Ok(faces), .. }) = tried else { return Ok(None) };
        let search = self.search;
        let builder = Builder {
            ground: &search.ground,
            plot: self.plot,
            site: &search.site,
            most: self.volume,
        };
        let Some(built) = builder.build(faces) else { return Ok(None) };
        let landed = search.passes.on(&built.ground, self.crew)?;
        let doubt = search.passes.scenarios() > 1;
        let scenarios =
            if doubt { by_scenario(&landed, &built.landings, search.fall_limit) } else { vec![] };
        let [landing, ref others @ ..] = built.landings[..] else { return Ok(None) };
        Ok(Some(Fit {
            landing,
            second: others.first().copied(),
            form: search.range.form,
            volume: built.volume,
            score: score(&landed, &built.landings, search.fall_limit),
            scenarios,
            appraised,
            numbers: numbers.clone(),
        }))
    }
}

/// The candidates that can be built, best first, at most so many, and no two of them nearly alike.
fn best_of(tried: &[Tried], most: usize, apart: f64) -> Vec<Tried> {
    let mut able: Vec<&Tried> = tried.iter().filter(|(_, a)| a.result.is_ok()).collect();
    able.sort_by(|a, b| a.1.cost.total_cmp(&b.1.cost));
    let mut best: Vec<Tried> = Vec::new();
    for candidate in able {
        let near = |other: &Tried| {
            let off = candidate.0.iter().zip(&other.0).enumerate();
            // How much earth may be left says nothing where the longest face leaves more.
            let off = off.filter(|(number, _)| *number != SHARE).map(|(_, (a, b))| (a - b).abs());
            off.fold(0.0, f64::max) < apart
        };
        if !best.iter().any(near) {
            best.push(candidate.clone());
        }
        if best.len() == most {
            break;
        }
    }
    best
}

/// Why not one candidate can be built: what stood in the way most often.
fn why(volume: f64, tried: &[Tried]) -> FitError {
    let mut least = f64::INFINITY;
    let mut counts: BTreeMap<&'static str, usize> = BTreeMap::new();
    let faults = tried.iter().filter_map(|(_, appraisal)| appraisal.result.as_ref().err());
    for fault in faults {
        if let Fault::TooMuch(needed) = fault {
            least = least.min(*needed);
        }
        *counts.entry(fault.hint()).or_default() += 1;
    }
    let commonest = counts.into_iter().max_by_key(|(_, count)| *count);
    let hint = commonest.map_or("no reason known", |(hint, _)| hint);
    if hint == Fault::TooMuch(least).hint() {
        return FitError::TooLittleEarth { volume, least };
    }
    FitError::NoPlace { hint }
}
