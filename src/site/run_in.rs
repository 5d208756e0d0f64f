//! The run-in from the hill down to the takeoff.

use serde::{Deserialize, Serialize};

/// The profile of the run-in, followed downhill to the takeoff.
///
/// Only differences count: its end is put where the tyres come onto it, heading as they do.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct RunIn {
    /// Level distances along the travel, m, each above the last.
    pub distance: Vec<f64>,
    /// Heights there, m.
    pub height: Vec<f64>,
    /// The radius that rounds straight pieces between the points, m; a smooth curve through the
    /// points where there is none.
    pub corner_radius: Option<f64>,
    /// The speed above which nobody comes onto the takeoff, m/s, above 0: what a speed check before it (a tight turn, a
    /// roll, a narrow gate) holds everybody to; none where there is none.
    #[serde(default)]
    pub speed_check: Option<f64>,
}

impl RunIn {
    /// Its level length, m.
    pub fn level_length(&self) -> f64 {
        match (self.distance.first(), self.distance.last()) {
            (Some(first), Some(last)) => last - first,
            _ => 0.0,
        }
    }
}
