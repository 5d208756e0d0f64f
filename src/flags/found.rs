//! What flags tell: each unknown with its spread, each lean with its weight, each flag with how well it fits.

use super::cases::{Case, Cases};
use super::check::FlagCheck;
use super::course::Course;
use super::error::FlagsError;
use super::estimate::{Estimate, Mixture, Pair, confused};
use super::flag::Flag;
use super::miss::{Miss, Stop};
use super::mode::{BAD_SHARE, Climb, MOST_STEPS, Mode};
use super::unknown::{Priors, Unknown, in_order};
use super::warning::FlagsWarning;
use crate::ground::Ground;
use crate::math::parallel::Crew;
use crate::math::range::within;
use crate::passes::LEANS;
use crate::ride::Lean;
use crate::site::Site;
use nalgebra::{DMatrix, DVector};
use serde::{Deserialize, Serialize};
use std::sync::Arc;

/// A lean with less weight than this no longer judges what is safe.
pub const NOTABLE: f64 = 0.05;
/// One with less than this is not drawn at all.
const RARE: f64 = 0.005;

/// A fit comes this near its place, in prior standard deviations.
const CLOSELY: f64 = 1e-4;
/// A last step shorter than this, in prior standard deviations, changes no forecast by what a flag could show.
const UNSETTLED: f64 = 0.05;
/// A lean whose evidence is less than the best by so much, in logarithms, is not looked at again for a bad flag.
const HOPELESS: f64 = 12.0;

/// What a fit is to reckon with.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct FlagOptions {
    free: Vec<Unknown>,
    leans: Vec<Lean>,
    priors: Option<Priors>,
    who: Option<String>,
    bad_share: f64,
    closely: f64,
}

impl Default for FlagOptions {
    /// All unknowns free, with what the flags' class says of them; every lean of a forecast's band; one flag in twenty bad.
    fn default() -> Self {
        Self {
            free: Unknown::ALL.to_vec(),
            leans: LEANS.to_vec(),
            priors: None,
            who: None,
            bad_share: BAD_SHARE,
            closely: CLOSELY,
        }
    }
}

impl FlagOptions {
    /// The same with only these unknowns free; the others stay at the middle of what is believed of them.
    pub fn with_free(self, free: &[Unknown]) -> Result<Self, FlagsError> {
        Ok(Self { free: in_order(free)?, ..self })
    }

    /// The same with only this lean.
    pub fn with_lean(self, lean: Lean) -> Self {
        Self { leans: vec![lean], ..self }
    }

    /// The same with other beliefs of the unknowns.
    pub fn with_priors(self, priors: Priors) -> Self {
        Self { priors: Some(priors), ..self }
    }

    /// The same for the flags of this class alone.
    pub fn with_who(self, who: impl Into<String>) -> Self {
        Self { who: Some(who.into()), ..self }
    }

    /// The same with this share of bad flags, from 0 to 0.5; at 0 every flag is trusted to its standard deviations.
    pub fn with_bad_share(self, bad_share: f64) -> Result<Self, FlagsError> {
        within("bad_share", bad_share, 0.0, 0.5)?;
        Ok(Self { bad_share, ..self })
    }

    /// The same to this accuracy, in prior standard deviations: from 1e-10 to 0.01, 1e-4 unless asked otherwise. Where a mark
    /// lies on an edge of the ground a fit may stop short of it.
    pub fn with_accuracy(self, closely: f64) -> Result<Self, FlagsError> {
        within("accuracy", closely, 1e-10, 0.01)?;
        Ok(Self { closely, ..self })
    }
}

/// A lean, and what the flags say under it.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct LeanFound {
    /// The lean.
    pub lean: Lean,
    /// How likely it is, all leans together 1; 0 where some flag's ride does not come down with it.
    pub weight: f64,
    /// The flag whose ride does not come down with it, and why.
    pub stopped: Option<(String, Stop)>,
    /// The most likely scores of the free unknowns.
    pub(super) place: DVector<f64>,
    /// The inverse of their covariance.
    pub(super) precision: DMatrix<f64>,
}

/// What flags tell of a rider, with all that a forecast needs.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[non_exhaustive]
pub struct Found {
    /// The riders' class.
    pub who: String,
    /// What is known of each unknown, in the order of [`Unknown::ALL`].
    pub estimates: Vec<Estimate>,
    /// The leans, the likeliest first.
    pub leans: Vec<LeanFound>,
    /// How each flag fits.
    pub checks: Vec<FlagCheck>,
    /// Unknowns that these flags cannot tell apart, the worst first.
    pub confused: Vec<Pair>,
    /// Unknowns that were left where the prior has them, for there are fewer numbers than unknowns.
    pub held: Vec<Unknown>,
    /// What is to be known about it.
    pub warnings: Vec<FlagsWarning>,
    pub(super) site: Arc<Site>,
    pub(super) ground: Ground,
    pub(super) flags: Vec<Flag>,
    pub(super) priors: Priors,
    pub(super) free: Vec<Unknown>,
    pub(super) bad_share: f64,
}

