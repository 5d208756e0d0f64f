//! What passes are made from.

use crate::watch;
use loamline::Ground;
use loamline::passes::{Doubt, Passes, PassesError};
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
    /// What is in doubt, where something is.
    #[serde(default)]
    pub doubt: Option<Doubt>,
    /// What the weights of classes were multiplied by, one after the other.
    #[serde(default)]
    pub weights: Vec<(String, f64)>,
}

impl Recipe {
    /// What passes on a site's own ground are made from.
    pub fn new(site: Site, n: usize, seed: u64, doubt: Option<Doubt>) -> Self {
        Self { site, n, seed, ground: None, lean: None, doubt, weights: Vec::new() }
    }

    /// The passes.
    pub fn ride(&self, crew: &watch::Crew<'_>) -> Result<Passes, PassesError> {
        let mut passes = match &self.doubt {
            None => self.site.passes(self.n, self.seed, crew)?,
            Some(doubt) => self.site.passes_in_doubt(self.n, self.seed, doubt, crew)?,
        };
        if let Some(ground) = &self.ground {
            passes = passes.on(ground, crew)?;
        }
        if let Some(lean) = self.lean {
            passes = passes.with_lean(lean);
        }
        if self.weights.is_empty() { Ok(passes) } else { passes.weighted(&self.weights) }
    }
}
