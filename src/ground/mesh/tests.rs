#![allow(clippy::float_cmp, reason = "what is exact is asked exactly")]

use super::*;
use proptest::prelude::*;

/// A bumpy sheet of `2 n^2` triangles over a square of side 10.
fn sheet(n: u32, heights: &[f64]) -> Mesh {
    let side = n + 1;
    let vertices = (0..side * side)
        .map(|i| {
            let step = 10.0 / f64::from(n);
            Vec3::new(f64::from(i % side) * step, f64::from(i / side) * step, heights[i as usize])
        })
        .collect();
    let triangles = (0..n * n)
        .flat_map(|i| {
            let a = i / n * side + i % n;
            [[a, a + 1, a + side], [a + 1, a + side, a + side + 1]]
        })
        .collect();
    Mesh::new(vertices, triangles).unwrap()
}

proptest! {
    #[test]
    fn nearest_is_the_least_over_all_triangles(
        heights in prop::collection::vec(-1.0..1.0f64, 49),
        c in prop::array::uniform3(-2.0..12.0f64).prop_map(Vec3::from),
    ) {
        let mesh = sheet(6, &heights);
        let brute = (0..mesh.triangles().len())
            .map(|i| (triangle::nearest(&mesh.corners(i).unwrap(), &c).0 - c).norm())
            .fold(f64::INFINITY, f64::min);
        let found = mesh.nearest(c, f64::INFINITY).unwrap();
        if mesh.height(c.x, c.y).is_some_and(|z| c.z <= z) {
            prop_assert_eq!(found.distance, 0.0);
        } else {
            prop_assert!((found.distance - brute).abs() < 1e-12);
            prop_assert!((found.point + found.normal * found.distance - c).norm() < 1e-9);
            prop_assert_eq!(mesh.nearest(c, brute * 0.999), None);
            prop_assert!(mesh.nearest(c, found.distance).is_some());
        }
    }

    #[test]
    fn height_meets_the_vertices(heights in prop::collection::vec(-1.0..1.0f64, 49)) {
        let mesh = sheet(6, &heights);
        for v in mesh.vertices() {
            prop_assert!((mesh.height(v.x, v.y).unwrap() - v.z).abs() < 1e-12);
        }
        prop_assert_eq!(mesh.height(-0.001, 5.0), None);
        prop_assert_eq!(mesh.normal(5.0, 10.001), None);
    }
}

#[test]
fn a_point_below_has_no_distance() {
    let mesh = sheet(2, &[0.0; 9]);
    let found = mesh.nearest(Vec3::new(5.0, 5.0, -3.0), f64::INFINITY).unwrap();
    assert_eq!((found.distance, found.normal), (0.0, Vec3::z()));
    assert_eq!(mesh.nearest(Vec3::new(f64::NAN, 5.0, -3.0), f64::INFINITY), None);
}

#[test]
fn wrong_meshes_say_what_is_wrong() {
    let corner = vec![Vec3::zeros(), Vec3::x(), Vec3::y()];
    assert_eq!(Mesh::new(corner.clone(), vec![]), Err(MeshError::Empty));
    assert_eq!(
        Mesh::new(corner.clone(), vec![[0, 1, 3]]),
        Err(MeshError::NoVertex { triangle: 0, vertex: 3, count: 3 })
    );
    let mut broken = corner;
    broken[1].z = f64::NAN;
    assert_eq!(Mesh::new(broken, vec![[0, 1, 2]]), Err(MeshError::NotFinite { index: 1 }));
}

#[test]
fn a_file_keeps_the_mesh() {
    let mesh = sheet(2, &[0.0, 0.1, 0.2, 0.3, 0.4, 0.5, 0.6, 0.7, 0.8]).with_convex();
    let text = serde_json::to_string(&mesh).unwrap();
    assert_eq!(serde_json::from_str::<Mesh>(&text).unwrap(), mesh);
}
