//! The hardest place of a ride for grip.

use super::equation::Loads;
use super::panel::{BASIS, NODES};
use super::resolved::Resolved;
use crate::math::legendre;
use serde::{Deserialize, Serialize};

/// Golden-section steps that close in on a peak.
const STEPS: usize = 30;
const GOLDEN: f64 = 0.618_033_988_749_894_8;

/// The highest side load over load on the surface, and where.
#[derive(Debug, Clone, Copy, PartialEq, Default, Serialize, Deserialize)]
pub struct Peak {
    /// `|S| / N`.
    pub demand: f64,
    /// Where, metres from the line's start.
    pub station: f64,
}

impl Peak {
    /// The peak with one more panel seen, which begins at `station`.
    pub(super) fn with(self, panel: &impl Resolved, station: f64) -> Self {
        let loads = panel.loads();
        let demands = loads.each_ref().map(Loads::demand);
        let mut best = 0;
        for i in 1..NODES {
            if demands[i] > demands[best] {
                best = i;
            }
        }
        // A peak between nodes is hardly higher than they are: look closer only where it may count.
        if !demands[best].is_finite() || 1.05 * demands[best] <= self.demand {
            return self;
        }
        let normal = BASIS.coefficients(&loads.each_ref().map(|loads| loads.normal));
        let side = BASIS.coefficients(&loads.each_ref().map(|loads| loads.side));
        let demand = |x: f64| legendre::value(&side, x).abs() / legendre::value(&normal, x);
        let node = |i: usize| BASIS.rule.nodes[i];
        let low = if best == 0 { 0.0 } else { node(best - 1) };
        let high = if best == NODES - 1 { 1.0 } else { node(best + 1) };
        let inner = golden(demand, low, high);
        let mut peak = self;
        for x in [0.0, inner, 1.0] {
            if demand(x) > peak.demand {
                peak = Self { demand: demand(x), station: station + panel.way(x) };
            }
        }
        peak
    }
}

/// The place of the highest value between `low` and `high`.
fn golden(f: impl Fn(f64) -> f64, mut low: f64, mut high: f64) -> f64 {
    let inner = |low: f64, high: f64| (high - GOLDEN * (high - low), low + GOLDEN * (high - low));
    for _ in 0..STEPS {
        let (a, b) = inner(low, high);
        if f(a) >= f(b) {
            high = b;
        } else {
            low = a;
        }
    }
    0.5 * (low + high)
}
