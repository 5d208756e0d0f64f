//! The flags as the fit sees them: residuals and their derivatives by the scores of what is free.

use super::course::Course;
use super::error::FlagsError;
use super::flag::Flag;
use super::miss::{Miss, Stop};
use super::sight::{CAUSES, Look, Measured};
use super::unknown::{Priors, Unknown, Values};
use crate::math::parallel::Crew;
use crate::ride::Lean;
use crate::site::Site;
use nalgebra::{DMatrix, DVector};

/// One flag, ready to be compared with the model.
#[derive(Debug, Clone)]
pub(super) struct Case<'a> {
    pub(super) name: String,
    pub(super) course: Course<'a>,
    pub(super) look: Look,
    pub(super) measured: Measured,
}

/// All flags, and what is free. A score is a standard normal's; all of them together are a place.
#[derive(Clone)]
pub(super) struct Cases<'a> {
    pub(super) all: Vec<Case<'a>>,
    pub(super) priors: Priors,
    pub(super) free: Vec<Unknown>,
    /// How often a flag is bad.
    pub(super) bad_share: f64,
    pub(super) crew: Crew<'a>,
}

/// One flag compared with the model, made linear at a place.
#[derive(Debug, Clone, PartialEq)]
pub(super) struct Linear {
    /// The inverse of a root of the measurements' covariance: it turns misses into standard normal ones.
    pub(super) white: DMatrix<f64>,
    /// What it takes from the logarithm of the likelihood: that of the root's determinant.
    pub(super) log_size: f64,
    /// Derivatives of what is seen, in standard deviations, by the free scores.
    pub(super) answers: DMatrix<f64>,
}

impl<'a> Case<'a> {
    pub(super) fn new(site: &'a Site, base: &Course<'a>, flag: &Flag) -> Result<Self, FlagsError> {
        flag.check(site).map_err(|error| error.of(flag.name()))?;
        let course = flag.ground.as_ref().map_or_else(|| base.clone(), |g| base.onto(g));
        let measured = Measured::of(flag, site).map_err(|error| error.of(flag.name()))?;
        Ok(Self::of(course, flag, measured))
    }

    pub(super) fn of(course: Course<'a>, flag: &Flag, measured: Measured) -> Self {
        Self { name: flag.name.clone(), course, look: Look::of(flag), measured }
    }

    fn missed(&self, values: &Values, lean: Lean) -> Result<DVector<f64>, Miss> {
        Ok(&self.measured.values - self.look.come(&self.course, values, lean)?.seen)
    }

    pub(super) fn linear(
        &self,
        values: &Values,
        slopes: &[(Unknown, f64)],
        lean: Lean,
    ) -> Result<Linear, Miss> {
        let coming = self.look.come(&self.course, values, lean)?;
        let by = self.look.answers(&self.course, values, lean, &coming)?;
        let start = by.column(CAUSES - 1) * self.look.ride.start_sd();
        let sds = &self.measured.sds;
        let covariance =
            DMatrix::from_diagonal(&sds.component_mul(sds)) + &start * start.transpose();
        let root = covariance.cholesky().map(|cholesky| cholesky.l());
        let root = root.unwrap_or_else(|| DMatrix::from_diagonal(sds));
        let log_size = root.diagonal().iter().map(|x| x.ln()).sum();
        let size = root.nrows();
        let white = root
            .solve_lower_triangular(&DMatrix::identity(size, size))
            .unwrap_or_else(|| DMatrix::identity(size, size));
        let mut answers = DMatrix::zeros(size, slopes.len());
        for (column, (unknown, slope)) in slopes.iter().enumerate() {
            answers.set_column(column, &(by.column(unknown.index()) * *slope));
        }
        Ok(Linear { answers: &white * answers, white, log_size })
    }
}

impl Cases<'_> {
    /// The values at a place: what is not free stands at the middle of what is believed of it.
    pub(super) fn values(&self, place: &DVector<f64>) -> Values {
        let mut values = self.priors.medians();
        for (unknown, score) in self.free.iter().zip(place.iter()) {
            values[unknown.index()] = self.priors.value(*unknown, *score).0;
        }
        values
    }

    fn slopes(&self, place: &DVector<f64>) -> Vec<(Unknown, f64)> {
        let pairs = self.free.iter().zip(place.iter());
        pairs.map(|(unknown, score)| (*unknown, self.priors.value(*unknown, *score).1)).collect()
    }

    /// How far each flag lies from where the model has it.
    pub(super) fn missed(
        &self,
        place: &DVector<f64>,
        lean: Lean,
    ) -> Result<Vec<DVector<f64>>, Miss> {
        let values = self.values(place);
        self.each(|case| case.missed(&values, lean))
    }

    /// The flags made linear at a place.
    pub(super) fn linear(&self, place: &DVector<f64>, lean: Lean) -> Result<Vec<Linear>, Miss> {
        let (values, slopes) = (self.values(place), self.slopes(place));
        self.each(|case| case.linear(&values, &slopes, lean))
    }

    /// The same of every flag; a flag's own trouble is told with its name.
    fn each<T: Send>(
        &self,
        work: impl Fn(&Case) -> Result<T, Miss> + Sync + Send,
    ) -> Result<Vec<T>, Miss> {
        let done = self.crew.map(self.all.len(), 1, |i| work(&self.all[i]));
        let done = done.map_err(FlagsError::from)?;
        let named = |(case, result): (&Case, Result<T, Miss>)| {
            result.map_err(|miss| match miss {
                Miss::Failed(error) => error.of(&case.name).into(),
                stop @ Miss::Stop(_) => stop,
            })
        };
        self.all.iter().zip(done).map(named).collect()
    }

    /// The first flag whose ride leaves no mark at a place, and why.
    pub(super) fn stops(&self, place: &DVector<f64>, lean: Lean) -> Option<(&str, Stop)> {
        let values = self.values(place);
        self.all.iter().find_map(|case| match case.missed(&values, lean) {
            Err(Miss::Stop(stop)) => Some((case.name.as_str(), stop)),
            _ => None,
        })
    }
}
