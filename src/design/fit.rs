//! The landing that takes most riders softly for the earth at hand.

mod build;
mod job;
mod options;
mod sharp;

pub use options::FitOptions;

use super::{
    appraise::Riders, candidate::Range, error::FitError, flier::Flier, form::Form, plot::Plot,
    quick::Crowd, scenario::worse_half, score::Score,
};
use crate::{
    explain::Explanation,
    ground::{Ground, Landing, LandingError},
    math::{Vec2, parallel::Crew, range::positive},
    passes::Passes,
    site::Site,
};
use job::Job;
use serde::{Deserialize, Serialize};

/// A landing fitted to riders, what it takes, and how it takes them.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct Fit {
    /// The landing, its crest height settled; of two faces the first.
    pub landing: Landing,
    /// The second of two faces, built after the first.
    #[serde(default)]
    pub second: Option<Landing>,
    /// The form that was looked for.
    #[serde(default)]
    pub form: Form,
    /// The exact volume of its earth as placed, cubic metres; at most the budget.
    pub volume: f64,
    /// How it takes all riders, exactly.
    pub score: Score,
    /// How it takes the riders of each scenario, where the passes were drawn in doubt.
    #[serde(default)]
    pub scenarios: Vec<Score>,
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
/// differential evolution from the best of them, Nelder and Mead's simplex from the best few, and evolution once more around these
/// as the score counts, soft or not, on a landing in closed form and a share of the riders; the best few are then built, trimmed to
/// the budget and scored exactly on all riders. The same passes, site, budget and seed give the same landing
/// on any number of threads. A search of this kind proves no optimum: on twenty invented
/// sites with 192 riders other seeds differ by less than 2 in 100 of them, on most by less than 1.
///
/// Passes that were drawn in doubt ([`crate::passes::Doubt`]) are judged by the mean over the worse half of their
/// scenarios: the landing that holds up.
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
    fit_form(
        passes,
        site,
        (volume, fall_limit),
        &FitOptions { seed, ..FitOptions::default() },
        crew,
    )
}

/// As [`fit_landing`], with the form of the landing and the effort of the search chosen; the pair is volume, cubic
/// metres, and fall limit, metres.
///
/// A rounded foot adds one number, its radius; a second face six: its place, heading, slope, width, and the first's part
/// of the earth.
pub fn fit_form(
    passes: &Passes,
    site: &Site,
    (volume, fall_limit): (f64, f64),
    options: &FitOptions,
    crew: &Crew,
) -> Result<Fit, FitError> {
    Search::new(passes, site, fall_limit, options.form)?.fit(volume, options, &[], crew)
}

/// A landing that takes less than this of a budget leaves earth to spare: with less before it a search sees closer, for its
/// range of volumes reaches up to the budget. So many times, with so much room over what was used.
const SPENT: f64 = 0.9;
const CLOSER_LOOKS: usize = 3;
const ROOM: f64 = 1.02;

/// What every search over the same passes shares.
pub(super) struct Search<'a> {
    passes: &'a Passes,
    ground: Ground,
    site: Site,
    crowd: Crowd,
    range: Range,
    fall_limit: f64,
}

impl<'a> Search<'a> {
    pub(super) fn new(
        passes: &'a Passes,
        site: &Site,
        fall_limit: f64,
        form: Form,
    ) -> Result<Self, FitError> {
        positive("fall_limit", fall_limit)?;
        form.check()?;
        site.check()?;
        let fliers = Flier::all(passes);
        let range = Range::new(site, &fliers, form).ok_or(FitError::NobodyLands)?;
        let ground = passes.ground().clone();
        Ok(Self {
            passes,
            ground,
            site: site.clone(),
            crowd: Crowd::new(fliers),
            range,
            fall_limit,
        })
    }

