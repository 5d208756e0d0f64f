//! How long a moving ball is sure not to touch something, seen from one moment of its path.

use super::bounds::Bounds;
use crate::math::Vec3;

/// Nearer than this a thing may be touched already, on whichever side of it rounding has put the ball; metres.
pub(super) const HAIR: f64 = 1e-8;

/// A moment of the path: the ball's place, motion and reach, and bounds on what may come within `span`.
#[derive(Debug, Clone, Copy)]
pub(super) struct Probe {
    pub(super) position: Vec3,
    pub(super) velocity: Vec3,
    pub(super) acceleration: Vec3,
    /// The most the acceleration may change, in m/s^3.
    pub(super) jerk: f64,
    /// The most the speed may be.
    pub(super) speed: f64,
    /// The ball's radius now.
    pub(super) reach: f64,
    /// How fast the radius grows now: it never grows faster later, for it is concave in time.
    pub(super) reach_rate: f64,
    /// How long the bounds hold, in seconds.
    pub(super) span: f64,
}

impl Probe {
    /// How long the ball is sure not to touch a thing at `distance`, with `normal` from its nearest point to the ball.
    ///
    /// Everything of the thing obeys `normal . w <= bend |w|^2 / 2` from that point; 0 where it is convex. From such a
    /// thing the distance is at least `d + normal . move - bend |move|^2 / (2 (1 - bend d))`.
    pub(super) fn clear(&self, distance: f64, normal: &Vec3, bend: f64) -> f64 {
        let gap = distance - self.reach;
        let lipschitz = gap / (self.speed + self.reach_rate);
        let slack = 1.0 - bend * distance;
        if bend == 0.0 {
            return self.until(gap, normal, self.reach_rate, 0.0);
        }
        if slack > 0.0 {
            let bent = self.until(gap, normal, self.reach_rate, bend / slack);
            return bent.max(lipschitz.min(self.span));
        }
        lipschitz.clamp(0.0, self.span)
    }

    /// How long the ball is sure not to touch a box: never more than for anything inside it.
    ///
    /// Infinite where `limit` passes before that, negative where the ball reaches into the box.
    pub(super) fn clear_box(&self, bounds: &Bounds, limit: f64) -> f64 {
        let away = self.position - bounds.nearest(&self.position);
        let square = away.norm_squared();
        let far = self.reach + (self.speed + self.reach_rate) * limit;
        if square > far * far {
            return f64::INFINITY;
        }
        let distance = square.sqrt();
        if distance <= self.reach + HAIR {
            // The deeper, the more promising.
            return distance - self.reach - HAIR;
        }
        self.until(distance - self.reach, &(away / distance), self.reach_rate, 0.0)
    }

    /// How long the ball's centre is sure to stay on the side `normal` points to, `gap` away from a plane.
    pub(super) fn stays(&self, gap: f64, normal: &Vec3) -> f64 {
        self.until(gap, normal, 0.0, 0.0)
    }

    /// The time at which `gap + (normal . v - rate) s + (normal . a / 2 - jerk s / 6 - bend speed^2 / 2) s^2` may reach 0.
    fn until(&self, gap: f64, normal: &Vec3, rate: f64, bend: f64) -> f64 {
        let slope = normal.dot(&self.velocity) - rate;
        let turn = 0.5 * normal.dot(&self.acceleration)
            - self.jerk * self.span / 6.0
            - 0.5 * bend * self.speed * self.speed;
        first_root(gap, slope, turn).min(self.span)
    }
}

/// The first `s > 0` at which `gap + slope s + turn s^2` comes down to 0; infinite for never, 0 for a gap not above 0 or NaN.
pub(super) fn first_root(gap: f64, slope: f64, turn: f64) -> f64 {
    if gap.is_nan() || gap <= 0.0 || slope.is_nan() || turn.is_nan() {
        return 0.0;
    }
    let under = slope * slope - 4.0 * turn * gap;
    if under < 0.0 || (turn >= 0.0 && slope >= 0.0) {
        return f64::INFINITY;
    }
    let root = under.sqrt();
    // Either form is free of cancellation where it is used.
    if slope > 0.0 { (slope + root) / (-2.0 * turn) } else { 2.0 * gap / (root - slope) }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    #[allow(clippy::float_cmp, reason = "what is exact is asked exactly")]
    fn first_roots_of_all_shapes() {
        let near = |a: f64, b: f64| assert!((a - b).abs() < 1e-12, "{a} is not {b}");
        near(first_root(1.0, -2.0, 0.0), 0.5);
        near(first_root(1.0, 1.0, -2.0), 1.0);
        near(first_root(2.0, -3.0, 1.0), 1.0);
        near(first_root(1e-30, 5.0, -1.0), 5.0);
        assert_eq!(first_root(2.0, -1.0, 1.0), f64::INFINITY);
        assert_eq!(first_root(1.0, 0.0, 0.0), f64::INFINITY);
        for bad in [0.0, -1.0, f64::NAN] {
            assert_eq!(first_root(bad, 1.0, 1.0), 0.0);
        }
    }
}
