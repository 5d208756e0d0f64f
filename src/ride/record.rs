//! What is remembered of a ride on the way.

use super::equation::{Equation, Loads};
use super::ledger::{Ledger, Momentum};
use super::panel::{BASIS, NODES};
use super::peak::Peak;
use super::resolved::Resolved;
use super::samples::Samples;
use crate::math::{Vec3, legendre};

/// Samples, sums and first places, panel by panel.
#[derive(Debug, Clone, Default)]
pub(super) struct Record {
    /// The spacing of samples; none for the exit only, without time.
    pub(super) spacing: Option<f64>,
    pub(super) samples: Samples,
    pub(super) ledger: Ledger,
    /// Where the momentum went, and what the last panel ended with.
    momentum: Momentum,
    velocity: Option<Vec3>,
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

    /// Takes in one more panel, ridden by this equation on wheels of this rotating-mass factor.
    pub(super) fn take(&mut self, panel: &impl Resolved, equation: &Equation, rotating: f64) {
        self.sum_up(panel);
        self.peak = self.peak.with(panel, self.station);
        if self.slip.is_none()
            && let Some(x) = panel.slip(equation.grip)
        {
            self.slip = Some((self.station + panel.way(x), panel.moment(x).loads.side));
        }
        if self.limited.is_none()
            && let Some(i) = panel.loads().iter().position(|loads| loads.limited)
        {
            self.limited = Some(self.station + panel.way(BASIS.rule.nodes[i]));
        }
        if let Some(spacing) = self.spacing {
            let (seconds, from) = (panel.seconds(), [self.station, self.time, spacing]);
            self.samples.extend(panel, &seconds, equation.g(), from);
            let lasts = legendre::integral(&seconds, 1.0);
            self.time += lasts;
            self.momentum.gravity += equation.forces.gravity() * lasts;
            self.sum_up_momentum(panel, rotating);
        }
        self.station += panel.length();
    }

    fn sum_up_momentum(&mut self, panel: &impl Resolved, rotating: f64) {
        let first = panel.moment(0.0).velocity;
        match self.velocity {
            Some(before) => self.momentum.joints += first - before,
            None => self.momentum.start = first,
        }
        self.momentum.add(panel, rotating);
        self.velocity = Some(panel.moment(1.0).velocity);
    }

    /// Where the momentum went, `still` being the velocity of a ride that went nowhere; none where no time was kept.
    pub(super) fn momentum(&self, still: Vec3) -> Option<Momentum> {
        let (start, end) = self.velocity.map_or((still, still), |end| (self.momentum.start, end));
        self.spacing.map(|_| Momentum { start, end, ..self.momentum })
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
