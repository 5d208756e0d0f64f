//! Where a wheel's circle meets the terrain.

use super::curve::{Foot, Piece};
use super::{SMALLEST_TURN, Terrain};
use crate::math::Vec2;
use serde::{Deserialize, Serialize};

/// How far a second contact must still be pressed in to count beside the deepest, m.
const SAME_PLACE: f64 = 1e-11;
/// Steps of Newton to the place where a wheel touches in two places at once.
const MOST_STEPS: usize = 8;
/// How far past a corner's own cone the corner still answers, m.
const SLACK: f64 = 1e-9;
/// A hub deeper below a surface than this share of the wheel's radius is behind it, not pressed into it.
const BEHIND: f64 = -0.5;

/// What of the terrain a wheel touches.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
#[non_exhaustive]
pub enum Feature {
    /// A smooth piece, counted from the start, faces included.
    Piece(usize),
    /// The edge at the end of a piece.
    Edge(usize),
    /// Two of them at once, as in the foot of a face.
    Hollow(usize, usize),
}

/// A wheel that touches the terrain.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Touch {
    /// How far the ground reaches into the wheel's circle, m.
    pub depth: f64,
    /// The unit vector from the ground to the hub.
    pub normal: Vec2,
    /// What is touched.
    pub feature: Feature,
}

/// A foot, and what it stands on.
#[derive(Debug, Clone, Copy)]
struct Near {
    foot: Foot,
    feature: Feature,
    /// How far the circle is pressed in.
    depth: f64,
}

impl Terrain {
    /// Where the circle of `radius` about `c` meets the terrain; none where it does not.
    ///
    /// Depth and normal change smoothly with `c`: the depth is the way to the nearest place where the circle would be
    /// free. On a smooth stretch or an edge that is along the line to the closest point; where the circle meets two
    /// places at once it is the shortest way clear of both.
    pub fn touch(&self, c: Vec2, radius: f64) -> Option<Touch> {
        let mut deepest: Option<Near> = None;
        self.for_each_near(c, radius, |near| {
            if deepest.is_none_or(|best| near.depth > best.depth) {
                deepest = Some(near);
            }
        });
        let deepest = deepest?;
        let both = self
            .second(c, radius, &deepest)
            .and_then(|second| self.clear_of_both(c, radius, &deepest, &second));
        Some(both.unwrap_or(Touch {
            depth: deepest.depth,
            normal: deepest.foot.normal,
            feature: deepest.feature,
        }))
    }

    /// What the circle is pressed into most, once moved clear of the deepest, seen from there: from where it is now, the
    /// closest point of the other side of a foot may lie beyond that side's end.
    fn second(&self, c: Vec2, radius: f64, deepest: &Near) -> Option<Near> {
        let mut worst: Option<Near> = None;
        self.for_each_near(c + deepest.foot.normal * deepest.depth, radius, |near| {
            let is_worse = worst.is_none_or(|worst| near.depth > worst.depth);
            if near.feature != deepest.feature && near.depth > SAME_PLACE && is_worse {
                worst = Some(near);
            }
        });
        worst
    }

    /// The shortest way to where the circle just touches both, the second seen from where it is clear of the first; none where
    /// they are one place to rounding.
    fn clear_of_both(&self, c: Vec2, radius: f64, a: &Near, b: &Near) -> Option<Touch> {
        let mut way = a.foot.normal * a.depth;
        let (mut foot_a, mut foot_b) = (Foot { distance: radius, ..a.foot }, b.foot);
        for _ in 0..MOST_STEPS {
            let (n, m) = (foot_a.normal, foot_b.normal);
            let cross = n.x * m.y - n.y * m.x;
            if cross.abs() < 1e-9 {
                return None;
            }
            let (p, q) = (radius - foot_a.distance, radius - foot_b.distance);
            let step = Vec2::new(p * m.y - q * n.y, q * n.x - p * m.x) / cross;
            way += step;
            if step.norm() <= 1e-15 {
                break;
            }
            foot_a = self.foot_on(a.feature, c + way)?;
            foot_b = self.foot_on(b.feature, c + way)?;
        }
        let depth = way.norm();
        let sorted = |a, b| if a < b { Feature::Hollow(a, b) } else { Feature::Hollow(b, a) };
        let feature = sorted(a.feature.piece(), b.feature.piece());
        (depth > 0.0).then(|| Touch { depth, normal: way / depth, feature })
    }

    fn foot_on(&self, feature: Feature, c: Vec2) -> Option<Foot> {
        match feature {
            Feature::Edge(i) => from_point(self.pieces[i].to, c),
            Feature::Piece(i) | Feature::Hollow(i, _) => self.pieces[i].free_foot(c),
        }
    }

    /// Every piece and edge that the circle about `c` is pressed into.
    fn for_each_near(&self, c: Vec2, radius: f64, mut found: impl FnMut(Near)) {
        let first = self.pieces.partition_point(|piece| piece.to.x < c.x - radius);
        for (i, piece) in self.pieces.iter().enumerate().skip(first) {
            if piece.from.x > c.x + radius {
                break;
            }
            let mut offer = |foot: Option<Foot>, feature| {
                if let Some(foot) = foot
                    && foot.distance < radius
                    && foot.distance > BEHIND * radius
                {
                    found(Near { foot, feature, depth: radius - foot.distance });
                }
            };
            offer(piece.foot(c), Feature::Piece(i));
            offer(self.edge_foot(i, piece, c), Feature::Edge(i));
        }
    }

    /// The foot on the edge at the end of a piece, where there is one and it is what is closest.
    fn edge_foot(&self, i: usize, piece: &Piece, c: Vec2) -> Option<Foot> {
        let next = self.pieces.get(i + 1).filter(|_| self.joined.get(i) == Some(&true))?;
        let (before, after) = (piece.tangent(piece.to.x), next.tangent(next.from.x));
        if before.x * after.y - before.y * after.x > -SMALLEST_TURN {
            return None;
        }
        let arm = c - piece.to;
        let is_in = arm.dot(&before) >= -SLACK && arm.dot(&after) <= SLACK;
        is_in.then(|| from_point(piece.to, c)).flatten()
    }
}

impl Feature {
    fn piece(self) -> usize {
        match self {
            Self::Piece(i) | Self::Edge(i) | Self::Hollow(i, _) => i,
        }
    }
}

fn from_point(at: Vec2, c: Vec2) -> Option<Foot> {
    let arm = c - at;
    let distance = arm.norm();
    (distance > 0.0).then(|| Foot { distance, normal: arm / distance })
}

#[cfg(test)]
mod tests;