/// What these flags tell of the rider who planted them on this site.
///
/// Maximum a posteriori of the free unknowns under each lean, and the normal distribution about it (Laplace); leans are
/// weighed by how likely they make the flags. A bad flag loses its say and is named. The same flags give the same numbers on
/// any number of threads. Errors: no flags, one that cannot be (which, and why), a ride that comes down with no lean, stopped
/// by the crew's watch.
pub fn fit_flags(
    site: &Site,
    flags: &[Flag],
    options: &FlagOptions,
    crew: &Crew,
) -> Result<Found, FlagsError> {
    site.check()?;
    let (who, flags) = of_one_class(flags, options)?;
    let ground = site.ground()?;
    let course = Course::new(site, &who, ground.clone())?;
    let told = flags.iter().all(|flag| flag.ride().leave().is_some());
    let priors = options.priors.map_or_else(|| Priors::of(site, course.class, told), Ok)?;
    let cases = flags.iter().map(|flag| Case::new(site, &course, flag));
    let all = cases.collect::<Result<Vec<_>, _>>()?;
    let (free, bad_share) = (options.free.clone(), options.bad_share);
    let mut cases = Cases { all, priors, free, bad_share, crew: *crew };
    let mut modes = modes(&cases, options)?;
    let held = to_hold(&cases, &modes);
    if !held.is_empty() {
        cases.free.retain(|unknown| !held.contains(unknown));
        modes = self::modes(&cases, options)?;
    }
    check_settled(&modes)?;
    let found = Found {
        who,
        estimates: Vec::new(),
        checks: FlagCheck::of(&cases, &modes),
        leans: weighed(&modes),
        confused: Vec::new(),
        held,
        warnings: Vec::new(),
        site: Arc::new(site.clone()),
        ground,
        priors,
        free: cases.free.clone(),
        bad_share,
        flags,
    };
    Ok(found.told())
}

/// The flags of the class that is fitted, and its name.
fn of_one_class(flags: &[Flag], options: &FlagOptions) -> Result<(String, Vec<Flag>), FlagsError> {
    let mut classes: Vec<String> = flags.iter().map(|flag| flag.ride().who().to_owned()).collect();
    classes.sort();
    classes.dedup();
    let who = match (&options.who, classes.as_slice()) {
        (_, []) => return Err(FlagsError::NoFlags),
        (None, [only]) => only.clone(),
        (None, _) => return Err(FlagsError::MixedClasses { classes }),
        (Some(who), _) => who.clone(),
    };
    let own: Vec<Flag> = flags.iter().filter(|flag| flag.ride().who() == who).cloned().collect();
    if own.is_empty() {
        return Err(FlagsError::NoFlagOf { class: who, known: classes });
    }
    Ok((who, own))
}

/// A mode for each lean, or what stops a flag's ride with it.
pub(super) type Modes = Vec<(Lean, Result<Mode, (String, Stop)>)>;

fn modes(cases: &Cases, options: &FlagOptions) -> Result<Modes, FlagsError> {
    let climb = |lean: Lean| Climb { cases, lean, closely: options.closely };
    let mut modes = Modes::new();
    for lean in &options.leans {
        modes.push((*lean, settled(cases, *lean, climb(*lean).first())?));
    }
    let each = modes.iter().filter_map(|(_, mode)| mode.as_ref().ok());
    let best = each.max_by(|a, b| a.log_evidence.total_cmp(&b.log_evidence));
    // Where the likeliest lean fits every flag, no flag has misled it.
    let misled = best.filter(|best| best.has_suspect()).map(|best| best.log_evidence);
    for (lean, mode) in &mut modes {
        if let Ok(first) = mode
            && misled.is_some_and(|most| first.log_evidence > most - HOPELESS)
        {
            *mode = settled(cases, *lean, climb(*lean).second(first.clone()))?;
        }
    }
    if let Some((name, stop)) = modes.iter().find_map(|(_, mode)| mode.as_ref().err())
        && modes.iter().all(|(_, mode)| mode.is_err())
    {
        return Err(stop.error().of(name));
    }
    Ok(modes)
}

/// A mode, or the flag whose ride does not come down, and why.
fn settled(
    cases: &Cases,
    lean: Lean,
    climbed: Result<Mode, Miss>,
) -> Result<Result<Mode, (String, Stop)>, FlagsError> {
    match climbed {
        Ok(mode) => Ok(Ok(mode)),
        Err(Miss::Failed(error)) => Err(*error),
        Err(Miss::Stop(stop)) => {
            let middle = DVector::zeros(cases.free.len());
            let (name, stop) = cases.stops(&middle, lean).unwrap_or(("", stop));
            Ok(Err((name.to_owned(), stop)))
        }
    }
}

