//! The built surface around a deck that bends down only: deck strips, batters along the edges, cones at the corners.

use super::{
    FACET, Landing,
    deck::grades,
    shape::{Part, Shape},
};
use crate::math::{Vec2, Vec3};
use std::f64::consts::FRAC_PI_2;

/// A line of the surface that runs down and outwards from a corner of the deck.
///
/// `turn` is its direction in plan: 0 square off the side, negative to the back, positive ahead.
#[derive(Debug, Clone, Copy, PartialEq)]
struct Ray {
    turn: f64,
    fall: f64,
}

/// The deck and the rays that run down from its left edge; the right edge has the same.
#[derive(Debug, Clone, PartialEq)]
pub(super) struct Skeleton {
    landing: Landing,
    crest_height: f64,
    corners: Vec<Vec2>,
    rays: Vec<Vec<Ray>>,
}

impl Skeleton {
    /// The earth around the part of a deck between some of its corners, which have to bend down only.
    pub(super) fn new(landing: &Landing, corners: &[Vec2], crest_height: f64) -> Self {
        let rays = rays(&turns(landing, corners), landing.batter().tan());
        Self { landing: *landing, crest_height, corners: corners.to_vec(), rays }
    }

    /// The lowest height of the deck.
    pub(super) fn lowest(&self) -> f64 {
        self.crest_height + self.corners.iter().map(|c| c.y).fold(f64::INFINITY, f64::min)
    }

    /// The ends of all rays in plan, where they have come down to `bottom`.
    pub(super) fn rim(&self, bottom: f64) -> Vec<Vec2> {
        let ends = |side| self.rays_of(side, bottom).flat_map(|(_, ends)| ends);
        ends(1.0).chain(ends(-1.0)).map(|end| end.xy()).collect()
    }

    /// The shape down to `bottom`.
    pub(super) fn shape(&self, bottom: f64) -> Shape {
        let mut shape = Shape { vertices: Vec::new(), facets: Vec::new() };
        let left = self.add_side(&mut shape, 1.0, bottom);
        let right = self.add_side(&mut shape, -1.0, bottom);
        for (l, r) in left.windows(2).zip(right.windows(2)) {
            if let ([l0, l1], [r0, r1]) = (l, r) {
                shape.add(Part::Deck, vec![r0.corner, r1.corner, l1.corner, l0.corner]);
            }
        }
        if let (Some(l), Some(r)) = (left.first(), right.first()) {
            shape.add(Part::Back, vec![l.corner, l.first, r.first, r.corner]);
        }
        if let (Some(l), Some(r)) = (left.last(), right.last()) {
            shape.add(Part::Front, vec![r.corner, r.last, l.last, l.corner]);
        }
        shape
    }

    /// Adds the vertices and the facets of one side, and gives the vertices' numbers.
    fn add_side(&self, shape: &mut Shape, side: f64, bottom: f64) -> Vec<Spoke> {
        let mut spokes = Vec::with_capacity(self.corners.len());
        for (corner, ends) in self.rays_of(side, bottom) {
            let spoke = Spoke::add(shape, corner, ends);
            for end in spoke.first..spoke.last {
                shape.add(Part::Corner, vec![spoke.corner, end, end + 1]);
            }
            spokes.push(spoke);
        }
        for pair in spokes.windows(2) {
            if let [a, b] = pair {
                shape.add(Part::Side, vec![a.corner, b.corner, b.first, a.last]);
            }
        }
        spokes
    }

    /// Each corner of one edge of the deck with the ends of its rays, in the site's frame.
    fn rays_of(&self, side: f64, bottom: f64) -> impl Iterator<Item = (Vec3, Vec<Vec3>)> {
        self.corners.iter().zip(&self.rays).map(move |(corner, rays)| {
            let across = 0.5 * side * self.landing.width();
            let height = self.crest_height + corner.y;
            let ends = rays.iter().map(|ray| {
                let run = (height - bottom) / ray.fall;
                let along = corner.x + run * ray.turn.sin();
                self.landing.plan(along, across + side * run * ray.turn.cos()).push(bottom)
            });
            (self.landing.plan(corner.x, across).push(height), ends.collect())
        })
    }
}

/// The vertices' numbers of a corner of the deck and of the ends of its first and last ray.
struct Spoke {
    corner: u32,
    first: u32,
    last: u32,
}

impl Spoke {
    fn add(shape: &mut Shape, corner: Vec3, ends: Vec<Vec3>) -> Self {
        let corner_number = shape.push(corner);
        let ends: Vec<u32> = ends.into_iter().map(|end| shape.push(end)).collect();
        let number = |end: Option<&u32>| end.copied().unwrap_or(corner_number);
        Self { corner: corner_number, first: number(ends.first()), last: number(ends.last()) }
    }
}

/// The direction of steepest descent of the batter along each piece, back and front included.
///
/// A plane through an edge of grade `m` whose steepest grade is `t` falls along the edge by `-m` and
/// across it by `sqrt(t^2 - m^2)`.
pub(super) fn turns(landing: &Landing, corners: &[Vec2]) -> Vec<f64> {
    let steepest = landing.batter().tan();
    let along = |grade: f64| (-grade / steepest).clamp(-1.0, 1.0).asin();
    let back = std::iter::once(-FRAC_PI_2);
    back.chain(grades(corners).map(along)).chain(std::iter::once(FRAC_PI_2)).collect()
}

/// The rays at each corner between two pieces: where two neighbouring planes of the fan meet.
fn rays(turns: &[f64], steepest: f64) -> Vec<Vec<Ray>> {
    let corner = |pair: &[f64]| match pair {
        [before, after] => ridge(*before, *after, steepest),
        _ => Vec::new(),
    };
    turns.windows(2).map(corner).collect()
}

/// The planes of a cone between two batters touch it at equal turns; two neighbours meet half-way.
fn ridge(before: f64, after: f64, steepest: f64) -> Vec<Ray> {
    let pieces = ((after - before) / FACET).ceil().max(1.0);
    let step = (after - before) / pieces;
    let fall = steepest * (0.5 * step).cos();
    let mut rays = Vec::new();
    while (rays.len() as f64) < pieces {
        rays.push(Ray { turn: before + (rays.len() as f64 + 0.5) * step, fall });
    }
    rays
}
