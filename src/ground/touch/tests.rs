use super::*;
use crate::math::Vec2;
use proptest::prelude::*;

const G: f64 = 9.80665;

fn throw(position: Vec3, velocity: Vec3) -> Piece {
    let acceleration = Vec3::new(0.0, 0.0, -G);
    Piece::parabola(&Motion { time: 0.0, position, velocity, acceleration }, 60.0)
}

fn end_of(path: &Piece, ground: &Ground, reach: Reach) -> End {
    let mut search = Search::new(ground, reach);
    search.follow(path).unwrap_or_else(|| search.give_up(60.0))
}

fn upright(height: f64) -> Reach {
    Reach::upright(height).unwrap()
}

/// That nothing was touched before: the distance never fell below the reach, however densely looked at.
fn first_indeed(path: &Piece, ground: &Ground, reach: Reach, end: f64) {
    let clear = |t: f64| ground.nearest(path.position(t), 1e9).unwrap().distance - reach.at(t);
    let mut risen = false;
    for i in 0..400 {
        let t = end * f64::from(i) / 400.0;
        risen |= clear(t) > 0.0;
        assert!(!risen || clear(t) > -1e-9, "{} below reach at {t} of {end}", clear(t));
    }
}

fn velocities() -> impl Strategy<Value = Vec3> {
    (-8.0..8.0f64, -8.0..8.0f64, -4.0..6.0f64).prop_map(|(x, y, z)| Vec3::new(x, y, z))
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(64))]

    #[test]
    fn a_parabola_meets_a_plane_at_the_closed_form(
        v in velocities(), slope in -0.7..0.7f64, heading in -3.0..3.0f64,
        h in 0.0..1.5f64, above in 0.01..4.0f64,
    ) {
        let ground = Ground::plane(Vec3::new(0.3, -0.2, 0.1), slope, heading).unwrap();
        let n = ground.normal(0.0, 0.0).unwrap();
        let start = Vec3::new(0.3, -0.2, 0.1) + n * (h + above);
        let touch = *end_of(&throw(start, v), &ground, upright(h)).touch().unwrap();
        let (rate, turn) = (v.dot(&n), 0.5 * G * n.z);
        let wanted = (rate + (rate * rate + 4.0 * turn * above).sqrt()) / (2.0 * turn);
        prop_assert!((touch.time - wanted).abs() < 1e-13 * wanted.max(1.0));
        prop_assert!(touch.residual.abs() < 1e-13);
        prop_assert!((touch.normal - n).norm() < 1e-12);
    }

    #[test]
    fn the_first_touch_of_bumpy_grids_is_the_first(
        heights in prop::collection::vec(-0.6..0.6f64, 400), v in velocities(),
        h in 0.0..1.3f64, lean in 0.0..1.6f64, cell in 0.3..1.0f64,
    ) {
        let origin = Vec2::repeat(-9.5 * cell);
        let ground = Ground::grid(origin, Vec2::repeat(cell), 20, 20, heights).unwrap();
        let reach = Reach::leaning(h, lean, 4.0).unwrap();
        let path = throw(Vec3::new(0.0, 0.0, 2.0), v);
        let end = end_of(&path, &ground, reach);
        if let End::Touch(touch) = end {
            prop_assert!(touch.residual.abs() <= 1e-9, "residual {}", touch.residual);
        } else {
            prop_assert!(matches!(end, End::OffSurvey { .. }), "{end:?}");
        }
        first_indeed(&path, &ground, reach, end.time());
    }

    #[test]
    fn the_first_touch_of_surveys_over_a_plane_is_the_first(
        points in prop::collection::vec((-6.0..6.0f64, -6.0..6.0f64, -1.0..1.0f64), 8..60),
        v in velocities(), h in 0.0..1.3f64, lean in 0.0..1.6f64,
    ) {
        let points: Vec<Vec3> = points.iter().map(|p| Vec3::new(p.0, p.1, p.2)).collect();
        let base = Ground::plane(Vec3::new(0.0, 0.0, -0.8), 0.1, 0.4).unwrap();
        let ground = Ground::survey(&points).unwrap().higher(&base);
        let reach = Reach::leaning(h, lean, 4.0).unwrap();
        let path = throw(Vec3::new(0.0, 0.0, 2.4), v);
        let end = end_of(&path, &ground, reach);
        let touch = end.touch().unwrap();
        prop_assert!(touch.residual.abs() <= 1e-9, "residual {}", touch.residual);
        first_indeed(&path, &ground, reach, end.time());
    }

    #[test]
    fn the_survey_of_a_plane_is_flown_onto_as_the_plane(
        v in velocities(), slope in -0.5..0.5f64, heading in -3.0..3.0f64, h in 0.0..1.2f64,
    ) {
        let plane = Ground::plane(Vec3::zeros(), slope, heading).unwrap();
        let points: Vec<Vec3> = (0..400)
            .map(|i| (f64::from(i % 20) * 5.0 - 48.0, f64::from(i / 20) * 5.0 - 47.0))
            .map(|(x, y)| Vec3::new(x, y, plane.height(x, y).unwrap()))
            .collect();
        let path = throw(Vec3::new(0.0, 0.0, 2.5), v);
        let on_plane = *end_of(&path, &plane, upright(h)).touch().unwrap();
        let on_survey = *end_of(&path, &Ground::survey(&points).unwrap(), upright(h)).touch().unwrap();
        prop_assert!((on_plane.time - on_survey.time).abs() < 1e-11);
        prop_assert!((on_plane.normal - on_survey.normal).norm() < 1e-9);
    }
}

