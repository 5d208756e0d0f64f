//! Touch by closed forms, and depth as a potential.

use super::*;
use crate::geometry::Profile;
use approx::assert_relative_eq;
use proptest::prelude::*;

const R: f64 = 0.35;

fn at(x: f64, z: f64) -> Vec2 {
    Vec2::new(x, z)
}

fn step_down() -> Terrain {
    let deck = Profile::cornered(&[0.0, 5.0], &[1.0, 1.0], 1.0).unwrap();
    let floor = Profile::cornered(&[5.0, 12.0], &[0.0, 0.0], 1.0).unwrap();
    Terrain::new(&[deck, floor]).unwrap()
}

#[test]
fn a_wheel_on_a_deck_over_its_edge_against_its_face_and_in_its_foot() {
    let terrain = step_down();
    let on = terrain.touch(at(3.0, 1.34), R).unwrap();
    assert_relative_eq!(on.depth, 0.01, epsilon = 1e-12);
    assert_eq!((on.normal, on.feature), (at(0.0, 1.0), Feature::Piece(0)));
    let edge = terrain.touch(at(5.2, 1.24), R).unwrap();
    assert_eq!(edge.feature, Feature::Edge(0));
    assert_relative_eq!(edge.depth, R - 0.2_f64.hypot(0.24), epsilon = 1e-12);
    let face = terrain.touch(at(5.34, 0.7), R).unwrap();
    assert_eq!((face.feature, face.normal), (Feature::Piece(1), at(1.0, 0.0)));
    // Pressed 0.01 into the face and 0.02 into the floor: clear of both along the diagonal of the two.
    let foot = terrain.touch(at(5.34, 0.33), R).unwrap();
    assert_eq!(foot.feature, Feature::Hollow(1, 2));
    assert_relative_eq!(foot.depth, 0.01_f64.hypot(0.02), epsilon = 1e-12);
    assert_relative_eq!(foot.normal.x / foot.normal.y, 0.5, epsilon = 1e-12);
    assert!(terrain.touch(at(5.36, 0.4), R).is_none());
    assert!(terrain.touch(at(4.0, 1.36), R).is_none());
}

#[test]
fn a_step_lower_than_a_wheel_is_touched_at_its_edge_and_the_floor() {
    let terrain = Terrain::new(&[
        Profile::cornered(&[0.0, 5.0], &[0.0, 0.0], 1.0).unwrap(),
        Profile::cornered(&[5.0, 9.0], &[0.1, 0.1], 1.0).unwrap(),
    ])
    .unwrap();
    let reach = (R * R - 0.25_f64.powi(2)).sqrt();
    let touch = terrain.touch(at(5.0 - reach + 0.005, 0.34), R).unwrap();
    assert!(matches!(touch.feature, Feature::Hollow(..)), "{touch:?}");
    assert!(touch.normal.x < 0.0 && touch.normal.y > 0.0);
}

/// Against a steep face, deep in the foot of a ramp: the closest point of the ramp's line lies beyond its end, and still the
/// wheel has to come clear of both.
#[test]
fn past_the_end_of_one_side_of_a_foot_both_sides_still_press() {
    let terrain =
        Terrain::polyline(&[0.0, 6.0, 6.7, 6.9, 9.0], &[0.0, 0.0, 0.5, 1.2, 1.2]).unwrap();
    let (ramp, face) = (at(0.7, 0.5).normalize(), at(0.2, 0.7).normalize());
    let (up, out) = (at(-ramp.y, ramp.x), at(-face.y, face.x));
    let foot = at(6.7, 0.5);
    for past in [-0.01, 0.01] {
        let c = foot + ramp * past + up * 0.17;
        let touch = terrain.touch(c, R).unwrap();
        assert!(matches!(touch.feature, Feature::Hollow(1, 2)), "{past} {touch:?}");
        // Once moved, the circle just touches the lines of both.
        let clear = c + touch.normal * touch.depth - foot;
        assert_relative_eq!(clear.dot(&up), R, epsilon = 1e-12);
        assert_relative_eq!(clear.dot(&out), R, epsilon = 1e-12);
    }
}

/// A hollow, a crest, a sharp ridge, a sharp valley, a drop and a spline.
fn wild() -> Terrain {
    let hill = Profile::cornered(&[0.0, 3.0, 6.0, 8.0], &[1.0, 0.2, 1.0, 0.9], 1.2).unwrap();
    let waves: Vec<f64> = (0..12).map(|i| 0.15 * f64::from(i).sin()).collect();
    let along: Vec<f64> = (0..12).map(|i| 8.0 + 0.8 * f64::from(i)).collect();
    Terrain::new(&[hill, Profile::smooth(&along, &waves).unwrap()]).unwrap()
}

fn sharp() -> Terrain {
    Terrain::polyline(&[0.0, 2.0, 3.0, 4.5, 5.0, 6.0, 20.0], &[0.0, 0.0, 0.3, -0.2, 0.4, 0.4, 0.0])
        .unwrap()
}

proptest! {
    /// Force times way is the change of half the depth squared: nothing is won on a way around.
    #[test]
    fn depth_is_a_potential_whose_slope_is_the_normal(
        x in 0.5..15.0f64, over in 0.25..0.345f64, way in 0.0..std::f64::consts::TAU,
        is_sharp in any::<bool>(),
    ) {
        let terrain = if is_sharp { sharp() } else { wild() };
        let c = at(x, terrain.height(x).unwrap() + over);
        let energy = |c: Vec2| terrain.touch(c, R).map_or(0.0, |t| 0.5 * t.depth * t.depth);
        let h = 1e-6;
        let step = at(way.cos(), way.sin()) * h;
        let slope = (energy(c + step) - energy(c - step)) / (2.0 * h);
        let force = terrain.touch(c, R).map_or(Vec2::zeros(), |t| -t.normal * t.depth);
        prop_assert!((slope - force.dot(&step) / h).abs() < 3e-6, "{} {}", slope, force.dot(&step) / h);
    }

    /// The closest point of the outline, sampled finely, lies as far off as the touch says.
    #[test]
    fn where_one_place_is_touched_it_is_the_closest_of_the_outline(
        x in 0.5..15.0f64, over in 0.25..0.345f64,
    ) {
        let terrain = wild();
        let c = at(x, terrain.height(x).unwrap() + over);
        let closest = terrain
            .outline(1e-3)
            .windows(2)
            .map(|w| {
                let along = w[1] - w[0];
                let share = (c - w[0]).dot(&along) / along.norm_squared();
                (c - w[0] - along * share.clamp(0.0, 1.0)).norm()
            })
            .fold(f64::INFINITY, f64::min);
        match terrain.touch(c, R) {
            None => prop_assert!(closest >= R - 1e-6),
            Some(Touch { feature: Feature::Hollow(..), depth, .. }) => {
                prop_assert!(depth >= R - closest - 1e-6);
            }
            Some(touch) => prop_assert!((R - touch.depth - closest).abs() < 2e-6),
        }
    }
}
