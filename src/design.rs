//! Which landing to build: how well one takes the riders, the best for a volume of earth, what more
//! earth would give, the landing on which every flight comes down as softly, the run-out, and where
//! the next barrow of earth helps most.

mod barrow;
mod candidate;
mod entrance;
mod error;
mod even;
mod fit;
mod flier;
mod free;
mod plot;
mod quick;
mod run_out;
mod score;
mod tradeoff;

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
pub use fit::{Fit, FitOptions, fit_landing};
pub use free::{Change, FreeLanding, FreeLandingError, FreeOptions, FreeStop, free_landing};
pub use run_out::{
    Passing, PeakLoad, Rejoin, RunOut, RunOutError, RunOutOptions, RunOutWarning, Stop, Trail,
    pitch_over_limit,
};
pub use score::{Landed, Score, score};
pub use tradeoff::tradeoff;