/// A sharp ridge across the way, with deep ground beyond: the ball's clearance of it is known in closed form.
fn over_the_ridge(miss: f64) -> (End, f64) {
    let path = throw(Vec3::new(0.0, 0.0, 3.0), Vec3::new(5.0, 0.0, 1.0));
    let ridge = Vec3::new(3.0, 0.0, 1.0);
    let away = |t: f64| {
        let c = path.position(t);
        ((c.x - ridge.x).powi(2) + (c.z - ridge.z).powi(2)).sqrt()
    };
    let (mut a, mut b) = (0.2, 1.2);
    for _ in 0..200 {
        let (p, q) = (a + (b - a) * 0.382, a + (b - a) * 0.618);
        if away(p) < away(q) { b = q } else { a = p }
    }
    let points: Vec<Vec3> = [(-9.0, -9.0), (2.9, -9.0), (3.0, 1.0), (3.1, -9.0), (30.0, -9.0)]
        .iter()
        .flat_map(|(x, z)| [-9.0, 9.0].map(|y| Vec3::new(*x, y, *z)))
        .collect();
    let ground = Ground::survey(&points).unwrap();
    (end_of(&path, &ground, upright(away(a) - miss)), a)
}

#[test]
fn a_crest_is_touched_or_missed_by_a_hair() {
    for hair in [1e-3, 1e-5, 1e-7, 1e-9] {
        let (hit, nearest) = over_the_ridge(-hair);
        assert!(hit.time() < nearest && hit.time() > nearest - 0.1, "{hit:?} at {nearest}");
        let (miss, nearest) = over_the_ridge(hair);
        assert!(miss.time() > nearest + 0.3, "{miss:?} at {nearest}");
    }
    let (just, nearest) = over_the_ridge(0.0);
    assert!((just.time() - nearest).abs() < 1e-4 || just.time() > nearest + 0.3);
}

