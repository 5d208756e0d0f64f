//! A line on a ramp: so far across all along, by the station along the ramp's curve.

use super::Ramp;
use crate::geometry::{Contact, Track};

/// Joints closer than this are one, metres.
const SAME: f64 = 1e-9;

#[derive(Debug, Clone)]
pub(super) struct RampLine {
    ramp: Ramp,
    offset: f64,
    breaks: Vec<f64>,
}

impl RampLine {
    pub(super) fn new(ramp: Ramp, offset: f64, end: f64) -> Self {
        // The curve's last piece goes on to a skewed edge: its end is no joint.
        let joints = ramp.curve().joints();
        let inner = joints[..joints.len() - 1].iter().copied().filter(|joint| *joint < end - SAME);
        let breaks = inner.chain([end]).collect();
        Self { ramp, offset, breaks }
    }
}

impl Track for RampLine {
    fn breaks(&self) -> &[f64] {
        &self.breaks
    }

    fn contact(&self, piece: usize, station: f64) -> Contact {
        self.ramp.contact(piece, station, self.offset)
    }
}
