//! Which landing to build: how well one takes the riders, the best for a volume of earth, and what
//! more earth would give.

mod candidate;
mod error;
mod fit;
mod flier;
mod plot;
mod quick;
mod score;
mod tradeoff;

pub use error::FitError;
pub use fit::{Fit, FitOptions, fit_landing};
pub use score::{Landed, Score, score};
pub use tradeoff::tradeoff;
