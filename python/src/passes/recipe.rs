//! What passes are made from.

use crate::watch;
use loamline::Ground;
use loamline::passes::{Passes, PassesError};
use loamline::ride::Lean;
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
    /// The lean that alone judges them, where it is one.
    #[serde(default)]
    pub lean: Option<Lean>,
}

impl Recipe {
    /// The passes.
    pub fn ride(&self, crew: &watch::Crew<'_>) -> Result<Passes, PassesError> {
        let passes = self.site.passes(self.n, self.seed, crew)?;
        let passes = match &self.ground {
            None => passes,
            Some(ground) => passes.on(ground, crew)?,
        };
        Ok(match self.lean {
            None => passes,
            Some(lean) => passes.with_lean(lean),
        })
    }
}
