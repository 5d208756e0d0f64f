//! A surface of triangles with a tree over them: exact distance, height and normal.

use super::bounds::Bounds;
use super::error::MeshError;
use super::nearest::Nearest;
use super::tree::{Quest, Tree};
use super::triangle;
use crate::math::Vec3;
use serde::{Deserialize, Serialize};

/// A surface of triangles, of which none overhangs; the solid is what lies under it.
///
/// Which way round a triangle's corners run does not matter: its normal is the one that does not point down.
#[derive(Debug, Clone, Serialize, Deserialize)]
#[serde(try_from = "Parts", into = "Parts")]
pub struct Mesh {
    vertices: Vec<Vec3>,
    triangles: Vec<[u32; 3]>,
    normals: Vec<Vec3>,
    convex: bool,
    tree: Tree,
}

/// What a mesh is made from, and kept as in a file.
#[derive(Clone, Serialize, Deserialize)]
struct Parts {
    vertices: Vec<Vec3>,
    triangles: Vec<[u32; 3]>,
    convex: bool,
}

impl Mesh {
    /// The surface of these triangles, each three indices into the vertices.
    ///
    /// Triangles without area are kept, and touched as the segments they are.
    pub fn new(vertices: Vec<Vec3>, triangles: Vec<[u32; 3]>) -> Result<Self, MeshError> {
        check(&vertices, &triangles)?;
        let corners = |t: &[u32; 3]| t.map(|i| vertices[i as usize]);
        let normals = triangles.iter().map(|t| triangle::normal(&corners(t))).collect();
        let boxes: Vec<Bounds> = triangles.iter().map(|t| Bounds::of(&corners(t))).collect();
        let tree = Tree::over(&boxes);
        Ok(Self { vertices, triangles, normals, convex: false, tree })
    }

    /// The same surface, known to bound a convex solid above its lowest edge: a search then takes fewer looks.
    ///
    /// A mesh called convex that is not gives touches that come too late.
    pub fn with_convex(self) -> Self {
        Self { convex: true, ..self }
    }

    /// Whether the solid is known to be convex.
    pub fn is_convex(&self) -> bool {
        self.convex
    }

    /// The vertices, in the order they were given.
    pub fn vertices(&self) -> &[Vec3] {
        &self.vertices
    }

    /// The triangles, each three indices into the vertices.
    pub fn triangles(&self) -> &[[u32; 3]] {
        &self.triangles
    }

    /// The corners of a triangle, by its place in [`Self::triangles`].
    pub fn corners(&self, triangle: usize) -> Option<[Vec3; 3]> {
        self.triangles.get(triangle).map(|t| t.map(|i| self.vertices[i as usize]))
    }

    /// The box about the whole surface.
    pub fn bounds(&self) -> Bounds {
        self.tree.bounds()
    }

    /// The height of the surface over a plan position; `None` beside it. Over a vertical step, the upper end.
    pub fn height(&self, x: f64, y: f64) -> Option<f64> {
        self.over(x, y).map(|top| top.height)
    }

    /// The unit normal of the surface over a plan position; `None` beside it.
    pub fn normal(&self, x: f64, y: f64) -> Option<Vec3> {
        self.over(x, y).map(|top| self.normals[top.triangle])
    }

    /// The nearest place to `c` that lies within a distance; `None` where the surface is farther, or `c` is not finite.
    ///
    /// Exact: the closed form of each triangle, to rounding. A point below the surface has distance 0.
    pub fn nearest(&self, c: Vec3, within: f64) -> Option<Nearest> {
        if let Some(top) = self.over(c.x, c.y)
            && c.z <= top.height
        {
            return Nearest::below(c, self.normals[top.triangle], within);
        }
        self.nearest_above(c, within)
    }

    /// As [`Self::nearest`], for a point known not to lie below the surface.
    pub(super) fn nearest_above(&self, c: Vec3, within: f64) -> Option<Nearest> {
        let mut quest = Closest { mesh: self, c, square: square_over(within), found: None };
        self.tree.search(&mut quest);
        quest
            .found
            .map(|(piece, point, inside)| Nearest::seen(c, point, self.normals[piece], inside))
    }

