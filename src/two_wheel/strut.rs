//! The suspension at one wheel: spring, damper and the stops at both ends of its travel; as in [`crate::load`].

use crate::load::{STOP_RETURN, STOP_STIFFER};
use crate::math::range::OutOfRange;
use crate::rider::AirSpring;

/// Where in its travel the suspension is.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum Reach {
    /// Against the stop that holds the wheel on when nothing presses it in.
    Extended,
    /// Between the stops.
    Within,
    /// Against the bump stop.
    Bottomed,
}

/// Which way the suspension goes, as far as it matters.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum Way {
    In,
    Out,
    /// Out of a stop, faster than that comes back.
    OffStop,
}

/// Spring, damper and stops. Compression `s` counts from full extension, m; forces push the wheel out, N.
///
/// A stop pressed in by `d` pushes with `k d`; going back at a speed `w` with `k d (1 - w / w_r)`, and not at all past
/// `w_r` = 0.5 m/s: nearly no restitution, and no jump in the force.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) struct Strut {
    /// The travel, m.
    pub(super) travel: f64,
    spring: AirSpring,
    stop: f64,
    compression: f64,
    rebound: f64,
}

impl Strut {
    /// The suspension that carries `load` N at `sag` of its travel, with a force at full travel `progression` times
    /// that of a linear spring of the same sag; dampers in N s/m.
    pub(super) fn new(
        load: f64,
        travel: f64,
        sag: f64,
        progression: f64,
        [compression, rebound]: [f64; 2],
    ) -> Result<Self, OutOfRange> {
        let spring = AirSpring::from_sag(load, travel, sag, progression)?;
        let stop = STOP_STIFFER * load / (sag * travel);
        Ok(Self { travel, spring, stop, compression, rebound })
    }

    /// Where in its travel it is.
    pub(super) fn reach(&self, s: f64) -> Reach {
        if s < 0.0 {
            Reach::Extended
        } else if s > self.travel {
            Reach::Bottomed
        } else {
            Reach::Within
        }
    }

    /// Which way it goes at a rate of compression, m/s.
    pub(super) fn way(&self, s: f64, rate: f64) -> Way {
        let off = match self.reach(s) {
            Reach::Extended => rate > STOP_RETURN,
            Reach::Within => false,
            Reach::Bottomed => rate < -STOP_RETURN,
        };
        match (off, rate > 0.0) {
            (true, _) => Way::OffStop,
            (false, true) => Way::In,
            (false, false) => Way::Out,
        }
    }

    /// The force of spring and stops, as far as it is given back.
    pub(super) fn elastic(&self, s: f64) -> f64 {
        self.spring.force(s) + self.stop * self.depth(s)
    }

    /// The energy in spring and stops, J.
    pub(super) fn energy(&self, s: f64) -> f64 {
        self.spring.energy(s) + 0.5 * self.stop * self.depth(s).powi(2)
    }

    /// What damper and stops add to that at a rate of compression, m/s: it takes energy.
    pub(super) fn damping(&self, s: f64, rate: f64) -> f64 {
        let damper = rate * if rate > 0.0 { self.compression } else { self.rebound };
        let depth = self.depth(s);
        let back = -rate * depth.signum();
        let lost = if depth == 0.0 { 0.0 } else { (back / STOP_RETURN).clamp(0.0, 1.0) };
        damper - self.stop * depth * lost
    }

    /// How far a stop is pressed in, m: above 0 the bump stop, below 0 the one at full extension.
    fn depth(&self, s: f64) -> f64 {
        s.min(0.0) + (s - self.travel).max(0.0)
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use approx::assert_relative_eq;

    #[test]
    fn it_carries_its_load_at_its_sag_and_stiffens_as_said() {
        for progression in [1.0, 1.3, 3.0] {
            let strut = Strut::new(500.0, 0.16, 0.25, progression, [0.0; 2]).unwrap();
            assert_relative_eq!(strut.elastic(0.04), 500.0, max_relative = 1e-9);
            let full = progression * 500.0 / 0.25;
            assert_relative_eq!(strut.elastic(0.16), full, max_relative = 1e-9);
        }
    }

    #[test]
    fn force_is_the_slope_of_the_energy_over_the_whole_reach() {
        let strut = Strut::new(500.0, 0.16, 0.25, 1.3, [0.0; 2]).unwrap();
        for s in [-0.01, 1e-5, 1e-3, 0.04, 0.159, 0.17, 0.2] {
            let h = 1e-6;
            let slope = (strut.energy(s + h) - strut.energy(s - h)) / (2.0 * h);
            assert_relative_eq!(slope, strut.elastic(s), max_relative = 1e-6, epsilon = 1e-6);
        }
    }

    #[test]
    fn a_stop_that_comes_back_fast_pushes_no_more() {
        let strut = Strut::new(500.0, 0.16, 0.25, 1.0, [0.0; 2]).unwrap();
        let push = |s: f64, rate: f64| strut.elastic(s) + strut.damping(s, rate);
        let linear = 500.0 / 0.04;
        assert_relative_eq!(push(0.17, 1.0), linear * (0.17 + 20.0 * 0.01), max_relative = 1e-12);
        assert_relative_eq!(push(0.17, -0.25), linear * (0.17 + 10.0 * 0.01), max_relative = 1e-12);
        assert_relative_eq!(push(0.17, -0.6), linear * 0.17, max_relative = 1e-12);
        assert_relative_eq!(push(-0.01, 0.6), -linear * 0.01, max_relative = 1e-12);
        assert_relative_eq!(push(-0.01, -0.6), -linear * 0.21, max_relative = 1e-12);
        assert_eq!([strut.way(0.17, -0.6), strut.way(0.1, -0.6)], [Way::OffStop, Way::Out]);
    }
}
