//! One smooth piece of a terrain, and the place on it that is closest to a point.

use crate::geometry::ProfileCurve;
use crate::math::Vec2;
use serde::{Deserialize, Serialize};

/// How far beyond its ends a piece still answers, m: so that no point falls between two pieces by rounding.
const SLACK: f64 = 1e-9;
/// Newton's steps to the closest place on a cubic; from a good start it takes three to five.
const MOST_STEPS: usize = 20;
/// Curvature of a cubic is looked at in so many places.
const LOOKS: usize = 32;

/// The shape of a piece. Its solid lies to the right of the way along it.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize)]
pub(super) enum Shape {
    /// A straight along a unit vector; also a vertical face.
    Straight { along: Vec2 },
    /// Part of a circle: the lower half of a hollow's, the upper half of a crest's.
    Arc { centre: Vec2, radius: f64, is_hollow: bool },
    /// Height as a polynomial in the level distance from the piece's start.
    Cubic { terms: [f64; 4] },
}

/// A smooth piece from one point to another, level distance and height, m.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize)]
pub(super) struct Piece {
    pub(super) shape: Shape,
    pub(super) from: Vec2,
    pub(super) to: Vec2,
}

/// The place on the terrain that is closest to a point.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) struct Foot {
    /// How far off the surface the point is, m; negative under it.
    pub(super) distance: f64,
    /// The unit vector out of the ground there.
    pub(super) normal: Vec2,
}

impl Piece {
    /// A straight between two points that lie apart.
    pub(super) fn straight(from: Vec2, to: Vec2) -> Self {
        Self { shape: Shape::Straight { along: (to - from).normalize() }, from, to }
    }

    /// The part of a profile's curve between two level distances.
    pub(super) fn of_profile(curve: ProfileCurve, from: f64, to: f64) -> Self {
        match curve {
            ProfileCurve::Straight { at, gradient } => {
                let place = |x: f64| Vec2::new(x, at.y + gradient * (x - at.x));
                Self::straight(place(from), place(to))
            }
            ProfileCurve::Arc { centre, radius, is_hollow } => {
                let shape = Shape::Arc { centre, radius, is_hollow };
                let place = |x: f64| {
                    let rise = (radius * radius - (x - centre.x).powi(2)).max(0.0).sqrt();
                    Vec2::new(x, if is_hollow { centre.y - rise } else { centre.y + rise })
                };
                Self { shape, from: place(from), to: place(to) }
            }
            ProfileCurve::Cubic { terms, .. } => Self {
                shape: Shape::Cubic { terms },
                from: Vec2::new(from, terms[0]),
                to: Vec2::new(to, cubic(&terms, to - from).0),
            },
        }
    }

    /// The unit vector along the way at a level distance on the piece.
    pub(super) fn tangent(&self, x: f64) -> Vec2 {
        match self.shape {
            Shape::Straight { along } => along,
            Shape::Arc { centre, radius, is_hollow } => {
                let across = ((x - centre.x) / radius).clamp(-1.0, 1.0);
                let sine = if is_hollow { across } else { -across };
                Vec2::new((1.0 - across * across).sqrt(), sine)
            }
            Shape::Cubic { terms } => Vec2::new(1.0, cubic(&terms, x - self.from.x).1).normalize(),
        }
    }

    /// The height at a level distance on the piece; of a vertical face, its start.
    pub(super) fn height(&self, x: f64) -> f64 {
        match self.shape {
            Shape::Straight { along } if along.x > 0.0 => {
                self.from.y + (x - self.from.x) * along.y / along.x
            }
            Shape::Straight { .. } => self.from.y,
            Shape::Arc { centre, radius, is_hollow } => {
                let rise = (radius * radius - (x - centre.x).powi(2)).max(0.0).sqrt();
                if is_hollow { centre.y - rise } else { centre.y + rise }
            }
            Shape::Cubic { terms } => cubic(&terms, x - self.from.x).0,
        }
    }

