//! The rounding between the face of a search's landing and the ground.

use crate::{ground::Landing, math::Vec2};

/// An arc with its centre over it, in the landing's profile: along the heading from the crest line, up from its height.
#[derive(Debug, Clone)]
pub(super) struct Foot {
    radius: f64,
    centre: Vec2,
    /// Where it begins on the face, and where it runs out on the ground.
    ends: [Vec2; 2],
    /// The directions of travel there.
    ways: [Vec2; 2],
}

impl Foot {
    /// The rounding onto ground that falls by `run_out`, an angle, along the heading; without a radius, or on ground as
    /// steep as the face, the corner itself.
    pub(super) fn new(landing: &Landing, run_out: f64) -> Self {
        let (radius, slope) = (landing.foot_radius(), landing.slope());
        let tangent = radius * (0.5 * (slope - run_out).max(0.0)).tan();
        let way = |fall: f64| Vec2::new(fall.cos(), -fall.sin());
        let corner = landing.length() * Vec2::new(1.0, -slope.tan());
        let ends = [corner - tangent * way(slope), corner + tangent * way(run_out)];
        Self {
            radius: if tangent > 0.0 { radius } else { 0.0 },
            centre: ends[0] + radius * Vec2::new(slope.sin(), slope.cos()),
            ends,
            ways: [way(slope), way(run_out)],
        }
    }

    pub(super) fn is_rounded(&self) -> bool {
        self.radius > 0.0
    }

    pub(super) fn radius(&self) -> f64 {
        self.radius
    }

    pub(super) fn centre(&self) -> &Vec2 {
        &self.centre
    }

    /// The directions of travel at its ends.
    pub(super) fn ways(&self) -> [&Vec2; 2] {
        self.ways.each_ref()
    }

    /// From where to where it goes along the heading.
    pub(super) fn span(&self) -> [f64; 2] {
        [self.ends[0].x, self.ends[1].x]
    }

    /// Where it runs out.
    pub(super) fn end(&self) -> Vec2 {
        self.ends[1]
    }

    /// The height over the crest line and its change along the heading, within the rounding.
    pub(super) fn height(&self, along: f64) -> Option<(f64, f64)> {
        let [from, to] = self.span();
        if !self.is_rounded() || along < from || along > to {
            return None;
        }
        let run = along - self.centre.x;
        let depth = (self.radius * self.radius - run * run).max(1e-12).sqrt();
        Some((self.centre.y - depth, run / depth))
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_arc_touches_face_and_ground() {
        let landing = Landing::new(Vec2::zeros(), 0.0, 0.45, 5.0, 2.0)
            .and_then(|landing| landing.with_foot_radius(4.0))
            .expect("a landing");
        let foot = Foot::new(&landing, 0.1);
        let [from, to] = foot.span();
        let [(high, steep), (low, flat)] =
            [from, to].map(|along| foot.height(along).expect("on the arc"));
        assert!((high + from * 0.45_f64.tan()).abs() < 1e-12);
        assert!((steep + 0.45_f64.tan()).abs() < 1e-9 && (flat + 0.1_f64.tan()).abs() < 1e-9);
        assert!((Vec2::new(to, low) - foot.end()).norm() < 1e-12);
        let middle = 0.5 * (from + to);
        let (height, grade) = foot.height(middle).expect("on the arc");
        let up = 0.3 * Vec2::new(-grade, 1.0).normalize();
        let from = Vec2::new(middle, height) + up - foot.centre;
        assert!((foot.radius - from.norm() - 0.3).abs() < 1e-12, "its centre is straight over it");
        let sharp = landing.with_foot_radius(0.0).expect("a landing");
        assert!(!Foot::new(&sharp, 0.1).is_rounded());
        assert!(!Foot::new(&landing, 0.5).is_rounded(), "no rounding onto steeper ground");
    }
}