#[test]
fn what_starts_within_reach_must_first_be_clear() {
    let flat = Ground::plane(Vec3::zeros(), 0.0, 0.0).unwrap();
    let from = |z: f64, up: f64| {
        end_of(&throw(Vec3::new(0.0, 0.0, z), Vec3::new(6.0, 0.0, up)), &flat, upright(1.0))
    };
    assert_eq!(from(1.0, 0.0), End::RolledOff);
    assert_eq!(from(0.9, -1.0), End::RolledOff);
    assert_eq!(from(0.9, 0.5), End::RolledOff);
    assert_eq!(from(-0.5, 3.0), End::RolledOff);
    let up: f64 = 3.0;
    let wanted = (up + (up * up - 2.0 * G * 0.1).sqrt()) / G;
    assert!((from(0.9, up).time() - wanted).abs() < 1e-12);
    assert!((from(1.0, up).time() - 2.0 * up / G).abs() < 1e-12);
}

#[test]
fn a_bare_point_leaves_the_ground_it_stands_on() {
    let flat = Ground::plane(Vec3::zeros(), 0.2, 0.0).unwrap();
    let path = throw(Vec3::zeros(), Vec3::new(4.0, 0.0, 3.0));
    let touch = *end_of(&path, &flat, upright(0.0)).touch().unwrap();
    assert!((touch.time - 2.0 * (3.0 + 4.0 * 0.2f64.tan()) / G).abs() < 1e-12);
    let stays = throw(Vec3::zeros(), Vec3::new(4.0, 0.0, -3.0));
    assert_eq!(end_of(&stays, &flat, upright(0.0)), End::RolledOff);
}

#[test]
fn a_leaning_rider_touches_later_until_he_is_upright() {
    let flat = Ground::plane(Vec3::zeros(), 0.0, 0.0).unwrap();
    let path = throw(Vec3::new(0.0, 0.0, 1.2), Vec3::new(6.0, 0.0, -2.0));
    let slow = Reach::leaning(1.0, 1.2, 2.0).unwrap();
    let touch = *end_of(&path, &flat, slow).touch().unwrap();
    let upright = *end_of(&path, &flat, upright(1.0)).touch().unwrap();
    assert!(touch.time > upright.time && touch.lean_owed > 0.0 && upright.lean_owed <= 0.0);
    assert!((touch.position.z - (1.2 - 2.0 * touch.time).cos()).abs() < 1e-11);
    // Righting himself faster than he falls, he comes down on legs that are growing.
    let quick = Reach::leaning(1.0, 1.2, 50.0).unwrap();
    assert!((end_of(&path, &flat, quick).time() - upright.time).abs() < 1e-12);
}

#[test]
fn the_border_of_the_known_ends_a_flight() {
    let ground = Ground::grid(Vec2::zeros(), Vec2::repeat(1.0), 5, 5, vec![0.0; 25]).unwrap();
    let from = |x: f64, v: Vec3| end_of(&throw(Vec3::new(x, 2.0, 2.0), v), &ground, upright(0.5));
    let End::OffSurvey { time } = from(1.0, Vec3::new(10.0, 0.0, 0.0)) else { panic!("not off") };
    assert!((time - 0.3).abs() < 1e-9);
    assert_eq!(from(-1.0, Vec3::new(10.0, 0.0, 0.0)), End::OffSurvey { time: 0.0 });
    // Along the very border is still over the ground.
    let along = throw(Vec3::new(0.5, 0.0, 2.0), Vec3::new(1.0, 0.0, 0.0));
    assert!(end_of(&along, &ground, upright(0.5)).touch().is_some());
    // Two grids side by side know the ground between them.
    let next = Ground::grid(Vec2::new(4.0, 0.0), Vec2::repeat(1.0), 9, 5, vec![0.0; 45]).unwrap();
    let across = throw(Vec3::new(1.0, 2.0, 2.0), Vec3::new(10.0, 0.0, 0.0));
    assert!(end_of(&across, &ground.higher(&next), upright(0.5)).touch().is_some());
}