/// Nothing where the likeliest lean's fit came to rest, or all but.
fn check_settled(modes: &Modes) -> Result<(), FlagsError> {
    let each = modes.iter().filter_map(|(_, mode)| mode.as_ref().ok());
    let best = each.max_by(|a, b| a.log_evidence.total_cmp(&b.log_evidence));
    match best.and_then(|best| best.unsettled).filter(|size| *size > UNSETTLED) {
        Some(size) => Err(FlagsError::Unsettled { steps: MOST_STEPS, size }),
        None => Ok(()),
    }
}

/// The unknowns that the flags say least of, as many as there are more unknowns than numbers.
fn to_hold(cases: &Cases, modes: &Modes) -> Vec<Unknown> {
    let numbers: usize = cases.all.iter().map(|case| case.measured.values.len()).sum();
    let best = modes.iter().filter_map(|(_, mode)| mode.as_ref().ok());
    let Some(best) = best.max_by(|a, b| a.log_evidence.total_cmp(&b.log_evidence)) else {
        return Vec::new();
    };
    let spread = best.covariance();
    let mut order: Vec<usize> = (0..cases.free.len()).collect();
    order.sort_by(|a, b| spread[(*b, *b)].total_cmp(&spread[(*a, *a)]));
    let many = cases.free.len().saturating_sub(numbers.max(1));
    order.into_iter().take(many).map(|i| cases.free[i]).collect()
}

/// The leans by weight.
fn weighed(modes: &Modes) -> Vec<LeanFound> {
    let evidence =
        |mode: &Result<Mode, _>| mode.as_ref().map_or(f64::NEG_INFINITY, |m| m.log_evidence);
    let most = modes.iter().map(|(_, mode)| evidence(mode)).fold(f64::NEG_INFINITY, f64::max);
    let total: f64 = modes.iter().map(|(_, mode)| (evidence(mode) - most).exp()).sum();
    let mut leans: Vec<LeanFound> = modes
        .iter()
        .map(|(lean, mode)| LeanFound {
            lean: *lean,
            weight: (evidence(mode) - most).exp() / total,
            stopped: mode.as_ref().err().cloned(),
            place: mode.as_ref().map_or_else(|_| DVector::zeros(0), |m| m.place.clone()),
            precision: mode.as_ref().map_or_else(|_| DMatrix::zeros(0, 0), |m| m.precision.clone()),
        })
        .collect();
    leans.sort_by(|a, b| b.weight.total_cmp(&a.weight));
    leans
}

impl Found {
    /// The same with what its numbers say in words.
    fn told(self) -> Self {
        let mixture = Mixture::of(&self);
        let (estimates, confused) = (mixture.estimates(&self), confused(&self));
        let found = Self { estimates, confused, ..self };
        Self { warnings: FlagsWarning::about(&found), ..found }
    }

    /// The same on the ground as it is now: a new survey, or a landing that was built. Flags keep the ground they were ridden on.
    pub fn on(self, ground: Ground) -> Self {
        Self { ground, ..self }
    }

    /// The site.
    pub fn site(&self) -> &Site {
        &self.site
    }

    /// The ground as it is now.
    pub const fn ground(&self) -> &Ground {
        &self.ground
    }

    /// The flags it was fitted to.
    pub fn flags(&self) -> &[Flag] {
        &self.flags
    }

    /// What was believed before.
    pub const fn priors(&self) -> &Priors {
        &self.priors
    }

    /// The unknowns that were fitted.
    pub fn free(&self) -> &[Unknown] {
        &self.free
    }

    /// What is known of one unknown.
    pub fn estimate(&self, unknown: Unknown) -> &Estimate {
        &self.estimates[unknown.index()]
    }

    /// The leans that still have to be reckoned with, the likeliest first: each with its share among them.
    pub fn notable(&self) -> Vec<(&LeanFound, f64)> {
        let all = self.leans.iter().filter(|lean| lean.weight >= NOTABLE);
        let total: f64 = all.clone().map(|lean| lean.weight).sum();
        all.map(|lean| (lean, lean.weight / total)).collect()
    }

    /// The leans that draws are made from: all but those that hardly any ride would have.
    pub(super) fn reckoned(&self) -> Vec<(&LeanFound, f64)> {
        let all = self.leans.iter().filter(|lean| lean.weight >= RARE);
        let total: f64 = all.clone().map(|lean| lean.weight).sum();
        all.map(|lean| (lean, lean.weight / total)).collect()
    }

    pub(super) fn course(&self) -> Result<Course<'_>, FlagsError> {
        Course::new(&self.site, &self.who, self.ground.clone())
    }
}
