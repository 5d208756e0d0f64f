use super::*;
use proptest::prelude::*;

fn cloud() -> impl Strategy<Value = Vec<Vec3>> {
    prop::collection::vec(prop::array::uniform3(-5.0..5.0f64).prop_map(Vec3::from), 4..40)
}

proptest! {
    /// The survey of a plane is the plane.
    #[test]
    fn points_of_a_plane_give_the_plane(points in cloud(), a in -1.0..1.0f64, b in -1.0..1.0f64) {
        let flat: Vec<Vec3> =
            points.iter().map(|p| Vec3::new(p.x, p.y, a * p.x + b * p.y + 0.7)).collect();
        let survey = Survey::new(&flat).unwrap();
        for weight in [0.1, 0.5, 0.8] {
            let spot = flat[0] * weight + flat[1] * (1.0 - weight);
            prop_assert!((survey.mesh().height(spot.x, spot.y).unwrap() - spot.z).abs() < 1e-9);
            prop_assert!(survey.domain().contains(spot.x, spot.y));
        }
    }

    /// The domain is where there are triangles.
    #[test]
    fn domain_and_triangles_agree(points in cloud(), x in -6.0..6.0f64, y in -6.0..6.0f64) {
        let survey = Survey::new(&points).unwrap();
        prop_assert_eq!(survey.domain().contains(x, y), survey.mesh().height(x, y).is_some());
    }
}

#[test]
fn wrong_surveys_say_what_is_wrong() {
    let at = |x: f64, y: f64| Vec3::new(x, y, 0.0);
    let two = [at(0.0, 0.0), at(1.0, 0.0)];
    assert_eq!(Survey::new(&two), Err(GroundError::TooFewPoints { given: 2 }));
    let line = [at(0.0, 0.0), at(1.0, 1.0), at(2.0, 2.0), at(3.0, 3.0)];
    assert_eq!(Survey::new(&line), Err(GroundError::OnOneLine { given: 4 }));
    let twice = [at(0.0, 0.0), at(1.0, 0.0), at(0.0, 1.0), at(1.0, 0.0)];
    let same = GroundError::SamePlace { first: 1, second: 3, x: 1.0, y: 0.0 };
    assert_eq!(Survey::new(&twice), Err(same));
    let zeros = [at(0.0, 0.0), at(1.0, 0.0), at(0.0, 1.0), at(-0.0, 0.0)];
    assert!(matches!(Survey::new(&zeros), Err(GroundError::SamePlace { first: 0, second: 3, .. })));
    let broken = [at(0.0, 0.0), at(f64::NAN, 0.0), at(0.0, 1.0)];
    assert!(matches!(Survey::new(&broken), Err(GroundError::PointNotFinite { index: 1, .. })));
    let huge = [at(0.0, 0.0), at(1.0, 0.0), at(0.0, 1e200)];
    assert!(matches!(Survey::new(&huge), Err(GroundError::TooFar { index: 2, .. })));
}

#[test]
fn a_square_lattice_and_tiny_coordinates_are_fine() {
    let points: Vec<Vec3> = (0..25)
        .map(|i| Vec3::new(f64::from(i % 5), f64::from(i / 5), f64::from(i).sin()))
        .map(|p| p + Vec3::new(1e-60, 0.0, 0.0))
        .collect();
    let survey = Survey::new(&points).unwrap();
    assert_eq!(survey.mesh().triangles().len(), 32);
    assert_eq!(survey.hull().len(), 16);
    assert!(survey.domain().contains(4.0, 4.0));
    assert!(!survey.domain().contains(4.001, 2.0));
}
