//! The ground as pieces in plan, each with one formula for its height.

use super::{Ground, Surface, grid::Grid, mesh::Mesh};
use crate::math::{Vec2, Vec3, bilinear::Bilinear, polygon::Polygon};

/// A part of the plan over which one formula gives the height.
#[derive(Debug, Clone, PartialEq)]
pub struct Piece {
    /// The part of the plan.
    pub outline: Polygon,
    /// The height over it.
    pub height: Bilinear,
}

impl Piece {
    fn triangle(corners: &[Vec3; 3]) -> Self {
        let [a, b, c] = corners;
        let normal = (b - a).cross(&(c - a));
        let slope = if normal.z == 0.0 { Vec2::zeros() } else { -normal.xy() / normal.z };
        Self {
            outline: Polygon::new(corners.iter().map(Vec3::xy).collect()),
            height: Bilinear::plane(a.xy(), a.z, slope),
        }
    }

    fn lowest(&self) -> Option<f64> {
        self.outline.corners().iter().map(|corner| self.height.at(corner)).reduce(f64::min)
    }
}

impl Surface {
    /// The least rectangle of the plan about the surface; without bounds for a plane.
    pub fn plan_bounds(&self) -> (Vec2, Vec2) {
        self.bounds()
            .map_or((Vec2::repeat(f64::NEG_INFINITY), Vec2::repeat(f64::INFINITY)), |bounds| {
                (bounds.low.xy(), bounds.high.xy())
            })
    }

    /// The pieces that reach into a rectangle of the plan: one of a plane, cells, or triangles.
    pub fn pieces(&self, low: Vec2, high: Vec2) -> Vec<Piece> {
        match self {
            Self::Plane(plane) => {
                let normal = plane.normal();
                let slope = -normal.xy() / normal.z;
                let height = Bilinear::plane(plane.point().xy(), plane.point().z, slope);
                vec![Piece { outline: Polygon::rectangle(low, high), height }]
            }
            Self::Grid(grid) => cells(grid, low, high),
            Self::Survey(survey) => triangles(survey.mesh(), low, high),
            Self::Landing { mesh, .. } => triangles(mesh, low, high),
        }
    }

    /// Heights of which the least is below all of the surface under a convex outline.
    fn lows(&self, outline: &[Vec2], low: Vec2, high: Vec2) -> Vec<f64> {
        match self {
            Self::Plane(plane) => outline.iter().map(|at| plane.height(at.x, at.y)).collect(),
            _ => self.pieces(low, high).iter().filter_map(Piece::lowest).collect(),
        }
    }
}

impl Ground {
    /// A height that no ground under a convex outline lies below; `None` where there is none under it.
    pub(super) fn lowest_under(&self, outline: &[Vec2]) -> Option<f64> {
        let low = outline.iter().fold(Vec2::repeat(f64::INFINITY), |low, p| low.inf(p));
        let high = outline.iter().fold(Vec2::repeat(f64::NEG_INFINITY), |high, p| high.sup(p));
        let lows = self.surfaces().iter().flat_map(|surface| surface.lows(outline, low, high));
        lows.reduce(f64::min)
    }
}

fn triangles(mesh: &Mesh, low: Vec2, high: Vec2) -> Vec<Piece> {
    let reaches = |corners: &[Vec3; 3]| {
        let [a, b, c] = corners.map(|corner| corner.xy());
        let (from, to) = (a.inf(&b).inf(&c), a.sup(&b).sup(&c));
        from.x <= high.x && low.x <= to.x && from.y <= high.y && low.y <= to.y
    };
    let all = (0..mesh.triangles().len()).filter_map(|number| mesh.corners(number));
    all.filter(reaches).map(|corners| Piece::triangle(&corners)).collect()
}

fn cells(grid: &Grid, low: Vec2, high: Vec2) -> Vec<Piece> {
    let from = (low - grid.origin()).component_div(&grid.spacing());
    let to = (high - grid.origin()).component_div(&grid.spacing());
    let within = |at: usize, from: f64, to: f64| (at + 1) as f64 >= from && at as f64 <= to;
    let mut pieces = Vec::new();
    for row in (0..grid.rows() - 1).filter(|row| within(*row, from.y, to.y)) {
        for column in (0..grid.columns() - 1).filter(|at| within(*at, from.x, to.x)) {
            pieces.extend(cell(grid, column, row));
        }
    }
    pieces
}

fn cell(grid: &Grid, column: usize, row: usize) -> Option<Piece> {
    let corner = |right: usize, up: usize| grid.corner(column + right, row + up);
    let corners = [corner(0, 0)?, corner(1, 0)?, corner(0, 1)?, corner(1, 1)?];
    let (low, high) = (corners[0].xy(), corners[3].xy());
    let height = Bilinear::cell(low, high - low, corners.map(|corner| corner.z));
    Some(Piece { outline: Polygon::rectangle(low, high), height })
}
