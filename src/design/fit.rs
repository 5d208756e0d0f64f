//! The landing that takes most riders softly for the earth at hand.

use super::{
    candidate::{Appraisal, Fault, NUMBERS, Range},
    error::FitError,
    flier::Flier,
    plot::Plot,
    score::{Score, score},
};
use crate::{
    explain::Explanation,
    ground::{BuiltLanding, Ground, Landing, LandingError},
    math::{
        Vec2,
        parallel::Crew,
        range::positive,
        sampling::Sequence,
        search::{Minimum, evolve, polish},
    },
    passes::Passes,
    site::Site,
};
use serde::{Deserialize, Serialize};
use std::collections::BTreeMap;

/// The candidates' numbers, as the sequence names them: only ever append.
const NAMES: &[&str; NUMBERS] = &["along", "across", "heading", "slope", "width", "share"];
/// How many riders the wide search asks, and how many the last polish.
const WIDE: usize = 192;
const CLOSE: usize = 1024;
/// How many are polished in the end.
const FINALISTS: usize = 3;
/// Those bred from lie so far apart in some number, in its range, lest all are of one valley; and those polished.
const APART: [f64; 2] = [0.08, 0.02];
/// So far ahead a landing is moved where as built it comes too near the edge or an obstacle, metres.
const NUDGES: [f64; 5] = [0.0, 0.02, 0.04, 0.08, 0.12];
/// How many landings are scored exactly.
const SCORED: usize = 2;
/// The simplex's first sides, in each number's range.
const STEP: f64 = 0.06;
/// The exact volume is trimmed to at most the budget and at least this share of what was asked.
const TRIMMED: f64 = 0.998;

/// How hard to look.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct FitOptions {
    /// How many landings are tried all over the range.
    pub trials: usize,
    /// How many of the best are bred from, and how often.
    pub population: usize,
    /// How many generations are bred.
    pub generations: usize,
    /// How many steps the last polish of the best few takes.
    pub steps: usize,
}

impl Default for FitOptions {
    fn default() -> Self {
        Self { trials: 1024, population: 56, generations: 48, steps: 140 }
    }
}

impl FitOptions {
    /// What is enough where the landing for another volume is known.
    pub(super) fn from_known() -> Self {
        Self { trials: 128, population: 32, generations: 26, ..Self::default() }
    }
}

/// A landing fitted to riders, what it takes, and how it takes them.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct Fit {
    /// The landing, its crest height settled.
    pub landing: Landing,
    /// The exact volume of its earth as placed, cubic metres; at most the budget.
    pub volume: f64,
    /// How it takes all riders, exactly.
    pub score: Score,
    /// How many landings were appraised on the way.
    pub appraised: usize,
    /// Where in the search's ranges it lies: what a search for another budget starts from.
    numbers: Vec<f64>,
}

/// The landing with the best score that takes at most `volume` cubic metres of placed earth and keeps to
/// the site's bounds.
///
/// A landing is better that takes more of those who leave the edge softly ([`Score::caught`]), and among
/// equals the one with the lower 95th percentile of fall height. Six numbers are searched (crest along
/// and across the riders' course, heading, slope, width, share of the earth), the length follows from the
/// earth, and the batter is the angle that the soil stands at: scrambled Sobol' points all over the range,
/// differential evolution from the best of them, and Nelder and Mead's simplex from the best few, on a landing in
/// closed form and a share of the riders; these are then built, trimmed to the budget and scored exactly on all riders. The same
/// passes, site, budget and seed give the same landing on any number of threads. A search of this kind
/// proves no optimum: other seeds differ a little.
///
/// Errors: a volume or limit that is not above 0, nobody who lands, no landing within the bounds, less
/// earth than the smallest takes (how much that is), stopped by the crew's watch.
pub fn fit_landing(
    passes: &Passes,
    site: &Site,
    volume: f64,
    fall_limit: f64,
    seed: u64,
    crew: &Crew,
) -> Result<Fit, FitError> {
    let search = Search::new(passes, site, fall_limit)?;
    search.fit(volume, seed, &FitOptions::default(), &[], crew)
}

/// What every search over the same passes shares.
pub(super) struct Search<'a> {
    passes: &'a Passes,
    ground: Ground,
    plot_of: Site,
    fliers: Vec<Flier>,
    range: Range,
    fall_limit: f64,
}

/// A candidate's numbers and what they came to.
type Tried = (Vec<f64>, Appraisal);

impl<'a> Search<'a> {
    pub(super) fn new(passes: &'a Passes, site: &Site, fall_limit: f64) -> Result<Self, FitError> {
        positive("fall_limit", fall_limit)?;
        site.check()?;
        let fliers = Flier::all(passes);
        let range = Range::new(site, &fliers).ok_or(FitError::NobodyLands)?;
        let ground = passes.ground().clone();
        Ok(Self { passes, ground, plot_of: site.clone(), fliers, range, fall_limit })
    }