    /// The best landing of a budget; `known` are numbers that a search starts from besides its own.
    pub(super) fn fit(
        &self,
        volume: f64,
        options: &FitOptions,
        known: &[Vec<f64>],
        crew: &Crew,
    ) -> Result<Fit, FitError> {
        positive("volume", volume)?;
        let plot = self.plot();
        let job = Job { search: self, plot: &plot, volume, crew };
        let mut best = job.best(options, known)?;
        for _ in 0..CLOSER_LOOKS {
            let volume = ROOM * best.volume;
            if volume > SPENT * job.volume {
                break;
            }
            let closer = Job { volume, ..job }.best(options, &[best.numbers.clone()]);
            let found = match closer {
                Err(FitError::Crew(stopped)) => return Err(stopped.into()),
                Err(_) => break,
                Ok(found) => found,
            };
            let appraised = best.appraised + found.appraised;
            let is_better = found.is_better_than(&best);
            best = if is_better { found } else { best };
            best.appraised = appraised;
            if !is_better {
                break;
            }
        }
        Ok(best)
    }

    fn plot(&self) -> Plot<'_> {
        let marks =
            self.crowd.fliers.iter().flat_map(|flier| &flier.paths).map(|path| path.bare.mark);
        let far = Vec2::repeat(f64::INFINITY);
        let low = marks.clone().fold(far, |low, mark| low.inf(&mark));
        let high = marks.fold(-far, |high, mark| high.sup(&mark));
        Plot::new(&self.site, &self.ground, (low, high))
    }

    /// At most so many of the riders, all scenarios alike.
    fn riders(&self, most: usize) -> Riders<'_> {
        let scenarios = self.passes.scenarios();
        let most = (most * scenarios.min(4)).min(self.crowd.fliers.len());
        Riders {
            crowd: &self.crowd,
            most,
            fall_limit: self.fall_limit,
            scenarios,
            guide: 0.0,
            blur: 1.0,
        }
    }
}

impl Fit {
    /// Its faces: one, or two side by side in the order built.
    pub fn landings(&self) -> Vec<Landing> {
        std::iter::once(self.landing).chain(self.second).collect()
    }

    /// A ground with all its faces.
    ///
    /// Errors: a landing that cannot be built there.
    pub fn on(&self, ground: &Ground) -> Result<Ground, LandingError> {
        self.landings().iter().try_fold(ground.clone(), |ground, face| ground.with_landing(face))
    }

    /// The share caught by which it was judged: of all riders, or in the mean over the worse half of the scenarios.
    pub fn judged(&self) -> f64 {
        if self.scenarios.is_empty() {
            return self.score.caught;
        }
        worse_half(&mut self.scenarios.iter().map(|score| score.caught).collect::<Vec<f64>>())
    }

    /// Whether this is the better fit: more caught in what it is judged by, or as many at a lower 95th percentile.
    pub fn is_better_than(&self, other: &Self) -> bool {
        let by = |fit: &Self| Score { caught: fit.judged(), ..fit.score };
        by(self).is_better_than(&by(other))
    }

    /// The model behind the numbers, what went in, its sources and its limits.
    pub fn explain(&self) -> Explanation {
        let model = "Of landings with a rounded crest and batters as steep as the soil stands, the one that takes \
            most riders softly for the earth, and among equals the one with the lower 95th percentile of fall height: points \
            all over the range, bred towards the best, the best few polished and bred on around, on a landing in closed form and \
            a share of the riders; the best few are built, trimmed to the earth and scored exactly on all riders, each by his \
            hardest way. Riders drawn in doubt are judged by the mean over the worse half of the scenarios.";
        let limits = "A search of this kind proves no optimum: other seeds differ, mostly by less than 1 in 100 riders, at worst \
            by 2. It suits the riders that were drawn, to the last of them where they are few, and \
            the survey as it was; what grows or lies there and is no obstacle of the site it does not see.";
        let said = Explanation::new(model, limits)
            .with_input("volume", self.volume, "m3")
            .with_input("fall_limit", self.score.fall_limit, "m")
            .with_input("faces", self.form.faces() as f64, "")
            .with_input("caught", self.score.caught, "")
            .with_input("p95_fall_height", self.score.p95_fall_height, "m")
            .with_input("appraised", self.appraised as f64, "")
            .with_source("differential evolution: R. Storn, K. Price, Journal of Global Optimization 11 (1997)")
            .with_source("simplex: J. Nelder, R. Mead, Computer Journal 7 (1965)");
        if self.scenarios.is_empty() { said } else { said.with_input("judged", self.judged(), "") }
    }

    pub(super) fn numbers(&self) -> &[f64] {
        &self.numbers
    }
}
