//! What passes are made from.

use crate::watch;
use loamline::Ground;
use loamline::passes::{Passes, PassesError};
use loamline::site::Site;
use serde::{Deserialize, Serialize};

/// What passes are made from: with it, the same passes are ridden again.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct Recipe {
    /// The site.
    pub site: Site,
    /// How many.
    pub n: usize,
    /// The seed.
    pub seed: u64,
    /// The ground they come down on, where it is not the site's own.
    pub ground: Option<Ground>,
}

impl Recipe {
    /// The passes.
    pub fn ride(&self, crew: &watch::Crew<'_>) -> Result<Passes, PassesError> {
        let passes = self.site.passes(self.n, self.seed, crew)?;
        match &self.ground {
            None => Ok(passes),
            Some(ground) => passes.on(ground, crew),
        }
    }
}
