use super::*;
use crate::{ground::Ground, math::Vec3};
use std::collections::HashMap;

fn ground() -> Ground {
    Ground::plane(Vec3::new(0.0, 0.0, 3.0), 0.1, 0.3).expect("a plane")
}

fn landings() -> Vec<Landing> {
    let base = |slope| Landing::new(Vec2::new(2.0, 1.0), 0.5, slope, 6.0, 3.0).expect("valid");
    let landings = [
        Ok(base(0.45)),
        base(0.0).with_crest_height(Some(4.0)),
        base(0.3).with_crest_radius(0.0),
        base(0.45).with_crest_radius(3.0),
        base(0.45).with_foot_radius(4.0),
        base(0.4).with_foot_radius(4.0).and_then(|l| l.with_crest_height(Some(5.7))),
        base(0.45).with_batter(1.2).and_then(|l| l.with_crest_height(Some(6.0))),
    ];
    landings.into_iter().map(|landing| landing.expect("valid")).collect()
}

#[test]
fn no_facet_is_steeper_than_the_batter() {
    for landing in landings() {
        let built = landing.resolve(&ground()).expect("built");
        let least = landing.batter().cos();
        for facet in built.facets() {
            let normal = built.shape().normal(facet);
            // The normal of a sliver between two facets is known from few digits.
            let close = if built.shape().outline(facet).area() > 1e-6 { 1e-9 } else { 1e-3 };
            assert!(normal.z >= least - close, "{landing:?} {facet:?} {}", normal.z.acos());
        }
    }
}

#[test]
fn each_side_of_a_facet_is_shared_but_at_the_rim() {
    for landing in landings().iter().filter(|landing| landing.foot_radius() == 0.0) {
        let built = landing.resolve(&ground()).expect("built");
        let mut sides: HashMap<(u32, u32), u32> = HashMap::new();
        for facet in built.facets() {
            for (a, b) in facet.corners.iter().zip(facet.corners.iter().cycle().skip(1)) {
                *sides.entry((*a.min(b), *a.max(b))).or_default() += 1;
            }
        }
        let height = |number: u32| built.shape().vertices[number as usize].z;
        let bottom = built.mesh().bounds().low.z;
        for ((a, b), count) in sides {
            let at_rim = height(a) < bottom + 1e-12 && height(b) < bottom + 1e-12;
            assert_eq!(count, if at_rim { 1 } else { 2 }, "{landing:?}: {a} {b}");
        }
        for corner in built.shape().vertices.iter().filter(|c| c.z < bottom + 1e-12) {
            assert!(corner.z < ground().height(corner.x, corner.y).expect("a height"));
        }
    }
}

/// The facets overlap nowhere in plan: their areas add up to that of their common outline.
#[test]
fn the_surface_is_single_valued() {
    for landing in landings() {
        let built = landing.resolve(&ground()).expect("built");
        let areas = built.facets().iter().map(|facet| built.shape().outline(facet).area());
        let (sum, mut rim) = (areas.sum::<f64>(), Vec::new());
        for facet in built.facets() {
            rim.extend(built.shape().corners(facet).map(|corner| corner.xy()));
        }
        let hull = hull_area(rim);
        let hollow = landing.foot_radius() > 0.0;
        assert!(sum <= hull * (1.0 + 1e-12), "{landing:?}");
        assert!(hollow || (sum - hull).abs() < 1e-9 * hull, "{landing:?} {sum} {hull}");
    }
}

fn hull_area(mut points: Vec<Vec2>) -> f64 {
    points.sort_by(|a, b| a.x.total_cmp(&b.x).then(a.y.total_cmp(&b.y)));
    let chain = |points: &mut dyn Iterator<Item = Vec2>| {
        let mut chain: Vec<Vec2> = Vec::new();
        for point in points {
            while let [.., a, b] = chain[..] {
                if (b - a).perp(&(point - b)) > 0.0 {
                    break;
                }
                chain.pop();
            }
            chain.push(point);
        }
        chain
    };
    let mut hull = chain(&mut points.iter().copied());
    hull.extend(chain(&mut points.iter().rev().copied()));
    let ends = hull.iter().cycle().skip(1);
    hull.iter().zip(ends).map(|(a, b)| 0.5 * a.perp(b)).sum()
}

/// The half-spaces hold exactly the mesh: the same distance outside, near facets and far.
#[test]
fn half_spaces_and_mesh_agree() {
    for landing in landings() {
        let built = landing.resolve(&ground()).expect("built");
        let Some(spaces) = built.half_spaces() else {
            assert!(landing.foot_radius() > 0.0);
            continue;
        };
        for facet in built.facets() {
            let corners: Vec<Vec3> = built.shape().corners(facet).collect();
            let middle = corners.iter().sum::<Vec3>() / corners.len() as f64;
            let c = middle + 0.5 * built.shape().normal(facet);
            let most = spaces.iter().map(|s| s.normal.dot(&c) - s.offset).fold(f64::MIN, f64::max);
            assert!((most - 0.5).abs() < 1e-9);
            let nearest = built.mesh().nearest(c, 1.0).expect("near");
            assert!((nearest.distance - 0.5).abs() < 1e-9);
        }
    }
}

