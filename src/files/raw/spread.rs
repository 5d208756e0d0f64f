//! One number for all, or how it spreads, as a site file writes it.

use crate::files::fault::Fault;
use crate::files::quantity::Deviation;
use crate::site::Dist;
use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

/// A value: one number for all of a class, or how it spreads over them.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(untagged)]
pub(in crate::files) enum Value<Q> {
    /// The same for all.
    Number(Q),
    /// Spread over the class.
    Spread(Spread<Q>),
}

/// How a value spreads: `low` and `high` (even between), with `mode` (most at the mode), or `mean` and `sd` (normal,
/// cut off at `low` and `high` where they are given).
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub(in crate::files) struct Spread<Q> {
    /// The lowest value.
    #[serde(skip_serializing_if = "Option::is_none")]
    low: Option<Q>,
    /// The most frequent value.
    #[serde(skip_serializing_if = "Option::is_none")]
    mode: Option<Q>,
    /// The highest value.
    #[serde(skip_serializing_if = "Option::is_none")]
    high: Option<Q>,
    /// The mean of a normal distribution.
    #[serde(skip_serializing_if = "Option::is_none")]
    mean: Option<Q>,
    /// The standard deviation of a normal distribution.
    #[serde(skip_serializing_if = "Option::is_none")]
    sd: Option<Deviation>,
}

impl<Q: From<f64> + Into<f64> + Copy> Value<Q> {
    /// The keys for a distribution.
    pub(in crate::files) fn of(dist: &Dist) -> Self {
        let (low, mode, high, mean, sd) = match *dist {
            Dist::Fixed(value) => return Self::Number(value.into()),
            Dist::Uniform { low, high } => (Some(low), None, Some(high), None, None),
            Dist::Triangular { low, mode, high } => (Some(low), Some(mode), Some(high), None, None),
            Dist::Normal { mean, sd, low, high } => (low, None, high, Some(mean), Some(sd)),
        };
        let [low, mode, high, mean] = [low, mode, high, mean].map(|value| value.map(Q::from));
        Self::Spread(Spread { low, mode, high, mean, sd: sd.map(Deviation) })
    }

    /// The distribution, under the name of its field.
    pub(in crate::files) fn dist(&self, field: &'static str) -> Result<Dist, Fault> {
        let dist = match self {
            Self::Number(value) => Dist::Fixed((*value).into()),
            Self::Spread(spread) => spread.dist().map_err(|fault| fault.within(field))?,
        };
        dist.check(field, "", |_| true)?;
        Ok(dist)
    }
}

impl<Q: Into<f64> + Copy> Spread<Q> {
    fn dist(&self) -> Result<Dist, Fault> {
        let given = [self.low, self.mode, self.high, self.mean].map(|value| value.map(Into::into));
        match (given, self.sd.map(f64::from)) {
            ([Some(low), None, Some(high), None], None) => Ok(Dist::Uniform { low, high }),
            ([Some(low), Some(mode), Some(high), None], None) => {
                Ok(Dist::Triangular { low, mode, high })
            }
            ([low, None, high, Some(mean)], Some(sd)) => Ok(Dist::Normal { mean, sd, low, high }),
            _ => Err(Fault::unfit(
                "",
                "expected low and high, or low, mode and high, or mean and sd (with low or high)",
            )),
        }
    }
}
