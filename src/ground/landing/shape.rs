//! The built surface as plane facets between shared vertices.

use crate::math::{Vec2, Vec3, bilinear::Bilinear, polygon::Polygon};
use serde::{Deserialize, Serialize};

/// What a facet is part of.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize)]
#[non_exhaustive]
pub enum Part {
    /// Crest rounding, face or foot rounding.
    Deck,
    /// The batter behind the crest.
    Back,
    /// The batter along the deck's sides.
    Side,
    /// A facet of a cone on a corner of the deck's profile.
    Corner,
    /// The batter under the foot.
    Front,
}

/// One plane facet of a built landing.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct Facet {
    /// What it is part of.
    pub part: Part,
    /// Which vertices of the shape are its corners, counter-clockwise from above.
    pub corners: Vec<u32>,
}

/// The vertices of a built landing and the facets between them.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct Shape {
    /// Positions in the site's frame.
    pub vertices: Vec<Vec3>,
    /// The facets; each side of one is shared with one other, but at the lower rim.
    pub facets: Vec<Facet>,
}

impl Shape {
    /// The facet's corners in the site's frame.
    pub fn corners<'a>(&'a self, facet: &'a Facet) -> impl Iterator<Item = Vec3> + 'a {
        facet.corners.iter().filter_map(|corner| self.vertices.get(*corner as usize)).copied()
    }

    /// The facet's outline in plan.
    pub fn outline(&self, facet: &Facet) -> Polygon {
        Polygon::new(self.corners(facet).map(|corner| corner.xy()).collect())
    }

    /// The unit normal of the facet, upwards.
    pub fn normal(&self, facet: &Facet) -> Vec3 {
        let corners: Vec<Vec3> = self.corners(facet).collect();
        let Some(first) = corners.first() else { return Vec3::z() };
        let pairs = corners.iter().skip(1).zip(corners.iter().skip(2));
        let sum: Vec3 = pairs.map(|(a, b)| (a - first).cross(&(b - first))).sum();
        sum.try_normalize(0.0).unwrap_or_else(Vec3::z)
    }

    /// The plane of the facet as a height over the plan.
    pub fn plane(&self, facet: &Facet) -> Bilinear {
        let normal = self.normal(facet);
        let at = self.corners(facet).next().unwrap_or_else(Vec3::zeros);
        Bilinear::plane(at.xy(), at.z, -normal.xy() / normal.z)
    }

    pub(super) fn push(&mut self, vertex: Vec3) -> u32 {
        self.vertices.push(vertex);
        u32::try_from(self.vertices.len() - 1).unwrap_or(u32::MAX)
    }

    pub(super) fn add(&mut self, part: Part, mut corners: Vec<u32>) {
        let at =
            |corner: &u32| self.vertices.get(*corner as usize).map_or_else(Vec2::zeros, Vec3::xy);
        let area: f64 =
            fan(&corners).map(|[a, b, c]| (at(&b) - at(&a)).perp(&(at(&c) - at(&a)))).sum();
        if area < 0.0 {
            corners.reverse();
        }
        self.facets.push(Facet { part, corners });
    }

    /// The facets cut into triangles, as vertex numbers, counter-clockwise from above.
    pub fn triangles(&self) -> Vec<[u32; 3]> {
        self.facets.iter().flat_map(|facet| fan(&facet.corners)).collect()
    }
}

fn fan(corners: &[u32]) -> impl Iterator<Item = [u32; 3]> + '_ {
    let pairs = corners.iter().skip(1).zip(corners.iter().skip(2));
    corners
        .first()
        .into_iter()
        .flat_map(move |first| pairs.clone().map(|(second, third)| [*first, *second, *third]))
}
