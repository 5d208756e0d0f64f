//! A terrain cut out of a ground along a heading.

use super::Terrain;
use super::curve::{Piece, Shape};
use crate::ground::Ground;
use crate::math::Vec2;
use crate::math::range::{finite, within};
use crate::two_wheel::error::TwoWheelError;

/// Heights are taken so far apart, m.
const SPACING: f64 = 0.05;
/// How far points that are left out may lie off the straights that remain, m.
const FLATNESS: f64 = 1e-3;
/// The most of a straight that the rounding of a corner takes, m.
const ROUNDING: f64 = 0.1;
/// Corners that this would round tighter are left sharp, m.
const SHARPEST: f64 = 0.5;
/// The longest section, m: more is a mistake of units.
const LONGEST: f64 = 10_000.0;

/// Where a ground is cut: from a plan position, along a heading, so far.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Section {
    /// Where it begins, plan position, m.
    pub from: Vec2,
    /// Along which heading, radians from `+x`, counter-clockwise.
    pub heading: f64,
    /// How long, level metres, above 0 and at most 10 000.
    pub length: f64,
}

impl Terrain {
    /// The terrain along a section of a ground, level distances counted from where the section begins.
    ///
    /// Heights are taken every 0.05 m and those within 1 mm of a straight left out; corners are rounded over at most
    /// 0.1 m to either side, sharp ones (below a radius of 0.5 m) left as they are. Rounding moves a corner of 20
    /// degrees by 9 mm. Errors: a section that leaves the ground, with the place.
    pub fn over(ground: &Ground, section: &Section) -> Result<Self, TwoWheelError> {
        within("length", section.length, SPACING, LONGEST)?;
        finite("heading", section.heading)?;
        finite("from", section.from.x + section.from.y)?;
        let (sin, cos) = section.heading.sin_cos();
        let count = (section.length / SPACING).ceil();
        let mut points = Vec::new();
        let mut i = 0.0;
        while i <= count {
            let distance = section.length * i / count;
            let (x, y) = (section.from.x + distance * cos, section.from.y + distance * sin);
            let height = ground.height(x, y).ok_or(TwoWheelError::OffGround { distance, x, y })?;
            points.push(Vec2::new(distance, height));
            i += 1.0;
        }
        Self::of(vec![rounded(&simplified(&points))])?.with_heading(section.heading)
    }
}

/// The points without those that lie within [`FLATNESS`] of the straights between the others (Douglas and Peucker).
fn simplified(points: &[Vec2]) -> Vec<Vec2> {
    let mut keep = vec![false; points.len()];
    let last = points.len() - 1;
    (keep[0], keep[last]) = (true, true);
    let mut queue = vec![(0, last)];
    while let Some((a, b)) = queue.pop() {
        let along = (points[b] - points[a]).normalize();
        let off = |i: usize| {
            let arm = points[i] - points[a];
            (arm.x * along.y - arm.y * along.x).abs()
        };
        let farthest = (a + 1..b).max_by(|i, j| off(*i).total_cmp(&off(*j)));
        if let Some(i) = farthest.filter(|i| off(*i) > FLATNESS) {
            keep[i] = true;
            queue.extend([(a, i), (i, b)]);
        }
    }
    points.iter().zip(keep).filter_map(|(point, is_kept)| is_kept.then_some(*point)).collect()
}

/// Straights between the points with their corners rounded where that is not too tight.
fn rounded(points: &[Vec2]) -> Vec<Piece> {
    let mut pieces = Vec::new();
    let mut from = points[0];
    for corner in points.windows(3) {
        let (before, after) = (corner[1] - corner[0], corner[2] - corner[1]);
        let taken = ROUNDING.min(0.499 * before.norm().min(after.norm()));
        let (a, b) = (before.normalize(), after.normalize());
        let turn = (a.x * b.y - a.y * b.x).atan2(a.dot(&b));
        let radius = taken / (0.5 * turn.abs()).tan();
        let (arc_from, arc_to) = if turn.abs() < 1e-7 || radius < SHARPEST {
            (corner[1], corner[1])
        } else {
            (corner[1] - a * taken, corner[1] + b * taken)
        };
        pieces.push(Piece::straight(from, arc_from));
        if arc_to.x > arc_from.x {
            let is_hollow = turn > 0.0;
            let in_turn = Vec2::new(-a.y, a.x) * turn.signum();
            let shape = Shape::Arc { centre: arc_from + in_turn * radius, radius, is_hollow };
            pieces.push(Piece { shape, from: arc_from, to: arc_to });
        }
        from = arc_to;
    }
    pieces.push(Piece::straight(from, points[points.len() - 1]));
    pieces
}
