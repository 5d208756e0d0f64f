//! The sides of a surface that ends: the solid under it ends there too, and can be run into from beside.

use super::mesh::Mesh;
use super::surface::Surface;
use crate::math::Vec3;

/// How far down a side reaches, past anything a flight comes to; metres.
const DEPTH: f64 = 1000.0;

/// Upright sides under all outer edges; `None` where none ends, or there is no other surface to come from.
pub(super) fn around(surfaces: &[Surface]) -> Option<Mesh> {
    let with_end = |surface: &&Surface| !matches!(surface, Surface::Landing { .. });
    if surfaces.iter().filter(with_end).count() < 2 {
        return None;
    }
    let sides: Vec<[Vec3; 3]> =
        surfaces.iter().flat_map(Surface::rim).flat_map(|[a, b]| side(a, b)).collect();
    let triangles = (0..u32::try_from(sides.len()).ok()?).map(|i| [3 * i, 3 * i + 1, 3 * i + 2]);
    Mesh::new(sides.concat(), triangles.collect()).ok()
}

fn side(a: Vec3, b: Vec3) -> [[Vec3; 3]; 2] {
    let down = Vec3::new(0.0, 0.0, DEPTH);
    [[a, b, a - down], [b, b - down, a - down]]
}
