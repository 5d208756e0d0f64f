//! What is remembered of a ride on the way.

use super::equation::Loads;
use super::ledger::Ledger;
use super::panel::{BASIS, NODES};
use super::peak::Peak;
use super::resolved::Resolved;
use super::samples::Samples;
use crate::math::legendre;

/// Samples, sums and first places, panel by panel.
#[derive(Debug, Clone, Default)]
pub(super) struct Record {
    /// The spacing of samples; none for the exit only, without time.
    pub(super) spacing: Option<f64>,
    pub(super) samples: Samples,
    pub(super) ledger: Ledger,
    pub(super) peak: Peak,
    /// Where the tyres first slide, and the side load there.
    pub(super) slip: Option<(f64, f64)>,
    /// Where grip first limits the brake.
    pub(super) limited: Option<f64>,
    /// Metres and seconds ridden.
    pub(super) station: f64,
    pub(super) time: f64,
}

impl Record {
    pub(super) fn new(spacing: Option<f64>) -> Self {
        Self { spacing, ..Self::default() }
    }

    /// Takes in one more panel, ridden under this grip and acceleration of free fall.
    pub(super) fn take(&mut self, panel: &impl Resolved, grip: f64, g: f64) {
        self.sum_up(panel);
        self.peak = self.peak.with(panel, self.station);
        if self.slip.is_none()
            && let Some(x) = panel.slip(grip)
        {
            self.slip = Some((self.station + panel.way(x), panel.moment(x).loads.side));
        }
        if self.limited.is_none()
            && let Some(i) = panel.loads().iter().position(|loads| loads.limited)
        {
            self.limited = Some(self.station + panel.way(BASIS.rule.nodes[i]));
        }
        if let Some(spacing) = self.spacing {
            let seconds = panel.seconds();
            self.samples.extend(panel, &seconds, g, [self.station, self.time, spacing]);
            self.time += legendre::integral(&seconds, 1.0);
        }
        self.station += panel.length();
    }

    fn sum_up(&mut self, panel: &impl Resolved) {
        let (loads, metres) = (panel.loads(), panel.metres());
        let whole = |of: fn(&Loads) -> f64| {
            let rates: [f64; NODES] = std::array::from_fn(|i| of(&loads[i]) * metres[i]);
            BASIS.whole(&rates)
        };
        self.ledger.drag += whole(|loads| loads.drag);
        self.ledger.rolling += whole(|loads| loads.rolling);
        self.ledger.brake += whole(|loads| loads.brake);
        self.ledger.pedal += whole(|loads| loads.pedal);
    }
}