#[test]
fn a_surface_without_ground_under_it_or_without_numbers_ends() {
    let cliff = Ground::plane(Vec3::zeros(), 1.4, 0.0).unwrap();
    let fast = throw(Vec3::new(0.0, 0.0, 5.0), Vec3::new(2000.0, 0.0, 0.0));
    assert_eq!(end_of(&fast, &cliff, upright(1.0)), End::NoTouchdown { time: 60.0 });
    let broken = throw(Vec3::new(f64::NAN, 0.0, 5.0), Vec3::zeros());
    assert_eq!(end_of(&broken, &cliff, upright(1.0)), End::NoTouchdown { time: 0.0 });
    for (height, lean, rate) in [(-1.0, 0.0, 1.0), (1.0, f64::NAN, 1.0), (1.0, 0.0, 0.0)] {
        assert!(Reach::leaning(height, lean, rate).is_err());
    }
}

/// Tens of kilometres from the origin a coordinate is only good to some picometres, and the direction to a surface a few
/// of them away to nothing: a point must not come out below unseen.
#[test]
fn far_from_the_origin_nothing_slips_under_the_ground() {
    let mut state = 1_u64;
    let mut uniform = || {
        state =
            state.wrapping_mul(6_364_136_223_846_793_005).wrapping_add(1_442_695_040_888_963_407);
        (state >> 11) as f64 / (1_u64 << 53) as f64
    };
    let cell = 80.0;
    let heights: Vec<f64> = (0..400).map(|_| 300.0 + 160.0 * uniform()).collect();
    let origin = Vec2::new(26_000.0, 15_000.0);
    let ground = Ground::grid(origin, Vec2::repeat(cell), 20, 20, heights).unwrap();
    for _ in 0..4000 {
        let (x, y) = (26_000.0 + 1520.0 * uniform(), 15_000.0 + 1520.0 * uniform());
        let position = Vec3::new(x, y, ground.height(x, y).unwrap() + 2.0);
        let along = std::f64::consts::TAU * uniform();
        let velocity = Vec3::new(60.0 * along.cos(), 60.0 * along.sin(), 60.0 * uniform() - 10.0);
        let end = end_of(&throw(position, velocity), &ground, upright(0.0));
        match end {
            End::Touch(touch) => {
                assert!(touch.residual.abs() < 1e-8, "{touch:?}");
                assert!(touch.normal.z > 0.0, "{touch:?}");
            }
            other => {
                assert!(matches!(other, End::OffSurvey { .. }), "{other:?} {position} {velocity}");
            }
        }
    }
}

/// Without drag the steps end exactly on a facet's plane, or, by rounding, a hair under it: the point then seemed to leave it.
#[test]
fn a_bare_point_does_not_slip_through_a_facet_that_it_meets_exactly() {
    let points: Vec<Vec3> = (0..900)
        .map(|i| (f64::from(i % 30) - 3.0, f64::from(i / 30) - 15.0))
        .map(|(x, y)| (x + 0.3 * (7.0 * y).sin(), y + 0.3 * (5.0 * x).cos()))
        .map(|(x, y)| Vec3::new(x, y, 0.2 * (1.3 * x).sin() * (1.1 * y).cos() + 0.05 * x))
        .collect();
    let flat: Vec<Vec3> = points.iter().map(|p| Vec3::new(p.x, p.y, 0.1)).collect();
    for ground in [Ground::survey(&points).unwrap(), Ground::survey(&flat).unwrap()] {
        for i in 0..3000 {
            let part = |prime: f64| (f64::from(i) * prime.sqrt()).fract();
            let velocity = Vec3::new(4.0 + 8.0 * part(2.0), part(3.0) - 0.5, 4.0 * part(5.0));
            let path = throw(Vec3::new(0.0, 0.0, 2.0 + part(7.0)), velocity);
            let end = end_of(&path, &ground, upright(0.0));
            let touch = end.touch().unwrap();
            assert!(touch.residual.abs() < 1e-9, "{i}: {}", touch.residual);
        }
    }
}
