//! What the errors of designs become.

use super::{Failure, Kind};
use loamline::design::{
    BargainError, BarrowError, EntranceError, EvenError, FitError, FreeLandingError, RunOutError,
};

/// Errors of what is searched for by landing riders again.
macro_rules! searches {
    ($($error:ident),*) => {$(
        impl From<$error> for Failure {
            fn from(error: $error) -> Self {
                match error {
                    $error::OutOfRange(number) => number.into(),
                    $error::TooFine { .. } => Self::input(&error.to_string()).about("spacing"),
                    $error::Ground(ground) => ground.into(),
                    $error::Passes(passes) => passes.into(),
                    $error::Crew(crew) => crew.into(),
                    other => Self::new(Kind::Passes, &other.to_string()),
                }
            }
        }
    )*};
}

searches!(BarrowError, FreeLandingError);

impl From<EvenError> for Failure {
    fn from(error: EvenError) -> Self {
        match error {
            EvenError::OutOfRange(number) => number.into(),
            other => Self::input(&other.to_string()),
        }
    }
}

impl From<RunOutError> for Failure {
    fn from(error: RunOutError) -> Self {
        match error {
            RunOutError::OutOfRange(number) => number.into(),
            RunOutError::Geometry(curve) => curve.into(),
            RunOutError::Ride(ride) => ride.into(),
            other => Self::new(Kind::Ride, &other.to_string()),
        }
    }
}

impl From<EntranceError> for Failure {
    fn from(error: EntranceError) -> Self {
        match error {
            EntranceError::OutOfRange(number) => number.into(),
            EntranceError::Ramp(ramp) => ramp.into(),
            EntranceError::NoGround { .. } => Self::input(&error.to_string()).about("ground"),
            EntranceError::NoFoot { .. } => Self::input(&error.to_string()).about("batter_deg"),
            EntranceError::Ride(ride) => ride.into(),
            EntranceError::Pressure(pressure) => pressure.into(),
            other => Self::input(&other.to_string()),
        }
    }
}

impl From<FitError> for Failure {
    fn from(error: FitError) -> Self {
        match error {
            FitError::OutOfRange(number) => number.into(),
            FitError::Site(site) => site.into(),
            FitError::Passes(passes) => passes.into(),
            FitError::Crew(crew) => crew.into(),
            other => Self::new(Kind::Fit, &other.to_string()),
        }
    }
}

impl From<BargainError> for Failure {
    fn from(error: BargainError) -> Self {
        match error {
            BargainError::OutOfRange(number) => number.into(),
            BargainError::Passes(passes) => (*passes).into(),
            BargainError::Fit(fit) => fit.into(),
            other => Self::input(&other.to_string()).about("changes"),
        }
    }
}
