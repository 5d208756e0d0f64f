//! Which landing to build: how well one takes the riders, the best for a volume of earth, what more
//! earth would give, the landing on which every flight comes down as softly, the run-out, and where
//! the next barrow of earth helps most.

mod appraise;
mod bargain;
mod barrow;
mod candidate;
mod entrance;
mod error;
mod even;
mod fit;
mod flier;
mod form;
mod free;
mod front;
mod many;
mod plot;
mod quick;
mod run_out;
mod scenario;
mod score;
mod tradeoff;

pub use bargain::{Bargain, BargainError, BargainOptions, Change as TakeoffChange, Offer, bargain};
pub use barrow::{
    BarrowError, BarrowMap, Mound, NextBarrow, Response, barrow_map, next_barrows, severity,
};
pub use entrance::{
    Chainring, Clearance, EntranceCheck, EntranceError, EntranceOptions, EntranceWarning, RampEarth,
};
pub use error::FitError;
pub use even::{
    EvenDesign, EvenError, EvenForm, EvenLanding, EvenLine, EvenPoint, EvenSurface,
    EvenSurfaceDesign, EvenWarning, StoppedBy,
};
pub use fit::{Fit, FitOptions, fit_form, fit_landing};
pub use form::Form;
pub use free::{Change, FreeLanding, FreeLandingError, FreeOptions, FreeStop, free_landing};
pub use front::Front;
pub use many::score_many;
pub use run_out::{
    Passing, PeakLoad, Rejoin, RunOut, RunOutError, RunOutOptions, RunOutWarning, Stop, Trail,
    pitch_over_limit,
};
pub use scenario::by_scenario;
pub use score::{Landed, Score, score};
pub use tradeoff::{tradeoff, tradeoff_form};
