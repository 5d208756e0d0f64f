//! The other side of the bargain: what a small change of the takeoff saves in earth.

mod change;
mod error;

pub use change::Change;
pub use error::BargainError;

use super::{
    error::FitError,
    fit::{Fit, FitOptions, Search},
};
use crate::{
    explain::Explanation,
    math::{parallel::Crew, range::positive},
    passes::PassesError,
    site::Site,
};
use serde::{Deserialize, Serialize};

/// So much less than the share wanted still is as many: one rider in two hundred.
const AS_MANY: f64 = 0.005;
/// The least volume looked at, as a share of the budget, and how often the range is halved.
const LEAST: f64 = 1.0 / 16.0;
const HALVINGS: usize = 6;

/// What a bargain is struck for.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct BargainOptions {
    /// How many riders are sent down.
    pub passes: usize,
    /// The seed of riders and searches.
    pub seed: u64,
    /// Placed earth at hand, cubic metres, above 0.
    pub volume: f64,
    /// The fall height up to which a touchdown counts as soft, metres, above 0.
    pub fall_limit: f64,
}

/// What a takeoff asks of the earth.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct Offer {
    /// The change of the takeoff; none for the takeoff as it is.
    pub change: Option<Change>,
    /// The share of all riders who leave the edge.
    pub leaving: f64,
    /// The best landing for all the earth.
    pub fit: Fit,
    /// The least earth found that catches as many as all the earth does off the takeoff as it is, cubic metres; none where
    /// not even all does.
    pub needed: Option<f64>,
}

/// Takeoffs compared by the earth they ask for.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct Bargain {
    /// The takeoff as it is.
    pub as_it_is: Offer,
    /// Each change, in the order asked for.
    pub offers: Vec<Offer>,
}

/// What each change of a site's takeoff saves in earth: the least volume whose best landing catches as many softly as all
/// the earth does off the takeoff as it is.
///
/// The same riders come down each changed site; the least volume is found by halving, to about 4 %, each search starting
/// from the last. A change that leaves fewer riders over the edge, or shifts where they come down past the survey, says so
/// in its offer.
///
/// Errors: a number out of range, a change that the takeoff cannot have, nobody who leaves, no landing for the takeoff
/// as it is, stopped by the crew's watch.
pub fn bargain(
    site: &Site,
    options: &BargainOptions,
    changes: &[Change],
    crew: &Crew,
) -> Result<Bargain, BargainError> {
    positive("volume", options.volume)?;
    // A change that cannot be is told before minutes are spent on the others.
    let changed = changes.iter().map(|change| Ok((*change, change.applied(site)?)));
    let changed: Vec<(Change, Site)> = changed.collect::<Result<_, BargainError>>()?;
    let as_it_is = offer(site, options, None, None, crew)?;
    let wanted = as_it_is.fit.score.caught;
    let offers = changed
        .iter()
        .map(|(change, changed)| offer(changed, options, Some(*change), Some(wanted), crew));
    Ok(Bargain { offers: offers.collect::<Result<_, _>>()?, as_it_is })
}

/// What a takeoff asks of the earth; wanted are as many as given, or as many as its own best landing catches.
fn offer(
    site: &Site,
    options: &BargainOptions,
    change: Option<Change>,
    wanted: Option<f64>,
    crew: &Crew,
) -> Result<Offer, BargainError> {
    let passes = site.passes(options.passes, options.seed, crew)?;
    let usual = FitOptions { seed: options.seed, ..FitOptions::default() };
    let search = Search::new(&passes, site, options.fall_limit, usual.form)?;
    let fit = search.fit(options.volume, &usual, &[], crew)?;
    let wanted = wanted.unwrap_or(fit.score.caught) - AS_MANY;
    let needed = least(&search, &usual.lighter(), &fit, wanted, crew)?;
    Ok(Offer { change, leaving: passes.share_leaving(), fit, needed })
}

/// The least volume whose landing catches as many as wanted, from the landing for all the earth down; none where not even
/// that does.
fn least(
    search: &Search,
    options: &FitOptions,
    all: &Fit,
    wanted: f64,
    crew: &Crew,
) -> Result<Option<f64>, FitError> {
    if all.score.caught < wanted {
        return Ok(None);
    }
    let (mut low, mut best) = (LEAST * all.volume, all.clone());
    for _ in 0..HALVINGS {
        let volume = (low * best.volume).sqrt();
        match search.fit(volume, options, &[best.numbers().to_vec()], crew) {
            Ok(fit) if fit.score.caught >= wanted => best = fit,
            Ok(_) | Err(FitError::TooLittleEarth { .. } | FitError::NoPlace { .. }) => low = volume,
            Err(error) => return Err(error),
        }
    }
    Ok(Some(best.volume))
}

impl Bargain {
    /// How much earth an offer saves against the takeoff as it is, cubic metres: below nothing where it asks for more; none
    /// where not even all the earth catches as many.
    pub fn saved(&self, offer: &Offer) -> Option<f64> {
        Some(self.as_it_is.needed? - offer.needed?)
    }

    /// The model behind the numbers, what went in, its sources and its limits.
    pub fn explain(&self) -> Explanation {
        let model = "The same riders come down the site with each takeoff, and for each the least earth is looked for whose \
            best landing catches as many softly as all the earth does off the takeoff as it is.";
        let limits = "A search proves no optimum, and the least earth is found to about 4 %. The change of the timber, its \
            strength and its labour are not weighed here; a speed check is the speed it holds everybody to, not what it is \
            built of.";
        let as_it_is = &self.as_it_is;
        Explanation::new(model, limits)
            .with_input("caught", as_it_is.fit.score.caught, "")
            .with_input("needed", as_it_is.needed.unwrap_or(as_it_is.fit.volume), "m3")
            .with_source("search: as that of the fitted landing")
    }
}

impl From<PassesError> for BargainError {
    fn from(error: PassesError) -> Self {
        Self::Passes(Box::new(error))
    }
}