/// Distances against a dense cloud of points on the surface.
#[test]
fn distance_against_brute_force() {
    let built = landings()[4].resolve(&ground()).expect("built");
    let mut cloud = Vec::new();
    for facet in built.facets() {
        let corners: Vec<Vec3> = built.shape().corners(facet).collect();
        for pair in corners[1..].windows(2) {
            for i in 0..=60 {
                for j in 0..=60 - i {
                    let (u, v) = (f64::from(i) / 60.0, f64::from(j) / 60.0);
                    cloud
                        .push(corners[0] + u * (pair[0] - corners[0]) + v * (pair[1] - corners[0]));
                }
            }
        }
    }
    for (x, y, z) in
        [(2.0, 1.0, 7.0), (7.0, 4.0, 5.0), (4.0, 6.0, 6.0), (9.0, 4.5, 4.0), (0.0, 0.0, 6.0)]
    {
        let c = Vec3::new(x, y, z);
        let brute = cloud.iter().map(|p| (p - c).norm()).fold(f64::MAX, f64::min);
        let exact = built.mesh().nearest(c, 10.0).expect("near").distance;
        assert!(exact <= brute + 1e-12 && exact > brute - 0.02, "{exact} {brute}");
    }
}

#[test]
fn foot_meets_the_ground_where_no_height_is_given() {
    let landing = landings()[2];
    let ground = ground();
    let built = landing.resolve(&ground).expect("built");
    let foot = built.deck_point(landing.length(), 0.0).expect("on the deck");
    assert!((foot.z - ground.height(foot.x, foot.y).expect("a height")).abs() < 1e-12);
    let rise = landing.length() * landing.slope().tan();
    assert!((built.crest_height() - foot.z - rise).abs() < 1e-12);
    assert!((built.crest_top() - built.crest_height()).abs() < 1e-12, "a sharp crest");
}

#[test]
fn toe_lies_on_both_surfaces() {
    for landing in landings() {
        let ground = ground();
        let built = landing.resolve(&ground).expect("built");
        for point in built.toe() {
            let height = ground.height(point.x, point.y).expect("a height");
            assert!(point.z <= height + 1e-6);
            let surface = built.mesh().height(point.x, point.y).expect("over the landing");
            assert!((surface - point.z).abs() < 1e-6, "{surface} {}", point.z);
        }
    }
}

#[test]
fn stakes_add_up() {
    for landing in landings() {
        let built = landing.resolve(&ground()).expect("built");
        let stakes = built.stakes(1.0).expect("stakes");
        assert!(stakes.iter().filter(|stake| stake.mark == Mark::Toe).count() > 10);
        for stake in stakes {
            let at = built.landing().plan(stake.along, stake.across);
            assert!((at - stake.ground.xy()).norm() < 1e-9);
            let surface = built.mesh().height(at.x, at.y).expect("over the landing");
            let top = stake.ground.z + stake.fill;
            assert!((top - surface).abs() < 2e-6, "{landing:?} {stake:?} {surface}");
        }
    }
}

#[test]
fn wrong_numbers_are_named() {
    let at = Vec2::zeros();
    let named = |result: Result<Landing, LandingError>, field: &str| {
        let message = result.expect_err("an error").to_string();
        assert!(message.starts_with(field), "{message}");
    };
    named(Landing::new(at, 0.0, 0.4, -1.0, 3.0), "length = -1");
    named(Landing::new(at, 0.0, 0.4, 1.0, 0.0), "width = 0");
    named(Landing::new(at, f64::NAN, 0.4, 1.0, 1.0), "heading_deg = NaN");
    named(Landing::new(at, 0.0, -0.1, 1.0, 1.0), "slope_deg = -5.7");
    let landing = Landing::new(at, 0.0, 0.6, 5.0, 3.0).expect("valid by itself");
    named(landing.with_batter(FRAC_PI_2), "batter_deg = 90");
    named(landing.checked(), "slope_deg = 34.3");
    named(landing.with_batter(0.7).and_then(|l| l.with_crest_radius(9.0)?.checked()), "length = 5");
}

#[test]
fn landings_that_do_not_fit_their_ground() {
    let landing = landings()[0];
    let deep = landing.with_crest_height(Some(-2.0)).expect("valid");
    assert!(matches!(deep.resolve(&ground()), Err(LandingError::CrestBelowGround { .. })));
    let steep = Ground::plane(Vec3::zeros(), 0.7, 0.5).expect("a plane");
    let over = landing.with_crest_height(Some(2.0)).expect("valid");
    assert!(matches!(over.resolve(&steep), Err(LandingError::NoToe { .. })));
    let small = Ground::grid(Vec2::new(0.0, -1.0), Vec2::repeat(9.0), 2, 2, vec![0.0; 4]);
    assert!(matches!(
        landing.resolve(&small.expect("a grid")),
        Err(LandingError::OffSurvey { .. })
    ));
    let far = Ground::grid(Vec2::new(90.0, -1.0), Vec2::repeat(9.0), 2, 2, vec![0.0; 4]);
    assert!(matches!(landing.resolve(&far.expect("a grid")), Err(LandingError::NoGround { .. })));
}
