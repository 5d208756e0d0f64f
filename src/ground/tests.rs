#![allow(clippy::float_cmp, reason = "what is exact is asked exactly")]

use super::*;
use proptest::prelude::*;

fn bumpy(heights: &[f64]) -> Ground {
    Ground::grid(Vec2::zeros(), Vec2::new(1.0, 1.0), 6, 6, heights.to_vec()).unwrap()
}

fn hill(points: &[[f64; 3]]) -> Ground {
    let mut all: Vec<Vec3> = points.iter().map(|p| Vec3::from(*p)).collect();
    all.extend(
        [(1.0, 1.0), (4.0, 1.0), (1.0, 4.0), (4.0, 4.0)].map(|(x, y)| Vec3::new(x, y, -0.5)),
    );
    Ground::survey(&all).unwrap()
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(64))]
    #[test]
    fn the_higher_of_two_dilates_to_the_higher_of_their_dilations(
        heights in prop::collection::vec(-0.5..0.5f64, 36),
        points in prop::collection::vec((1.5..3.5f64, 1.5..3.5f64, -0.5..1.0f64), 5..12),
        (x, y, h) in (1.2..3.8f64, 1.2..3.8f64, 0.0..1.2f64),
    ) {
        let points: Vec<[f64; 3]> = points.iter().map(|p| [p.0, p.1, p.2]).collect();
        let (a, b) = (bumpy(&heights), hill(&points));
        let both = a.higher(&b);
        let each = [&a, &b].map(|g| g.dilated_height(x, y, h).unwrap());
        let top = both.dilated_height(x, y, h).unwrap();
        prop_assert_eq!(top, each[0].max(each[1]));
        let near = both.nearest(Vec3::new(x, y, top), 10.0).unwrap();
        prop_assert!((near.distance - h).abs() < 1e-9, "{} is not {}", near.distance, h);
        let c = Vec3::new(x, y, top + 0.3);
        prop_assert!(both.clearance(c) <= both.nearest(c, 10.0).unwrap().distance + 1e-12);
        let heights = [&a, &b].map(|g| g.height(x, y).unwrap());
        prop_assert_eq!(both.height(x, y), Some(heights[0].max(heights[1])));
    }
}

#[test]
fn a_plane_dilates_along_its_normal() {
    let plane = Ground::plane(Vec3::new(1.0, 2.0, 3.0), 0.4, 0.9).unwrap();
    let (x, y) = (4.0, -2.0);
    let top = Vec3::new(x, y, plane.dilated_height(x, y, 0.8).unwrap());
    let near = plane.nearest(top, 2.0).unwrap();
    approx::assert_relative_eq!(near.distance, 0.8, epsilon = 1e-12);
    approx::assert_relative_eq!(
        plane.height(near.point.x, near.point.y).unwrap(),
        near.point.z,
        epsilon = 1e-12
    );
    let ahead = plane.height(x + 0.9f64.cos(), y + 0.9f64.sin()).unwrap();
    approx::assert_relative_eq!(plane.height(x, y).unwrap() - ahead, 0.4f64.tan(), epsilon = 1e-12);
    assert_eq!(plane.bounds(), None);
    assert_eq!(plane.triangles(), None);
}

#[test]
fn a_surface_that_ends_in_the_air_has_sides() {
    let base = Ground::plane(Vec3::zeros(), 0.0, 0.0).unwrap();
    let table: Vec<Vec3> = [(0.0, 0.0), (2.0, 0.0), (0.0, 2.0), (2.0, 2.0)]
        .map(|(x, y)| Vec3::new(x, y, 1.0))
        .to_vec();
    let both = base.higher(&Ground::survey(&table).unwrap());
    let near = both.nearest(Vec3::new(2.3, 1.0, 0.5), 10.0).unwrap();
    approx::assert_relative_eq!(near.distance, 0.3, epsilon = 1e-12);
    approx::assert_relative_eq!(near.normal, Vec3::x(), epsilon = 1e-12);
    assert_eq!(both.nearest(Vec3::new(1.0, 1.0, 0.5), 10.0).unwrap().distance, 0.0);
}

#[test]
fn what_is_not_known_is_not_said() {
    let ground = bumpy(&[0.0; 36]);
    assert!(ground.contains(5.0, 0.0) && !ground.contains(5.1, 0.0));
    assert!(!ground.contains(f64::NAN, 0.0));
    assert_eq!(ground.dilated_height(-0.1, 1.0, 1.0), None);
    assert_eq!(ground.dilated_height(1.0, 1.0, f64::NAN), None);
    assert_eq!(ground.nearest(Vec3::new(f64::NAN, 0.0, 0.0), 1.0), None);
    assert_eq!(ground.bounds().unwrap().high, Vec3::new(5.0, 5.0, 0.0));
    assert_eq!(ground.triangles().unwrap().len(), 50);
}

#[test]
fn a_file_keeps_the_ground() {
    let ground = bumpy(&[0.25; 36])
        .higher(&hill(&[[2.0, 2.0, 1.0]]))
        .higher(&Ground::plane(Vec3::zeros(), 0.1, 0.2).unwrap());
    let text = serde_json::to_string(&ground).unwrap();
    assert_eq!(serde_json::from_str::<Ground>(&text).unwrap(), ground);
}

#[test]
fn wrong_planes_say_what_is_wrong() {
    for (point, slope, heading) in [
        (Vec3::new(f64::NAN, 0.0, 0.0), 0.0, 0.0),
        (Vec3::zeros(), 1.6, 0.0),
        (Vec3::zeros(), f64::INFINITY, 0.0),
        (Vec3::zeros(), 0.0, f64::NAN),
    ] {
        assert!(matches!(Ground::plane(point, slope, heading), Err(GroundError::Value(_))));
    }
}
