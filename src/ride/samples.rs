//! A ride station by station.

use super::panel::{BASIS, NODES};
use super::resolved::{Moment, Resolved};
use crate::math::Vec3;
use crate::math::legendre;
use serde::{Deserialize, Serialize};

/// How much longer than at the nodes a panel's metres may be between them.
const SLACK: f64 = 1.001;
/// A difference below this, relative, is no jump.
const SAME: f64 = 1e-9;

/// A ride by stations, all arrays of one length. Where curvature jumps, a station stands twice, before and after.
#[derive(Debug, Clone, PartialEq, Default, Serialize, Deserialize)]
#[non_exhaustive]
pub struct Samples {
    /// Metres along the tyres' line.
    pub station: Vec<f64>,
    /// Speed of the tyres, m/s.
    pub speed: Vec<f64>,
    /// Load on the surface, in g's: 1 standing still on the level.
    pub normal_load: Vec<f64>,
    /// Side load over load on the surface.
    pub grip_demand: Vec<f64>,
    /// Seconds from the start.
    pub time: Vec<f64>,
    /// Lean off the surface's normal, radians, to the left positive: 0 all along a `deck` ride.
    pub lean: Vec<f64>,
    /// Where the tyres are, metres.
    pub tyres: Vec<Vec3>,
    /// Where the centre of mass is, metres.
    pub centre: Vec<Vec3>,
}

impl Samples {
    /// The number of samples.
    pub fn len(&self) -> usize {
        self.station.len()
    }

    /// Whether nothing was sampled.
    pub fn is_empty(&self) -> bool {
        self.station.is_empty()
    }

    /// Adds the samples of one panel that begins at a station and a time, not farther apart than `spacing`; its first place
    /// only where the last sample says something else of it. `seconds` a unit of `x` are Legendre coefficients.
    pub(super) fn extend(
        &mut self,
        panel: &impl Resolved,
        seconds: &[f64; NODES],
        g: f64,
        [station, time, spacing]: [f64; 3],
    ) {
        let metres = panel.metres();
        let way = BASIS.coefficients(metres);
        let fastest = metres.iter().fold(0.0, |most: f64, m| most.max(*m));
        // The ends of the polynomial lie beyond its outer nodes.
        let fastest = fastest.max(legendre::value(&way, 0.0)).max(legendre::value(&way, 1.0));
        let count = (SLACK * fastest / spacing).ceil().max(1.0);
        let mut k = 0.0;
        while k <= count {
            let x = k / count;
            let station = station + legendre::integral(&way, x);
            let time = time + legendre::integral(seconds, x);
            self.push(g, &panel.moment(x), station, time, k == 0.0);
            k += 1.0;
        }
    }

    fn push(&mut self, g: f64, moment: &Moment, station: f64, time: f64, is_first: bool) {
        let speed = moment.speed;
        let normal_load = moment.loads.normal / g;
        let grip_demand = moment.loads.demand();
        if is_first && self.ends_with(speed, normal_load, grip_demand) {
            return;
        }
        self.station.push(station);
        self.speed.push(speed);
        self.normal_load.push(normal_load);
        self.grip_demand.push(grip_demand);
        self.time.push(time);
        self.lean.push(moment.lean);
        self.tyres.push(moment.tyres);
        self.centre.push(moment.centre);
    }

    fn ends_with(&self, speed: f64, normal_load: f64, grip_demand: f64) -> bool {
        let same = |last: Option<&f64>, now: f64| {
            last.is_some_and(|last| (last - now).abs() <= SAME * last.abs().max(1.0))
        };
        same(self.speed.last(), speed)
            && same(self.normal_load.last(), normal_load)
            && same(self.grip_demand.last(), grip_demand)
    }
}