    fn plot(&self) -> Plot<'_> {
        let marks = self.fliers.iter().flat_map(|flier| &flier.paths).map(|path| path.bare.mark);
        let far = Vec2::repeat(f64::INFINITY);
        let low = marks.clone().fold(far, |low, mark| low.inf(&mark));
        let high = marks.fold(-far, |high, mark| high.sup(&mark));
        Plot::new(&self.plot_of, &self.ground, (low, high))
    }

    /// The best landing of a budget; `known` are numbers that a search starts from besides its own.
    pub(super) fn fit(
        &self,
        volume: f64,
        seed: u64,
        options: &FitOptions,
        known: &[Vec<f64>],
        crew: &Crew,
    ) -> Result<Fit, FitError> {
        positive("volume", volume)?;
        let plot = self.plot();
        let job = Job { search: self, plot: &plot, goal: (volume, self.fall_limit), crew };
        let tried = job.spread(seed, options.trials, known)?;
        if tried.iter().all(|(_, appraisal)| appraisal.result.is_err()) {
            return Err(why(volume, &tried));
        }
        let bred = job.breed(&tried, seed, options)?;
        let finalists = best_of(&bred, FINALISTS, APART[1]);
        let finished = job.polish(&finalists, options.steps)?;
        let appraised =
            tried.len() + bred.len() * options.generations + finalists.len() * options.steps;
        let ranked = best_of(&finished, finished.len(), APART[1]);
        let mut best: Option<Fit> = None;
        let mut scored = 0;
        // Exact scores cost most: only the likely best get one, and the rest only where those cannot be built.
        for tried in ranked.iter().chain(&bred) {
            if scored == SCORED {
                break;
            }
            let Some(fit) = job.built(tried, appraised)? else { continue };
            scored += 1;
            if best.as_ref().is_none_or(|best| fit.score.is_better_than(&best.score)) {
                best = Some(fit);
            }
        }
        best.ok_or(FitError::NoPlace { hint: "the earth around the face runs over them" })
    }
}

impl Fit {
    /// The model behind the numbers, what went in, its sources and its limits.
    pub fn explain(&self) -> Explanation {
        let model = "Of landings with one face, a rounded crest and batters as steep as the soil stands, the one that takes \
            most riders softly for the earth, and among equals the one with the lower 95th percentile of fall height: points \
            all over the range, bred towards the best, the best few polished, on a landing in closed form and a share of the \
            riders; these are built, trimmed to the earth and scored exactly on all riders, each by his hardest way.";
        let limits = "A search of this kind proves no optimum: other seeds differ a little. It suits the riders that were \
            drawn and the survey as it was; what grows or lies there and is no obstacle of the site it does not see.";
        Explanation::new(model, limits)
            .with_input("volume", self.volume, "m3")
            .with_input("fall_limit", self.score.fall_limit, "m")
            .with_input("caught", self.score.caught, "")
            .with_input("p95_fall_height", self.score.p95_fall_height, "m")
            .with_input("appraised", self.appraised as f64, "")
            .with_source("differential evolution: R. Storn, K. Price, Journal of Global Optimization 11 (1997)")
            .with_source("simplex: J. Nelder, R. Mead, Computer Journal 7 (1965)")
    }

    pub(super) fn numbers(&self) -> &[f64] {
        &self.numbers
    }
}

/// One search for one budget.
struct Job<'a> {
    search: &'a Search<'a>,
    plot: &'a Plot<'a>,
    goal: (f64, f64),
    crew: &'a Crew<'a>,
}

