//! Surveyed points, with flat triangles between neighbours.

use super::domain::Domain;
use super::error::GroundError;
use super::mesh::Mesh;
use crate::math::range::{FARTHEST, coordinate};
use crate::math::{Vec2, Vec3};
use serde::{Deserialize, Serialize};
use spade::{DelaunayTriangulation, HasPosition, Point2, Triangulation};
use std::collections::HashMap;

/// A surface through surveyed points: the Delaunay triangles between them in plan, known within their convex hull.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[serde(try_from = "Vec<Vec3>", into = "Vec<Vec3>")]
pub struct Survey {
    mesh: Mesh,
    hull: Vec<usize>,
    domain: Domain,
}

struct Spot {
    index: usize,
    place: Point2<f64>,
}

impl HasPosition for Spot {
    type Scalar = f64;
    fn position(&self) -> Point2<f64> {
        self.place
    }
}

impl Survey {
    /// The surface through these points, in any order; metres.
    ///
    /// At least three, not all on one line, no two at the same plan position.
    pub fn new(points: &[Vec3]) -> Result<Self, GroundError> {
        check(points)?;
        let spots =
            points.iter().enumerate().map(|(index, p)| Spot { index, place: place(p) }).collect();
        let net = DelaunayTriangulation::<Spot>::bulk_load(spots).map_err(|_| farthest(points))?;
        if net.all_vertices_on_line() {
            return Err(GroundError::OnOneLine { given: points.len() });
        }
        let triangles = net
            .inner_faces()
            .map(|face| face.vertices().map(|v| u32::try_from(v.data().index).unwrap_or(u32::MAX)))
            .collect();
        // The hull runs clockwise seen from outside the triangles, where its edges look.
        let mut hull: Vec<usize> = net.convex_hull().map(|edge| edge.from().data().index).collect();
        let corner = |i: &usize| Vec2::new(points[*i].x, points[*i].y);
        if area(&hull.iter().map(corner).collect::<Vec<_>>()) < 0.0 {
            hull.reverse();
        }
        let corners: Vec<Vec2> = hull.iter().map(corner).collect();
        let mesh = Mesh::new(points.to_vec(), triangles)?;
        Ok(Self { mesh, hull, domain: Domain::inside(&corners) })
    }

    /// The surveyed points, in the order they were given.
    pub fn points(&self) -> &[Vec3] {
        self.mesh.vertices()
    }

    /// The triangles between the points.
    pub fn mesh(&self) -> &Mesh {
        &self.mesh
    }

    /// The points around the outside, counter-clockwise, by their places in [`Self::points`].
    pub fn hull(&self) -> &[usize] {
        &self.hull
    }

    /// The edges around the survey.
    pub(super) fn rim(&self) -> Vec<[Vec3; 2]> {
        let next = self.hull.iter().cycle().skip(1);
        self.hull.iter().zip(next).map(|(a, b)| [*a, *b].map(|i| self.points()[i])).collect()
    }

    pub(super) fn domain(&self) -> &Domain {
        &self.domain
    }
}

impl TryFrom<Vec<Vec3>> for Survey {
    type Error = GroundError;
    fn try_from(points: Vec<Vec3>) -> Result<Self, GroundError> {
        Self::new(&points)
    }
}

impl From<Survey> for Vec<Vec3> {
    fn from(survey: Survey) -> Self {
        survey.points().to_vec()
    }
}

fn check(points: &[Vec3]) -> Result<(), GroundError> {
    let given = points.len();
    if given < 3 {
        return Err(GroundError::TooFewPoints { given });
    }
    for (index, p) in points.iter().enumerate() {
        if !p.iter().all(|x| x.is_finite()) {
            return Err(GroundError::PointNotFinite { index, x: p.x, y: p.y, z: p.z });
        }
        if p.xy().amax() > FARTHEST {
            return Err(GroundError::TooFar { index, x: p.x, y: p.y });
        }
        coordinate("points.z", p.z)?;
    }
    let mut seen = HashMap::with_capacity(points.len());
    for (second, p) in points.iter().enumerate() {
        // Adding zero makes one zero of the two signs.
        let key = ((p.x + 0.0).to_bits(), (p.y + 0.0).to_bits());
        if let Some(first) = seen.insert(key, second) {
            return Err(GroundError::SamePlace { first, second, x: p.x, y: p.y });
        }
    }
    Ok(())
}

/// The plan position, without the tiny coordinates that the triangulation refuses.
fn place(p: &Vec3) -> Point2<f64> {
    spade::mitigate_underflow(Point2::new(p.x, p.y))
}

/// The error for coordinates too large to triangulate: the farthest point of all.
fn farthest(points: &[Vec3]) -> GroundError {
    let size = |p: &Vec3| p.x.abs().max(p.y.abs());
    let worst = points.iter().enumerate().max_by(|a, b| size(a.1).total_cmp(&size(b.1)));
    let (index, p) = worst.map_or((0, Vec3::zeros()), |(i, p)| (i, *p));
    GroundError::TooFar { index, x: p.x, y: p.y }
}

/// Twice the area of a polygon, positive counter-clockwise.
fn area(corners: &[Vec2]) -> f64 {
    let next = corners.iter().cycle().skip(1);
    let Some(first) = corners.first() else { return 0.0 };
    corners.iter().zip(next).map(|(a, b)| (a - first).perp(&(b - first))).sum()
}

#[cfg(test)]
mod tests;