    pub(super) fn tree(&self) -> &Tree {
        &self.tree
    }

    /// A triangle's corners and unit normal.
    pub(super) fn facet(&self, triangle: usize) -> ([Vec3; 3], Vec3) {
        (self.triangles[triangle].map(|i| self.vertices[i as usize]), self.normals[triangle])
    }

    fn over(&self, x: f64, y: f64) -> Option<Top> {
        let mut quest = Highest { mesh: self, x, y, top: None };
        self.tree.search(&mut quest);
        quest.top
    }
}

impl PartialEq for Mesh {
    fn eq(&self, other: &Self) -> bool {
        self.vertices == other.vertices
            && self.triangles == other.triangles
            && self.convex == other.convex
    }
}

impl TryFrom<Parts> for Mesh {
    type Error = MeshError;
    fn try_from(parts: Parts) -> Result<Self, MeshError> {
        let mesh = Self::new(parts.vertices, parts.triangles)?;
        Ok(Self { convex: parts.convex, ..mesh })
    }
}

impl From<Mesh> for Parts {
    fn from(mesh: Mesh) -> Self {
        Self { vertices: mesh.vertices, triangles: mesh.triangles, convex: mesh.convex }
    }
}

fn check(vertices: &[Vec3], triangles: &[[u32; 3]]) -> Result<(), MeshError> {
    if triangles.is_empty() {
        return Err(MeshError::Empty);
    }
    if let Some(index) = vertices.iter().position(|v| !v.iter().all(|x| x.is_finite())) {
        return Err(MeshError::NotFinite { index });
    }
    let beyond = |i: &&u32| **i as usize >= vertices.len();
    for (triangle, corners) in triangles.iter().enumerate() {
        if let Some(vertex) = corners.iter().find(beyond) {
            return Err(MeshError::NoVertex { triangle, vertex: *vertex, count: vertices.len() });
        }
    }
    Ok(())
}

/// The square of a distance, over it by some units of rounding so that the distance itself counts.
fn square_over(within: f64) -> f64 {
    if within >= 0.0 { (within * within * (1.0 + 8.0 * f64::EPSILON)).next_up() } else { 0.0 }
}

/// The highest triangle over a plan position.
#[derive(Clone, Copy)]
struct Top {
    height: f64,
    triangle: usize,
}

struct Highest<'a> {
    mesh: &'a Mesh,
    x: f64,
    y: f64,
    top: Option<Top>,
}

impl Quest for Highest<'_> {
    fn key(&self, bounds: &Bounds) -> f64 {
        if bounds.contains_plan(self.x, self.y) { -bounds.high.z } else { f64::INFINITY }
    }
    fn limit(&self) -> f64 {
        self.top.map_or(f64::INFINITY, |top| -top.height)
    }
    fn visit(&mut self, piece: usize) {
        let (corners, _) = self.mesh.facet(piece);
        if let Some(height) = triangle::height(&corners, self.x, self.y)
            && self.top.is_none_or(|top| height > top.height)
        {
            self.top = Some(Top { height, triangle: piece });
        }
    }
}

/// The triangle nearest to a point.
struct Closest<'a> {
    mesh: &'a Mesh,
    c: Vec3,
    square: f64,
    found: Option<(usize, Vec3, bool)>,
}

impl Quest for Closest<'_> {
    fn key(&self, bounds: &Bounds) -> f64 {
        (bounds.nearest(&self.c) - self.c).norm_squared()
    }
    fn limit(&self) -> f64 {
        self.square
    }
    fn visit(&mut self, piece: usize) {
        let (corners, _) = self.mesh.facet(piece);
        let (point, inside) = triangle::nearest(&corners, &self.c);
        let square = (point - self.c).norm_squared();
        if square < self.square {
            self.square = square;
            self.found = Some((piece, point, inside));
        }
    }
}

#[cfg(test)]
mod tests;