impl Job<'_> {
    fn appraise(&self, numbers: &[f64], asked: usize) -> Appraisal {
        let fliers = &self.search.fliers;
        let asked = &fliers[..asked.min(fliers.len())];
        self.search.range.appraise(self.plot, asked, numbers, self.goal)
    }

    /// Candidates all over the range, and those known.
    fn spread(&self, seed: u64, trials: usize, known: &[Vec<f64>]) -> Result<Vec<Tried>, FitError> {
        let sequence = Sequence::new(seed, NAMES);
        let drawn = |index: usize| {
            known.get(index).cloned().unwrap_or_else(|| {
                NAMES.iter().map(|name| sequence.uniform(index as u64, name)).collect()
            })
        };
        let trial = |index: usize| {
            let numbers: Vec<f64> = drawn(index);
            let appraisal = self.appraise(&numbers, WIDE);
            (numbers, appraisal)
        };
        Ok(self.crew.map(trials + known.len(), 8, trial)?)
    }

    /// The best of the trials, bred on.
    fn breed(
        &self,
        tried: &[Tried],
        seed: u64,
        options: &FitOptions,
    ) -> Result<Vec<Tried>, FitError> {
        // Where few can be built, those that nearly can are bred from too.
        let mut nearly: Vec<&Tried> =
            tried.iter().filter(|(_, told)| told.result.is_err()).collect();
        nearly.sort_by(|a, b| a.1.cost.total_cmp(&b.1.cost));
        let able = best_of(tried, options.population, APART[0]);
        let all = able.iter().chain(nearly).take(options.population);
        let start: Vec<Minimum> =
            all.map(|(at, told)| Minimum { at: at.clone(), cost: told.cost }).collect();
        let cost = |at: &[f64]| self.appraise(at, WIDE).cost;
        let bred = evolve(cost, start, options.generations, seed, self.crew)?;
        let again = |found: Minimum| {
            let appraisal = self.appraise(&found.at, WIDE);
            (found.at, appraisal)
        };
        Ok(bred.into_iter().map(again).collect())
    }

    fn polish(&self, starts: &[Tried], steps: usize) -> Result<Vec<Tried>, FitError> {
        let polished = self.crew.map(starts.len(), 1, |index| {
            let start = &starts[index].0;
            let sides: Vec<f64> =
                start.iter().map(|x| if *x > 0.5 { -STEP } else { STEP }).collect();
            let found = polish(|at| self.appraise(at, CLOSE).cost, start, &sides, steps)?;
            let appraisal = self.appraise(&found.at, CLOSE);
            Ok::<Tried, FitError>((found.at, appraisal))
        })?;
        polished.into_iter().collect()
    }

    /// A candidate as built, trimmed to the budget and scored exactly; none where as built it breaks a bound.
    fn built(
        &self,
        (numbers, appraisal): &Tried,
        appraised: usize,
    ) -> Result<Option<Fit>, FitError> {
        let Ok(landing) = appraisal.result else { return Ok(None) };
        let nudged = NUDGES.iter().find_map(|by| {
            let (built, volume) = self.trimmed(&moved(&landing, *by)?)?;
            self.plot.keeps(&built).then_some((built, volume))
        });
        let Some((built, volume)) = nudged else { return Ok(None) };
        let landing = built.landing().with_crest_height(Some(built.crest_height()))?;
        let landed = self.search.passes.on(&self.search.ground.with_built(&built), self.crew)?;
        let score = score(&landed, &landing, self.search.fall_limit);
        Ok(Some(Fit { landing, volume, score, appraised, numbers: numbers.clone() }))
    }

    /// The landing with its face as much shorter, then narrower, then gentler, as its exact volume asks for; none where
    /// none can be built.
    fn trimmed(&self, landing: &Landing) -> Option<(BuiltLanding, f64)> {
        let bounds = &self.search.plot_of.landing;
        let (mut length, mut width, mut slope) =
            (landing.length(), landing.width(), landing.slope());
        for _ in 0..20 {
            let smaller = reshaped(landing, landing.crest(), slope, (length, width)).ok()?;
            let built = smaller.resolve(&self.search.ground).ok()?;
            let volume = built.volume().ok()?.fill;
            if volume <= self.goal.0 {
                return Some((built, volume));
            }
            let share = (self.goal.0 / volume).clamp(0.8, TRIMMED);
            if length > bounds.length.low {
                // Earth grows faster than in proportion to the length.
                length = (length * share.sqrt()).max(bounds.length.low);
            } else if width > bounds.width.low {
                width = (width * share).max(bounds.width.low);
            } else if slope > bounds.slope.low {
                slope = (slope * share).max(bounds.slope.low);
            } else {
                return None;
            }
        }
        None
    }
}

/// The same landing so far ahead.
fn moved(landing: &Landing, by: f64) -> Option<Landing> {
    let (sin, cos) = landing.heading().sin_cos();
    let crest = landing.crest() + by * Vec2::new(cos, sin);
    reshaped(landing, crest, landing.slope(), (landing.length(), landing.width())).ok()
}

/// The same landing with another face, its foot on the ground.
fn reshaped(
    landing: &Landing,
    crest: Vec2,
    slope: f64,
    (length, width): (f64, f64),
) -> Result<Landing, LandingError> {
    Landing::new(crest, landing.heading(), slope, length, width)?.with_batter(landing.batter())
}

/// The candidates that can be built, best first, at most so many, and no two of them nearly alike.
fn best_of(tried: &[Tried], most: usize, apart: f64) -> Vec<Tried> {
    let mut able: Vec<&Tried> = tried.iter().filter(|(_, a)| a.result.is_ok()).collect();
    able.sort_by(|a, b| a.1.cost.total_cmp(&b.1.cost));
    let mut best: Vec<Tried> = Vec::new();
    for candidate in able {
        let near = |other: &Tried| {
            let off = candidate.0.iter().zip(&other.0).map(|(a, b)| (a - b).abs());
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
    for fault in tried.iter().filter_map(|(_, appraisal)| appraisal.result.err()) {
        if let Fault::TooMuch(needed) = fault {
            least = least.min(needed);
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
