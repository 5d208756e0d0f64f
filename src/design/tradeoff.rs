//! What more earth would give.

use super::{
    error::FitError,
    fit::{Fit, FitOptions, Search},
};
use crate::{math::parallel::Crew, passes::Passes, site::Site};

/// The best landing for each of several volumes of earth, cubic metres, in the order given.
///
/// Each search starts from what was found for less earth besides its own trials, and a larger budget is
/// never worse than a smaller one: a landing that takes less earth than there is fits both. Errors: as
/// those of [`super::fit_landing`], and no volumes at all.
pub fn tradeoff(
    passes: &Passes,
    site: &Site,
    volumes: &[f64],
    fall_limit: f64,
    seed: u64,
    crew: &Crew,
) -> Result<Vec<Fit>, FitError> {
    let options = FitOptions { seed, ..FitOptions::default() };
    tradeoff_form(passes, site, (volumes, fall_limit), &options, crew)
}

/// As [`tradeoff`], with the form of the landing and the effort of the search chosen; the pair is volumes, cubic
/// metres, and fall limit, metres.
pub fn tradeoff_form(
    passes: &Passes,
    site: &Site,
    (volumes, fall_limit): (&[f64], f64),
    options: &FitOptions,
    crew: &Crew,
) -> Result<Vec<Fit>, FitError> {
    let search = Search::new(passes, site, fall_limit, options.form)?;
    let mut order: Vec<usize> = (0..volumes.len()).collect();
    order.sort_by(|a, b| volumes[*a].total_cmp(&volumes[*b]));
    let mut fits: Vec<Option<Fit>> = vec![None; volumes.len()];
    let mut known: Vec<Vec<f64>> = Vec::new();
    let mut before: Option<Fit> = None;
    for index in order {
        let options = if known.is_empty() { *options } else { options.lighter() };
        let found = search.fit(volumes[index], &options, &known, crew)?;
        let best = match before {
            Some(less) if !found.is_better_than(&less) => less,
            _ => found,
        };
        known.push(best.numbers().to_vec());
        before = Some(best.clone());
        fits[index] = Some(best);
    }
    Ok(fits.into_iter().flatten().collect())
}
