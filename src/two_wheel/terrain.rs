//! What is ridden, from the side: profiles one after the other, with the edges and steps between them.

mod curve;
mod section;
mod touch;

pub use section::Section;
pub use touch::{Feature, Touch};

use super::error::TwoWheelError;
use crate::geometry::{Profile, Track};
use crate::math::Vec2;
use crate::math::range::finite;
use crate::math::spline::check_points;
use curve::Piece;
use serde::{Deserialize, Serialize};

/// How far below the lowest point the faces beside a gap go down, m.
const GAP_DEPTH: f64 = 3.0;
/// Steps lower than this are rounding, m.
const SMALLEST_STEP: f64 = 1e-9;
/// The sine of the smallest turn that makes a corner.
const SMALLEST_TURN: f64 = 1e-9;

/// What two wheels ride over, seen from the side: level distance along the travel and height, m.
///
/// Profiles follow one another; each keeps its own level distances and heights, so that all share one zero. Where one
/// begins at the distance at which the one before ends, a difference in height is a vertical face (a drop-off, or a
/// step up); where it begins farther on, there is a gap with a face on either side and no bottom. The ground is rigid.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct Terrain {
    pieces: Vec<Piece>,
    /// Whether the next piece starts where this one ends.
    joined: Vec<bool>,
    heading: f64,
}

impl Terrain {
    /// The terrain of profiles in the order in which they are ridden, along `+x`.
    ///
    /// Their placement in the site is left aside. Errors: no profile, or one that begins before the one before ends.
    pub fn new(profiles: &[Profile]) -> Result<Self, TwoWheelError> {
        let mut chains = Vec::new();
        for (index, profile) in profiles.iter().enumerate() {
            let (start, _) = profile.span();
            let before = index.checked_sub(1).map(|i| profiles[i].span().1);
            if let Some(end) = before.filter(|end| start < end - SMALLEST_STEP) {
                return Err(TwoWheelError::ProfilesOverlap { index, start, end });
            }
            let pairs = profile.breaks().windows(2).enumerate();
            chains.push(
                pairs.map(|(i, w)| Piece::of_profile(profile.curve(i), w[0], w[1])).collect(),
            );
        }
        Self::of(chains)
    }

    /// The terrain of straights between points, corners left sharp, along `+x`: at least two, distances rising.
    pub fn polyline(distance: &[f64], height: &[f64]) -> Result<Self, TwoWheelError> {
        check_points(distance, height)?;
        let points: Vec<Vec2> =
            distance.iter().zip(height).map(|(x, z)| Vec2::new(*x, *z)).collect();
        Self::of(vec![points.windows(2).map(|w| Piece::straight(w[0], w[1])).collect()])
    }

    /// The same terrain, ridden along a heading (radians from `+x`, counter-clockwise): wind is seen from there.
    pub fn with_heading(self, heading: f64) -> Result<Self, TwoWheelError> {
        let heading = finite("heading", heading)?;
        Ok(Self { heading, ..self })
    }

    /// The heading along which it is ridden, radians.
    pub const fn heading(&self) -> f64 {
        self.heading
    }

    /// The first and last level distance, m.
    pub fn span(&self) -> (f64, f64) {
        let ends = [self.pieces.first(), self.pieces.last()];
        (ends[0].map_or(0.0, |p| p.from.x), ends[1].map_or(0.0, |p| p.to.x))
    }

    /// The height at a level distance, m, and the slope there (rise over run); none off the terrain and in a gap.
    ///
    /// At an edge, what lies behind it counts.
    pub fn height(&self, distance: f64) -> Option<f64> {
        self.piece_over(distance).map(|piece| piece.height(distance))
    }

    /// Rise over run at a level distance, positive uphill; none off the terrain and in a gap.
    pub fn grade(&self, distance: f64) -> Option<f64> {
        let tangent = self.piece_over(distance)?.tangent(distance);
        Some(tangent.y / tangent.x)
    }

    /// Level distances and heights along the surface, faces too, no two farther apart than `spacing` level metres:
    /// for drawing. A gap stands as a point that is not a number.
    pub fn outline(&self, spacing: f64) -> Vec<Vec2> {
        let mut points: Vec<Vec2> = Vec::new();
        for (piece, is_joined) in self.pieces.iter().zip(&self.joined) {
            let width = piece.to.x - piece.from.x;
            let count = (width / spacing.max(1e-3)).ceil().max(1.0);
            let mut i = 0.0;
            while i < count {
                let x = piece.from.x + width * i / count;
                points.push(if i == 0.0 { piece.from } else { Vec2::new(x, piece.height(x)) });
                i += 1.0;
            }
            if !is_joined {
                points.push(piece.to);
                points.push(Vec2::repeat(f64::NAN));
            }
        }
        points.pop();
        points
    }

    /// Nothing, or the tightest hollow where it is tighter than a wheel.
    pub(super) fn check_hollows(&self, wheel_radius: f64) -> Result<(), TwoWheelError> {
        let tightest = self.pieces.iter().filter_map(Piece::tightest_hollow);
        match tightest.min_by(|a, b| a.0.total_cmp(&b.0)) {
            Some((radius, distance)) if radius <= wheel_radius => {
                Err(TwoWheelError::HollowTooTight { radius, distance, wheel_radius })
            }
            _ => Ok(()),
        }
    }

    /// The lowest height of a piece's end, m.
    pub(super) fn lowest(&self) -> f64 {
        self.pieces.iter().flat_map(|p| [p.from.y, p.to.y]).fold(f64::INFINITY, f64::min)
    }

    fn piece_over(&self, distance: f64) -> Option<&Piece> {
        let first = self.pieces.partition_point(|piece| piece.to.x < distance);
        self.pieces[first..]
            .iter()
            .take_while(|piece| piece.from.x <= distance)
            .find(|piece| piece.from.x < piece.to.x)
    }

    /// The terrain of chains of pieces, each begun where the one before ended or farther on.
    fn of(chains: Vec<Vec<Piece>>) -> Result<Self, TwoWheelError> {
        let lows = chains.iter().flatten().flat_map(|p| [p.from.y, p.to.y]);
        let bottom = lows.fold(f64::INFINITY, f64::min) - GAP_DEPTH;
        let (mut pieces, mut joined) = (Vec::<Piece>::new(), Vec::new());
        for chain in chains {
            if let (Some(last), Some(next)) = (pieces.last().copied(), chain.first()) {
                for face in faces(last.to, next.from, bottom) {
                    pieces.push(face);
                    joined.push(true);
                }
                if next.from.x > last.to.x + SMALLEST_STEP {
                    let up = joined.len() - 2;
                    joined[up] = false;
                }
            }
            joined.extend(chain.iter().map(|_| true));
            pieces.extend(chain);
        }
        if pieces.is_empty() {
            return Err(TwoWheelError::NoProfiles);
        }
        if let Some(last) = joined.last_mut() {
            *last = false;
        }
        Ok(Self { pieces, joined, heading: 0.0 })
    }
}

/// The vertical faces between the end of one profile and the start of the next.
fn faces(end: Vec2, start: Vec2, bottom: f64) -> Vec<Piece> {
    if start.x > end.x + SMALLEST_STEP {
        let foot = |at: Vec2| Vec2::new(at.x, bottom);
        return vec![Piece::straight(end, foot(end)), Piece::straight(foot(start), start)];
    }
    if (start.y - end.y).abs() <= SMALLEST_STEP {
        return Vec::new();
    }
    vec![Piece::straight(end, Vec2::new(end.x, start.y))]
}
