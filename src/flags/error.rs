//! Why flags say nothing.

use crate::earth::VolumeError;
use crate::flight::FlightError;
use crate::ground::{GroundError, LandingError};
use crate::launch::LaunchError;
use crate::math::parallel::CrewError;
use crate::math::range::OutOfRange;
use crate::ride::RideError;
use crate::site::{Part, SiteError};

/// Why flags say nothing.
#[derive(Debug, Clone, PartialEq, thiserror::Error)]
#[non_exhaustive]
pub enum FlagsError {
    /// A number outside its range.
    #[error(transparent)]
    OutOfRange(#[from] OutOfRange),
    /// A site that is none.
    #[error(transparent)]
    Site(Box<SiteError>),
    /// Something wrong with one flag.
    #[error("flag \"{flag}\": {source}")]
    Flag {
        /// What the flag is called.
        flag: String,
        /// What is wrong.
        source: Box<FlagsError>,
    },
    /// Nothing to learn from.
    #[error("there are no flags: at least one is needed")]
    NoFlags,
    /// Flags of riders of different classes: what is fitted belongs to one.
    #[error("flags of more than one class of riders ({}): fit one class at a time", classes.join(", "))]
    MixedClasses {
        /// The classes' names.
        classes: Vec<String>,
    },
    /// No flag of the class that was asked for.
    #[error("no flag is of class \"{class}\"; there are flags of: {}", known.join(", "))]
    NoFlagOf {
        /// The class.
        class: String,
        /// The classes that have flags.
        known: Vec<String>,
    },
    /// A mark to tape from that the site does not have.
    #[error("there is no mark \"{name}\" to tape from; there are: {}", known.join(", "))]
    NoSuchMark {
        /// The name.
        name: String,
        /// The marks there are.
        known: Vec<String>,
    },
    /// Two marks with one place give a tape no direction.
    #[error(
        "marks \"{from}\" and \"{towards}\" stand {distance} m apart: a tape needs a direction"
    )]
    NoDirection {
        /// Where the tape begins.
        from: String,
        /// Where it points.
        towards: String,
        /// How far apart they are, m.
        distance: f64,
    },
    /// A mark behind the edge that is left.
    #[error(
        "the mark lies {behind:.2} m uphill of the edge, against the ride's direction there: nobody lands behind"
    )]
    UphillOfEdge {
        /// How far, m.
        behind: f64,
    },
    /// A time or a speed taken at a place that the ride does not pass.
    #[error("{what} at {place} m up the hill, but the ride starts {start} m up")]
    AboveStart {
        /// What was taken there.
        what: &'static str,
        /// Level distance up the hill, m.
        place: f64,
        /// Where the ride starts, m.
        start: f64,
    },
    /// A timing that ends before it begins.
    #[error("timing from {from} to {to}: it runs backwards")]
    Backwards {
        /// Where it begins.
        from: String,
        /// Where it ends.
        to: String,
    },
    /// A flag that says nothing.
    #[error("it has neither a mark, nor a timing, nor a speed")]
    Empty,
    /// A ride that does not come to where its flag stands, however the rider leans.
    #[error("by the model this ride does not come down where it could leave a mark: on the {} it {how}", part_name(*part))]
    DoesNotCome {
        /// On which part it ends.
        part: Part,
        /// How.
        how: String,
    },
    /// No unknown is free.
    #[error("nothing is free to be fitted: name at least one unknown")]
    NothingFree,
    /// A fit that found no place to rest.
    #[error(
        "the fit did not settle in {steps} steps: its last step was {size} prior standard deviations"
    )]
    Unsettled {
        /// How many steps.
        steps: usize,
        /// The size of the last.
        size: f64,
    },
    /// A ride that cannot be computed.
    #[error(transparent)]
    Ride(#[from] RideError),
    /// A launch that cannot be computed.
    #[error(transparent)]
    Launch(#[from] LaunchError),
    /// A flight that cannot be computed.
    #[error(transparent)]
    Flight(#[from] FlightError),
    /// A ground that is none.
    #[error(transparent)]
    Ground(#[from] GroundError),
    /// A landing that cannot be.
    #[error(transparent)]
    Landing(#[from] LandingError),
    /// Earth that cannot be counted.
    #[error(transparent)]
    Volume(#[from] VolumeError),
    /// Stopped, or no threads to be had.
    #[error(transparent)]
    Crew(#[from] CrewError),
}

impl FlagsError {
    /// The same, said of one flag.
    pub(super) fn of(self, flag: &str) -> Self {
        match self {
            same @ Self::Flag { .. } => same,
            source => Self::Flag { flag: flag.to_owned(), source: Box::new(source) },
        }
    }
}

impl From<SiteError> for FlagsError {
    fn from(error: SiteError) -> Self {
        Self::Site(Box::new(error))
    }
}

const fn part_name(part: Part) -> &'static str {
    match part {
        Part::RunIn => "run-in",
        Part::Wall => "takeoff",
    }
}
