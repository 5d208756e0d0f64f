//! Which landing to build: how well one takes the riders, the best for a volume of earth, what more
//! earth would give, and the landing on which every flight comes down as softly.

mod candidate;
mod error;
mod even;
mod fit;
mod flier;
mod plot;
mod quick;
mod score;
mod tradeoff;

pub use error::FitError;
pub use even::{EvenDesign, EvenError, EvenForm, EvenLanding, EvenPoint, EvenWarning, StoppedBy};
pub use fit::{Fit, FitOptions, fit_landing};
pub use score::{Landed, Score, score};
pub use tradeoff::tradeoff;
