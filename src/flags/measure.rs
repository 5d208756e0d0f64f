//! What to measure next: how much each measurement would narrow the forecast of a ride.

use super::cases::Case;
use super::course::Course;
use super::error::FlagsError;
use super::flag::{Flag, GATE_SPEED_SD, Gate, MARK_SD, STOPWATCH_SD, Speed, Spot, Timing};
use super::found::Found;
use super::miss::Miss;
use super::mode::inverse;
use super::test_ride::TestRide;
use super::unknown::Unknown;
use crate::math::Vec2;
use nalgebra::{DMatrix, DVector};
use serde::{Deserialize, Serialize};

/// Frames a second of an ordinary phone's video (common practice).
const FRAME_RATE: f64 = 30.0;

/// A kind of measurement.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
#[non_exhaustive]
pub enum Method {
    /// The mark by tape.
    Tape,
    /// The mark by tape, and the time down the run-in by a stopwatch.
    Stopwatch,
    /// The mark by tape, and the flight by frames of a video.
    Video,
    /// The mark by tape, and the speed at the edge by a timing gate.
    SpeedGate,
}

impl Method {
    /// All of them.
    pub const ALL: [Self; 4] = [Self::Tape, Self::Stopwatch, Self::Video, Self::SpeedGate];

    /// Its name, as Python has it.
    pub const fn name(self) -> &'static str {
        match self {
            Self::Tape => "tape",
            Self::Stopwatch => "stopwatch",
            Self::Video => "video",
            Self::SpeedGate => "speed_gate",
        }
    }
}

/// What a measurement would be worth.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[non_exhaustive]
pub struct Measurement {
    /// The ride it is taken on.
    pub ride: TestRide,
    /// How it is measured.
    pub method: Method,
    /// How much is expected to be learnt of where the forecast ride comes down, in nats: the logarithm of how many times
    /// smaller the region of its marks becomes.
    pub gain: f64,
    /// The unknown that it tells most of, and the share of its standard deviation that would be left.
    pub tells: Option<(Unknown, f64)>,
}

impl Found {
    /// What each way of measuring each of these rides would tell of where `target` comes down, the best first.
    ///
    /// Expected information of a normal distribution, by the likeliest lean: half the logarithm of the ratio of the
    /// determinants of the target's covariance before and after. Rides that leave no mark are left out.
    pub fn what_next(
        &self,
        rides: &[TestRide],
        target: &TestRide,
    ) -> Result<Vec<Measurement>, FlagsError> {
        let course = self.course()?;
        let notable = self.notable();
        let Some((lean, _)) = notable.first() else { return Ok(Vec::new()) };
        let values = self.likeliest(lean);
        let slopes = self.slopes(&lean.place);
        let answers = |flag: &Flag| -> Result<Option<DMatrix<f64>>, FlagsError> {
            let case = Case::bare(&course, flag);
            match case.linear(&values, &slopes, lean.lean) {
                Ok(linear) => Ok(Some(linear.answers)),
                Err(Miss::Stop(_)) => Ok(None),
                Err(miss) => Err(miss.error()),
            }
        };
        let Some(aim) = answers(&seen(target, Method::Tape)?)? else { return Ok(Vec::new()) };
        let spread = |precision: &DMatrix<f64>| &aim * inverse(precision) * aim.transpose();
        let before = inverse(&lean.precision);
        let size = spread(&lean.precision).determinant();
        let mut all = Vec::new();
        for ride in rides {
            ride.check(&self.site)?;
            for method in Method::ALL {
                let Some(new) = answers(&seen(ride, method)?)? else { continue };
                let precision = &lean.precision + new.transpose() * new;
                let after = inverse(&precision);
                let left = |i: usize| (after[(i, i)] / before[(i, i)]).sqrt();
                let most = (0..self.free.len()).min_by(|a, b| left(*a).total_cmp(&left(*b)));
                all.push(Measurement {
                    ride: ride.clone(),
                    method,
                    gain: 0.5 * (size / spread(&precision).determinant()).ln(),
                    tells: most.map(|i| (self.free[i], left(i))),
                });
            }
        }
        all.sort_by(|a, b| b.gain.total_cmp(&a.gain));
        Ok(all)
    }

    fn slopes(&self, place: &DVector<f64>) -> Vec<(Unknown, f64)> {
        let pairs = self.free.iter().zip(place.iter());
        pairs.map(|(unknown, score)| (*unknown, self.priors.value(*unknown, *score).1)).collect()
    }
}

/// A flag with nothing on it yet but how it will be measured.
fn seen(ride: &TestRide, method: Method) -> Result<Flag, FlagsError> {
    let flag = Flag::new("next", ride.clone()).with_mark(Spot::At(Vec2::zeros()), MARK_SD)?;
    let start = Gate::UpHill(ride.start());
    Ok(match method {
        Method::Tape => flag,
        Method::Stopwatch => flag.with_timing(Timing::new(start, Gate::Edge, 1.0, STOPWATCH_SD)?),
        Method::Video => {
            flag.with_timing(Timing::frames(Gate::Edge, Gate::Touch, 1.0, FRAME_RATE)?)
        }
        Method::SpeedGate => flag.with_speed(Speed::new(Gate::Edge, 1.0, GATE_SPEED_SD)?),
    })
}

impl<'a> Case<'a> {
    /// A flag whose measurements are not there yet: only how sure they will be.
    fn bare(course: &Course<'a>, flag: &Flag) -> Self {
        Self::of(course.clone(), flag, super::sight::Measured::sds_of(flag))
    }
}