    /// The least radius of the hollows of the piece, m, and the level distance where it is; none without a hollow.
    pub(super) fn tightest_hollow(&self) -> Option<(f64, f64)> {
        match self.shape {
            Shape::Arc { radius, is_hollow: true, .. } => Some((radius, self.from.x)),
            Shape::Cubic { terms } => {
                let width = self.to.x - self.from.x;
                let look = |i: usize| {
                    let x = width * i as f64 / LOOKS as f64;
                    let (_, slope, bend) = cubic(&terms, x);
                    let radius = slope.hypot(1.0).powi(3) / bend;
                    (bend > 0.0).then_some((radius, self.from.x + x))
                };
                (0..=LOOKS).filter_map(look).min_by(|a, b| a.0.total_cmp(&b.0))
            }
            _ => None,
        }
    }

    /// The closest place of the piece where that lies between its ends; what is beyond them is another's.
    pub(super) fn foot(&self, c: Vec2) -> Option<Foot> {
        let foot = self.free_foot(c)?;
        let is_on = if let Shape::Straight { along } = self.shape {
            let way = (c - self.from).dot(&along);
            way >= -SLACK && way <= (self.to - self.from).norm() + SLACK
        } else {
            let x = c.x - foot.normal.x * foot.distance;
            x >= self.from.x - SLACK && x <= self.to.x + SLACK
        };
        is_on.then_some(foot)
    }

    /// The closest place on the curve that makes the piece, also beyond the piece's ends; none where there is no
    /// single one.
    pub(super) fn free_foot(&self, c: Vec2) -> Option<Foot> {
        match self.shape {
            Shape::Straight { along } => {
                let normal = Vec2::new(-along.y, along.x);
                Some(Foot { distance: (c - self.from).dot(&normal), normal })
            }
            Shape::Arc { centre, radius, is_hollow } => {
                let arm = c - centre;
                let length = arm.norm();
                if length <= f64::MIN_POSITIVE || (arm.y > 0.0) == is_hollow {
                    return None;
                }
                let out = arm / length;
                Some(if is_hollow {
                    Foot { distance: radius - length, normal: -out }
                } else {
                    Foot { distance: length - radius, normal: out }
                })
            }
            Shape::Cubic { terms } => self.foot_on_cubic(&terms, c),
        }
    }

    fn foot_on_cubic(&self, terms: &[f64; 4], c: Vec2) -> Option<Foot> {
        let at = c - Vec2::new(self.from.x, 0.0);
        // Where a straight of the middle's slope would have it.
        let width = self.to.x - self.from.x;
        let middle = at.x.clamp(0.0, width);
        let (z, slope, _) = cubic(terms, middle);
        let mut x = middle + ((at.x - middle) + (at.y - z) * slope) / (1.0 + slope * slope);
        for _ in 0..MOST_STEPS {
            let (z, slope, bend) = cubic(terms, x);
            let off = (x - at.x) + (z - at.y) * slope;
            let rate = 1.0 + slope * slope + (z - at.y) * bend;
            if !(rate > 0.0 && (x - middle).abs() <= 10.0 * width) {
                return None;
            }
            let step = off / rate;
            x -= step;
            if step.abs() <= 1e-14 * (1.0 + x.abs()) {
                break;
            }
        }
        let (z, slope, _) = cubic(terms, x);
        let normal = Vec2::new(-slope, 1.0) / slope.hypot(1.0);
        Some(Foot { distance: (at - Vec2::new(x, z)).dot(&normal), normal })
    }
}

/// Value, slope and second derivative.
fn cubic(terms: &[f64; 4], x: f64) -> (f64, f64, f64) {
    let [a, b, c, d] = *terms;
    (a + x * (b + x * (c + x * d)), b + x * (2.0 * c + x * 3.0 * d), 2.0 * c + 6.0 * d * x)
}
